package crosscheck

import (
	"bytes"
	"fmt"
	"maps"
	"slices"

	"bushtune/bushing/finiteelement"
)

// motion is one unit movement of the inner sleeve and how the rubber's movement
// mirrors in the planes x = 0, y = 0 and z = 0: evenly (symmetric) or not.
type motion struct {
	name string
	move func(at [3]float64) [3]float64 // mm, of a point of the sleeve
	even [3]bool
}

// motions are the six of a bush in order of bushing.Direction: along the soft
// radial (x, through the voids), the axis (z), the stiff radial (y); about them.
var motions = [6]motion{
	{"soft", func([3]float64) [3]float64 { return [3]float64{1, 0, 0} }, [3]bool{false, true, true}},
	{"axial", func([3]float64) [3]float64 { return [3]float64{0, 0, 1} }, [3]bool{true, true, false}},
	{"stiff", func([3]float64) [3]float64 { return [3]float64{0, 1, 0} }, [3]bool{true, false, true}},
	{"cone about soft", func(p [3]float64) [3]float64 { return [3]float64{0, -p[2], p[1]} }, [3]bool{true, false, false}},
	{"torsion", func(p [3]float64) [3]float64 { return [3]float64{-p[1], p[0], 0} }, [3]bool{false, false, true}},
	{"cone about stiff", func(p [3]float64) [3]float64 { return [3]float64{p[2], 0, -p[0]} }, [3]bool{false, true, false}},
}

// deck is the solver's input: one linear step a motion.
func (g *mesh) deck(bulk float64, which []int) []byte {
	out := &bytes.Buffer{}
	numbers := slices.Sorted(maps.Keys(g.nodes))
	out.WriteString("*NODE\n")
	for _, n := range numbers {
		finiteelement.WriteNode(out, n, g.at(g.nodes[n]))
	}
	out.WriteString("*ELEMENT,TYPE=C3D20R,ELSET=RUBBER\n")
	for i, brick := range g.bricks {
		finiteelement.WriteList(out, append([]int{i + 1}, brick...))
	}
	poisson := (3*bulk - 2) / (2 * (3*bulk + 1)) // shear modulus 1 MPa
	fmt.Fprintf(out, "*MATERIAL,NAME=RUBBER\n*ELASTIC\n%.15g,%.15g\n*SOLID SECTION,ELSET=RUBBER,MATERIAL=RUBBER\n", 2*(1+poisson), poisson)
	out.WriteString("*NSET,NSET=INNER\n")
	for _, n := range numbers {
		if g.nodes[n][0] == 0 {
			fmt.Fprintf(out, "%d,\n", n)
		}
	}
	for _, m := range which {
		g.step(out, numbers, motions[m])
	}
	return out.Bytes()
}

// step moves the inner sleeve, holds the outer one and the planes of symmetry,
// and prints the forces on the inner sleeve.
func (g *mesh) step(out *bytes.Buffer, numbers []int, m motion) {
	fmt.Fprintf(out, "** %s\n*STEP\n*STATIC\n*BOUNDARY,OP=NEW\n", m.name)
	for _, n := range numbers {
		place := g.nodes[n]
		switch place[0] {
		case 0:
			for i, u := range m.move(g.at(place)) {
				fmt.Fprintf(out, "%d,%d,%d,%.12e\n", n, i+1, i+1, u)
			}
		case len(g.plane) - 1:
			fmt.Fprintf(out, "%d,1,3,0.\n", n)
		default:
			for i, held := range g.held(place, m) {
				if held {
					fmt.Fprintf(out, "%d,%d\n", n, i+1)
				}
			}
		}
	}
	out.WriteString("*NODE PRINT,NSET=INNER\nRF\n*END STEP\n")
}

// held are the directions that the planes of symmetry hold at a node: the normal
// one where the movement mirrors evenly, the other two where it does not.
func (g *mesh) held(place [3]int, m motion) (held [3]bool) {
	on := [3]bool{place[1] == len(g.plane[0])-1, place[1] == 0, place[2] == 0} // x, y, z = 0
	for plane := range on {
		for i := range held {
			if on[plane] && (i == plane) == m.even[plane] {
				held[i] = true
			}
		}
	}
	return held
}
