package compliance

import (
	"math"
	"testing"

	"bushtune/compliance/section"
)

// heldBeam is a drawn beam from y = 400 (a body held by stiff bushes) to y = 0
// (a body that carries the right wheel and nothing else).
func heldBeam(t testing.TB, variant string, shape values, ends [2]Warping) (*Axle, int) {
	axle := &Axle{
		Bodies: []Body{{Name: "root"}, {Name: "tip"}},
		Wheels: [2]Wheel{wheelOn(t, 0, values{"centre.y": 400, "centre.z": 300, "loaded_radius": 300}), wheelOn(t, 1, values{"centre.y": 0, "centre.z": 300, "loaded_radius": 300})},
	}
	for _, x := range []float64{-200, 200} {
		axle.Elements = append(axle.Elements, element(t, Bush, "root", Centre, Vehicle, 0, values{"at.x": x, "at.y": 400, "at.z": 300,
			"soft": 1e5, "axial": 1e5, "stiff": 1e5, "cone_soft": 1e6, "torsion": 1e6, "cone_stiff": 1e6}))
	}
	for _, kind := range ProfileBeams {
		if kind.Variant != variant {
			continue
		}
		e := element(t, kind, "cross", Centre, 0, 1, with(shape, values{"start.y": 400, "start.z": 300, "end.z": 300}))
		e.Choice = Choice{Ends: ends}
		axle.Elements = append(axle.Elements, e)
	}
	return axle, len(axle.Elements) - 1
}

// stressOf is the stress of the beam under a force and moment at the tip.
func stressOf(t testing.TB, axle *Axle, beam int, d Demand) BeamStress {
	t.Helper()
	m := newMover(t, axle)
	if err := m.Solve(&d); err != nil {
		t.Fatal(err)
	}
	drawn, ok := NewDrawnSection(&axle.Elements[beam])
	if !ok {
		t.Fatal("the beam has no outline")
	}
	return m.Stress(beam, drawn)
}

// Bending of a box as a cantilever, σ = F·L·c/I with the thin-wall constants of
// the textbook (I = t·h³/6 + w·t·h²/2, A = 2t(w + h)): at the root from both
// planes, nothing at the tip; tension F/A.
func TestBendingStressOfABox(t *testing.T) {
	const w, h, wall, length, force = 60.0, 90.0, 3.0, 400.0, 20.0
	box := values{"profile.width": w, "profile.height": h, "profile.wall": wall}
	axle, beam := heldBeam(t, "box", box, [2]Warping{Free, Free})
	up := wall*h*h*h/6 + w*wall*h*h/2
	along := wall*w*w*w/6 + h*wall*w*w/2
	for _, c := range []struct {
		name      string
		force     vec
		root, tip float64
	}{
		{"up", vec{0, 0, force}, force * length * (h/2 + wall/2) / up, 0},
		{"forward", vec{force, 0, 0}, force * length * (w/2 + wall/2) / along, 0},
		{"outward", vec{0, -force, 0}, force / (2 * wall * (w + h)), force / (2 * wall * (w + h))},
	} {
		got := stressOf(t, axle, beam, Demand{Wheels: [2]WheelForce{1: {AtCentre: c.force}}})
		if !near(got.Bending[0], c.root, 1e-3, c.root) || !near(got.Bending[1], c.tip, 1e-3, c.root) {
			t.Errorf("%s: %.6g MPa at the root and %.6g at the tip, want %.6g and %.6g", c.name, got.Bending[0], got.Bending[1], c.root, c.tip)
		}
	}
}

// The same box drawn wall by wall, its constants in the slots and its outline beside
// them: the closed form again, σ = F·L·c/I. Once a constant is moved the outline is
// no longer that of the beam.
func TestStressOfADrawnProfile(t *testing.T) {
	const w, h, wall, length, force = 60.0, 90.0, 3.0, 400.0, 20.0
	var p section.Profile[float64]
	for _, n := range [][2]float64{{30, -45}, {30, 45}, {-30, 45}, {-30, -45}} {
		p.AddNode(n[0], n[1])
	}
	for i := range 4 {
		p.AddWall(i, (i+1)%4, wall)
	}
	constants, err := p.Constants()
	if err != nil {
		t.Fatal(err)
	}
	axle, beam := heldBeam(t, "box", values{"profile.width": w, "profile.height": h, "profile.wall": wall}, [2]Warping{Free, Free})
	e := &axle.Elements[beam]
	numbers := SectionOf(&constants)
	e.Kind, e.Slots = Beam, append(e.Slots[:beamSlots:beamSlots], numbers.Slots()...)
	if _, ok := NewDrawnSection(e); ok {
		t.Error("a section by numbers has no outline")
	}
	e.Choice.Outline = &p
	up := wall*h*h*h/6 + w*wall*h*h/2
	got := stressOf(t, axle, beam, Demand{Wheels: [2]WheelForce{1: {AtCentre: vec{0, 0, force}}}})
	if want := force * length * (h/2 + wall/2) / up; !near(got.Bending[0], want, 1e-3, want) || !near(got.Bending[1], 0, 1e-3, want) {
		t.Errorf("%.6g MPa at the root and %.6g at the tip, want %.6g and nothing", got.Bending[0], got.Bending[1], want)
	}
	e.Slots[Beam.FieldIndex("area")] *= 1.01
	if _, ok := NewDrawnSection(e); ok {
		t.Error("the outline is not that of a beam whose area was moved")
	}
}

// Twist of a channel held at the root, free at the tip: bimoment T·a·tanh(L/a) on
// the flange tips' warping, St Venant shear T·t/J·(1 − 1/cosh(L/a)) at the tip
// (SCI P385, Design of Steel Beams in Torsion, 2011), from constants of the
// textbook for equal walls.
func TestTwistStressOfAChannel(t *testing.T) {
	const h, b, wall, length, torque = 80.0, 50.0, 2.0, 400.0, 2000.0
	channel := values{"profile.web": h, "profile.flange": b, "profile.web_wall": wall, "profile.flange_wall": wall}
	axle, beam := heldBeam(t, "channel", channel, [2]Warping{Primary, Free})
	e := 3 * b * b / (6*b + h)
	warping := wall * b * b * b * h * h / 12 * (3*b + 2*h) / (6*b + h)
	var p section.Profile[float64]
	p.DrawChannel(h, b, wall, wall)
	constants, err := p.Constants() // J less what the free edges lose: held to published values in package section
	if err != nil {
		t.Fatal(err)
	}
	a := math.Sqrt(2.6 * warping / constants.Torsion)
	const force = 4.0 // N, with a lever about the shear centre, which lies over the middle of the web
	axle.Wheels[1].Slots[0] = torque / force
	got := stressOf(t, axle, beam, Demand{Wheels: [2]WheelForce{1: {AtCentre: vec{0, 0, force}}}})
	bimoment := torque * a * math.Tanh(length/a)
	want := bimoment / warping * h / 2 * (b - e)
	if !near(got.Warping[0], want, 2e-2, want) {
		t.Errorf("warping %.6g MPa at the root, want %.6g", got.Warping[0], want)
	}
	if shear := torque * wall / constants.Torsion * (1 - 1/math.Cosh(length/a)); !near(got.Torsion, shear, 2e-2, shear) {
		t.Errorf("torsion %.6g MPa, want %.6g", got.Torsion, shear)
	}
	if got.Warping[1] != 0 {
		t.Errorf("warping %.6g MPa at the free end", got.Warping[1])
	}
}
