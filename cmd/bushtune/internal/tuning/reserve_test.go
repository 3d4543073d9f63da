package tuning

import (
	"math"
	"testing"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/compliance"
)

// TestReserveOfATune multiplies every bush rate and both ends of every link of a tuned
// axle by hand: at the ends of the reserve the want that is named just holds, and a
// little beyond it is missed.
func TestReserveOfATune(t *testing.T) {
	axle, err := demo.Open(demo.Default)
	if err != nil {
		t.Fatal(err)
	}
	o := tuneText(t, string(axle.Text))
	r, err := ReserveOf(o.After, o.Asked)
	if err != nil {
		t.Fatal(err)
	}
	if r.Missed != 0 || r.Without || r.Softer.Open() && r.Stiffer.Open() {
		t.Fatalf("reserve %+v", r)
	}
	for beyond, end := range map[float64]cases.Exit{0.98: r.Softer, 1.02: r.Stiffer} {
		if end.Open() {
			continue
		}
		a := &o.Asked[r.Limits[end.Limit]]
		if m := marginAt(t, o, a, end.Factor); math.Abs(m) > 0.011*a.Want.Scale {
			t.Errorf("rates times %v: margin of %s is %v", end.Factor, a.Name, m)
		}
		if m := marginAt(t, o, a, end.Factor*beyond); m > -0.011*a.Want.Scale {
			t.Errorf("rates times %v: margin of %s is %v, and it should be missed", end.Factor*beyond, a.Name, m)
		}
	}
}

func marginAt(t *testing.T, o *Outcome, a *Asked, factor float64) float64 {
	t.Helper()
	axle := o.After.Solver().Axle().Clone()
	for i := range axle.Elements {
		e := &axle.Elements[i]
		if e.Kind != compliance.Bush && e.Kind != compliance.Link {
			continue
		}
		for k, f := range e.Kind.Fields {
			switch f.Name {
			case "soft", "axial", "stiff", "cone_soft", "cone_stiff", "torsion", "inner_rate", "outer_rate":
				e.Slots[k] *= factor
			}
		}
	}
	study, err := o.After.Again(axle)
	if err != nil {
		t.Fatal(err)
	}
	return a.Want.Margin(a.Unit.Written(a.Value(study)))
}
