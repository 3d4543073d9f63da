package main

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// tuned tunes a built-in axle as the command does.
func tuned(t *testing.T, name string) *tuning.Outcome {
	t.Helper()
	f, err := axlefile.Parse(name, []byte(builtInText(t, name)))
	if err != nil {
		t.Fatal(err)
	}
	out, err := tuning.Tune(context.Background(), f, optimize.Options{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func builtInText(t testing.TB, name string) string {
	t.Helper()
	axle, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(axle.Text)
}

// The default axle toes out in a corner and truly reaches toe-in, where force and roll
// act together, by less toe-out from the force; it pays for it in longitudinal
// compliance; no parameter leaves its bounds.
func TestDefaultAxleReachesToeIn(t *testing.T) {
	out := tuned(t, demo.Default)
	number := func(name, caseName string) (before, after float64) {
		i, err := out.Before.Find(name, caseName, "")
		if err != nil {
			t.Fatal(err)
		}
		return out.Before.Value(i), out.After.Value(i)
	}
	if before, after := number("total_outer_toe", "state_cornering"); !(before < 0 && after > 0) {
		t.Errorf("toe at 0.4 g: %g before, %g after; want toe-out before and toe-in after", before, after)
	}
	if before, after := number("lateral_force_steer", "cornering"); !(before < 0 && after > before) {
		t.Errorf("lateral-force steer: %g before, %g after; want less toe-out after", before, after)
	}
	if before, after := number("longitudinal_compliance", "impact"); !(after < before) {
		t.Errorf("longitudinal compliance %g before, %g after: the demo should show a price", before, after)
	}
}

// The axle whose bushes are given by their dimensions toes out in a corner, reaches
// toe-in, and ends with bushes that can be made and ordered: on whole hardness, whole
// degrees and tenths of a millimetre. The rates it ends with are those of its
// dimensions as the new file holds them.
func TestRubberAxleEndsWithBushesThatCanBeMade(t *testing.T) {
	const name = "estate-rubber"
	out := tuned(t, name)
	i, err := out.Before.Find("total_outer_toe", "state_cornering", "")
	if err != nil {
		t.Fatal(err)
	}
	if before, after := out.Before.Value(i), out.After.Value(i); !(before < 0 && after > 0) || out.Status != optimize.Converged {
		t.Errorf("total toe %g before, %g after, %v", before, after, out.Status)
	}
	ordered := 0
	for i, q := range out.Parameters {
		if step := rubber.WorkshopStep(q.Unit); strings.Contains(q.Path, ".rubber.") {
			ordered++
			if off := math.Abs(math.Remainder(out.Written[i], step)); off > 1e-9 || out.Written[i] == q.Start {
				t.Errorf("%s ends at %v, from %v", q.Path, out.Written[i], q.Start)
			}
		}
	}
	if ordered != 3 {
		t.Errorf("%d dimensions of rubber", ordered)
	}
	f, err := axlefile.Parse(name, []byte(builtInText(t, name)))
	if err != nil {
		t.Fatal(err)
	}
	text, err := f.Edit(out.Written)
	if err != nil {
		t.Fatal(err)
	}
	written, err := axlefile.Parse(name, text)
	if err != nil {
		t.Fatal(err)
	}
	moulded := 0
	for i := range written.Axle.Elements {
		e, tuned := &written.Axle.Elements[i], &out.After.Solver().Axle().Elements[i]
		if _, is := e.Rubber(); !is {
			continue
		}
		moulded++
		if err := errors.Join(e.Check(), tuned.Check()); err != nil {
			t.Errorf("%s cannot be made: %v", e.Label(), err)
		}
		a, _ := e.Bush()
		if b, _ := tuned.Bush(); a != b {
			t.Errorf("%s: %+v as written, %+v as tuned", e.Label(), a, b)
		}
	}
	if moulded != 2 {
		t.Errorf("%d bushes by dimensions", moulded)
	}
}

// Every built-in axle opens with two lines of what it shows, and its tune ends at
// a point where the first-order conditions hold: met, a compromise, or honestly
// not reached, never stopped on the way.
func TestBuiltInAxlesTuneToAnEnd(t *testing.T) {
	for _, name := range demo.Names() {
		out := tuned(t, name)
		text := strings.Split(builtInText(t, name), "\n")
		if !strings.HasPrefix(text[0], "# ") || !strings.HasPrefix(text[1], "# ") {
			t.Errorf("%s does not open with two lines that say what it shows: %q", name, text[:2])
		}
		if out.Result.Status == optimize.StoppedEarly {
			t.Errorf("%s: %s", name, out.Result.Reason)
		}
	}
}
