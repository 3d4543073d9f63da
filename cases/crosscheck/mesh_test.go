package crosscheck

import (
	"math"
	"testing"
)

// TestSample walks every profile: the chords of the half elements add up to a
// little less than the midline, and normals stand square on them.
func TestSample(t *testing.T) {
	for _, a := range Axles() {
		p := &a.Member.Profile
		stations, length, chords := sample(p, Fineness), 0.0, 0.0
		for i := range p.Walls {
			length += p.Length(i)
		}
		for i := 1; i < len(stations); i++ {
			from, to := stations[i-1], stations[i]
			f, u := to.at.F-from.at.F, to.at.U-from.at.U
			chords += math.Hypot(f, u)
			mean := [2]float64{from.normal.F + to.normal.F, from.normal.U + to.normal.U}
			if slant := (f*mean[0] + u*mean[1]) / math.Hypot(f, u); math.Abs(slant) > 1e-9 {
				t.Errorf("%s: normal at %d leans by %g", a.Name, i, slant)
			}
		}
		if chords > length || chords < 0.995*length {
			t.Errorf("%s: chords %.3f mm on a midline of %.3f mm", a.Name, chords, length)
		}
		first, last := stations[0].at, stations[len(stations)-1].at
		if got := math.Hypot(first.F-last.F, first.U-last.U) < 1e-9; got != closed(p) {
			t.Errorf("%s: ends meet: %v", a.Name, got)
		}
	}
}

// TestMeshVolume: the bricks, taken as hexahedra of their corners, fill area
// times span, less what chords cut off arcs, and none is inside out.
func TestMeshVolume(t *testing.T) {
	fine := Density{Around: 5, Turn: 5, Along: 4}
	for _, a := range Axles() {
		c, err := a.Member.Profile.Constants()
		if err != nil {
			t.Fatal(err)
		}
		want := c.Area * 2 * a.Member.HalfSpan
		for _, e := range bothEnds() {
			g, volume := newMesh(a.Member, e, fine), 0.0
			places := map[int]Point{}
			for _, n := range g.nodes {
				places[n.number] = n.at
			}
			for _, brick := range g.bricks {
				v := hexahedron(t, places, brick)
				if v <= 0 {
					t.Fatalf("%s: brick %v has volume %g", a.Name, brick, v)
				}
				volume += v
			}
			if math.Abs(volume/want-1) > 1e-3 {
				t.Errorf("%s, %s: volume %.0f mm³, want %.0f", a.Name, e, volume, want)
			}
		}
	}
}

// hexahedron is the volume of a brick with plane ends square to y: the mean of
// its end areas times its length.
func hexahedron(t *testing.T, places map[int]Point, brick []int) float64 {
	t.Helper()
	corner := func(i int) Point {
		p, exists := places[brick[i]]
		if !exists {
			t.Fatalf("brick %v: no node %d", brick, brick[i])
		}
		return p
	}
	area := func(first int) float64 {
		sum := 0.0
		for i := range 4 {
			p, q := corner(first+i), corner(first+(i+1)%4)
			sum += (q[0]*p[2] - p[0]*q[2]) / 2
		}
		return sum
	}
	for i := range brick {
		corner(i)
	}
	return (area(0) + area(4)) / 2 * (corner(4)[1] - corner(0)[1])
}

// TestEndTies counts what the ends hold: built-in every node three times;
// primary one direction less for each node of a column that is not in the
// middle surface, and no node's movement twice.
func TestEndTies(t *testing.T) {
	for _, a := range Axles() {
		for _, e := range bothEnds() {
			g := newMesh(a.Member, e, liveDensity)
			for side, ties := range g.ends {
				held, nodes := map[[2]int]bool{}, map[int]bool{}
				for _, tie := range ties {
					for _, direction := range tie.directions {
						key := [2]int{tie.nodes[0], direction}
						if held[key] {
							t.Errorf("%s, %s: node %d held twice along %d", a.Name, e, key[0], direction)
						}
						held[key] = true
					}
					for _, n := range tie.nodes {
						nodes[n] = true
					}
					if y := tie.at[1]; y != a.Member.HalfSpan*float64(1-2*side) {
						t.Errorf("%s: tie of side %d at y = %g", a.Name, side, y)
					}
				}
				free := 3*len(nodes) - len(held)
				if e == BuiltIn && free != 0 {
					t.Errorf("%s: built-in end leaves %d movements free", a.Name, free)
				}
				if columns := g.columns(); e == Primary && free != columns {
					t.Errorf("%s: primary end leaves %d movements free, want one for each of %d places", a.Name, free, columns)
				}
			}
		}
	}
}

// columns is the number of places along the midline.
func (g *mesh) columns() int {
	if g.closed {
		return g.around
	}
	return g.around + 1
}
