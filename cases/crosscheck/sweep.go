package crosscheck

import (
	"fmt"

	"bushtune/bushing"
	"bushtune/bushing/finiteelement"
)

// Stops are where the voids of a bush close: gaps (mm) towards + and − of the
// soft and the axial direction, and the rate that the closed void adds.
type Stops struct {
	SoftGap, SoftGapBack, SoftSnubber    float64 // mm, mm, N/mm
	AxialGap, AxialGapBack, AxialSnubber float64
	Run                                  float64 // mm over which a stop gains its rate
}

// sweepStops close in the middle of the sweeps, differently each way.
func sweepStops() Stops {
	return Stops{
		SoftGap: 2.5, SoftGapBack: 3.5, SoftSnubber: 3000,
		AxialGap: 2, AxialGapBack: 1.5, AxialSnubber: 2500,
		Run: 2,
	}
}

// laws are the loads along soft, axial and stiff of the arm against the vehicle.
func (b Bush) laws(s Stops) [3]bushing.Law[float64] {
	return [3]bushing.Law[float64]{
		{Rate: b.Soft, GapPlus: s.SoftGap, GapMinus: s.SoftGapBack, Snubber: s.SoftSnubber, Run: s.Run},
		{Rate: b.Axial, GapPlus: s.AxialGap, GapMinus: s.AxialGapBack, Snubber: s.AxialSnubber, Run: s.Run},
		{Rate: b.Stiff},
	}
}

// Station is what is imposed on both wheels, left and right: the rise of the
// wheel centres, or a lateral force at them with the heights free.
type Station struct {
	Rise  *[2]float64 `json:"rise_mm,omitempty"`
	Force *[2]float64 `json:"lateral_force_n,omitempty"`
}

// Sweep is a row of stations from the design position on.
type Sweep struct {
	Name     string
	Stations []Station
}

// Sweeps are the travels and the side force of the cross-check.
func Sweeps() []Sweep {
	return []Sweep{
		{"bump", rises(1, 25, 50, 75, 100)},
		{"rebound", rises(1, -25, -50, -75, -100)},
		{"roll", rises(-1, 25, 50, 75, 100)},
		{"side-force", sideForces(1000, 2000, 3000, 4000, 5000)},
	}
}

// rises lifts the left wheel by each height and the right one by a multiple.
func rises(right float64, heights ...float64) []Station {
	var list []Station
	for _, h := range heights {
		list = append(list, Station{Rise: &[2]float64{h, right * h}})
	}
	return list
}

func sideForces(forces ...float64) []Station {
	var list []Station
	for _, f := range forces {
		list = append(list, Station{Force: &[2]float64{f, f}})
	}
	return list
}

// SweepDeck is the input for a whole axle, geometrically non-linear: the meshed
// cross-member with built-in ends, each arm a rigid body that turns by finite
// rotations, bushes that follow their laws along axes fixed in the vehicle,
// coil springs along their true lines.
func SweepDeck(a Axle, s Stops, d Density, sweep Sweep) []byte {
	out := &deck{}
	g := newMesh(a.Member, BuiltIn, d)
	fmt.Fprintf(out, "** %s: %s, rigid arms, finite rotations\n", a.Name, sweep.Name)
	arms, centres := a.armNodes(), [2]Point{a.WheelCentre, a.WheelCentre.mirrored()}
	out.nodes(poseNodes(centres[0], centres[1]), arms[0], arms[1], g.nodes)
	out.memberElements(g)
	for side, base := range []int{0, rightSide} {
		out.rigidBody(base, arms[side], g.ends[side])
		out.snubbedBush(a, s, base)
		seat := arms[side][1].at
		out.springBetween(base+seatNode, seat, Point{seat[0], seat[1], seat[2] + uprightSpring}, fmt.Sprintf("\n%.10e\n", a.SpringRate))
	}
	for _, station := range sweep.Stations {
		out.sweepStep(station)
	}
	return out.Bytes()
}

// rigidBody ties points and the nodes of an end plane to the reference and the
// rotation node of one side; the solver treats that at any rotation.
func (out *deck) rigidBody(base int, points []meshNode, ties []endTie) {
	fmt.Fprintf(out, "*NSET,NSET=ARM%d\n", base)
	for _, n := range points {
		fmt.Fprintf(out, "%d\n", n.number)
	}
	for _, tie := range ties {
		fmt.Fprintf(out, "%d\n", tie.nodes[0])
	}
	fmt.Fprintf(out, "*RIGID BODY,NSET=ARM%d,REF NODE=%d,ROT NODE=%d\n", base, base+centreNode, base+rotationNode)
}

// lineLength is how far the ground ends of the bush's lines lie from the pivot:
// so far that a line turns by a few thousandths of a radian when the bush moves
// across it.
const lineLength = 2000 // mm

// snubbedBush holds a pivot by three curves along lines to the ground and by
// three rates of rotation.
func (out *deck) snubbedBush(a Axle, s Stops, base int) {
	soft, axial := a.Bush.axes()
	directions := [3]Point{soft, axial, cross(soft, axial)}
	pivot := a.Pivot
	if base == rightSide {
		pivot = pivot.mirrored()
		for i := range directions {
			directions[i] = directions[i].mirrored()
		}
	}
	laws := a.Bush.laws(s)
	for i, direction := range directions {
		var ground Point
		for k := range ground {
			ground[k] = pivot[k] + lineLength*direction[k]
		}
		out.springBetween(base+pivotNode, pivot, ground, lawTable(&laws[i]))
	}
	orientation := out.orientation(base, directions[0], directions[1])
	for i, rate := range []float64{a.Bush.ConeSoft, a.Bush.Torsion, a.Bush.ConeStiff} {
		out.spring(base+rotationNode, i, rate, orientation)
	}
}

func cross(a, b Point) Point {
	return Point{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

const (
	tableReach = 30   // mm: the last point of a curve in the deck
	tableStep  = 0.05 // mm between its points where a stop comes in
)

// lawTable writes the tension of a line over its elongation, which is how far
// the pivot moves away from the ground end: both change their sign. The solver
// keeps the load beyond the last point and draws straight lines between points.
func lawTable(law *bushing.Law[float64]) string {
	at := []float64{-tableReach}
	if law.Snubber != 0 {
		at = append(at, between(-law.GapMinus-law.Run, -law.GapMinus)...)
		at = append(at, between(law.GapPlus, law.GapPlus+law.Run)...)
	}
	at = append(at, tableReach)
	table := ",NONLINEAR\n"
	for i := len(at) - 1; i >= 0; i-- {
		table += fmt.Sprintf("%.10e,%.10e\n", -law.Load(at[i]), -at[i])
	}
	return table
}

// between lists places from low to high.
func between(low, high float64) (list []float64) {
	steps := int((high-low)/tableStep + 0.5)
	for i := range steps + 1 {
		list = append(list, low+(high-low)*float64(i)/float64(steps))
	}
	return list
}

// springBetween puts a spring along the line from a node of a body to a new node
// on the ground. rate is what follows the keyword.
func (out *deck) springBetween(node int, at, ground Point, rate string) {
	out.elements++
	out.ground++
	end := firstGroundNode + out.ground
	out.WriteString("*NODE\n")
	finiteelement.WriteNode(out, end, ground)
	fmt.Fprintf(out, "*BOUNDARY\n%d,1,3,0.\n", end)
	fmt.Fprintf(out, "*ELEMENT,TYPE=SPRINGA,ELSET=SPRING%d\n%d,%d,%d\n", out.elements, out.elements, node, end)
	fmt.Fprintf(out, "*SPRING,ELSET=SPRING%d%s", out.elements, rate)
}

// sweepStep imposes one station.
func (out *deck) sweepStep(s Station) {
	out.WriteString("*STEP,NLGEOM,INC=1000\n*STATIC\n0.5,1.\n")
	for side, base := range []int{0, rightSide} {
		if s.Rise != nil {
			fmt.Fprintf(out, "*BOUNDARY\n%d,3,3,%.10e\n", base+centreNode, s.Rise[side])
		} else {
			fmt.Fprintf(out, "*CLOAD\n%d,2,%.10e\n", base+centreNode, s.Force[side])
		}
	}
	out.WriteString("*NODE PRINT,NSET=POSE,FREQUENCY=100000\nU,RF\n*END STEP\n")
}
