package plausible

import (
	"math"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/compliance"
)

// number is a number of the answer in its written unit; NaN where it is not offered.
func (j *judge) number(name, caseName, where string) float64 {
	if j.Study == nil {
		return math.NaN()
	}
	index, err := j.Study.Find(name, caseName, where)
	if err != nil {
		return math.NaN()
	}
	return j.Study.Figure(index).Value
}

// wheelRate is that of both wheels moving up together, N/mm.
func (j *judge) wheelRate() float64 { return j.number("wheel_rate", "heave", "") }

// sprung is the load in N that one rear spring carries of the body.
func (j *judge) sprung() float64 {
	return j.Vehicle.WheelLoad() - j.Vehicle.Unsprung*quantity.StandardGravity
}

// track is the distance between the contact points in mm.
func (j *judge) track() float64 {
	sum := 0.0
	for _, wheel := range j.Axle.Wheels {
		w := compliance.NewWheelGeometry(wheel.Slots)
		sum += w.Centre[1] + w.Contact()[1]
	}
	return sum
}

// restChecks look at the load at rest.
func restChecks() []check {
	none, mm := quantity.None, quantity.Millimetre
	return []check{
		{name: "spring_at_rest", unit: none, usual: "springs pressed at rest", slip: "ends exchanged, or a load that another spring has to undo?", read: springTension},
		{name: "hardly_held", unit: none, usual: "every motion held: least eigenvalue of D^-½·K·D^-½ above 1e-11; sound axles have 3e-10 and more", slip: "a rate forgotten, or thousands of times too small?", read: hardlyHeld},
		{name: "spring_load", effect: true, what: "given load over the load that carries the car there", unit: none, low: 0.6, high: 1.6, slip: "the load at full droop, or of another unit?", read: givenLoads},
		{name: "spring_deflection", effect: true, what: "load at rest over rate", unit: mm, low: 10, high: 400, slip: "rate or mass in another unit?", read: springDeflections},
		{name: "bush_at_rest", effect: true, what: "radial load at rest over its limit", unit: quantity.Percent, low: 0, high: 60, slip: "the limit in kN?", read: bushesAtRest},
		{name: "bush_axial_at_rest", effect: true, what: "axial load at rest over its limit", unit: quantity.Percent, low: 0, high: 60, slip: "the limit in kN?", read: bushesAxialAtRest},
		{name: "gap_at_rest", effect: true, unit: none, usual: "a void that is open at rest", slip: "a gap too small, or a bush the wrong way round?", read: gapsAtRest},
		{name: "even_at_rest", effect: true, unit: quantity.Percent, low: 0, high: 10, usual: "left and right within 10 %", slip: "an override that is not meant?", read: unevenSprings},
		{name: "static_deflection", effect: true, what: "sprung load over wheel rate", unit: mm, low: 12, high: 320, slip: "a spring rate or the mass in another unit?", read: func(j *judge) []finding { return one(j.sprung() / j.wheelRate()) }},
	}
}

// hardly is the least eigenvalue below which a motion counts as hardly held: soft but
// sound axles have 3e-10 and more, below 1e-12 an axle is refused.
const hardly = 1e-11

func hardlyHeld(j *judge) (all []finding) {
	if j.Study == nil {
		return nil
	}
	for _, m := range j.Study.Solver().HardlyHeld(hardly) {
		all = append(all, finding{value: 1, text: "hardly held: " + m.String()})
	}
	return all
}

// eachSpring calls f with the compressive load at rest of every spring.
func (j *judge) eachSpring(f func(p *part, load float64)) {
	if j.Study == nil || !j.Study.Solver().Loaded() || math.IsNaN(j.Vehicle.WheelLoad()) {
		return
	}
	for _, p := range j.parts() {
		if p.Kind == compliance.Spring {
			f(&p, -j.Study.Solver().StaticLoad(p.index, 0))
		}
	}
}

func springTension(j *judge) (all []finding) {
	j.eachSpring(func(p *part, load float64) {
		upper, lower := j.bodySide(p)
		if load <= 0 && !p.twin && upper[2] > lower[2] { // else that is told
			all = append(all, finding{key: p.path, value: 1, text: "is pulled by " + digits(-load) + " N at rest"})
		}
	})
	return all
}

func springDeflections(j *judge) (all []finding) {
	j.eachSpring(func(p *part, load float64) {
		if load > 0 && !p.twin {
			all = append(all, finding{key: p.path, value: load / p.Slots[p.Kind.FieldIndex("rate")]})
		}
	})
	return all
}

// givenLoads are the installed loads over those that the axle needs at design height.
func givenLoads(j *judge) (all []finding) {
	j.eachSpring(func(p *part, load float64) {
		if given := p.Slots[p.Kind.FieldIndex("load")]; !p.twin {
			all = append(all, ratio(p.path+".load", given, load, plain)...)
		}
	})
	return all
}

func unevenSprings(j *judge) (all []finding) {
	left := map[string]float64{}
	for _, e := range j.Axle.Elements {
		if e.Side == compliance.Centre && len(pointsOf(&e)) > 0 && e.Kind.Table != compliance.Beam.Table {
			return nil // a rod that is there once leans on one side
		}
	}
	j.eachSpring(func(p *part, load float64) {
		switch other, both := left[p.Name]; {
		case p.Side == compliance.Left:
			left[p.Name] = load
		case p.Side == compliance.Right && both:
			all = append(all, finding{key: p.path, value: 100 * math.Abs(load-other) / max(math.Abs(load), math.Abs(other)),
				text: "carries " + digits(load) + " N at rest on the right, " + digits(other) + " N on the left"})
		}
	})
	return all
}

// eachBushAtRest calls f with the load at rest of every bush, inner sleeve against
// outer.
func (j *judge) eachBushAtRest(f func(p *part, b *bushing.Bush[float64], rest [3]float64)) {
	if j.Study == nil || !j.Study.Solver().Loaded() {
		return
	}
	j.eachBush(func(p *part, b *bushing.Bush[float64]) {
		var rest [3]float64
		for d := range rest {
			rest[d] = p.Choice.InnerSense() * j.Study.Solver().StaticLoad(p.index, d)
		}
		f(p, b, rest)
	})
}

func bushesAtRest(j *judge) (all []finding) {
	j.eachBushAtRest(func(p *part, b *bushing.Bush[float64], rest [3]float64) {
		all = append(all, ratio(p.path+".max_radial_load", 100*math.Hypot(rest[bushing.Soft], rest[bushing.Stiff]), b.MaxRadialLoad, plain)...)
	})
	return all
}

func bushesAxialAtRest(j *judge) (all []finding) {
	j.eachBushAtRest(func(p *part, b *bushing.Bush[float64], rest [3]float64) {
		all = append(all, ratio(p.path+".max_axial_load", 100*math.Abs(rest[bushing.Axial]), b.MaxAxialLoad, plain)...)
	})
	return all
}

func gapsAtRest(j *judge) (all []finding) {
	j.eachBushAtRest(func(p *part, b *bushing.Bush[float64], rest [3]float64) {
		for d, rate := range [3]float64{b.Soft, b.Axial, b.Stiff} {
			gap := b.Gap[d]
			if rest[d] < 0 && b.GapBack[d] > 0 {
				gap = b.GapBack[d]
			}
			curve := p.Choice.Curves != nil && p.Choice.Curves.Tables[d] != nil
			if gap > 0 && rate > 0 && !curve && math.Abs(rest[d]) >= rate*gap {
				all = append(all, finding{key: p.path, value: 1,
					text: "the void along " + bushing.DirectionNames[d] + " is closed at rest: " + digits(math.Abs(rest[d])) + " N take " + digits(rate) + " N/mm beyond its gap of " + digits(gap) + " mm"})
			}
		}
	})
	return all
}

// carChecks hold the car and the answer against each other.
func carChecks() []check {
	none, mm, hertz := quantity.None, quantity.Millimetre, quantity.Hertz
	return []check{
		{name: "wheel_load", effect: true, what: "load of a rear wheel", unit: quantity.Newton, low: 400, high: 18000, slip: "mass in t, or a wheel load as mass?", read: func(j *judge) []finding { return one(j.Vehicle.WheelLoad()) }},
		{name: "unsprung_share", effect: true, what: "unsprung weight over wheel load", unit: none, low: 0.04, high: 0.45, slip: "mass in t, or unsprung in g?", above: "the unsprung mass of the whole axle written for one wheel?", read: unsprungShare},
		{name: "track_and_height", effect: true, what: "track over twice the height of the centre of gravity", unit: none, low: 0.75, high: 3.5, slip: "cg_height of a loaded van?", above: "cg_height in m or cm?", read: func(j *judge) []finding { return one(j.track() / 2 / j.Vehicle.GravityHeight) }},
		{name: "wheelbase_and_track", effect: true, what: "wheelbase over track", unit: none, low: 1.1, high: 3, slip: "the track written twice, or the wheelbase of another car?", above: "half the track of another car?", read: func(j *judge) []finding { return one(j.Vehicle.Wheelbase / j.track()) }},
		{name: "height_and_wheelbase", effect: true, what: "height of the centre of gravity over wheelbase", unit: none, low: 0.1, high: 0.36, read: func(j *judge) []finding { return one(j.Vehicle.GravityHeight / j.Vehicle.Wheelbase) }},
		{name: "ride_frequency", effect: true, what: "ride frequency", unit: hertz, low: 0.8, high: 5, slip: "a spring rate or the mass in another unit?", read: rideFrequency},
		{name: "fore_aft_frequency", effect: true, what: "frequency of a wheel fore and aft", unit: hertz, low: 5, high: 100, slip: "rates of the pivots or links in another unit?", read: foreAftFrequency},
		{name: "roll_share", effect: true, what: "share of the lateral load transfer at the rear wheels", unit: none, low: 0.15, high: 0.85, slip: "front_roll_rate or a rate of the rear in another unit?", read: rollShare},
		{name: "tyre_and_wheel", effect: true, what: "tyre rate over wheel rate", unit: none, low: 2, high: 40, slip: "spring or tyre rate in another unit?", read: func(j *judge) []finding { return one(j.Vehicle.TyreRate / j.wheelRate()) }},
		{name: "tyre_deflection", effect: true, what: "deflection of the tyre at rest", unit: mm, low: 4, high: 45, slip: "tyre_rate or mass in another unit?", read: func(j *judge) []finding { return one(j.Vehicle.WheelLoad() / j.Vehicle.TyreRate) }},
		{name: "cross_member_twist", effect: true, what: "twist of the cross-member, its share of the roll stiffness,", unit: quantity.Percent, low: 5, high: 85, slip: "its section, or the roll stiffness of everything else?", read: twistShare},
		{name: "braking_forward", effect: true, unit: none, usual: "a braking force moves the contact point rearward", read: brakingForward},
	}
}

func unsprungShare(j *judge) []finding {
	if j.Vehicle.Unsprung == 0 {
		return nil // absent
	}
	found := one(j.Vehicle.Unsprung * quantity.StandardGravity / j.Vehicle.WheelLoad())
	for i := range found {
		found[i].key = "vehicle.unsprung"
	}
	return found
}

// rideFrequency is that of the body on springs and tyres, in Hz; N/mm and t give rad/s.
func rideFrequency(j *judge) []finding {
	rate := j.number("ride_rate", "heave", "")
	if math.IsNaN(rate) {
		rate = j.wheelRate()
	}
	mass := j.sprung() / quantity.StandardGravity
	if mass <= 0 || rate <= 0 {
		return nil
	}
	return one(math.Sqrt(rate/mass) / (2 * math.Pi))
}

func foreAftFrequency(j *judge) []finding {
	c := quantity.MillimetrePerKilonewton.Factor * j.number("longitudinal_compliance", "impact", "")
	if !(c > 0) || j.Vehicle.Unsprung == 0 {
		return nil
	}
	return one(1 / math.Sqrt(c*j.Vehicle.Unsprung) / (2 * math.Pi))
}

func rollShare(j *judge) []finding {
	if j.Study == nil {
		return nil
	}
	return one(j.Study.RearRollShare())
}

// twistShare is the share that the twist of cross-members has in the roll stiffness:
// the parts of the movement of the outer contact point under the roll couple are the
// shares of the work.
func twistShare(j *judge) []finding {
	if j.Study == nil {
		return nil
	}
	index, err := j.Study.Find("outer_patch_z", "roll", "")
	if err != nil {
		return nil
	}
	key, twist, sum := "", 0.0, 0.0
	for _, p := range j.parts() {
		if p.Kind.Table == compliance.Beam.Table && j.cross(&p) && j.carries(p.From) && j.carries(p.To) {
			key = p.path
		}
	}
	if key == "" {
		return nil
	}
	for _, p := range j.Study.Parts(index) {
		sum += p.Value
		if p.Element == key && p.Line == "twist" {
			twist += p.Value
		}
	}
	return []finding{{key: key, value: 100 * twist / sum}}
}

// brakingForward finds wheels that a force at the ground moves against itself.
func brakingForward(j *judge) (all []finding) {
	if v := j.number("outer_patch_x", "braking", ""); v > 0 {
		all = append(all, finding{value: 1, text: "braking moves the outer contact point forward by " + digits(v) + " mm/kN"})
	}
	return all
}

// absent are vehicle values whose absence takes something away in silence.
var absent = []struct {
	key  string
	lost string
	is   func(v *cases.Vehicle) bool
}{
	{"vehicle.trail", "absent, so states leave out the aligning torque of the tyres", func(v *cases.Vehicle) bool { return v.Trail == 0 }},
	{"vehicle.unsprung", "absent, so the springs carry the wheels too", func(v *cases.Vehicle) bool { return v.Unsprung == 0 }},
	{"vehicle.rear_brake_share", "absent, so braking states and anti-lift in percent are not offered", func(v *cases.Vehicle) bool { return math.IsNaN(v.RearBrakeShare) }},
}

// Absence is the check that tells of a key that is not there, at a value that a
// written 0 has too: who knows what is written leaves its notes out where it is.
const Absence = "absent"

// absenceChecks tell what is left out where the car is given in part.
func absenceChecks() []check {
	return []check{{name: Absence, unit: quantity.None, usual: "given where the mass is", read: func(j *judge) (all []finding) {
		if math.IsNaN(j.Vehicle.Mass) {
			return nil
		}
		for _, a := range absent {
			if a.is(&j.Vehicle) {
				all = append(all, finding{key: a.key, value: 1, text: a.lost})
			}
		}
		return all
	}}}
}
