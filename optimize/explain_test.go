package optimize

import (
	"context"
	"reflect"
	"strings"
	"testing"
)

// The status is read off the certificates at the end, not off the way there.
func TestStatusFromCertificates(t *testing.T) {
	limited := finish{unmet: []float64{1}, first: exhausted, second: exhausted}
	held := finish{first: settled, second: exhausted}
	proof := certificate{residual: 1e-9, size: 1, lower: []float64{0, 0}, upper: []float64{0, 0}}
	corner := certificate{size: 1, lower: []float64{0.2, 0}, upper: []float64{0, 0.3}, touching: []bool{false}}
	bounded := corner
	bounded.touching = []bool{true}
	halfCorner := corner
	halfCorner.upper = []float64{0, 0}
	slope := certificate{residual: 1e-3, size: 1}
	for _, c := range []struct {
		name      string
		f         finish
		violation certificate
		aim       certificate
		missed    bool // the target
		status    Status
		reason    string
	}{
		{"limits missed, slope left", limited, slope, proof, false, StoppedEarly, "least violation of the limits was not reached: the iteration limit"},
		{"limits missed in a corner", limited, corner, slope, false, AtCorner, "limits"},
		{"limits missed in half a corner", limited, halfCorner, slope, false, NotReached, "limits"},
		{"limits missed inside", limited, proof, slope, false, NotReached, "limits"},
		{"slope left", held, proof, slope, false, StoppedEarly, "best aim"},
		{"all met", held, proof, proof, false, Converged, "all limits hold"},
		{"target missed inside", held, proof, proof, true, NotReached, "targets"},
		{"target missed in a corner", held, proof, corner, true, AtCorner, "targets"},
		{"target missed, held back by a limit too", held, proof, bounded, true, NotReached, "targets"},
	} {
		p := &Problem{Numbers: 1, Wants: []Want{{Kind: Target, Scale: 1}}}
		r := &Result{Wants: []WantOutcome{{Met: !c.missed}}}
		status, reason := newModel(p).status(context.Background(), r, c.f, c.aim, c.violation)
		if status != c.status || !strings.Contains(reason, c.reason) {
			t.Errorf("%s: %v: %s", c.name, status, reason)
		}
	}
}

// An end that misses a limit stands behind all that hold them, however low its
// aim, and says by how much; its aim counts in no spread.
func TestEndsThatMissLimits(t *testing.T) {
	m := newModel(&Problem{Parameters: []Parameter{{Upper: 10}}})
	at := func(z, aim, violation float64) finish {
		f := ended(violation, aim, settled, settled)
		f.at.z, f.at.x = []float64{z}, []float64{10 * z}
		return f
	}
	best := at(0.5, -15, 0)
	a := m.agreement([]finish{at(0.9, -7, 0.8), at(1, -17, 0.04), best, {err: context.Canceled}, at(0.2, -14, 0), at(0.5, -15, 0), at(1, -17, 0.04)}, best)
	want := Agreement{Starts: 7, Failed: 1, SameCost: 2, SamePoint: 2, CostSpread: 1, PointSpread: []float64{0}, Ends: []End{
		{X: []float64{5}, Aim: -15, Starts: 2}, {X: []float64{2}, Aim: -14, Starts: 1},
		{X: []float64{10}, Aim: -17, Violation: 0.04, Starts: 2}, {X: []float64{9}, Aim: -7, Violation: 0.8, Starts: 1}}}
	if !reflect.DeepEqual(a, want) {
		t.Errorf("%+v\nwant %+v", a, want)
	}
}
