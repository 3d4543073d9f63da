package crosscheck

import (
	"fmt"
	"math"
	"path/filepath"

	"bushtune/bushing/exact"
	"bushtune/bushing/finiteelement"
	"bushtune/compliance/section"
)

// Preloaded is a cross-member that is bent first and twisted then, so that what
// its loads at rest do to its stiffness shows.
type Preloaded struct {
	Name   string
	Member Member
}

// PreloadedMembers are a V, a U and a V of unequal legs, short enough to carry the
// moments of a loaded axle with small strains.
func PreloadedMembers() []Preloaded {
	const half = 300
	return []Preloaded{
		{"v", Member{Profile: pressed(72, 72, 26, 28, 5, section.Down, 0), HalfSpan: half}},
		{"u", Member{Profile: pressed(70, 70, 40, 0, 5, section.Down, 0), HalfSpan: half}},
		{"v-unequal", Member{Profile: pressed(90, 55, 25, 30, 5, section.Down, 0), HalfSpan: half}},
	}
}

// EndState is where the right end of a member stands, the left one held, and
// what holds it there.
type EndState struct {
	Preload string  `json:"preload"`    // what bends it
	Sign    float64 `json:"sign"`       // which way
	Twist   float64 `json:"twist_rad"`  // about the line along y through the shear centre of the end
	Shift   Point   `json:"shift_mm"`   // of the shear centre of the end
	Turn    Point   `json:"turn_rad"`   // rotation vector of the end
	Force   Point   `json:"force_n"`    // on the end
	Moment  Point   `json:"moment_nmm"` // on the end, about its shear centre
}

const (
	preloadTurn  = 0.006 // rad between the ends, about the middle
	preloadSlide = 1.0   // mm between the ends
	preloadTwist = 0.01  // rad
)

// endStates are the states to be solved: bending by couples about x and z, a turn
// of the end about the centroid of the middle, and by shear forces along x and z,
// a slide; each both ways, and each twisted both ways.
func (p Preloaded) endStates(c *section.Constants[float64]) []EndState {
	half := p.Member.HalfSpan
	centre := Point{c.ShearCentre.F, -half, c.ShearCentre.U}
	middle := Point{c.Centroid.F, 0, c.Centroid.U}
	var list []EndState
	for _, bent := range []struct {
		name        string
		turn, slide Point
	}{
		{"couple about x", Point{preloadTurn}, Point{}}, {"couple about z", Point{2: preloadTurn}, Point{}},
		{"shear along x", Point{}, Point{preloadSlide}}, {"shear along z", Point{}, Point{2: preloadSlide}},
	} {
		for _, sign := range []float64{1, -1} {
			for _, twist := range []float64{1, -1} {
				s := EndState{Preload: bent.name, Sign: sign, Twist: twist * preloadTwist}
				turn := rotation(scaled(bent.turn, sign))
				arm := Point{centre[0] - middle[0], centre[1] - middle[1], centre[2] - middle[2]}
				moved := turn.Apply(exact.Vec[float64](arm))
				for i := range 3 {
					s.Shift[i] = moved[i] - arm[i] + sign*bent.slide[i]
				}
				whole := rotation(Point{1: s.Twist}).Mul(turn)
				s.Turn = rotationVector(&whole)
				list = append(list, s)
			}
		}
	}
	return list
}

func scaled(p Point, by float64) Point { return Point{by * p[0], by * p[1], by * p[2]} }

// rotationVector is the inverse of rotation for less than a quarter turn.
func rotationVector(m *exact.Mat3[float64]) Point {
	v := Point{m[2][1] - m[1][2], m[0][2] - m[2][0], m[1][0] - m[0][1]} // 2·sin of the angle along the axis
	sin := math.Sqrt(v[0]*v[0]+v[1]*v[1]+v[2]*v[2]) / 2
	if sin == 0 {
		return v
	}
	return scaled(v, math.Asin(sin)/(2*sin))
}

// PreloadDeck is the input for a member whose left end plane is held and whose
// right one stands as given, one state a step, geometrically non-linear.
func PreloadDeck(p Preloaded, pole section.Point[float64], d Density, states []EndState) []byte {
	out := &deck{}
	g := newMesh(p.Member, BuiltIn, d)
	fmt.Fprintf(out, "** cross-member %s with loads at rest\n*NODE,NSET=ALL\n", p.Name)
	for _, n := range g.nodes {
		finiteelement.WriteNode(out, n.number, n.at)
	}
	out.memberElements(g)
	out.WriteString("*NSET,NSET=HELD\n")
	for _, tie := range g.ends[1] {
		fmt.Fprintf(out, "%d\n", tie.nodes[0])
	}
	out.WriteString("*BOUNDARY\n")
	for _, tie := range g.ends[0] {
		fmt.Fprintf(out, "%d,1,3,0.\n", tie.nodes[0])
	}
	centre := Point{pole.F, -p.Member.HalfSpan, pole.U}
	for _, s := range states {
		out.WriteString("*STEP,NLGEOM,INC=1000\n*STATIC\n1.,1.\n*CONTROLS,PARAMETERS=FIELD\n1.e-7,1.e-7,,,1.e-5,1.e-7\n*BOUNDARY\n")
		turn := rotation(s.Turn)
		for _, tie := range g.ends[1] {
			arm := Point{tie.at[0] - centre[0], tie.at[1] - centre[1], tie.at[2] - centre[2]}
			moved := turn.Apply(exact.Vec[float64](arm))
			for i := range 3 {
				fmt.Fprintf(out, "%d,%d,%d,%.12e\n", tie.nodes[0], i+1, i+1, moved[i]-arm[i]+s.Shift[i])
			}
		}
		out.WriteString("*NODE PRINT,NSET=HELD,FREQUENCY=100000\nRF\n*END STEP\n")
	}
	return out.Bytes()
}

// PreloadReference holds the states of one member.
type PreloadReference struct {
	Solver  string     `json:"solver"`
	Member  string     `json:"member"`
	Density Density    `json:"density"`
	States  []EndState `json:"states"`
}

// NewPreloadReference runs the solver.
func NewPreloadReference(p Preloaded, d Density) (*PreloadReference, error) {
	version, err := finiteelement.Version()
	if err != nil {
		return nil, err
	}
	c, err := p.Member.Profile.Constants()
	if err != nil {
		return nil, err
	}
	states := p.endStates(&c)
	text, err := finiteelement.Run(PreloadDeck(p, c.ShearCentre, d, states))
	if err != nil {
		return nil, err
	}
	tables, err := finiteelement.Tables(text)
	if err != nil {
		return nil, err
	}
	if len(tables) != len(states) {
		return nil, fmt.Errorf("crosscheck: %d of %d states solved", len(tables), len(states))
	}
	centre := Point{c.ShearCentre.F, -p.Member.HalfSpan, c.ShearCentre.U}
	ties := newMesh(p.Member, BuiltIn, d).ends[1]
	for i := range states {
		states[i].sum(tables[i].Rows, ties, centre)
	}
	return &PreloadReference{Solver: version, Member: p.Name, Density: d, States: states}, nil
}

// sum adds up the forces on the nodes of the end.
func (s *EndState) sum(rows []finiteelement.Row, ties []endTie, centre Point) {
	turn := rotation(s.Turn)
	for _, tie := range ties {
		force := vectorOf(rows, tie.nodes[0])
		arm := Point(turn.Apply(exact.Vec[float64]{tie.at[0] - centre[0], tie.at[1] - centre[1], tie.at[2] - centre[2]}))
		moment := cross(arm, force)
		for i := range 3 {
			s.Force[i] += force[i]
			s.Moment[i] += moment[i]
		}
	}
}

// ReadPreload reads committed numbers from a directory.
func ReadPreload(directory string, p Preloaded) (*PreloadReference, error) {
	r := &PreloadReference{}
	return r, readJSON(preloadFile(directory, p), r)
}

// Write keeps the numbers in a directory.
func (r *PreloadReference) Write(directory string, p Preloaded) error {
	return writeJSON(preloadFile(directory, p), r)
}

func preloadFile(directory string, p Preloaded) string {
	return filepath.Join(directory, fmt.Sprintf("preload-%s.json", p.Name))
}
