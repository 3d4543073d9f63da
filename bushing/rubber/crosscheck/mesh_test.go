package crosscheck

import (
	"math"
	"testing"
)

// kidney has voids, ring has none; both lie between the bushes of the data.
func kidney() Sample {
	return Sample{Inside: 12, Outside: 28, Length: 50, Arc: 85 * math.Pi / 180, Depth: 6, Bulk: 1300}
}

// rounded is the kidney with corners of a radius; with 3 mm its ends are half circles.
func rounded(radius float64) Sample {
	s := kidney()
	s.Radius = radius
	return s
}

func ring() Sample { return Sample{Inside: 11, Outside: 19, Length: 42, Bulk: 1300} }

// live is coarse enough for a solve within seconds.
var live = Density{Skin: 3, Void: 3, Arc: 4, Leg: 4, Along: 5, Ratio: 4}

func TestMesh(t *testing.T) {
	s := kidney()
	g := newMesh(&s, live)
	want := live.Along * ((2*live.Skin+live.Void)*(live.Arc+live.Leg) - live.Void*live.Arc)
	if len(g.bricks) != want {
		t.Errorf("%d bricks, want %d", len(g.bricks), want)
	}
	const rounding = 1e-9
	skin := (s.Outside - s.Inside - s.Depth) / 2
	for n, place := range g.nodes {
		at := g.at(place)
		r, angle := math.Hypot(at[0], at[1]), math.Atan2(at[1], at[0])
		if n != g.number(place[0], place[1], place[2]) {
			t.Fatalf("node %d has the place %v", n, place)
		}
		if r < s.Inside-rounding || r > s.Outside+rounding || at[0] < 0 || at[1] < 0 || at[2] < 0 || at[2] > s.Length/2+rounding {
			t.Errorf("node %d lies outside of the rubber: %v", n, at)
		}
		if r > s.Inside+skin+rounding && r < s.Outside-skin-rounding && angle < s.Arc/2-rounding {
			t.Errorf("node %d lies in the void: %v", n, at)
		}
	}
}

// TestVolume: the bricks, as straight hexahedra, hold the rubber's volume but for
// the roundness of their faces.
func TestVolume(t *testing.T) {
	for name, s := range map[string]Sample{"kidney": kidney(), "ring": ring()} {
		g := newMesh(&s, Density{Skin: 2, Void: 2, Arc: 12, Leg: 12, Along: 3, Ratio: 1.2})
		volume := 0.0
		for _, b := range g.bricks {
			low, high := g.at(g.nodes[b[0]]), g.at(g.nodes[b[6]])
			turn := math.Atan2(high[1], high[0]) - math.Atan2(low[1], low[0])
			outer, inner := math.Hypot(high[0], high[1]), math.Hypot(low[0], low[1])
			volume += turn / 2 * (outer*outer - inner*inner) * (high[2] - low[2])
		}
		middle := (s.Inside + s.Outside) / 2 // of the void too
		want := (math.Pi*(s.Outside*s.Outside-s.Inside*s.Inside) - 2*s.Arc*middle*s.Depth) * s.Length
		if math.Abs(eighths*volume/want-1) > 1e-9 {
			t.Errorf("%s: volume %.10g mm³, want %.10g", name, eighths*volume, want)
		}
	}
}

// TestSpacing: places rise, sum up, and lengths stand in the ratio asked for.
func TestSpacing(t *testing.T) {
	for _, places := range [][]float64{
		graded(2, 5, 4, true, true, 3), graded(2, 5, 5, true, false, 3), graded(2, 5, 5, false, true, 3), join(graded(2, 4, 2, false, false, 3), graded(4, 5, 3, true, true, 2)),
	} {
		if places[0] != 2 || math.Abs(places[len(places)-1]-5) > 1e-12 {
			t.Errorf("%v does not reach from 2 to 5", places)
		}
		for i := 1; i < len(places); i++ {
			if places[i] <= places[i-1] {
				t.Errorf("%v does not rise", places)
			}
		}
	}
	g := graded(0, 1, 3, true, false, 3)
	if first, second := g[2]-g[0], g[4]-g[2]; math.Abs(second/first-3) > 1e-12 {
		t.Errorf("neighbours of %v stand as %g, want 3", g, second/first)
	}
	z := towardsEnd(10, 6, 0.1)
	if last := z[12] - z[10]; math.Abs(last-0.1) > 1e-9 || z[0] != 0 && math.Abs(z[0]) > 1e-9 {
		t.Errorf("last brick %g, want 0.1; first place %g", last, z[0])
	}
	if even := towardsEnd(1, 4, 0.9); math.Abs(even[2]-0.25) > 1e-9 {
		t.Errorf("bricks longer than a quarter asked for: %v, want equal ones", even)
	}
}

// TestSymmetry: a movement of the sleeve has no part that its planes hold.
func TestSymmetry(t *testing.T) {
	s := ring()
	g := newMesh(&s, live)
	for _, m := range motions {
		held := 0
		for _, place := range g.nodes {
			if place[0] != 0 {
				continue
			}
			u := m.move(g.at(place))
			for i, h := range g.held(place, m) {
				if h {
					held++
					if math.Abs(u[i]) > 1e-9 {
						t.Errorf("%s: node at %v moves by %v, but direction %d is held", m.name, g.at(place), u, i)
					}
				}
			}
		}
		if held == 0 {
			t.Errorf("%s: nothing is held", m.name)
		}
	}
}
