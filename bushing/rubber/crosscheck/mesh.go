package crosscheck

import (
	"math"

	"bushtune/bushing/finiteelement"
)

// Density is the number of bricks of the eighth of a bush.
type Density struct {
	Skin  int `json:"skin"`  // through the rubber between a void and a sleeve
	Void  int `json:"void"`  // through the void's depth; a plain bush has Void + 2·Skin through its wall; along half a fillet
	Arc   int `json:"arc"`   // along half the arc of the void; between fillets
	Leg   int `json:"leg"`   // along half the arc of the rubber beside it
	Along int `json:"along"` // along half the length
	// Ratio is that of the lengths of neighbouring bricks towards a corner.
	Ratio float64 `json:"ratio"`
}

// mesh is a structured grid of 20-node bricks over the eighth x, y, z ≥ 0 of a
// bush. Node (i, j, k) is the i-th half brick outwards, the j-th about the axis
// from x, the k-th along it from the middle.
type mesh struct {
	plane  [][][2]float64 // places of the half bricks, i outwards, j about the axis: radius in mm, angle in rad
	z      []float64      // mm: places of the half bricks along the axis
	void   [2][2]int      // half bricks outwards, about the axis: from, to; nothing lies there
	bricks [][]int
	nodes  map[int][3]int // place of every node that a brick has
}

// newMesh lays the grid lines on the void's faces, finer towards its corners and
// towards the free ends.
func newMesh(s *Sample, d Density) *mesh {
	g := &mesh{nodes: map[int][3]int{}}
	wall := s.Outside - s.Inside
	switch {
	case s.Arc == 0 || s.Depth == 0:
		g.plane = product(graded(s.Inside, s.Outside, d.Void+2*d.Skin, true, true, d.Ratio), graded(0, math.Pi/2, d.Arc+d.Leg, false, false, 0))
	case s.Radius == 0:
		g.squareVoid(s, d)
	default:
		g.roundVoid(s, d)
	}
	g.z = towardsEnd(s.Length/2, d.Along, endBrick*wall)
	g.addBricks()
	return g
}

// product are the places where lines of equal radius (mm) and of equal angle (rad) cross.
func product(r, theta []float64) [][][2]float64 {
	plane := make([][][2]float64, len(r))
	for i := range plane {
		for _, angle := range theta {
			plane[i] = append(plane[i], [2]float64{r[i], angle})
		}
	}
	return plane
}

// squareVoid lays radii and angles through the corners of the void.
func (g *mesh) squareVoid(s *Sample, d Density) {
	skin := (s.Outside - s.Inside - s.Depth) / 2
	r := join(graded(s.Inside, s.Inside+skin, d.Skin, true, true, d.Ratio),
		graded(s.Inside+skin, s.Outside-skin, d.Void, true, true, d.Ratio),
		graded(s.Outside-skin, s.Outside, d.Skin, true, true, d.Ratio))
	closed := 0
	around := graded(0, s.Arc/2, d.Arc, false, true, d.Ratio)
	if s.Closed > 0 {
		closed = 2 * d.Arc
		around = join(graded(0, s.Closed/2, d.Arc, false, true, d.Ratio), graded(s.Closed/2, s.Arc/2, d.Arc, true, true, d.Ratio))
	}
	g.plane = product(r, join(around, graded(s.Arc/2, math.Pi/2, d.Leg, true, false, d.Ratio)))
	g.void = [2][2]int{{2 * d.Skin, 2 * (d.Skin + d.Void)}, {closed, closed + 2*d.Arc}}
}

// roundVoid lays the grid around an outline with fillets: a line through the skin from
// each place of a face, a line through the leg from each place of the flank. A corner of
// the grid is the middle of a fillet.
func (g *mesh) roundVoid(s *Sample, d Density) {
	o := newOutline(s)
	inner, outer, flank := o.face(0, d), o.face(1, d), o.flank(d)
	through := graded(0, 1, d.Skin, true, true, d.Ratio)
	leg := graded(0, 1, d.Leg, true, false, d.Ratio)
	row := func(face [][2]float64, radius func(at float64) float64) (places [][2]float64) {
		for _, p := range face {
			places = append(places, [2]float64{radius(p[0]), p[1]})
		}
		last := places[len(places)-1]
		for _, t := range leg[1:] {
			places = append(places, [2]float64{last[0], last[1] + t*(math.Pi/2-last[1])})
		}
		return places
	}
	for _, t := range through {
		g.plane = append(g.plane, row(inner, func(at float64) float64 { return s.Inside + t*(at-s.Inside) }))
	}
	for _, p := range flank[1 : len(flank)-1] {
		g.plane = append(g.plane, row(append(make([][2]float64, len(inner)-1), p), func(at float64) float64 { return at }))
	}
	for _, t := range through {
		g.plane = append(g.plane, row(outer, func(at float64) float64 { return at + t*(s.Outside-at) }))
	}
	first := len(through) - 1
	g.void = [2][2]int{{first, first + len(flank) - 1}, {0, len(inner) - 1}}
}

// endBrick is the length of the last brick before a free end, by the wall.
const endBrick = 0.03

// graded divides from…to into n bricks, two places each, whose lengths fall in
// one ratio towards the ends asked for.
func graded(from, to float64, n int, finerFrom, finerTo bool, ratio float64) []float64 {
	places := make([]float64, 2*n+1)
	sum := 0.0
	for i := range n {
		steps := 0
		switch {
		case finerFrom && finerTo:
			steps = min(i, n-1-i)
		case finerFrom:
			steps = i
		case finerTo:
			steps = n - 1 - i
		}
		sum += math.Pow(ratio, float64(steps))
		places[2*i+2] = sum
	}
	for i := range places {
		places[i] = from + (to-from)*places[i]/sum
	}
	return halved(places)
}

// towardsEnd divides 0…to into n bricks whose lengths fall in one ratio to the
// last one; they are equal if that would be longer.
func towardsEnd(to float64, n int, last float64) []float64 {
	length := func(ratio float64) (sum float64) {
		for i := range n {
			sum += last * math.Pow(ratio, float64(i))
		}
		return sum
	}
	low, high := 1.0, 10.0
	for range 60 {
		if middle := (low + high) / 2; length(middle) < to {
			low = middle
		} else {
			high = middle
		}
	}
	last *= to / length(low)
	places := make([]float64, 2*n+1)
	at := to
	for i := n; i > 0; i-- {
		places[2*i] = at
		at -= last * math.Pow(low, float64(n-i))
	}
	return halved(places)
}

// halved fills the places in the middle of bricks.
func halved(places []float64) []float64 {
	for i := 1; i < len(places); i += 2 {
		places[i] = (places[i-1] + places[i+1]) / 2
	}
	return places
}

// join puts rows of places together that share their ends.
func join(rows ...[]float64) []float64 {
	all := rows[0]
	for _, row := range rows[1:] {
		all = append(all, row[1:]...)
	}
	return all
}

// number is the solver's number of a node.
func (g *mesh) number(i, j, k int) int { return (k*len(g.plane[0])+j)*len(g.plane) + i + 1 }

func (g *mesh) addBricks() {
	for k := 0; k < len(g.z)-1; k += 2 {
		for j := 0; j < len(g.plane[0])-1; j += 2 {
			for i := 0; i < len(g.plane)-1; i += 2 {
				if g.empty(i, j) {
					continue
				}
				numbers := make([]int, 0, len(finiteelement.BrickOrder))
				for _, o := range finiteelement.BrickOrder {
					place := [3]int{i + o[0], j + o[1], k + o[2]}
					n := g.number(place[0], place[1], place[2])
					g.nodes[n] = place
					numbers = append(numbers, n)
				}
				g.bricks = append(g.bricks, numbers)
			}
		}
	}
}

// empty tells whether the brick that begins at i, j lies in the void.
func (g *mesh) empty(i, j int) bool {
	v := g.void
	return v[0][0] <= i && i < v[0][1] && v[1][0] <= j && j < v[1][1]
}

// at is the position of a node, mm.
func (g *mesh) at(place [3]int) [3]float64 {
	p := g.plane[place[0]][place[1]]
	sin, cos := math.Sincos(p[1])
	if place[1] == len(g.plane[0])-1 {
		cos = 0 // exactly on the plane x = 0
	}
	return [3]float64{p[0] * cos, p[0] * sin, g.z[place[2]]}
}
