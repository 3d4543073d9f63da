package crosscheck

import (
	"math"
	"path/filepath"
	"testing"

	"bushtune/bushing/rubber"
)

func committed(t *testing.T, p *Plan) *Data {
	t.Helper()
	d, err := Read(filepath.Join(directory, p.File))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// spread is the largest error of each rate as a share and the root of the mean square.
func spread(figures []Figure) (largest, rms Rates) {
	for _, f := range figures {
		s, solved := f.Place.Sample(), f.Solved()
		for i, got := range s.Predict() {
			e := got/solved[i] - 1
			largest[i] = math.Max(largest[i], math.Abs(e))
			rms[i] += e * e / float64(len(figures))
		}
	}
	for i := range rms {
		rms[i] = math.Sqrt(rms[i])
	}
	return largest, rms
}

// slack is by how much a published error may be above the measured one: it is
// rounded up.
const slack = 1.25

// TestErrorsAreThePublishedOnes: the largest over all bushes, those of the fit with
// the corners of the range, the middles of its edges and random ones, both of which
// the fit did not see; the root of the mean square over the random ones.
func TestErrorsAreThePublishedOnes(t *testing.T) {
	for i, published := range []struct{ largest, rms [6]float64 }{
		{rubber.PlainError, rubber.PlainScatter}, {rubber.VoidedError, rubber.VoidedScatter},
		{rubber.RoundError, rubber.RoundScatter},
	} {
		plan := &Plans()[i]
		d := committed(t, plan)
		seen, ofFit := spread(d.Fit)
		edges, _ := spread(d.Edges)
		unseen, ofCheck := spread(d.Check)
		for k, m := range motions {
			largest := max(seen[k], edges[k], unseen[k])
			t.Logf("%s: %s: largest %.2f %% (fit %.2f, edges %.2f, random %.2f), rms of fit %.2f %%, random %.2f %%", plan.File, m.name,
				100*largest, 100*seen[k], 100*edges[k], 100*unseen[k], 100*ofFit[k], 100*ofCheck[k])
			want := published.largest[k]
			if want == 0 { // exact: the elements' error remains
				if largest > exactly {
					t.Errorf("%s: %s is not exact: off by %.3f %%", plan.File, m.name, 100*largest)
				}
				continue
			}
			if largest > want || want > slack*largest {
				t.Errorf("%s: %s: largest error %.2f %%, published %.2f %%", plan.File, m.name, 100*largest, 100*want)
			}
			if ofCheck[k] > published.rms[k] || published.rms[k] > slack*ofCheck[k] {
				t.Errorf("%s: %s: rms %.2f %%, published %.2f %%", plan.File, m.name, 100*ofCheck[k], 100*published.rms[k])
			}
		}
	}
}

// TestDataFollowThePlan: the committed bushes are those of the plan, so the ranges
// that package rubber states are those of the data, corners included.
func TestDataFollowThePlan(t *testing.T) {
	for _, p := range Plans() {
		d := committed(t, &p)
		if d.Density != p.Density || d.Note != note {
			t.Errorf("%s: %v, %q: renew the numbers", p.File, d.Density, d.Note)
		}
		for _, set := range []struct {
			figures []Figure
			places  []Place
		}{{d.Fit, p.fitPlaces()}, {d.Edges, p.edgePlaces()}, {d.Check, p.checkPlaces()}, {d.Finer, p.finerPlaces()}} {
			if len(set.figures) != len(set.places) {
				t.Errorf("%s: %d bushes, planned %d", p.File, len(set.figures), len(set.places))
				continue
			}
			for i, f := range set.figures {
				if f.Place != set.places[i] {
					t.Errorf("%s: %v, planned %v", p.File, f.Place, set.places[i])
				}
			}
		}
	}
}

// TestMeshIsFineEnough: half as many bricks again each way change no rate by more than
// the error that is added to the published ones.
func TestMeshIsFineEnough(t *testing.T) {
	for i, allowed := range []float64{rubber.PlainMeshError, rubber.VoidedMeshError, rubber.RoundMeshError} {
		p := &Plans()[i]
		d := committed(t, p)
		worst := 0.0
		for _, fine := range d.Finer {
			for _, f := range d.Fit {
				if f.Place != fine.Place {
					continue
				}
				for k, m := range motions {
					off := f.Rates[k]/fine.Rates[k] - 1
					worst = math.Max(worst, math.Abs(off))
					t.Logf("%v: %s %+.2f %%", f.Place, m.name, 100*off)
				}
			}
		}
		if worst > allowed || worst == 0 || allowed > 2*worst { // a mesh finer still takes about as much again
			t.Errorf("%s: a finer mesh changes a rate by %.2f %%, stated %.2f %%", p.File, 100*worst, 100*allowed)
		}
	}
}

// TestNegativeControls: data of another bush are noticed.
func TestNegativeControls(t *testing.T) {
	d := committed(t, &Plans()[1])
	errors := stated(true)
	for name, change := range map[string]func(*Place){
		"inner radius": func(p *Place) { p[0] += 0.03 },
		"length":       func(p *Place) { p[1] *= 1.08 },
		"arc":          func(p *Place) { p[2] += 8 },
		"depth":        func(p *Place) { p[3] -= 0.2 }, // rates hardly depend on the depth of deep voids
	} {
		unnoticed := 0
		for _, f := range d.Check {
			p := f.Place
			change(&p)
			s := p.Sample()
			if len(misses(s.Predict(), f.Solved(), errors)) == 0 {
				unnoticed++
			}
		}
		t.Logf("another %s: %d of %d bushes unnoticed", name, unnoticed, len(d.Check))
		if unnoticed > len(d.Check)/4 {
			t.Errorf("another %s: %d of %d bushes unnoticed", name, unnoticed, len(d.Check))
		}
	}
}
