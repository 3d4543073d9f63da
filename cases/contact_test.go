package cases

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/compliance"
)

// slopeShare is what fourth-order differences over ±40 N leave of a slope, and
// slopeFloor, in mm and rad per kN, what the balance does that an equilibrium keeps:
// 1e-9 of the load over a soft rate and the share.
const (
	slopeShare = 2e-6
	slopeFloor = 1e-8
)

// movedAnswers are the readings of all answers of a load under shares of it, by the
// large movement.
func movedAnswers(t *testing.T, f *FullSize, l *load, share float64) []float64 {
	t.Helper()
	if err := f.Reset(); err != nil {
		t.Fatal(err)
	}
	on := newImposed(l.Case, [2]float64{})
	d := f.demandAt(on, share)
	if err := f.solve(&d); err != nil {
		t.Fatal(err)
	}
	values := make([]float64, len(f.study.answers))
	for i := range f.study.answers {
		values[i] = f.study.answers[i].sensor.sense(&f.moved)
	}
	return values
}

// slopesOfMovement are the slopes of all answers of a load at the design position.
func slopesOfMovement(t *testing.T, f *FullSize, l *load) []float64 {
	t.Helper()
	const near, far = 0.02, 0.04
	a, b := movedAnswers(t, f, l, near), movedAnswers(t, f, l, -near)
	c, d := movedAnswers(t, f, l, far), movedAnswers(t, f, l, -far)
	for i := range a {
		a[i] = (8*(a[i]-b[i]) - (c[i] - d[i])) / (12 * near)
	}
	return a
}

// mixed is an answer with the carrier's own point read where the contact centre is.
func mixed(r *rig, a *answerOf) float64 {
	old := *a.sensor
	old.terms = append([]term(nil), old.terms...)
	for i := range old.terms {
		if d := &old.terms[i].direction; *d == patchX || *d == patchY {
			*d += lockedX - patchX
		}
	}
	return old.read(r, a.load)
}

// checkSlopes holds every answer of every case against the large movement, and counts
// those that would miss it were the carrier's own point read.
func checkSlopes(t *testing.T, name string, s *Study) (noticed int) {
	t.Helper()
	f, err := NewFullSize(s)
	if err != nil {
		t.Fatal(name, err)
	}
	for _, l := range s.loads[:s.firstState] {
		slopes := slopesOfMovement(t, f, l)
		for i := range s.answers {
			a := &s.answers[i]
			if a.load != l {
				continue
			}
			got := a.sensor.read(&s.rig, l)
			room := slopeFloor + slopeShare*(math.Abs(slopes[i])+grossReading(s, a))
			check(t, fmt.Sprintf("%s, %s, answer %d %v", name, l.Name, i, a.sensor.terms), got, slopes[i], room)
			if math.Abs(mixed(&s.rig, a)-slopes[i]) > 100*room {
				noticed++
			}
		}
	}
	return noticed
}

// grossReading is the size of what the terms of a reading are made of.
func grossReading(s *Study, a *answerOf) float64 {
	sum := math.Abs(a.sensor.pads[0]*a.load.pads[0]) + math.Abs(a.sensor.pads[1]*a.load.pads[1])
	for _, t := range a.sensor.terms {
		for i, v := range s.rig.vectors[t.wheel][t.direction] {
			sum += math.Abs(t.factor * v * a.load.motion[6*t.wheel+i])
		}
	}
	return sum
}

// Every linear reading in every case is the exact slope of the large movement, with
// toe, camber, hubs and load at rest, on random axles too. With the carrier's own point
// read for the contact centre of a free wheel, as was once done, many would not be.
func TestLinearReadingsAreSlopesOfTheMovement(t *testing.T) {
	angled := values{"toe": 1, "camber": -2, "hub_camber": 0.05, "hub_toe": 0.03}
	for name, s := range studies(t) {
		for w := range 2 {
			for slot, field := range compliance.WheelFields {
				if v, ok := angled[field.Name]; ok {
					s.Set(compliance.Slot{Element: -1 - w, Index: slot}, v*field.Unit.Factor)
				}
			}
		}
		if err := s.Update(); err != nil {
			t.Fatal(name, err)
		}
		if noticed := checkSlopes(t, name, s); noticed < 10 {
			t.Errorf("%s: only %d readings would notice the carrier's own point", name, noticed)
		}
	}
	rng := rand.New(rand.NewPCG(randomSeed, 7))
	for n := range 12 {
		vehicle := vehicleWith(t, carValues)
		vehicle.StaticLoad, vehicle.TyreInSeries = n%3 != 0, n%4 == 0
		name := fmt.Sprint("random axle ", n)
		if noticed := checkSlopes(t, name, studyOf(t, randomAxle(t, rng), vehicle)); noticed < 5 {
			t.Errorf("%s: only %d readings would notice the carrier's own point", name, noticed)
		}
	}
}

// A wheel on a trailing arm of length l that turns by φ about a lateral axis through the
// height of the wheel centre, with toe-in δ at rest (tan δ = u_x/u_y) and radius R. The
// arm turns the spin axis (sin δ, cos δ, 0) about y, so that at a small φ, wheel up
//
//	u = (sin δ, cos δ, sin δ·φ)      dz = l·φ
//
// and the lowest point lies R·u_z·(u_x, u_y)/(1 − u_z²) outboard of the wheel centre:
// dy = R·sin δ·cos δ·φ in size on each wheel. Wheel up turns u_z down for toe-in, so
// the track narrows by 2·R·sin δ·cos δ/l per travel: 26.17 mm/m for 400 mm, 1 deg and
// 300 mm.
func TestTrackChangeOfATrailingArmWithToe(t *testing.T) {
	const length, radius, toeIn = 400.0, 300.0, 1.0
	want := -2 * radius * math.Sin(toeIn*math.Pi/180) * math.Cos(toeIn*math.Pi/180) / length
	if math.Abs(want*1000+26.17) > 0.01 {
		t.Fatalf("closed form %.4f mm/m, by hand -26.17", want*1000)
	}
	s := trailingArm(t, length, radius, toeIn)
	const stiffArm = 2e-4 // of the number: the pivots of 1e7 N/mm and 1e12 N·mm/rad give a little
	check(t, "track change", valueOf(t, s, "track_change", "heave", ""), want, stiffArm*math.Abs(want))
	f, err := NewFullSize(s)
	if err != nil {
		t.Fatal(err)
	}
	i, err := s.Find("track_change", "heave", "")
	if err != nil {
		t.Fatal(err)
	}
	check(t, "track change, tangent", f.Tangent(i), want, stiffArm*math.Abs(want))
	kinematic, force := valueOf(t, s, "roll_centre_kinematic", "roll", ""), valueOf(t, s, "roll_centre_force", "cornering", "")
	// in roll each wheel's contact centre goes outboard by dy/dz as it falls: h = track/2·dy/dz
	check(t, "roll centre", kinematic, s.rig.track/2*want/2, 1e-3*math.Abs(want)*s.rig.track/4)
	check(t, "roll centre, from forces", force, kinematic, 1e-6*math.Abs(kinematic))
}

// trailingArm is a wheel on a stiff trailing arm a side, its pivot at the height of the
// wheel centre, on a soft coil.
func trailingArm(t *testing.T, length, radius, toeIn float64) *Study {
	t.Helper()
	wheel := values{"centre.y": 740, "centre.z": radius, "loaded_radius": radius, "toe": toeIn}
	axle := &compliance.Axle{
		Bodies: []compliance.Body{{Name: "arm", Side: compliance.Left}, {Name: "arm", Side: compliance.Right}},
		Wheels: [2]compliance.Wheel{wheelOn(t, 0, wheel), wheelOn(t, 1, wheel)},
	}
	axle.Elements = append(axle.Elements, bothSides(t, compliance.Bush, "pivot", values{"at.x": length, "at.y": 600, "at.z": radius,
		"soft": 1e7, "axial": 1e7, "stiff": 1e7, "cone_soft": 1e7, "cone_stiff": 1e7})...)
	axle.Elements = append(axle.Elements, bothSides(t, compliance.Spring, "coil", values{"upper.y": 600, "upper.z": radius + 300, "lower.y": 600, "lower.z": radius, "rate": 20})...)
	return studyOf(t, axle, UnknownVehicle())
}

// With the brake locked secant and tangent at 10 N agree, sideways too, and the slope of
// the sweep is that of its movements.
func TestBrakingSecantIsItsTangentAtSmallLoads(t *testing.T) {
	axle := linkedBeam(t)
	for w := range axle.Wheels {
		axle.Wheels[w] = wheelOn(t, w, with(wheelValues, values{"toe": 1, "camber": -1}))
	}
	s := studyOf(t, axle, vehicleWith(t, carValues))
	f, err := NewFullSize(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"braking", "braking_single", "cornering", "aligning"} {
		to := 10.0
		if name == "aligning" {
			to = 1000
		}
		all, err := f.AtSize(name, to)
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range all {
			if one.Secant.Number == "" {
				continue
			}
			check(t, name+": "+one.Tangent.Title+" "+one.Tangent.Where, one.Secant.Value, one.Tangent.Value, 2e-3*math.Abs(one.Tangent.Value)+1e-4)
		}
	}
}

// At 80 mm of rebound and of bump the tangents of a small movement more are the slopes of
// the paths of the contact centres, and the roll centre from forces is that of the path.
func TestTangentsInTravelFollowThePaths(t *testing.T) {
	wheel := with(wheelValues, values{"toe": 1, "camber": -2, "hub_camber": 0.05, "hub_toe": 0.03})
	vehicle := vehicleWith(t, carValues)
	vehicle.StaticLoad = true
	s := studyOf(t, beamAxle(t, wheel, with(bushValues, values{"plan": 20}), springValues, beamValues), vehicle)
	f, err := NewFullSize(s)
	if err != nil {
		t.Fatal(err)
	}
	at := func(left, right float64) (moved [2]movement, track float64) {
		var d compliance.Demand
		f.holdPads(&d, left, right)
		if err := f.solve(&d); err != nil {
			t.Fatal(err)
		}
		return f.moved, f.track()
	}
	tangent := func(name, caseName string) float64 {
		i, err := s.Find(name, caseName, "")
		if err != nil {
			t.Fatal(err)
		}
		return f.Tangent(i)
	}
	for _, height := range []float64{-80, 80} {
		const h = 0.5
		_, wide := at(height+h, height+h)
		_, narrow := at(height-h, height-h)
		rolled, track := at(height-h, height+h) // right, outer, up
		back, _ := at(height+h, height-h)
		at(height, height)
		check(t, "track change", tangent("track_change", "heave"), (wide-narrow)/(2*h), 1e-5)
		outward := 0.0 // of both contact centres, mean
		for w := range rolled {
			outward += -(rolled[w].along[patchY] - back[w].along[patchY]) / 2
		}
		path := outward * track / (4 * h)
		kinematic, force := tangent("roll_centre_kinematic", "roll"), tangent("roll_centre_force", "cornering")
		check(t, "roll centre", kinematic, path, 0.01)
		check(t, "roll centre from forces", force, path, 0.01)
	}
}
