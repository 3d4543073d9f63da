package compliance

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"bushtune/bushing/exact"
)

const (
	// benchmarkShare is the agreement asked of published frames, as a share of
	// the printed value: their references carry seven digits or are rounded.
	benchmarkShare = 1e-5
	// held is the rate in N/mm, or over a millimetre in N·mm/rad, of a support
	// that stands for a rigid one: 1e-6 mm under 100 kN, below the digits printed.
	held = 1e11
	// heldTurn is the same for rotations, in N·mm/rad.
	heldTurn = 1e13
)

// structure is a model made of nodes (bodies, or places on the vehicle), beams and
// supports, with both wheels on its first two nodes unless placed.
type structure struct {
	t      testing.TB
	axle   Axle
	points []vec
	bodies []int // node → body, or Vehicle
	wheels [2]int
}

func newStructure(t testing.TB, points ...vec) *structure {
	f := &structure{t: t}
	for _, p := range points {
		f.node(p)
	}
	return f
}

// node adds a body at a point in mm.
func (f *structure) node(p vec) int {
	f.axle.Bodies = append(f.axle.Bodies, Body{Name: fmt.Sprintf("node%d", len(f.points))})
	f.points = append(f.points, p)
	f.bodies = append(f.bodies, len(f.axle.Bodies)-1)
	return len(f.points) - 1
}

// ground adds a place on the vehicle.
func (f *structure) ground(p vec) int {
	f.points = append(f.points, p)
	f.bodies = append(f.bodies, Vehicle)
	return len(f.points) - 1
}

func (f *structure) add(kind *Kind, from, to int, v values, c Choice) {
	e := element(f.t, kind, fmt.Sprintf("e%d", len(f.axle.Elements)), Centre, from, to, v)
	e.Choice = c
	f.axle.Elements = append(f.axle.Elements, e)
}

// beam joins two nodes.
func (f *structure) beam(a, b int, section values, ends ...Warping) {
	v := with(section, point("start", f.points[a]))
	c := Choice{}
	copy(c.Ends[:], ends)
	f.add(Beam, f.bodies[a], f.bodies[b], with(v, point("end", f.points[b])), c)
}

// bush joins two bodies at a node with rates along and about x, y, z, in N/mm
// and N·mm/rad.
func (f *structure) bush(node, from, to int, rates [6]float64) {
	v := point("at", f.points[node])
	for i, name := range []string{"soft", "axial", "stiff", "cone_soft", "torsion", "cone_stiff"} {
		v[name] = rates[i] / Bush.Fields[fieldIndex(Bush.Fields, name)].Unit.Factor
	}
	f.add(Bush, from, to, v, Choice{})
}

// support holds a node to the vehicle.
func (f *structure) support(node int, rates [6]float64) { f.bush(node, Vehicle, f.bodies[node], rates) }

func point(name string, p vec) values {
	return values{name + ".x": p[0], name + ".y": p[1], name + ".z": p[2]}
}

// solver places the wheels at their nodes: the right one is written mirrored.
func (f *structure) solver() *Solver {
	for i, node := range f.wheels {
		p := f.points[node]
		f.axle.Wheels[i] = wheelOn(f.t, f.bodies[node], with(point("centre", sided(p, i)), values{"loaded_radius": 300}))
	}
	return newSolver(f.t, &f.axle)
}

// solve gives the motion of every freedom under loads (force, moment) at nodes,
// through the solver's own factor.
func (f *structure) solve(s *Solver, loads map[int]exact.Wrench[float64]) []float64 {
	u := make([]float64, s.size)
	for node, w := range loads {
		g := exact.Force(linear(&w), f.points[node].Sub(s.centre))
		for i := range 3 {
			g[3+i] += w[3+i]
		}
		for i, v := range g {
			u[6*f.bodies[node]+i] += v
		}
	}
	lapack64.Potrs(s.triangle, blas64.General{Rows: s.size, Cols: 1, Stride: 1, Data: u})
	return u
}

// motion is displacement (mm) and rotation (rad) of a node.
func (f *structure) motion(s *Solver, u []float64, node int) exact.Wrench[float64] {
	m := exact.Wrench[float64](u[6*f.bodies[node] : 6*f.bodies[node]+6])
	slide := linear(&m).Add(rotation(&m).Cross(f.points[node].Sub(s.centre)))
	return exact.Wrench[float64]{slide[0], slide[1], slide[2], m[3], m[4], m[5]}
}

func (f *structure) want(what string, got, want, scale float64) {
	f.t.Helper()
	if !near(got, want, benchmarkShare, scale) {
		f.t.Errorf("%s = %.10g, published %.10g", what, got, want)
	}
}

// AFNOR, Guide de validation des progiciels de calcul de structures, 1990, test
// SSLL04/89: space frame with a ball hinge on elastic supports. Lengths in m
// there. The rows of A and C are as printed, those of D and B are recomputed.
func TestSpaceFrameWithHinge(t *testing.T) {
	f := newStructure(t, vec{0, 0, 1000}, vec{0, 0, -1000}, vec{0, 2000, 1000}, vec{2000, 0, -1000}, vec{}, vec{})
	d, c, a, b, upper, lower := 0, 1, 2, 3, 4, 5
	f.wheels = [2]int{d, c}
	tube := values{"area": 1e3, "inertia_forward": 1e6, "inertia_up": 1e6, "torsion_constant": 2e6, "youngs_modulus": 210000, "poissons_ratio": 1.0 / 3}
	for _, m := range [][2]int{{a, d}, {d, upper}, {lower, c}, {c, b}} {
		f.beam(m[0], m[1], tube)
	}
	const spring, turnSpring = 52.5, 5.25e7 // 52500 N/m, 52500 N·m/rad
	f.bush(upper, f.bodies[upper], f.bodies[lower], [6]float64{held, held, held})
	f.support(a, [6]float64{held, spring, held, turnSpring, heldTurn, turnSpring})
	f.support(b, [6]float64{spring, held, held, heldTurn, turnSpring, turnSpring})
	s := f.solver()
	load := Port{2: -10000}
	u := make([]float64, s.Freedoms())
	s.Displacement(&load, u)
	printed := map[int][6]float64{ // m, rad
		a: {0, -0.02976196, 0, 0.16072649, 0, -0.05951626},
		c: {0.02977301, 0.13888914, -0.37002052, -0.01984131, -0.19344272, -0.07440490},
		d: {-0.13887127, -0.02977684, -0.37006814, 0.19346762, 0.01983875, -0.07439533},
		b: {0.02975813, 0, 0, 0, -0.16070581, -0.05952392},
	}
	for node, row := range printed {
		m := f.motion(s, u, node)
		for i, want := range row {
			unit, scale := 1000.0, 370.0
			if i >= 3 {
				unit, scale = 1, 0.19
			}
			if want != 0 {
				scale = math.Abs(want) * unit
			}
			f.want(fmt.Sprintf("node %d, component %d", node, i), m[i], want*unit, scale)
		}
	}
	wheels := s.Motion(&load)
	f.want("uz of D through the port", wheels[2], -370.06814, 370)
	f.want("ry of C through the port", wheels[10], -0.19344272, 0.19)
	checkEndMoments(f, s, u, a)
}

// checkEndMoments holds the end moments of the first member at A, printed to a
// tenth of a newton metre: T −1562.3, My 8438.1, Mz −3124.6 N·m, in magnitude
// since signs of member axes differ between programs.
func checkEndMoments(f *structure, s *Solver, u []float64, a int) {
	w := endWrench(s, 0, u, f.points[a].Sub(s.centre))
	for i, want := range []float64{8438.1, 1562.3, 3124.6} {
		if got := math.Abs(w[3+i]) / 1000; math.Abs(got-want) > 0.06 {
			f.t.Errorf("moment %d at A = %.2f N·m, published %.1f", i, got, want)
		}
	}
}

// endWrench is what an element carries under u as a wrench on its to body,
// about a point given from the axle's centre.
func endWrench(s *Solver, e int, u []float64, about vec) exact.Wrench[float64] {
	var load, strain [maxLines]float64
	s.LineLoads(e, u, &load, &strain)
	var w exact.Wrench[float64]
	for l := range s.LineCount(e) {
		for r, g := range s.lines[e].Wrench[l] {
			w[r] += load[l] * g
		}
	}
	turned := rotation(&w).Sub(about.Cross(linear(&w)))
	return exact.Wrench[float64]{w[0], w[1], w[2], turned[0], turned[1], turned[2]}
}

// AFNOR 1990, test SSLL03/89: beam of 12 m on two supports and a spring at
// mid-span, 42 kN at each quarter point: −10.00 mm, 63.00 kN·m, 21.00 kN.
func TestBeamOnSpring(t *testing.T) {
	const young, inertia, rate, force, span = 210000, 6.3e8, 2100, 42000, 12000.0
	f := newStructure(t, vec{0, span / 4, 0}, vec{0, 3 * span / 4, 0}, vec{}, vec{0, span / 2, 0}, vec{0, span, 0})
	f.wheels = [2]int{0, 1}
	bar := values{"area": 1e4, "inertia_forward": inertia, "inertia_up": inertia, "torsion_constant": 1e8, "youngs_modulus": young}
	for _, m := range [][2]int{{2, 0}, {0, 3}, {3, 1}, {1, 4}} {
		f.beam(m[0], m[1], bar)
	}
	f.support(2, [6]float64{held, held, held, 0, heldTurn, 0})
	f.support(4, [6]float64{held, 0, held})
	f.add(Spring, Vehicle, f.bodies[3], values{"upper.y": span / 2, "upper.z": 500, "lower.y": span / 2, "rate": rate}, Choice{})
	s := f.solver()
	u := make([]float64, s.Freedoms())
	s.Displacement(&Port{2: -force, 8: -force}, u)
	f.want("middle, mm", f.motion(s, u, 3)[2], -10, 10)
	var load, strain [maxLines]float64
	s.LineLoads(6, u, &load, &strain)
	f.want("spring in tension, N", load[0], 21000, 21000)
	middle := endWrench(s, 1, u, f.points[3].Sub(s.centre))
	f.want("moment at mid-span, N·mm", math.Abs(middle[3]), 63e6, 63e6)
}

// AFNOR 1990, test SSLL02/89: short beam of 1.44 m on two supports under
// 100 kN/m with shear: −1.2593 mm. (The guide's text gives E = 2.1e11 Pa; its
// table of materials, and the result, belong to 2.0e11.) Uniform load acts as
// q·h/2 and q·h²/12 at the ends of a piece h, exact at nodes with shear too.
func TestShortBeamUnderUniformLoad(t *testing.T) {
	const young, poisson, inertia, area, factor, q, span = 200000, 0.3, 2.81e7, 3100, 2.42, 100, 1440.0
	shear := young / (2 * (1 + poisson))
	closed := 5*q*math.Pow(span, 4)/(384*young*inertia) + q*span*span/8*factor/(shear*area)
	for _, pieces := range []int{2, 6} {
		f := newStructure(t)
		loads := map[int]exact.Wrench[float64]{}
		h := span / float64(pieces)
		for i := range pieces + 1 {
			f.node(vec{0, h * float64(i), 0})
			share, moment := 1.0, 0.0
			if i == 0 {
				share, moment = 0.5, -q*h*h/12
			}
			if i == pieces {
				share, moment = 0.5, q*h*h/12
			}
			loads[i] = exact.Wrench[float64]{2: -share * q * h, 3: moment}
			if i > 0 {
				f.beam(i-1, i, values{"area": area, "inertia_forward": inertia, "inertia_up": inertia, "torsion_constant": 1e6,
					"shear_up": factor / area, "shear_forward": factor / area, "youngs_modulus": young, "poissons_ratio": poisson})
			}
		}
		f.support(0, [6]float64{held, held, held, 0, heldTurn, 0})
		f.support(pieces, [6]float64{held, 0, held})
		s := f.solver()
		got := f.motion(s, f.solve(s, loads), pieces/2)[2]
		if math.Abs(got+1.2593) > 0.5e-4 {
			t.Errorf("%d pieces: %.6f mm, published −1.2593", pieces, got)
		}
		f.want("closed form", got, -closed, closed)
	}
}

// Ferreira, MATLAB Codes for Finite Element Analysis, 2009, section 8.3: three
// members from one node, lengths in m and forces in kN there. The section's z
// axis looks to the global z for the level members, to x for the upright one.
func TestSpaceFrameOfThreeMembers(t *testing.T) {
	f := newStructure(t, vec{})
	bar := values{"area": 2e4, "inertia_forward": 2e8, "inertia_up": 1e8, "torsion_constant": 5e7, "youngs_modulus": 210000, "poissons_ratio": 0.25}
	for _, p := range []vec{{3000, 0, 0}, {0, 0, -3000}, {0, -4000, 0}} {
		f.beam(f.ground(p), 0, bar)
	}
	s := f.solver()
	got := s.Motion(&Port{0: -10000, 2: 20000})
	printed := [6]float64{-7.05e-3, -7e-5, 1.418e-2, 1.45e-6, 1.75e-6, 1.14e-6} // mm, rad
	digit := [6]float64{1e-5, 1e-5, 1e-5, 1e-8, 1e-8, 1e-8}
	recomputed := [6]float64{-7.05148e-3, -6.6537e-5, 1.417696e-2, 1.447788e-6, 1.748584e-6, 1.136054e-6}
	for i := range 6 {
		if math.Abs(got[i]-printed[i]) > 0.51*digit[i] {
			t.Errorf("component %d = %.6g, printed %.4g", i, got[i], printed[i])
		}
		f.want(fmt.Sprintf("component %d, recomputed with the textbook's own element", i), got[i], recomputed[i], math.Abs(recomputed[i]))
	}
}
