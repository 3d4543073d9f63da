package crosscheck

import (
	"bytes"
	"fmt"
	"slices"

	"bushtune/bushing/finiteelement"
	"bushtune/cases"
)

// Node numbers of one side's rigid body; the right side adds rightSide.
const (
	centreNode    = 1 // wheel centre: reference point of the rigid body
	rotationNode  = 2 // its three displacements are the body's rotations
	pivotNode     = 3
	seatNode      = 4
	patchNode     = 5
	rightSide     = 10
	firstMeshNode = 101

	firstGroundNode = 1000001 // ends of springs on the ground
)

// deck is an input file for the solver under construction.
type deck struct {
	bytes.Buffer
	elements int // elements written so far
	ground   int // ground nodes written so far
}

// AxleDeck is the solver's input for the load cases on the given pads: the meshed
// cross-member, its ends and the points of each arm in one rigid body a side,
// bushes and springs to the ground.
func AxleDeck(a Axle, e Ends, d Density, loadCases []cases.Case, pads cases.Pads) []byte {
	out := &deck{}
	g := newMesh(a.Member, e, d)
	fmt.Fprintf(out, "** %s: rigid arms, %s ends\n", a.Name, e)
	arms, centres := a.armNodes(), [2]Point{a.WheelCentre, a.WheelCentre.mirrored()}
	out.nodes(poseNodes(centres[0], centres[1]), arms[0], arms[1], g.nodes)
	out.memberElements(g)
	for side, base := range []int{0, rightSide} {
		out.rigidTies(base, centres[side], slices.Concat(pointTies(arms[side]), g.ends[side]))
		out.bush(a.Bush, base)
		out.spring(base+seatNode, 2, a.SpringRate, "")
	}
	if pads == cases.Level {
		out.levelPads(a)
	}
	for _, c := range loadCases {
		if c.Pads == pads {
			out.step(forces(c))
		}
	}
	return out.Bytes()
}

// memberLoads are the loads on the free end of a cross-member, one a step: forces
// along x, y, z in N, moments about them in N·mm.
var memberLoads = [6]float64{1e3, 1e3, 1e3, 2e5, 2e5, 2e5}

// MemberDeck is the input for the cross-member alone: its left end plane is
// fixed, its right one a rigid body whose reference point, the profile's origin,
// carries memberLoads.
func MemberDeck(m Member, e Ends, d Density) []byte {
	out := &deck{}
	g := newMesh(m, e, d)
	fmt.Fprintf(out, "** cross-member alone, %s ends\n", e)
	left := Point{m.At[0], m.HalfSpan, m.At[2]}
	right := left.mirrored()
	out.nodes(poseNodes(left, right), g.nodes)
	out.memberElements(g)
	out.rigidTies(0, left, g.ends[0])
	out.rigidTies(rightSide, right, g.ends[1])
	fmt.Fprintf(out, "*BOUNDARY\n%d,1,3,0.\n%d,1,3,0.\n", centreNode, rotationNode)
	for column, amplitude := range memberLoads {
		out.step([]nodalForce{{rightSide + centreNode + column/3, column % 3, amplitude}})
	}
	return out.Bytes()
}

// poseNodes are the reference and rotation nodes of both bodies.
func poseNodes(left, right Point) []meshNode {
	return []meshNode{
		{centreNode, left}, {rotationNode, left},
		{rightSide + centreNode, right}, {rightSide + rotationNode, right},
	}
}

// armNodes are the points of both arms that the solver must know: the left
// side's, then the right side's.
func (a Axle) armNodes() [2][]meshNode {
	left := []meshNode{{pivotNode, a.Pivot}, {seatNode, a.SpringSeat}, {patchNode, a.Patch()}}
	var right []meshNode
	for _, n := range left {
		right = append(right, meshNode{n.number + rightSide, n.at.mirrored()})
	}
	return [2][]meshNode{left, right}
}

// pointTies holds every node in every direction.
func pointTies(nodes []meshNode) []endTie {
	var ties []endTie
	for _, n := range nodes {
		ties = append(ties, endTie{[]int{n.number}, n.at, []int{0, 1, 2}})
	}
	return ties
}

func (out *deck) nodes(lists ...[]meshNode) {
	out.WriteString("*NODE\n")
	for _, n := range slices.Concat(lists...) {
		finiteelement.WriteNode(out, n.number, n.at)
	}
	fmt.Fprintf(out, "*NSET,NSET=POSE\n%d,%d,%d,%d\n",
		centreNode, rotationNode, rightSide+centreNode, rightSide+rotationNode)
}

func (out *deck) memberElements(g *mesh) {
	out.WriteString("*ELEMENT,TYPE=C3D20R,ELSET=MEMBER\n")
	for _, nodes := range g.bricks {
		out.elements++
		finiteelement.WriteList(out, append([]int{out.elements}, nodes...))
	}
	fmt.Fprintf(out, "*MATERIAL,NAME=STEEL\n*ELASTIC\n%.6e,%.6e\n", YoungsModulus, PoissonRatio)
	out.WriteString("*SOLID SECTION,ELSET=MEMBER,MATERIAL=STEEL\n")
}

// rigidTies makes the mean movement of the nodes of each tie that of a rigid body
// with the given reference and rotation node: u = u_ref + θ × r, one linear
// equation a direction.
func (out *deck) rigidTies(base int, reference Point, ties []endTie) {
	fmt.Fprintf(out, "** rigid body of nodes %d and %d\n", base+centreNode, base+rotationNode)
	for _, tie := range ties {
		var r Point
		for i := range r {
			r[i] = tie.at[i] - reference[i]
		}
		for _, i := range tie.directions {
			var terms []term
			for _, n := range tie.nodes {
				terms = append(terms, term{n, i, -1 / float64(len(tie.nodes))})
			}
			j, k := (i+1)%3, (i+2)%3 // (θ × r)_i = θ_j r_k − θ_k r_j
			out.equation(append(terms, term{base + centreNode, i, 1},
				term{base + rotationNode, j, r[k]}, term{base + rotationNode, k, -r[j]}))
		}
	}
}

// bush ties the pivot of one side to the ground by six springs along and about
// the bush's own axes; those of the right side are mirrored.
func (out *deck) bush(b Bush, base int) {
	soft, axial := b.axes()
	if base == rightSide {
		soft, axial = soft.mirrored(), axial.mirrored()
	}
	orientation := out.orientation(base, soft, axial)
	for i, rate := range []float64{b.Soft, b.Axial, b.Stiff} {
		out.spring(base+pivotNode, i, rate, orientation)
	}
	for i, rate := range []float64{b.ConeSoft, b.Torsion, b.ConeStiff} {
		out.spring(base+rotationNode, i, rate, orientation)
	}
}

// orientation writes the axes of one side's bush and returns their name.
func (out *deck) orientation(base int, soft, axial Point) string {
	name := fmt.Sprintf("BUSH%d", base)
	fmt.Fprintf(out, "*ORIENTATION,NAME=%s,SYSTEM=RECTANGULAR\n%.10e,%.10e,%.10e,%.10e,%.10e,%.10e\n",
		name, soft[0], soft[1], soft[2], axial[0], axial[1], axial[2])
	return name
}

// spring ties one direction (0 to 2) of a node to the ground.
func (out *deck) spring(node, direction int, rate float64, orientation string) {
	out.elements++
	fmt.Fprintf(out, "*ELEMENT,TYPE=SPRING1,ELSET=SPRING%d\n%d,%d\n", out.elements, out.elements, node)
	if orientation != "" {
		orientation = ",ORIENTATION=" + orientation
	}
	fmt.Fprintf(out, "*SPRING,ELSET=SPRING%d%s\n%d\n%.10e\n", out.elements, orientation, direction+1, rate)
}

// levelPads holds the height of both patches: u_z + θ_x·Δy − θ_y·Δx = 0 from
// the wheel centre to the patch.
func (out *deck) levelPads(a Axle) {
	centre, patch := a.WheelCentre, a.Patch()
	for _, base := range []int{0, rightSide} {
		arm := Point{patch[0] - centre[0], patch[1] - centre[1], 0}
		if base == rightSide {
			arm = arm.mirrored()
		}
		out.equation([]term{{base + centreNode, 2, 1}, {base + rotationNode, 0, arm[1]}, {base + rotationNode, 1, -arm[0]}})
	}
}

// term is a node's movement in a direction (0 to 2) times a factor.
type term struct {
	node, direction int
	factor          float64
}

// equation writes that the terms add up to nothing, at most four a line as the
// solver asks; it eliminates the first one.
func (out *deck) equation(terms []term) {
	fmt.Fprintf(out, "*EQUATION\n%d\n", len(terms))
	for i, t := range terms {
		separator := ","
		if i%4 == 3 || i == len(terms)-1 {
			separator = "\n"
		}
		fmt.Fprintf(out, "%d,%d,%.10e%s", t.node, t.direction+1, t.factor, separator)
	}
}

// nodalForce is a load on one direction (0 to 2) of a node.
type nodalForce struct {
	node, direction int
	value           float64
}

// forces are the loads of a case on the nodes of both bodies. The wheels stand upright
// and straight ahead: free to roll they take a force along x at their centre, all
// others at the contact point, and an aligning torque is a moment about z.
func forces(c cases.Case) []nodalForce {
	var list []nodalForce
	for side, load := range c.Wheels {
		base := side * rightSide
		for i, value := range load.Force {
			node := base + patchNode
			if load.At == cases.AtCentre || i == 0 && c.Brake == cases.BrakeOff {
				node = base + centreNode
			}
			if value != 0 {
				list = append(list, nodalForce{node, i, value})
			}
		}
		if load.Moment != 0 {
			list = append(list, nodalForce{base + rotationNode, 2, load.Moment})
		}
	}
	return list
}

// step writes one linear static step that prints the pose of both bodies.
func (out *deck) step(forces []nodalForce) {
	out.WriteString("*STEP\n*STATIC\n*CLOAD,OP=NEW\n")
	for _, f := range forces {
		fmt.Fprintf(out, "%d,%d,%.10e\n", f.node, f.direction+1, f.value)
	}
	out.WriteString("*NODE PRINT,NSET=POSE\nU\n*END STEP\n")
}
