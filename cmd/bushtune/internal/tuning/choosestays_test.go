package tuning

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/optimize"
)

// wanting is the default axle with other wants and nothing to search.
func wanting(t *testing.T, wants string) *axlefile.File {
	t.Helper()
	axle, err := demo.Open("hatchback-link")
	if err != nil {
		t.Fatal(err)
	}
	head, _, found := strings.Cut(string(axle.Text), "[search]")
	if !found {
		t.Fatal("no [search]")
	}
	return parse(t, head+wants)
}

// pivots is a catalogue of bushes that differ in their soft rate.
func pivots(t *testing.T, soft ...float64) *axlefile.Catalogue {
	t.Helper()
	text := "name,soft,axial,stiff,cone_soft,torsion,cone_stiff\n"
	for _, rate := range soft {
		text += fmt.Sprintf("P%g,%g,1800,2600,8,1.8,6\n", rate, rate)
	}
	c, err := axlefile.ParseCatalogue("pivots.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

const stripBetween = "[want.least]\nnumber = \"longitudinal_compliance\"\nat_least = %g\n[want.most]\nnumber = \"longitudinal_compliance\"\nat_most = %g\n"

// The axle as it stands has 550 N/mm and 1.90 mm/kN. It is a candidate: parts that are
// worse are not recommended, whether they miss limits or only serve an aim less, and
// its own part again is no reason to change anything. Better parts are.
func TestTheAxleAsItStandsIsACandidate(t *testing.T) {
	strip := fmt.Sprintf(stripBetween, 1.8, 2.0)
	large := "[want.strip]\nnumber = \"longitudinal_compliance\"\nmake = \"large\"\n"
	for _, test := range []struct {
		name  string
		wants string
		soft  []float64
		stays bool
	}{
		{"every part misses a limit", strip, []float64{300, 1000}, true},
		{"every part serves the aim less", large, []float64{700, 1000}, true},
		{"the same part again", strip + large, []float64{550, 1000}, true},
		{"one part serves the aim more", large, []float64{400, 1000}, false},
		{"a limit is missed as it stands", fmt.Sprintf(stripBetween, 2.4, 3.2), []float64{400, 1000}, false},
		{"all miss, the parts by more", fmt.Sprintf(stripBetween, 1.4, 1.6), []float64{300, 2000}, true},
	} {
		f := wanting(t, test.wants)
		r := chosen(t, f, pivots(t, test.soft...), optimize.ChoiceOptions{})
		if r.Stays != test.stays {
			t.Errorf("%s: stays %v; present %+v, best %+v", test.name, r.Stays, r.Present, r.Best[0])
		}
		// the same by hand: what each want misses, in steps, from studies of the axle
		missed := func(values []float64) (sum float64) {
			for i := range r.Asked {
				w := &r.Asked[i].Want
				sum += max(0, -w.Margin(values[w.Number])/w.Scale)
			}
			return sum
		}
		if test.stays && missed(r.Present.Values) > missed(r.Best[0].Values)+1e-9 {
			t.Errorf("%s: the axle stays and misses %g, the best part %g", test.name, missed(r.Present.Values), missed(r.Best[0].Values))
		}
	}
}

// Rates that are said to close the gap close it: put into the axle in the digits in
// which they are told, every limit holds. Where none can, that is said.
func TestFreeRatesAsToldCloseTheGap(t *testing.T) {
	for _, test := range []struct {
		name      string
		low, high float64 // mm/kN
		soft      []float64
		meets     bool
	}{
		{"between two parts", 1.55, 1.60, []float64{400, 1000}, true},
		{"narrow", 1.5799, 1.5801, []float64{400, 1000}, true},
		{"beyond all parts", 4, 5, []float64{400, 1000}, false},
	} {
		f := wanting(t, fmt.Sprintf(stripBetween, test.low, test.high))
		r := chosen(t, f, pivots(t, test.soft...), optimize.ChoiceOptions{})
		if r.Free == nil || r.Best[0].Held || r.FreeMeets() != test.meets {
			t.Fatalf("%s: %+v", test.name, r.FreeAt)
		}
		for i := range r.FreeRates {
			r.FreeRates[i].Apply(f.Axle, r.FreeX[i])
		}
		study, err := Study(f)
		if err != nil {
			t.Fatal(err)
		}
		index, err := study.Find("longitudinal_compliance", "", "")
		if err != nil {
			t.Fatal(err)
		}
		v := study.Figure(index).Value
		slack := optimize.MetShare * r.Asked[0].Want.Scale
		if got := v >= test.low-slack && v <= test.high+slack; got != test.meets {
			t.Errorf("%s: the axle with %v has %.6f mm/kN, wanted %g to %g", test.name, r.FreeX, v, test.low, test.high)
		}
		if math.Abs(v-r.FreeAt.Values[r.Asked[0].Want.Number]) > 1e-9 {
			t.Errorf("%s: told %v, the axle has %v", test.name, r.FreeAt.Values, v)
		}
	}
}

// An axle that cannot hold a load that is wanted is no candidate, and does not keep
// parts that can from being chosen: as it stands its inner wheel lifts at 0.96 g, with
// a bush that resists roll less at 0.97 g.
func TestAnAxleThatCannotHoldALoadIsNoCandidate(t *testing.T) {
	f := wanting(t, "[want.corner]\nnumber = \"total_outer_toe\"\nsize = 0.965\nat_least = -5\n")
	soft, err := axlefile.ParseCatalogue("soft.csv", []byte("name,soft,axial,stiff,cone_soft,torsion,cone_stiff\nS,550,1800,2600,1,0.2,1\n"))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Choose(context.Background(), f, soft, everyBush(t, f), optimize.ChoiceOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Stays || !r.Best[0].Held || !math.IsNaN(r.Present.Values[0]) {
		t.Errorf("stays %v; present %+v, best %+v", r.Stays, r.Present, r.Best[0])
	}
}
