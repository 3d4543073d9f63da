package cases

import (
	"math"
	"testing"

	"bushtune/bushing"
	"bushtune/compliance"
)

// limitOn is a limit on a number of an axle's study; share of its present value.
func limitOn(t testing.TB, s *Study, name, caseName string, low, high float64) Limit {
	t.Helper()
	i, err := s.Find(name, caseName, "")
	if err != nil {
		t.Fatal(err)
	}
	return Limit{Goal: Goal{Number: i}, Low: low, High: high, Scale: s.Numbers()[i].Step * s.Numbers()[i].Unit.Factor}
}

func leewaysOf(t testing.TB, axle *compliance.Axle, vehicle Vehicle, limits ...Limit) *Leeways {
	t.Helper()
	l, err := NewLeeways(studyOf(t, axle, vehicle), limits)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func only(directions ...bushing.Direction) (on [6]bool) {
	for _, d := range directions {
		on[d] = true
	}
	return on
}

// A rigid axle whose two bushes lie square across the car moves back by F/(2·soft):
// upright springs carry nothing fore and aft, so its longitudinal compliance goes
// with 1/factor and a limit of r times the present value ends at 1/r.
func TestLeewayOfRigidAxleAgainstClosedForm(t *testing.T) {
	axle := rigidBody(t, 3000, 600, 600, 0, 300)
	s := studyOf(t, axle, UnknownVehicle())
	now := valueOf(t, s, "longitudinal_compliance", "impact", "")
	check(t, "longitudinal compliance", now, 1/600.0, exactly) // 1 kN on each of two wheels over 2·600 N/mm
	both := RateSet{Elements: bushesOf(axle), Directions: only(bushing.Soft)}
	for _, r := range []float64{1.001, 1.1, 1.37, 2, 5} {
		l := leewaysOf(t, axle, UnknownVehicle(), limitOn(t, s, "longitudinal_compliance", "impact", now/r, now*r))
		for what, set := range map[string]RateSet{"soft": both, "all": {Elements: both.Elements, Directions: EveryDirection}} {
			w := l.Of(set)
			check(t, what+" softer", w.Softer.Factor*r, 1, exactly)
			check(t, what+" stiffer", w.Stiffer.Factor/r, 1, exactly)
			if w.Softer.Limit != 0 || w.Stiffer.Limit != 0 || w.Softer.Open() {
				t.Errorf("ratio %g: ends are %+v, want limit 0 at both", r, w)
			}
		}
		w := l.Of(RateSet{Elements: both.Elements, Directions: only(bushing.Axial, bushing.Stiff)})
		if !w.Softer.Open() || !w.Stiffer.Open() || w.Softer.Factor != 1/LeewayRange || w.Stiffer.Factor != LeewayRange {
			t.Errorf("rates that do not count end at %+v", w)
		}
	}
}

// A bracket in series is not multiplied: with rubber k and bracket b on each side the
// compliance is 1/k + 1/b, so a limit of r times it ends at 1/factor = r + (r−1)·k/b.
func TestLeewayLeavesTheBracket(t *testing.T) {
	const soft, bracket, r = 600.0, 1500.0, 1.25
	axle := rigidBody(t, 3000, soft, 600, 0, 300)
	for _, e := range bushesOf(axle) {
		axle.Elements[e].Slots[compliance.Bush.FieldIndex("bracket")] = bracket
	}
	s := studyOf(t, axle, UnknownVehicle())
	now := valueOf(t, s, "longitudinal_compliance", "impact", "")
	check(t, "longitudinal compliance", now, 1/soft+1/bracket, exactly)
	w := leewaysOf(t, axle, UnknownVehicle(), limitOn(t, s, "longitudinal_compliance", "impact", now/r, now*r)).Of(RateSet{bushesOf(axle), only(bushing.Soft)})
	check(t, "softer", 1/w.Softer.Factor, r+(r-1)*soft/bracket, exactly)
	check(t, "stiffer", 1/w.Stiffer.Factor, 1/r+(1/r-1)*soft/bracket, exactly)
}

// bushesOf lists the bushes of an axle by their places.
func bushesOf(axle *compliance.Axle) []int {
	var all []int
	for i := range axle.Elements {
		if axle.Elements[i].Kind == compliance.Bush {
			all = append(all, i)
		}
	}
	return all
}

// scanned walks factors in even steps of octaves with a fresh study each and
// returns the last at which every limit holds and the first at which one does not.
func scanned(t *testing.T, axle *compliance.Axle, vehicle Vehicle, set RateSet, limits []Limit, side float64, points int) (in, out float64) {
	t.Helper()
	in = 1
	for i := 1; i <= points; i++ {
		out = math.Exp2(side * 3 * float64(i) / float64(points))
		changed := axle.Clone()
		for _, e := range set.Elements {
			for d, name := range bushing.DirectionNames {
				if set.Directions[d] {
					changed.Elements[e].Slots[compliance.Bush.FieldIndex(name)] *= out
				}
			}
		}
		s, err := NewStudy(changed, vehicle, nil, nil)
		if err != nil {
			return in, out
		}
		for _, l := range limits {
			if v := s.Value(l.Number); !(v >= l.Low && v <= l.High) {
				return in, out
			}
		}
		in = out
	}
	return in, in
}

// Every exit lies between two neighbours of a brute-force scan over fresh studies,
// for each rate alone, for all of one bush, and with the load at rest.
func TestLeewayAgainstScan(t *testing.T) {
	const points = 40
	for name, axle := range map[string]*compliance.Axle{"twist beam": twistBeam(t), "halves differ": linkedBeam(t)} {
		vehicle := vehicleWith(t, carValues)
		vehicle.StaticLoad = name == "twist beam"
		s := studyOf(t, axle, vehicle)
		var limits []Limit
		for _, n := range sixNumbers {
			now := valueOf(t, s, n[0], n[1], n[2])
			l := limitOn(t, s, n[0], n[1], now-0.15*math.Abs(now), now+0.4*math.Abs(now))
			i, err := s.Find(n[0], n[1], n[2])
			if err != nil {
				t.Fatal(err)
			}
			l.Number = i
			limits = append(limits, l)
		}
		l := leewaysOf(t, axle, vehicle, limits...)
		if len(l.Failing()) > 0 {
			t.Fatalf("%s: limits %v fail at 1", name, l.Failing())
		}
		sets := []RateSet{{bushesOf(axle), EveryDirection}}
		if !s.Symmetric() {
			sets = append(sets, RateSet{bushesOf(axle)[:1], EveryDirection})
		}
		for d := range bushing.DirectionNames {
			sets = append(sets, RateSet{bushesOf(axle), only(bushing.Direction(d))})
		}
		ended := 0
		for i, set := range sets {
			w := l.Of(set)
			for side, e := range map[float64]Exit{-1: w.Softer, 1: w.Stiffer} {
				in, out := scanned(t, axle, vehicle, set, limits, side, points)
				low, high := min(in, out)*(1-exactly), max(in, out)*(1+exactly)
				if e.Factor < low || e.Factor > high {
					t.Errorf("%s, set %d, side %g: exit at %.9g, the scan says %.9g to %.9g", name, i, side, e.Factor, low, high)
				}
				if e.Open() != (in == out) {
					t.Errorf("%s, set %d, side %g: open %v, the scan ends at %g of %g", name, i, side, e.Open(), in, out)
				}
				if !e.Open() {
					ended++
				}
			}
		}
		if ended < len(sets) {
			t.Errorf("%s: only %d of %d ends are limits: the test sees little", name, ended, 2*len(sets))
		}
	}
}

// A limit that is passed and kept again within one step of the grid ends the
// leeway where it is passed first. The roll angle of an uneven axle under braking
// has a highest value over the axial rate; limits are set so close below it that no
// point of the grid passes them.
func TestLeewayFindsADip(t *testing.T) {
	axle, vehicle := linkedBeam(t), vehicleWith(t, carValues)
	s := studyOf(t, axle, vehicle)
	set := RateSet{bushesOf(axle), only(bushing.Axial)}
	limit := limitOn(t, s, "roll_angle", "state_braking", math.Inf(-1), math.Inf(1))
	search := leewaySearch{Leeways: leewaysOf(t, axle, vehicle, limit), rates: set}
	value := func(octaves float64) float64 { search.at(octaves); return search.room.values[0] }
	const fine = 1 << 14
	top, highest, steps := 0.0, 0.0, [fine + 1]float64{}
	for i := range steps {
		o := 3 * float64(i) / fine
		if steps[i] = value(o); steps[i] > highest {
			top, highest = o, steps[i]
		}
	}
	onGrid := 0.0
	for i := range leewayPoints + 1 {
		onGrid = max(onGrid, value(3*float64(i)/leewayPoints))
	}
	if !(top > 0.5 && top < 2.5) || !(onGrid < highest) {
		t.Fatalf("the highest value stands at %g octaves, %g on the grid and %g between", top, onGrid, highest)
	}
	for _, share := range []float64{0.02, 0.5, 0.98} {
		limit.High = onGrid + share*(highest-onGrid)
		first := 0
		for steps[first] <= limit.High {
			first++
		}
		w := leewaysOf(t, axle, vehicle, limit).Of(set)
		low, high := math.Exp2(3*float64(first-1)/fine), math.Exp2(3*float64(first)/fine)
		if e := w.Stiffer; e.Open() || e.Factor < low*(1-exactly) || e.Factor > high*(1+exactly) {
			t.Errorf("limit %g of the way to the top: exit %+v, passed first between %.9g and %.9g", share, e, low, high)
		}
	}
	limit.High = 1.0001 * highest
	if w := leewaysOf(t, axle, vehicle, limit).Of(set); !w.Stiffer.Open() {
		t.Errorf("a limit above the top ends at %+v", w.Stiffer)
	}
}

// A limit that fails already is listed and ends nothing; the others do.
func TestLeewayLeavesOutWhatFails(t *testing.T) {
	axle := rigidBody(t, 3000, 600, 600, 0, 300)
	s := studyOf(t, axle, UnknownVehicle())
	now := valueOf(t, s, "longitudinal_compliance", "impact", "")
	fails := limitOn(t, s, "longitudinal_compliance", "impact", 1.2*now, math.Inf(1))
	holds := limitOn(t, s, "longitudinal_compliance", "impact", math.Inf(-1), 1.5*now)
	l := leewaysOf(t, axle, UnknownVehicle(), fails, holds)
	if f := l.Failing(); len(f) != 1 || f[0] != 0 {
		t.Errorf("failing are %v, want the first", f)
	}
	w := l.Of(RateSet{bushesOf(axle), EveryDirection})
	check(t, "softer", w.Softer.Factor, 1/1.5, exactly)
	if w.Softer.Limit != 1 || !w.Stiffer.Open() {
		t.Errorf("ends are %+v, want the second limit below and none above", w)
	}
}

// Under a load of full size the exit is where the number at that load passes: a
// rigid axle on straight bushes that does not turn moves in proportion, with stops
// in its bushes it does not, and the exit of a fresh axle is the same.
func TestLeewayAtFullSize(t *testing.T) {
	axle := rigidBody(t, 3000, 600, 600, 0, 300)
	for _, e := range bushesOf(axle) {
		slots := axle.Elements[e].Slots
		slots[compliance.Bush.FieldIndex("soft_gap")], slots[compliance.Bush.FieldIndex("soft_snubber")] = 2, 4000
	}
	const size = 2000.0 // N on a wheel
	at := func(axle *compliance.Axle) (value float64, index int) {
		s := studyOf(t, axle, UnknownVehicle())
		index, err := s.Find("longitudinal_compliance", "impact", "")
		if err != nil {
			t.Fatal(err)
		}
		full, err := NewFullSize(s)
		if err != nil {
			t.Fatal(err)
		}
		var v [1]float64
		if err := full.Goals([]Goal{{Number: index, Size: size}}, v[:], nil, nil); err != nil {
			t.Fatal(err)
		}
		return v[0], index
	}
	now, index := at(axle)
	limit := Limit{Goal: Goal{Number: index, Size: size}, Low: 0.8 * now, High: 1.1 * now, Scale: 1e-4}
	w := leewaysOf(t, axle, UnknownVehicle(), limit).Of(RateSet{bushesOf(axle), only(bushing.Soft)})
	for want, e := range map[float64]Exit{limit.Low: w.Stiffer, limit.High: w.Softer} {
		changed := axle.Clone()
		for _, i := range bushesOf(axle) {
			for _, name := range []string{"soft", "soft_snubber"} {
				changed.Elements[i].Slots[compliance.Bush.FieldIndex(name)] *= e.Factor
			}
		}
		got, _ := at(changed)
		check(t, "longitudinal compliance at the exit over its limit", got/want, 1, exactly)
	}
	// the gap keeps the soft side from growing with 1/factor
	if w.Softer.Factor > 1/1.1 {
		t.Errorf("softer by %g: the stop should give more leeway than the straight bush's 1/1.1", w.Softer.Factor)
	}
}

// A measured curve is multiplied as a whole, on both sides alike.
func TestLeewayOfAMeasuredCurve(t *testing.T) {
	table, err := bushing.NewTable([][2]float64{{1, 600}, {2, 1500}, {3, 4000}})
	if err != nil {
		t.Fatal(err)
	}
	axle, plain := rigidBody(t, 3000, 0, 600, 0, 300), rigidBody(t, 3000, table.Rate(), 600, 0, 300)
	curves := &bushing.Curves{Tables: [6]*bushing.Table{bushing.Soft: table}}
	for _, e := range bushesOf(axle) {
		axle.Elements[e].Choice.Curves = curves
	}
	s := studyOf(t, axle, UnknownVehicle())
	now := valueOf(t, s, "longitudinal_compliance", "impact", "")
	limit := limitOn(t, s, "longitudinal_compliance", "impact", now/1.3, now*1.4)
	set := RateSet{bushesOf(axle), EveryDirection}
	got, want := leewaysOf(t, axle, UnknownVehicle(), limit).Of(set), leewaysOf(t, plain, UnknownVehicle(), limit).Of(set)
	check(t, "stiffer", got.Stiffer.Factor, 1.3, exactly)
	check(t, "softer", got.Softer.Factor, 1/1.4, exactly)
	check(t, "stiffer, straight", want.Stiffer.Factor, got.Stiffer.Factor, exactly)
	if axle.Elements[bushesOf(axle)[0]].Choice.Curves != curves {
		t.Error("the given axle is changed")
	}
}

// A factor at which the axle can move freely ends the leeway with that cause.
func TestLeewayEndsWhereTheAxleIsLost(t *testing.T) {
	axle, vehicle := twistBeam(t), vehicleWith(t, carValues)
	vehicle.StaticLoad = true
	for _, e := range bushesOf(axle) { // so soft that the load at rest pushes the arms over
		slots := axle.Elements[e].Slots
		for _, name := range []string{"soft", "axial", "stiff"} {
			slots[compliance.Bush.FieldIndex(name)] /= 20
		}
	}
	set := RateSet{bushesOf(axle), EveryDirection}
	w := leewaysOf(t, axle, vehicle).Of(set)
	if w.Softer.Cause == nil || w.Softer.Open() || w.Softer.Limit >= 0 || !w.Stiffer.Open() {
		t.Fatalf("ends are %+v, want the axle lost below and nothing above", w)
	}
	for factor, holds := range map[float64]bool{w.Softer.Factor * (1 + 1e-6): true, w.Softer.Factor * (1 - 1e-6): false} {
		changed := axle.Clone()
		for _, e := range bushesOf(axle) {
			for _, name := range bushing.DirectionNames {
				changed.Elements[e].Slots[compliance.Bush.FieldIndex(name)] *= factor
			}
		}
		if _, err := NewStudy(changed, vehicle, nil, nil); (err == nil) != holds {
			t.Errorf("a fresh axle at factor %.9g: %v", factor, err)
		}
	}
}

func BenchmarkLeeway(b *testing.B) {
	axle, vehicle := toeLinkedBeam(b), vehicleWith(b, carValues)
	vehicle.StaticLoad = true
	s := studyOf(b, axle, vehicle)
	now := valueOf(b, s, "lateral_force_steer", "cornering", "")
	l := leewaysOf(b, axle, vehicle, limitOn(b, s, "lateral_force_steer", "cornering", 1.3*now, 0.7*now))
	for b.Loop() {
		l.Of(RateSet{bushesOf(axle), only(bushing.Soft)})
	}
}

// All rates together are those of bushes and of both ends of links: at the end of the
// leeway an axle whose rates are multiplied by hand stands on the limit.
func TestLeewayOfAllRatesCountsTheEndsOfLinks(t *testing.T) {
	axle := toeLinkedBeam(t)
	s := studyOf(t, axle, UnknownVehicle())
	now := valueOf(t, s, "lateral_force_steer", "cornering", "")
	l := leewaysOf(t, axle, UnknownVehicle(), limitOn(t, s, "lateral_force_steer", "cornering", now-0.05*math.Abs(now), now+0.05*math.Abs(now)))
	all, bushes := l.Of(l.All()), l.Of(RateSet{Elements: bushesOf(axle), Directions: EveryDirection})
	if all == bushes {
		t.Fatal("the ends of links do not count")
	}
	// the same by an axle whose rates are written into the file
	for _, factor := range []float64{all.Softer.Factor, all.Stiffer.Factor} {
		scaled := axle.Clone()
		for i := range scaled.Elements {
			e := &scaled.Elements[i]
			for _, name := range []string{"soft", "axial", "stiff", "cone_soft", "cone_stiff", "torsion", "inner_rate", "outer_rate", "soft_snubber", "axial_snubber"} {
				if k := fieldOf(e.Kind, name); k >= 0 && (e.Kind == compliance.Bush || e.Kind == compliance.Link) {
					e.Slots[k] *= factor
				}
			}
		}
		moved := valueOf(t, studyOf(t, scaled, UnknownVehicle()), "lateral_force_steer", "cornering", "")
		check(t, "steer at the end", math.Abs(moved-now), 0.05*math.Abs(now), 1e-6*math.Abs(now))
	}
}

func fieldOf(kind *compliance.Kind, name string) int {
	for i, f := range kind.Fields {
		if f.Name == name {
			return i
		}
	}
	return -1
}
