package crosscheck

import (
	"math"
	"testing"

	"bushtune/bushing/finiteelement"
)

// preloadMeshTolerance is how much two meshes may differ in what a couple does to
// the rate of twist; measured 0.8 %.
const preloadMeshTolerance = 0.02

// renewPreload solves all states again.
func renewPreload() error {
	for _, p := range PreloadedMembers() {
		r, err := NewPreloadReference(p, SweepFineness)
		if err != nil {
			return err
		}
		if err := r.Write(referenceDirectory, p); err != nil {
			return err
		}
	}
	return nil
}

// twistByCouple is how the rate of twist changes by a couple about x at rest, in
// N·mm/rad per N·mm.
func twistByCouple(states []EndState) float64 {
	change, rest := 0.0, 0.0
	for _, s := range states[:4] {
		change += s.Sign * s.Moment[1] / s.Twist
		rest += s.Sign * s.Moment[0]
	}
	return change / rest
}

// TestPreloadCommitted: the committed states are those that are asked for, and the
// legs in tension stiffen the twist of sections that open downward. The beam
// is held against them in package compliance.
func TestPreloadCommitted(t *testing.T) {
	for _, p := range PreloadedMembers() {
		r, err := ReadPreload(referenceDirectory, p)
		if err != nil {
			t.Fatal(err)
		}
		c, err := p.Member.Profile.Constants()
		if err != nil {
			t.Fatal(err)
		}
		asked := p.endStates(&c)
		if len(r.States) != len(asked) {
			t.Fatalf("%s: %d states, want %d", p.Name, len(r.States), len(asked))
		}
		for i, s := range r.States {
			for k := range 3 {
				if s.Preload != asked[i].Preload || math.Abs(s.Turn[k]-asked[i].Turn[k]) > 1e-12 || math.Abs(s.Shift[k]-asked[i].Shift[k]) > 1e-9 {
					t.Errorf("%s, state %d stands elsewhere", p.Name, i)
				}
			}
		}
		// a couple about −x on the right end bends the edges of the legs, below, long
		if by := twistByCouple(r.States); by > -0.2 {
			t.Errorf("%s: a couple about x at rest changes the rate of twist by %.3g of it", p.Name, by)
		}
	}
}

// TestPreloadLive solves the V again with another mesh.
func TestPreloadLive(t *testing.T) {
	finiteelement.Live(t)
	p := PreloadedMembers()[0]
	solved, err := NewPreloadReference(p, sweepDensity)
	if err != nil {
		t.Fatal(err)
	}
	kept, err := ReadPreload(referenceDirectory, p)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := twistByCouple(solved.States), twistByCouple(kept.States); math.Abs(got/want-1) > preloadMeshTolerance {
		t.Errorf("a couple at rest changes the rate of twist by %.4g, committed %.4g", got, want)
	}
}
