package crosscheck

import (
	"math"
	"testing"

	"bushtune/bushing/finiteelement"
	"bushtune/bushing/rubber"
)

func solve(t *testing.T, s *Sample, d Density) Rates {
	t.Helper()
	rates, err := s.Solve(d)
	if err != nil {
		t.Fatal(err)
	}
	return rates
}

// misses lists the rates that differ by more than their stated error, told as
// shares.
func misses(got, want Rates, stated [6]float64) (list map[string]float64) {
	list = map[string]float64{}
	for i, m := range motions {
		if off := got[i]/want[i] - 1; math.Abs(off) > stated[i] {
			list[m.name] = off
		}
	}
	return list
}

// exactly is the error of torsion without voids, which is exact; the elements have
// one.
const exactly = 1e-3

// stated are the errors that package rubber tells.
func stated(voided bool) [6]float64 {
	e := rubber.FitErrors(voided)
	if e[4] == 0 {
		e[4] = exactly
	}
	return e
}

// TestLive solves a plain bush and one with kidney voids, neither of them in the
// data, and holds all rates of package rubber against the answer; other dimensions
// than those that were solved must be noticed.
func TestLive(t *testing.T) {
	finiteelement.Live(t)
	for _, c := range []struct {
		name  string
		bush  Sample
		wrong func(*Sample)
	}{
		{"plain", ring(), func(s *Sample) { s.Inside *= 1.03 }},
		{"kidney", kidney(), func(s *Sample) { s.Arc += 0.15 }},
		{"kidney with round ends", rounded(3), func(s *Sample) { s.Arc += 0.15 }},
		{"kidney with small fillets", rounded(0.6), func(s *Sample) { s.Arc += 0.15 }}, // below RoundRange
	} {
		t.Run(c.name, func(t *testing.T) {
			solved := solve(t, &c.bush, live)
			errors := stated(c.bush.Arc > 0)
			got := c.bush.Predict()
			for i, m := range motions {
				t.Logf("%s: %.5g, elements %.5g: %+.2f %%, stated %.1f %%", m.name, got[i], solved[i], 100*(got[i]/solved[i]-1), 100*errors[i])
			}
			for name, off := range misses(got, solved, errors) {
				t.Errorf("%s is off by %+.2f %%", name, 100*off)
			}
			wrong := c.bush
			c.wrong(&wrong)
			if len(misses(wrong.Predict(), solved, errors)) == 0 {
				t.Error("the check does not notice another dimension")
			}
		})
	}
}

// TestKnownRates holds the elements themselves against what is known of a ring:
// torsion (exact), plane stress and plane strain (Barber, Elasticity; own finite
// elements, not published, for what the ends of a real length change: 21.25·G·L at
// L/t = 0.05 and 128.98·G·L at 60), nearly incompressible, so that elements that
// lock would show.
func TestKnownRates(t *testing.T) {
	finiteelement.Live(t)
	const bulk = 1e5
	coarse := Density{Skin: 2, Void: 2, Arc: 2, Leg: 3, Along: 9, Ratio: 3}
	for _, c := range []struct{ walls, radial, within float64 }{{0.05, 21.25, 0.005}, {4, 58.33, 0.01}, {60, 128.98, 0.01}} {
		s := Sample{Inside: 0.5, Outside: 1, Length: 0.5 * c.walls, Bulk: bulk}
		rates := solve(t, &s, coarse)
		if got := rates[0] / s.Length; math.Abs(got/c.radial-1) > c.within {
			t.Errorf("L/t %g: radial %.5g·G·L, want %.5g", c.walls, got, c.radial)
		}
		exact := 4 * math.Pi * s.Length / (1/0.25 - 1)
		if got := rates[4]; math.Abs(got/exact-1) > exactly {
			t.Errorf("L/t %g: torsion %.6g, want %.6g", c.walls, got, exact)
		}
	}
}

// TestClosedVoid: the skins of a void, pressed on each other over half of its arc, are
// one wall there; beside it a slit parts them as far as the void reached. What the
// closed part adds to the rate of the same wall with the slit open is the snubber's.
func TestClosedVoid(t *testing.T) {
	finiteelement.Live(t)
	d := Density{Skin: 3, Void: 1, Arc: 4, Leg: 4, Along: 5, Ratio: 3}
	for _, s := range []Sample{kidney(), Place{0.5, 4, 75, 0.3, 1500}.Sample(), Place{0.65, 2, 120, 0.6, 1500}.Sample()} {
		c := rubber.Cylinder[float64]{Inside: s.Inside, Outside: s.Outside, Length: s.Length, G: 1, Bulk: s.Bulk}
		middle, skin := math.Sqrt((s.Inside*s.Inside+s.Outside*s.Outside)/2), (s.Outside-s.Inside-s.Depth)/2
		open := Sample{Inside: middle - skin, Outside: middle + skin, Length: s.Length, Bulk: s.Bulk, Arc: s.Arc, Depth: 0.06 * skin}
		closed := open
		closed.Closed = s.Arc / 2
		added := solve(t, &closed, d)[0] - solve(t, &open, d)[0]
		got, want := c.Voided(s.Arc, s.Depth, s.Radius).VoidSnubber, added/2 // one of two voids
		t.Logf("%+v: closed void %.5g N/mm, elements %.5g: %+.2f %%", s, got, want, 100*(got/want-1))
		if math.Abs(got/want-1) > rubber.SnubberError {
			t.Errorf("%+v: closed void %.5g N/mm, elements %.5g", s, got, want)
		}
	}
}

// TestCommittedIsSolvedAgain: the first bushes that the fit did not see, with the
// mesh of the data, have the committed rates to their last figure.
func TestCommittedIsSolvedAgain(t *testing.T) {
	finiteelement.Live(t)
	const figure = 1e-4 // the data have five
	for _, p := range Plans() {
		kept := committed(t, &p).Check[0]
		solved, err := NewFigure(kept.Place, p.Density)
		if err != nil {
			t.Fatal(err)
		}
		for i, m := range motions {
			if math.Abs(solved.Rates[i]/kept.Rates[i]-1) > figure {
				t.Errorf("%s: %v: %s %.6g, committed %.6g", p.File, kept.Place, m.name, solved.Rates[i], kept.Rates[i])
			}
		}
	}
}
