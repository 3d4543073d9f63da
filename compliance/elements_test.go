package compliance

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// solved is what a solve of one body leaves of an identity on its 6×6: the
// condition of its stiffness, 1e5, times rounding.
const solved = 1e-10

// stiffnessAt is Σ k·G·Gᵀ of a solver's element at a point in vehicle axes.
func stiffnessAt(s *Solver, element int, at vec) *mat.Dense {
	k := mat.NewDense(6, 6, nil)
	about := at.Sub(s.centre)
	lines := &s.lines[element]
	for l := range lines.Count {
		g := lines.Wrench[l]
		m := rotation(&g).Sub(about.Cross(linear(&g)))
		row := mat.NewVecDense(6, []float64{g[0], g[1], g[2], m[0], m[1], m[2]})
		var outer mat.Dense
		outer.Outer(lines.Rate[l], row, row)
		k.Add(k, &outer)
	}
	return k
}

func dense(k [6][6]float64) *mat.Dense {
	m := mat.NewDense(6, 6, nil)
	for i := range k {
		m.SetRow(i, k[i][:])
	}
	return m
}

// mirrored is M·K·M with M = diag(1, −1, 1, −1, 1, −1).
func mirrored(k *mat.Dense) *mat.Dense {
	sign := mat.NewDiagDense(6, mirrorSigns[:])
	out := new(mat.Dense)
	out.Product(sign, k, sign)
	return out
}

var turnedBush = with(testBush, values{"plan": 23, "lift": -8, "clock": 31, "lean_forward": 12, "lean_outboard": -6,
	"axis.x": 1, "axis.y": 2, "axis.z": -0.5, "soft_axis.z": 1, "elastic_plan": 9, "elastic_lift": 4, "bracket": 9000})

// The lines of a bush give back its stiffness, and on the right M·K·M, on every base.
func TestBushLinesBothSides(t *testing.T) {
	for base := bushing.Lateral; base <= bushing.Explicit; base++ {
		axle := &Axle{Bodies: []Body{{"arm", Left}, {"arm", Right}}, Elements: bothSides(t, Bush, "pivot", turnedBush),
			Wheels: [2]Wheel{wheelOn(t, 0, testWheel), wheelOn(t, 1, testWheel)}}
		for i := range axle.Elements {
			axle.Elements[i].Choice.Base = base
		}
		s := newSolver(t, axle)
		b := bushing.New(axle.Elements[0].Slots)
		want := dense(b.Stiffness(base))
		compareMatrices(t, "left", stiffnessAt(s, 0, vec{430, 560, 330}), want)
		compareMatrices(t, "right", stiffnessAt(s, 1, vec{430, -560, 330}), mirrored(want))
	}
}

// goldenStiffness is xx, yy, zz, xy, xz, yz of the left bush of golden, forces in
// N/mm and moments in kN·mm/rad, from rotations by Rodrigues' formula apart from
// this program.
var goldenStiffness = map[bushing.Base][2][6]float64{
	bushing.Lateral: {{1595.10057, 851.107794, 2162.791636, -54.371809, 1185.998382, -231.909598},
		{405.582445, 172.667398, 465.750157, -104.488875, 79.243801, 39.374048}},
	bushing.Longitudinal: {{851.107794, 1595.10057, 2162.791636, 54.371809, -231.909598, -1185.998382},
		{172.667398, 405.582445, 465.750157, 104.488875, 39.374048, -79.243801}},
	bushing.Vertical: {{1416.743814, 2133.277785, 1058.9784, -1105.295617, -364.503324, 492.191251},
		{433.358577, 457.813865, 152.827559, -43.0188, -60.490613, 92.089858}},
	bushing.Explicit: {{1268.769595, 1537.188951, 1803.041454, -548.561457, -862.145181, 883.443939},
		{348.967121, 257.087354, 437.945525, -152.642429, 0.006956, 105.977205}},
}

var golden = with(testBush, values{"plan": 23, "lift": -11, "clock": 37, "lean_forward": 9, "lean_outboard": -14,
	"axis.x": 2, "axis.y": 3, "axis.z": -1, "soft_axis.x": 1, "soft_axis.y": 0.2, "soft_axis.z": 5,
	"soft": 613, "axial": 877, "stiff": 3119, "cone_soft": 401 * math.Pi / 180, "torsion": 120 * math.Pi / 180, "cone_stiff": 523 * math.Pi / 180})

// The stiffness of each base at odd angles, figure by figure; on the right xy and
// yz, of forces and of moments, have the other sign.
func TestGoldenStiffness(t *testing.T) {
	axle := &Axle{Bodies: []Body{{"arm", Left}, {"arm", Right}}, Elements: bothSides(t, Bush, "pivot", golden),
		Wheels: [2]Wheel{wheelOn(t, 0, testWheel), wheelOn(t, 1, testWheel)}}
	for base, want := range goldenStiffness {
		for side := range 2 {
			for i := range axle.Elements {
				axle.Elements[i].Choice.Base = base
			}
			k := stiffnessAt(newSolver(t, axle), side, vec{430, 560 * float64(1-2*side), 330})
			for block, scale := range [2]float64{1, 1e3} {
				for n, at := range [6][2]int{{0, 0}, {1, 1}, {2, 2}, {0, 1}, {0, 2}, {1, 2}} {
					figure := want[block][n]
					if side == 1 && (n == 3 || n == 5) {
						figure = -figure
					}
					if got := k.At(3*block+at[0], 3*block+at[1]) / scale; math.Abs(got-figure) > 1e-5 { // printed to six places
						t.Errorf("%s, side %d, block %d: K%v = %.6f, want %.6f", bushing.BaseNames[base], side, block, at, got, figure)
					}
				}
			}
		}
	}
}

// matrixOf gives a full 6×6 in written units.
func matrixOf(k *mat.Dense) values {
	v := values{}
	for _, f := range BushMatrix.Fields[mountSlots:] {
		v[f.Name] = k.At(int(f.Name[7]-'1'), int(f.Name[8]-'1')) / f.Unit.Factor
	}
	return v
}

// A bush given by the 6×6 of a plain one is that bush: with its six rates in its
// own axes, and with the stiffness in vehicle axes on a mount without angles.
func TestMatrixBushIsPlainBush(t *testing.T) {
	plain := bushing.New(slotsOf(t, bushing.Fields, with(turnedBush, values{"elastic_plan": 0, "elastic_lift": 0})))
	own := mat.NewDense(6, 6, nil)
	for i, rate := range plain.Rates() {
		own.Set(i, i, rate)
	}
	turned := bushing.New(slotsOf(t, bushing.Fields, turnedBush))
	mount := values{}
	for _, f := range bushing.MountFields {
		if v, ok := turnedBush[f.Name]; ok {
			mount[f.Name] = v
		}
	}
	at := point("at", vec{430, 560, 330})
	for base := bushing.Lateral; base <= bushing.Explicit; base++ {
		for _, c := range []struct {
			name string
			v    values
			base bushing.Base
			want *mat.Dense
		}{
			{"rates in own axes", with(mount, matrixOf(own)), base, dense(plain.Stiffness(base))},
			{"stiffness in vehicle axes", with(at, matrixOf(dense(turned.Stiffness(base)))), bushing.Lateral, dense(turned.Stiffness(base))},
		} {
			axle := &Axle{Bodies: []Body{{"arm", Left}, {"arm", Right}}, Elements: bothSides(t, BushMatrix, "pivot", c.v),
				Wheels: [2]Wheel{wheelOn(t, 0, testWheel), wheelOn(t, 1, testWheel)}}
			axle.Elements[0].Choice.Base, axle.Elements[1].Choice.Base = c.base, c.base
			s := newSolver(t, axle)
			compareMatrices(t, c.name+", left", stiffnessAt(s, 0, vec{430, 560, 330}), c.want)
			compareMatrices(t, c.name+", right", stiffnessAt(s, 1, vec{430, -560, 330}), mirrored(c.want))
		}
	}
}

// oneBody is a body on one bush with full 6×6, with a wheel on each side.
func oneBody(t *testing.T) (*Axle, *mat.Dense) {
	v := with(matrixValues(), values{"plan": 0, "clock": 0})
	k := mat.NewDense(6, 6, nil)
	for _, f := range BushMatrix.Fields[mountSlots:] {
		r, c := int(f.Name[7]-'1'), int(f.Name[8]-'1')
		k.Set(r, c, v[f.Name]*f.Unit.Factor)
		k.Set(c, r, v[f.Name]*f.Unit.Factor)
	}
	return &Axle{Bodies: []Body{{"axle", Centre}}, Elements: []Element{element(t, BushMatrix, "full", Centre, Vehicle, 0, v)},
		Wheels: [2]Wheel{wheelOn(t, 0, testWheel), wheelOn(t, 0, with(testWheel, values{"centre.x": 12}))}}, k
}

// rigidArm carries the motion of a body at a point to another point r away:
// [1, −r×; 0, 1].
func rigidArm(r vec) *mat.Dense {
	b := identity(6)
	s := skew(r)
	for i := range 3 {
		for j := range 3 {
			b.Set(i, 3+j, -s[i][j])
		}
	}
	return b
}

// The compliance of a body on one full bush is the inverse of its 6×6, carried
// to the wheels by rigid arms.
func TestFullBushAloneGivesInverse(t *testing.T) {
	axle, k := oneBody(t)
	c := mat.NewDense(Ports, Ports, newSolver(t, axle).Compliance()[:])
	var inverse mat.Dense
	if err := inverse.Inverse(k); err != nil {
		t.Fatal(err)
	}
	bush := vec{250, 10, 280}
	arms := mat.NewDense(Ports, 6, nil)
	for wheel, centre := range [2]vec{{0, 740, 300}, {12, -740, 300}} {
		arms.Slice(6*wheel, 6*wheel+6, 0, 6).(*mat.Dense).Copy(rigidArm(centre.Sub(bush)))
	}
	var want mat.Dense
	want.Product(arms, &inverse, arms.T())
	for i := range Ports {
		for j := range Ports {
			if !near(c.At(i, j), want.At(i, j), solved, math.Sqrt(want.At(i, i)*want.At(j, j))) {
				t.Errorf("C[%s][%s] = %.12g, want %.12g", PortNames[i], PortNames[j], c.At(i, j), want.At(i, j))
			}
		}
	}
}

// bodyStiffness is the stiffness of the only body at its left wheel centre.
func bodyStiffness(t *testing.T, axle *Axle) *mat.Dense {
	c := mat.NewDense(Ports, Ports, newSolver(t, axle).Compliance()[:])
	var k mat.Dense
	if err := k.Inverse(c.Slice(0, 6, 0, 6)); err != nil {
		t.Fatal(err)
	}
	return &k
}

// Every element of one line adds rate·g·gᵀ to the body, with g written here.
func TestOneLineElements(t *testing.T) {
	upper, lower := vec{-30, 490, 560}, vec{-20, 500, 320}
	seats := with(point("upper", upper), point("lower", lower))
	n := lower.Sub(upper).Unit()
	along := exact.Force(n, lower.Sub(vec{0, 740, 300}))
	axis := vec{1, 2, -0.5}.Unit()
	for name, c := range map[string]struct {
		kind *Kind
		v    values
		rate float64
		g    exact.Wrench[float64]
	}{
		"spring":                {Spring, with(seats, values{"rate": 240}), 240, along},
		"stop in contact":       {BumpStop, with(seats, values{"rate": 240}), 240, along},
		"stop with a gap":       {BumpStop, with(seats, values{"rate": 240, "gap": 5}), 0, along},
		"stop with gap, loaded": {BumpStop, with(seats, values{"rate": 240, "gap": 5, "load": 900}), 0, along},
		"damper":                {Damper, seats, 0, along},
		"link, rigid rod":       {Link, with(with(point("inner", upper), point("outer", lower)), values{"inner_rate": 600, "outer_rate": 400}), 240, along},
		"link, elastic rod":     {Link, with(with(point("inner", upper), point("outer", lower)), values{"inner_rate": 600, "outer_rate": 400, "rod_rate": 480}), 160, along},
		"bar":                   {TorsionBar, with(point("axis", vec{1, 2, -0.5}), values{"rate": 3}), 3e3 * 180 / math.Pi, exact.Moment(axis)},
	} {
		axle, _ := oneBody(t)
		bare := bodyStiffness(t, axle)
		axle.Elements = append(axle.Elements, element(t, c.kind, "x", Centre, Vehicle, 0, c.v))
		got := bodyStiffness(t, axle)
		for i := range 6 {
			for j := range 6 {
				want := bare.At(i, j) + c.rate*c.g[i]*c.g[j]
				if scale := math.Sqrt(got.At(i, i) * got.At(j, j)); !near(got.At(i, j), want, 1e3*solved, scale) {
					t.Errorf("%s: K[%d][%d] = %.9g, want %.9g", name, i, j, got.At(i, j), want)
				}
			}
		}
	}
}

// The force axes of a bush turn with its outer sleeve. A weight W on the body
// hangs in the bush: with the outer sleeve on the body a turn θ takes the force
// along, which a displacement Δ feels as −f·(θ×Δ), f = (0, 0, −W) what the bush
// is strained by; with the outer sleeve on the vehicle the force stays.
func TestForceTurnsWithOuterSleeve(t *testing.T) {
	const weight = 800.0
	for _, outerIsFrom := range []bool{false, true} {
		f := newStructure(t, vec{0, 0, 300})
		f.holds(0, [6]float64{500, 600, 700, 9e6, 8e6, 7e6})
		f.hangs(weight)
		f.axle.Elements[0].Choice.OuterIsFrom = outerIsFrom
		f.solver()
		k := bodyStiffness(t, &f.axle)
		carried := weight
		if outerIsFrom {
			carried = 0
		}
		want := mat.NewDense(6, 6, []float64{
			500, 0, 0, 0, -carried, 0,
			0, 600, 0, carried, 0, 0,
			0, 0, 700, 0, 0, 0,
			0, carried, 0, 9e6, 0, 0,
			-carried, 0, 0, 0, 8e6, 0,
			0, 0, 0, 0, 0, 7e6})
		compareMatrices(t, "outer sleeve", k, want)
	}
}

// Camber and toe compliance of the hub add to C where they stand, nowhere else,
// and are parts of a number.
func TestHubAddsItsCompliance(t *testing.T) {
	rigid := newSolver(t, twistBeam(t)).Compliance()
	axle := twistBeam(t)
	const perKilonewtonMetre = math.Pi / 180 / 1e6
	axle.Wheels[0].Slots = slotsOf(t, WheelFields, with(testWheel, values{"hub_camber": 0.3, "hub_toe": 0.2}))
	axle.Wheels[1].Slots = slotsOf(t, WheelFields, with(testWheel, values{"hub_camber": 0.5, "hub_toe": 0.7}))
	s := newSolver(t, axle)
	added := map[int]float64{3: 0.3, 5: 0.2, 9: 0.5, 11: 0.7}
	for i, v := range s.Compliance() {
		want := rigid[i]
		if i%(Ports+1) == 0 {
			want += added[i/(Ports+1)] * perKilonewtonMetre
		}
		if v != want {
			t.Errorf("C[%d][%d] = %g, want %g", i/Ports, i%Ports, v, want)
		}
	}
	a, f := Port{3: 1}, Port{3: 2e6}
	ea, ef := make([]float64, s.Lines()), make([]float64, s.Lines())
	s.Strains(&a, ea)
	s.Strains(&f, ef)
	parts := make([]float64, len(s.PartList()))
	s.Parts(&a, &f, ea, ef, parts)
	for i, p := range s.PartList() {
		if want := 2 * 0.3 * math.Pi / 180; p.Kind == HubPart && p.Element == LeftWheel && !near(parts[i], want, closedForm, want) {
			t.Errorf("camber from the left hub %g rad, want %g", parts[i], want)
		}
	}
}

// A bracket is a body of its own between two bushes at one point, the second
// rigid in rotation.
func TestBracketIsASecondBush(t *testing.T) {
	const bracket = 7000
	single := twistBeam(t)
	double := twistBeam(t)
	for i := range 2 {
		single.Elements[i].Slots[Bush.FieldIndex("bracket")] = bracket
		double.Bodies = append(double.Bodies, Body{Name: "bracket", Side: Side(1 + i)})
		stand := element(t, Bush, "bracket", Side(1+i), Vehicle, 2+i, with(point("at", vec{430, 560, 330}),
			values{"soft": bracket, "axial": bracket, "stiff": bracket, "cone_soft": 1e9, "torsion": 1e9, "cone_stiff": 1e9}))
		double.Elements[i].From = 2 + i
		double.Elements = append(double.Elements, stand)
	}
	want, got := newSolver(t, single).Compliance(), newSolver(t, double).Compliance()
	for i := range want {
		scale := math.Sqrt(want[i/Ports*(Ports+1)] * want[i%Ports*(Ports+1)])
		if !near(got[i], want[i], 1e-7, scale) { // 1e-7: torsion of the stand, 1e9 against 8.7 N·m/deg
			t.Errorf("C[%d][%d] = %.9g with a second bush, %.9g with a bracket", i/Ports, i%Ports, got[i], want[i])
		}
	}
}
