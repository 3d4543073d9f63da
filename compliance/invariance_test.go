package compliance

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// invariant is what rounding leaves of the same axle seen otherwise, for
// stiffness with a condition around 1e6.
const invariant = 1e-8

func complianceOf(t *testing.T, axle *Axle) *mat.Dense {
	c := newSolver(t, axle).Compliance()
	return mat.NewDense(Ports, Ports, c[:])
}

func comparePorts(t *testing.T, what string, got, want *mat.Dense) {
	t.Helper()
	for i := range Ports {
		for j := range Ports {
			if !near(got.At(i, j), want.At(i, j), invariant, math.Sqrt(want.At(i, i)*want.At(j, j))) {
				t.Errorf("%s: C[%s][%s] = %.10g, want %.10g", what, PortNames[i], PortNames[j], got.At(i, j), want.At(i, j))
				return
			}
		}
	}
}

// pointFields are the fields that hold points; the others that end in .x, .y, .z
// hold directions or loads.
var pointFields = []string{"at", "upper", "lower", "inner", "outer", "start", "end"}

func vecOf(v values, name string) vec { return vec{v[name+".x"], v[name+".y"], v[name+".z"]} }

// The origin is the author's choice in x and z.
func TestOriginDoesNotMatter(t *testing.T) {
	for name, axle := range changing(t) {
		want := complianceOf(t, axle)
		moved := axle.Clone()
		shift := func(get func(string) int, slots []float64) {
			for _, p := range append(pointFields, "centre") {
				for axis, by := range map[string]float64{".x": 1370, ".z": -245} {
					if i := get(p + axis); i >= 0 {
						slots[i] += by
					}
				}
			}
		}
		for i := range moved.Elements {
			shift(moved.Elements[i].Kind.FieldIndex, moved.Elements[i].Slots)
		}
		for i := range moved.Wheels {
			shift(func(n string) int { return fieldIndex(WheelFields, n) }, moved.Wheels[i].Slots)
		}
		comparePorts(t, name+" moved", complianceOf(t, moved), want)
	}
}

// So is the origin of a section, with centroid and shear centre from there.
func TestSectionOriginDoesNotMatter(t *testing.T) {
	axle := testAxles(t)["loaded twist beam"]
	want := complianceOf(t, axle)
	beam := &axle.Elements[len(axle.Elements)-1]
	for name, by := range map[string]float64{"at.x": 35, "at.z": -60, "centroid.f": -35, "centroid.u": 60, "shear_centre.f": -35, "shear_centre.u": 60} {
		beam.Slots[Beam.FieldIndex(name)] += by
	}
	comparePorts(t, "another origin", complianceOf(t, axle), want)
}

// part is an element of an axle that can be turned: values and choice.
type part struct {
	kind     *Kind
	from, to int
	values   values
	choice   Choice
}

// turnable is an axle of one-sided parts, each given by points and directions.
func turnable() []part {
	explicit := Choice{Base: bushing.Explicit}
	bush := values{"soft": 700, "axial": 900, "stiff": 3000, "cone_soft": 7, "torsion": 2.1, "cone_stiff": 8.7, "clock": 20,
		"axis.x": 0.3, "axis.y": 1, "axis.z": -0.2, "soft_axis.x": 1, "soft_axis.z": 0.4, "elastic_plan": 12, "elastic_lift": -7, "preload.z": 30}
	full := with(matrixValues(), values{"plan": 0, "clock": 15, "axis.x": 1, "axis.y": 0.5, "soft_axis.z": 1})
	beam := with(offCentre, with(point("start", vec{270, 550, 310}), point("end", vec{230, 15, 330})))
	other := with(offCentre, with(point("start", vec{230, 15, 330}), point("end", vec{280, -545, 300})))
	return []part{
		{Bush, Vehicle, 0, with(bush, point("at", vec{430, 560, 330})), explicit},
		{Bush, Vehicle, 1, with(with(bush, values{"axis.x": -0.3}), point("at", vec{425, -555, 340})), Choice{Base: bushing.Explicit, OuterIsFrom: true}},
		{BushMatrix, Vehicle, 2, with(full, point("at", vec{200, 30, 360})), explicit},
		{Beam, 0, 2, beam, Choice{Ends: [2]Warping{BuiltIn, Continuous}}},
		{Beam, 2, 1, other, Choice{Ends: [2]Warping{Continuous, Free}}},
		{Spring, Vehicle, 0, with(testSpring, values{"load": 900}), Choice{}},
		{Spring, Vehicle, 1, values{"upper.x": -10, "upper.y": -480, "upper.z": 570, "lower.x": -25, "lower.y": -505, "lower.z": 330, "rate": 30, "load": 700}, Choice{}},
		{Damper, Vehicle, 0, values{"upper.x": -80, "upper.y": 520, "upper.z": 700, "lower.x": -60, "lower.y": 560, "lower.z": 280, "gas_load": 200}, Choice{}},
		{Link, 2, 0, values{"inner.x": 30, "inner.y": 230, "inner.z": 280, "outer.x": 40, "outer.y": 520, "outer.z": 270, "inner_rate": 4000, "outer_rate": 5000, "rod_rate": 30000}, Choice{}},
		{TorsionBar, 0, 1, values{"axis.x": 0.2, "axis.y": 1, "axis.z": 0.1, "rate": 8}, Choice{}},
	}
}

// turnedAxle builds the parts turned by r, wheels at turned centres, with toe and
// camber as given.
func turnedAxle(t *testing.T, r exact.Mat3[float64], toe [2]float64) *Axle {
	axle := &Axle{Bodies: []Body{{Name: "left arm"}, {Name: "right arm"}, {Name: "joint"}}}
	for n, p := range turnable() {
		v := with(p.values, nil)
		for _, name := range append(pointFields, "axis", "soft_axis") {
			if _, ok := p.kindHas(name); ok {
				v = with(v, point(name, r.Apply(vecOf(p.values, name))))
			}
		}
		if p.kind == Beam {
			v["tilt"] += tiltAfterTurn(p.values, r)
		}
		e := element(t, p.kind, string(rune('a'+n)), Centre, p.from, p.to, v)
		e.Choice = p.choice
		axle.Elements = append(axle.Elements, e)
	}
	for i, centre := range [2]vec{{0, 740, 300}, {5, -735, 290}} {
		axle.Wheels[i] = wheelOn(t, i, with(point("centre", sided(r.Apply(centre), i)), values{"loaded_radius": 300, "toe": toe[i]}))
	}
	return axle
}

func (p *part) kindHas(name string) (int, bool) {
	i := p.kind.FieldIndex(name + ".x")
	return i, i >= 0
}

// tiltAfterTurn is the tilt in deg that a turned beam needs because its section
// is placed by the vehicle's z, which does not turn.
func tiltAfterTurn(v values, r exact.Mat3[float64]) float64 {
	start, end := vecOf(v, "start"), vecOf(v, "end")
	before, after := triad(start, end, 0), triad(r.Apply(start), r.Apply(end), 0)
	up := r.Apply(before[2])
	forward := after[1]
	return math.Atan2(up.Dot(forward), up.Dot(after[2])) * 180 / math.Pi
}

// fourTimes is r for displacement and rotation of both wheels.
func fourTimes(r exact.Mat3[float64]) *mat.Dense {
	q := mat.NewDense(Ports, Ports, nil)
	for b := 0; b < Ports; b += 3 {
		for i := range 3 {
			for j := range 3 {
				q.Set(b+i, b+j, r[i][j])
			}
		}
	}
	return q
}

// An axle turned as a whole, installed loads and all, has C turned as a tensor.
func TestTurnedAxle(t *testing.T) {
	straight := complianceOf(t, turnedAxle(t, exact.RotX(0.0), [2]float64{}))
	rng := rand.New(rand.NewPCG(81, 82))
	for range 5 {
		r := rotationMatrix(vec{4 * (rng.Float64() - 0.5), 4 * (rng.Float64() - 0.5), 4 * (rng.Float64() - 0.5)})
		q := fourTimes(r)
		var want mat.Dense
		want.Product(q, straight, q.T())
		comparePorts(t, "turned", complianceOf(t, turnedAxle(t, r, [2]float64{})), &want)
	}
}

// With wheels that stand on the ground only turns about z leave it the same
// axle; the wheels turn by toe, inward on one side and outward on the other.
func TestTurnedAxleOnTheGround(t *testing.T) {
	static := &Static{WheelLoad: [2]float64{2500, 2300}, Unsprung: [2]float64{0.04, 0.041}}
	axle := turnedAxle(t, exact.RotZ(0.0), [2]float64{})
	axle.Static = static
	straight := complianceOf(t, axle)
	for _, deg := range []float64{-15, 9} {
		r := exact.RotZ(deg * math.Pi / 180)
		turned := turnedAxle(t, r, [2]float64{-deg, deg})
		turned.Static = static
		q := fourTimes(r)
		var want mat.Dense
		want.Product(q, straight, q.T())
		comparePorts(t, "turned on the ground", complianceOf(t, turned), &want)
	}
}

// Lengths in other units (λ) and forces in other units (μ) are the same axle:
// each slot scales as its written unit says, and so does C.
func TestUnitsDoNotMatter(t *testing.T) {
	const length, force = 1 / 25.4, 0.224808943
	scales := map[string]float64{"": 1, "mm": length, "N": force, "N/mm": force / length, "N·m/deg": force * length, "N/rad": force, "N·m/rad": force * length,
		"deg": 1, "Hz": 1, "deg/(kN·m)": 1 / (force * length), "MPa": force / (length * length),
		"mm²": length * length, "1/mm²": 1 / (length * length), "mm⁴": math.Pow(length, 4), "mm⁶": math.Pow(length, 6)}
	axles := changing(t)
	delete(axles, "rubber") // hardness stands for MPa, and what can be moulded for mm
	for name, axle := range axles {
		want := complianceOf(t, axle)
		scaled := axle.Clone()
		for i := range scaled.Elements {
			e := &scaled.Elements[i]
			for j, f := range e.Kind.Fields {
				by, ok := scales[f.Unit.Name]
				if !ok {
					t.Fatalf("no scale for the unit %q of %s", f.Unit.Name, f.Name)
				}
				e.Slots[j] *= by
			}
			if c := e.Choice.Curves; c != nil && !c.Elliptical {
				e.Choice.Curves = suppliedCurves(t, length, force)
			}
		}
		for i := range scaled.Wheels {
			for j, f := range WheelFields {
				scaled.Wheels[i].Slots[j] *= scales[f.Unit.Name]
			}
		}
		if scaled.Static != nil {
			for i := range 2 {
				scaled.Static.WheelLoad[i] *= force
				scaled.Static.Unsprung[i] *= force // its weight: gravity keeps its number
			}
		}
		side := func(i int) float64 { // motion over work: displacement as length, rotation as one
			if i%6 < 3 {
				return length
			}
			return 1
		}
		for i := range Ports {
			for j := range Ports {
				want.Set(i, j, want.At(i, j)*side(i)*side(j)/(force*length))
			}
		}
		comparePorts(t, name+" in inches and pounds", complianceOf(t, scaled), want)
	}
}

// lopsided is a twist beam whose sides differ, with a link on the left only.
func lopsided(t *testing.T) *Axle {
	axle := twistBeam(t)
	axle.Static = &Static{WheelLoad: [2]float64{3500, 3100}, Unsprung: [2]float64{0.04, 0.05}}
	axle.Elements[0].Slots = slotsOf(t, bushing.Fields, with(turnedBush, values{"tightened_at": 3, "preload.y": 40}))
	axle.Elements[0].Choice.OuterIsFrom = true
	axle.Elements[3].Slots[Spring.FieldIndex("load")] = 2500
	axle.Elements = append(axle.Elements, element(t, Link, "toe", Left, Vehicle, 0,
		values{"inner.x": 30, "inner.y": 230, "inner.z": 280, "outer.x": 40, "outer.y": 520, "outer.z": 270, "inner_rate": 4000, "outer_rate": 5000}))
	axle.Wheels[0].Slots = slotsOf(t, WheelFields, with(testWheel, values{"toe": 0.4, "camber": -1.5, "hub_toe": 0.02, "centre.y": 730}))
	return axle
}

// Exchanging left and right gives the mirrored axle.
func TestExchangedSides(t *testing.T) {
	axle := lopsided(t)
	c := complianceOf(t, axle)
	other := axle.Clone()
	exchanged := map[Side]Side{Left: Right, Right: Left, Centre: Centre}
	for i := range other.Elements {
		e := &other.Elements[i]
		e.Side = exchanged[e.Side]
		if e.Side == Centre { // the cross-member: its left end is now on the other arm
			e.From, e.To = e.To, e.From
			e.Choice.Ends[0], e.Choice.Ends[1] = e.Choice.Ends[1], e.Choice.Ends[0]
		}
	}
	other.Wheels[0], other.Wheels[1] = other.Wheels[1], other.Wheels[0]
	static := other.Static
	static.WheelLoad[0], static.WheelLoad[1] = static.WheelLoad[1], static.WheelLoad[0]
	static.Unsprung[0], static.Unsprung[1] = static.Unsprung[1], static.Unsprung[0]
	want := mat.NewDense(Ports, Ports, nil)
	for i := range Ports {
		for j := range Ports {
			want.Set(i, j, mirrorSigns[i%6]*mirrorSigns[j%6]*c.At((i+6)%Ports, (j+6)%Ports))
		}
	}
	comparePorts(t, "exchanged", complianceOf(t, other), want)
}

// One left-hand element written by hand as its mirror image, one-sided: the
// bush turned the other way by explicit axes.
func TestHandWrittenMirrorImage(t *testing.T) {
	axle := lopsided(t)
	right := &axle.Elements[1]
	right.Slots = slotsOf(t, bushing.Fields, with(testBush, values{"plan": 20, "lift": 5, "clock": 15}))
	want := complianceOf(t, axle)
	b := bushing.New(right.Slots)
	sleeve, _ := b.Axes(bushing.Lateral)
	mirror := func(v vec) vec { return vec{v[0], -v[1], v[2]} }
	byHand := with(testBush, point("at", mirror(vecOf(testBush, "at"))))
	byHand = with(with(byHand, point("axis", mirror(sleeve[1]))), point("soft_axis", mirror(sleeve[0])))
	*right = element(t, Bush, "by hand", Centre, Vehicle, 1, byHand)
	right.Choice.Base = bushing.Explicit
	comparePorts(t, "by hand", complianceOf(t, axle), want)
}
