package crosscheck

import (
	"fmt"
	"math"

	"bushtune/bushing/finiteelement"
	"bushtune/compliance/section"
)

// Bending says whether the ends of a twisted cross-member may turn against each
// other in bending.
type Bending string

const (
	HeldInBending Bending = "held" // both end planes stay square to y
	FreeInBending Bending = "free" // each end plane may tilt: no bending moment
)

// TwistDeck is the input for the cross-member alone, geometrically non-linear:
// its left end plane is held in x and z, its right one is turned by the given
// angles (rad) about the line through pole, one a step. Both stay plane and may
// draw together along y.
func TwistDeck(w Twisted, pole section.Point[float64], d Density, angles []float64) []byte {
	out := &deck{}
	m := w.Member
	g := newMesh(m, BuiltIn, d)
	fmt.Fprintf(out, "** cross-member twisted at size, ends %s in bending\n*NODE,NSET=ALL\n", w.Bending)
	for _, n := range g.nodes {
		finiteelement.WriteNode(out, n.number, n.at)
	}
	out.memberElements(g)
	if w.Braced {
		out.braces(g)
	}
	left, right := g.ends[0], g.ends[1]
	out.WriteString("*NSET,NSET=TURNED\n")
	for _, tie := range right {
		fmt.Fprintf(out, "%d\n", tie.nodes[0])
	}
	masters := [2]triangle{widest(left), widest(right)}
	for side, ties := range g.ends {
		out.plane(ties, masters[side], w.Bending)
	}
	out.WriteString("*BOUNDARY\n")
	fmt.Fprintf(out, "%d,2,2,0.\n", masters[0][0].nodes[0])
	for _, tie := range left {
		fmt.Fprintf(out, "%d,1,1,0.\n%d,3,3,0.\n", tie.nodes[0], tie.nodes[0])
	}
	axis := Point{m.At[0] + pole.F, 0, m.At[2] + pole.U}
	for _, angle := range angles {
		out.turnStep(right, axis, angle)
	}
	return out.Bytes()
}

// braces keeps the shape of every section of the mesh: stiff rods between all
// pairs of seven places along the middle of the wall.
func (out *deck) braces(g *mesh) {
	const rate = 1e5 // N/mm, a hundred times what a leg resists to bending
	out.WriteString("*ELEMENT,TYPE=SPRINGA,ELSET=BRACES\n")
	for j := 2; j < g.along; j += 2 {
		var places []int
		for n := range 7 {
			places = append(places, g.number(2*(n*g.around/12), g.through/2, j))
		}
		for n, from := range places {
			for _, to := range places[:n] {
				out.elements++
				fmt.Fprintf(out, "%d,%d,%d\n", out.elements, from, to)
			}
		}
	}
	fmt.Fprintf(out, "*SPRING,ELSET=BRACES\n\n%.6e\n", rate)
}

// turned is a point turned about the line along y through axis, right-handed.
func turned(at, axis Point, angle float64) Point {
	sin, cos := math.Sincos(angle)
	x, z := at[0]-axis[0], at[2]-axis[2]
	return Point{axis[0] + x*cos + z*sin, at[1], axis[2] + z*cos - x*sin}
}

// turnStep turns an end plane in one non-linear step.
func (out *deck) turnStep(ties []endTie, axis Point, angle float64) {
	out.WriteString("*STEP,NLGEOM,INC=1000\n*STATIC\n1.,1.\n*BOUNDARY\n")
	for _, tie := range ties {
		to := turned(tie.at, axis, angle)
		for _, i := range []int{0, 2} {
			fmt.Fprintf(out, "%d,%d,%d,%.10e\n", tie.nodes[0], i+1, i+1, to[i]-tie.at[i])
		}
	}
	out.WriteString("*NODE PRINT,NSET=TURNED,FREQUENCY=100000\nU,RF\n*END STEP\n")
}

// triangle holds three nodes of an end plane that are not on one line.
type triangle [3]endTie

// widest picks the first node and the two that span the largest triangle with it.
func widest(ties []endTie) (best triangle) {
	area := 0.0
	for i := range ties {
		for j := range ties[:i] {
			t := triangle{ties[0], ties[j], ties[i]}
			if a := math.Abs(t.area(ties[0].at, ties[j].at, ties[i].at)); a > area {
				area, best = a, t
			}
		}
	}
	return best
}

// area is twice the signed area of three points of a plane square to y.
func (triangle) area(a, b, c Point) float64 {
	return (b[0]-a[0])*(c[2]-a[2]) - (c[0]-a[0])*(b[2]-a[2])
}

// plane keeps the nodes of an end in one plane: their movements along y are those
// of the first master, or a linear function of the three masters' if the plane
// may tilt. A plane that turns about y stays one, so the equations hold at any
// angle.
func (out *deck) plane(ties []endTie, masters triangle, bending Bending) {
	whole := masters.area(masters[0].at, masters[1].at, masters[2].at)
	for _, tie := range ties {
		n := tie.nodes[0]
		if n == masters[0].nodes[0] || bending == FreeInBending && (n == masters[1].nodes[0] || n == masters[2].nodes[0]) {
			continue
		}
		share := [3]float64{1}
		if bending == FreeInBending {
			share[1] = masters.area(masters[0].at, tie.at, masters[2].at) / whole
			share[2] = masters.area(masters[0].at, masters[1].at, tie.at) / whole
			share[0] = 1 - share[1] - share[2]
		}
		terms := []term{{n, 1, 1}}
		for i, s := range share {
			if s != 0 {
				terms = append(terms, term{masters[i].nodes[0], 1, -s})
			}
		}
		out.equation(terms)
	}
}
