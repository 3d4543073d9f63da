package crosscheck

import "bushtune/bushing/finiteelement"

import "math"

// Ends says what the rigidly tied end planes of a meshed cross-member hold.
// The member is meshed with 20-node bricks of reduced integration (C3D20R).
type Ends string

const (
	// Primary ends hold the cross-section in its plane and the warping of the
	// middle surface; warping through the wall is free. One brick through the
	// wall: a shell written out as solids.
	//
	// The solver's own shell S8R is expanded into the same brick, yet a tie or a
	// *RIGID BODY on its corner nodes holds the middle of the wall alone and
	// lets both faces move: an end flexibility that grows as the end elements
	// get shorter (V section, 3 mm and 6 mm end elements: 3.0 and 4.3 % too soft
	// in twist, 0.3 and 1.7 % in bending).
	Primary Ends = "primary"
	// BuiltIn ends hold every node, so warping through the wall too. Two bricks
	// through the wall.
	BuiltIn Ends = "built-in"
)

// layers is the number of bricks through the wall.
func (e Ends) layers() int {
	if e == BuiltIn {
		return 2
	}
	return 1
}

// Density is the fineness of a mesh.
type Density struct {
	Around  float64 `json:"around_mm"`   // longest element along the midline
	Turn    float64 `json:"turn_deg"`    // most an element turns along the midline
	Along   int     `json:"along"`       // number of elements along the span
	Grading float64 `json:"end_grading"` // 0: equal lengths; towards 1: finer at the ends
}

// mesh is a structured grid of bricks: node (i, k, j) is the i-th half brick
// along the midline, the k-th through the wall, the j-th along y.
type mesh struct {
	around  int // half bricks along the midline
	through int // half bricks through the wall
	along   int // half bricks along the span
	closed  bool
	nodes   []meshNode
	bricks  [][]int     // node numbers in the solver's order
	ends    [2][]endTie // of the left (y > 0) and the right end plane
}

type meshNode struct {
	number int
	at     Point
}

// endTie holds the mean movement of one or two nodes in some directions
// (0 to 2) to that of the rigid end at a point.
type endTie struct {
	nodes      []int
	at         Point
	directions []int
}

// newMesh sweeps the member's midline along y.
func newMesh(m Member, e Ends, d Density) *mesh {
	stations := sample(&m.Profile, d)
	g := &mesh{
		closed: closed(&m.Profile),
		around: len(stations) - 1, through: 2 * e.layers(), along: 2 * d.Along,
	}
	for j := 0; j <= g.along; j++ {
		y := spanPosition(m.HalfSpan, d.Grading, float64(j)/float64(g.along))
		for i, s := range stations {
			if g.closed && i == g.around {
				continue
			}
			column := g.column(m, s, i, j, y)
			g.nodes = append(g.nodes, column...)
			switch j {
			case 0:
				g.ends[1] = append(g.ends[1], columnTies(e, column)...)
			case g.along:
				g.ends[0] = append(g.ends[0], columnTies(e, column)...)
			}
		}
	}
	g.addBricks()
	return g
}

// spanPosition maps 0..1 to y from −half to half, denser at the ends.
func spanPosition(half, grading, fraction float64) float64 {
	eta := 2*fraction - 1
	return half * ((1-grading)*eta + grading*math.Sin(eta*math.Pi/2))
}

// column returns the nodes through the wall at one place; nodes inside faces and
// bricks do not exist in quadratic elements of this family.
func (g *mesh) column(m Member, s station, i, j int, y float64) []meshNode {
	var nodes []meshNode
	for k := 0; k <= g.through; k++ {
		if i%2+j%2+k%2 > 1 {
			continue
		}
		offset := m.Profile.Walls[0].Thickness * (float64(k)/float64(g.through) - 0.5)
		nodes = append(nodes, meshNode{g.number(i, k, j), Point{
			m.At[0] + s.at.F + offset*s.normal.F,
			y,
			m.At[2] + s.at.U + offset*s.normal.U,
		}})
	}
	return nodes
}

// number is the solver's node number of a grid place, from firstMeshNode up.
func (g *mesh) number(i, k, j int) int {
	if g.closed {
		i %= g.around
	}
	return firstMeshNode + (j*(g.around+1)+i)*(g.through+1) + k
}

func (g *mesh) addBricks() {
	for j := 0; j < g.along; j += 2 {
		for i := 0; i < g.around; i += 2 {
			for k := 0; k < g.through; k += 2 {
				numbers := make([]int, len(finiteelement.BrickOrder))
				for n, o := range finiteelement.BrickOrder {
					numbers[n] = g.number(i+o[0], k+o[1], j+o[2])
				}
				g.bricks = append(g.bricks, numbers)
			}
		}
	}
}

// columnTies lists what a rigid end holds of the nodes through the wall at one
// place, given from face to face. Built-in: every node in every direction.
// Primary: every node in the plane of the section; along y the middle surface
// alone, that is the mean of the two faces and the middle node if there is one.
func columnTies(e Ends, column []meshNode) []endTie {
	all, inPlane, along := []int{0, 1, 2}, []int{0, 2}, []int{1}
	var ties []endTie
	for _, n := range column {
		held := all
		if e == Primary {
			held = inPlane
		}
		ties = append(ties, endTie{[]int{n.number}, n.at, held})
	}
	if e == BuiltIn {
		return ties
	}
	first, last := column[0], column[len(column)-1]
	middle := Point{(first.at[0] + last.at[0]) / 2, first.at[1], (first.at[2] + last.at[2]) / 2}
	ties = append(ties, endTie{[]int{first.number, last.number}, middle, along})
	if len(column) == 3 {
		ties = append(ties, endTie{[]int{column[1].number}, middle, along})
	}
	return ties
}
