package cases

import (
	"strings"

	"bushtune/bushing/quantity"
)

// definition is one row of the table of numbers: what is read, in which cases,
// and the formula. The first case is the default.
type definition struct {
	name, title, where string
	cases              []string
	readings           []reading
	elsewhere          string // case of the second reading if it is another one
	formula            *formula
	unit               quantity.Unit
	signs              quantity.Signs
	step               float64 // just-noticeable, written unit
	text               string
	needs              []int // vehicle slots
}

// totalOuterToe is the number of a state that its causes sum to.
const totalOuterToe = "total_outer_toe"

// anyState in a list of cases stands for all states of the vehicle.
const anyState = "state"

var (
	corners  = []string{"cornering", "cornering_floating"}
	brakings = []string{"braking", "braking_single", "braking_inboard"}
	impacts  = []string{"impact", "impact_single"}

	toeSigns   = quantity.Signs{Plus: "toe-in", Minus: "toe-out"}
	outerSigns = quantity.Signs{Plus: "toe-in: understeer", Minus: "toe-out: oversteer"}
	steerSigns = quantity.Signs{Plus: "with the force: understeer", Minus: "against the force: oversteer"}
	topSigns   = quantity.Signs{Plus: "top outward", Minus: "top inward"}
	rearSigns  = quantity.Signs{Plus: "rearward", Minus: "forward"}
	heightSign = quantity.Signs{Plus: "above ground", Minus: "below ground"}
	liftSigns  = quantity.Signs{Plus: "body held down", Minus: "body lifted"}
	largerSign = quantity.Signs{Plus: "larger", Minus: "smaller"}

	meanSteer  = both(toe, 0.5, -0.5)
	rollTravel = both(patchZ, 1, -1)
	meanTravel = both(patchZ, 0.5, 0.5)

	halfRollTravel = both(patchZ, 0.5, -0.5)
	rollInward     = meanInward(patchY)
)

// definitions is the table of the numbers that have a name of their own.
func definitions() []definition {
	list := cornerNumbers()
	list = append(list, forceNumbers()...)
	list = append(list, rollNumbers()...)
	return append(list, travelNumbers()...)
}

// cornerNumbers answer a lateral force.
func cornerNumbers() []definition {
	degrees, millimetres := quantity.DegreePerKilonewton, quantity.MillimetrePerKilonewton
	inwardSigns := quantity.Signs{Plus: "inward", Minus: "outward"}
	return []definition{
		{name: "lateral_force_steer", title: "lateral-force steer, outer wheel", cases: corners, readings: []reading{of(outerWheel, toe)},
			formula: &theAnswer, unit: degrees, signs: outerSigns, step: 0.01, text: "toe of the outer wheel / F, F at each contact point"},
		{name: "mean_axle_steer", title: "mean axle steer", cases: corners, readings: []reading{meanSteer},
			formula: &theAnswer, unit: degrees, signs: steerSigns, step: 0.01, text: "(toe outer − toe inner) / 2F"},
		{name: totalOuterToe, title: "total toe of the outer wheel", cases: []string{anyState}, readings: []reading{of(outerWheel, toe)},
			formula: &theAnswer, unit: quantity.Degree, signs: outerSigns, step: 0.01, text: "toe of the outer wheel under all loads of the state, at its size"},
		{name: "lateral_force_camber", title: "lateral-force camber, outer wheel", cases: corners, readings: []reading{of(outerWheel, camber)},
			formula: &theAnswer, unit: degrees, signs: topSigns, step: 0.02, text: "camber of the outer wheel / F"},
		{name: "lateral_compliance", title: "lateral compliance at the wheel centre", where: "centre", cases: corners, readings: []reading{inward(outerWheel, centreY)},
			formula: &theAnswer, unit: millimetres, signs: inwardSigns, step: 0.1, text: "y of the outer wheel centre / F"},
		{name: "lateral_compliance", title: "lateral compliance at the contact point", where: "patch", cases: corners, readings: []reading{inward(outerWheel, patchY)},
			formula: &theAnswer, unit: millimetres, signs: inwardSigns, step: 0.1, text: "y of the outer contact point / F"},
		{name: "aligning_steer", title: "aligning-torque steer", cases: []string{"aligning"}, readings: []reading{meanSteer},
			formula: &theAnswer, unit: quantity.DegreePer100NewtonM, signs: quantity.Signs{Plus: "with the torque: oversteer", Minus: "against the torque"}, step: 0.01, text: "mean steer / M, M on each wheel"},
		{name: "steer_neutral_point", title: "steer-neutral point", cases: []string{"cornering"}, readings: []reading{meanSteer, meanSteer}, elsewhere: "aligning",
			formula: &theRatio, unit: quantity.Millimetre, signs: quantity.Signs{Plus: "behind the wheel axis", Minus: "ahead of the wheel axis"}, step: 10, text: "mean axle steer / aligning steer"},
	}
}

// forceNumbers answer a force along the car.
func forceNumbers() []definition {
	degrees, millimetres := quantity.DegreePerKilonewton, quantity.MillimetrePerKilonewton
	return []definition{
		{name: "longitudinal_compliance", title: "longitudinal compliance", cases: impacts, readings: []reading{opposite(outerWheel, centreX)},
			formula: &theAnswer, unit: millimetres, signs: rearSigns, step: 0.1, text: "−x of the wheel centre / F, F at the wheel centre"},
		{name: "impact_toe", title: "impact toe", cases: impacts, readings: []reading{of(outerWheel, toe)},
			formula: &theAnswer, unit: degrees, signs: toeSigns, step: 0.01, text: "toe / F, F at the wheel centre"},
		{name: "brake_steer", title: "brake steer", cases: brakings, readings: []reading{of(outerWheel, toe)},
			formula: &theAnswer, unit: degrees, signs: toeSigns, step: 0.01, text: "toe / F"},
		{name: "brake_recession", title: "brake recession", cases: brakings, readings: []reading{opposite(outerWheel, centreX)},
			formula: &theAnswer, unit: millimetres, signs: rearSigns, step: 0.1, text: "−x of the wheel centre / F"},
		{name: "brake_wind_up", title: "brake wind-up", cases: brakings, readings: []reading{of(outerWheel, windUp)},
			formula: &theAnswer, unit: degrees, signs: quantity.Signs{Plus: "top forward", Minus: "top rearward"}, step: 0.05, text: "turn of the carrier about y / F"},
		{name: "anti_lift_angle", title: "anti-lift angle", cases: []string{"braking", "braking_inboard"}, readings: []reading{padForces(-0.5, -0.5)},
			formula: &angleOfForce, unit: quantity.Degree, signs: liftSigns, step: 1, text: "atan(−ΔFz / F), ΔFz of the pads"},
		{name: "anti_lift_percent", title: "anti-lift", cases: []string{"braking", "braking_inboard"}, readings: []reading{padForces(-0.5, -0.5)},
			formula: &shareOfLift, unit: quantity.Percent, signs: liftSigns, step: 5, text: "−ΔFz / F · rear_brake_share · wheelbase / cg_height",
			needs: []int{slotWheelbase, slotGravityHeight, slotRearBrakeShare}},
	}
}

// rollNumbers answer a roll couple, or its opposite number: the force that does
// not roll.
func rollNumbers() []definition {
	roll := []string{"roll"}
	perRoll := func(r reading) []reading { return []reading{r, rollTravel} }
	return []definition{
		wheelRate("heave", meanTravel), wheelRate("roll", halfRollTravel), rideRate("heave", meanTravel), rideRate("roll", halfRollTravel),
		{name: "roll_rate", title: "roll rate", cases: roll, readings: []reading{rollTravel},
			formula: &coupleRate, unit: quantity.NewtonMetrePerDegree, step: 5, text: "F · track / roll angle, roll angle = (z outer − z inner) / track, tyres excluded"},
		{name: "roll_angle", title: "roll angle on the suspension", cases: []string{anyState}, readings: []reading{rollTravel},
			formula: &slopeOfTrack, unit: quantity.Degree, signs: quantity.Signs{Plus: "body leans outward", Minus: "body leans inward"}, step: 0.05, text: "atan((z outer − z inner) / track), tyres excluded"},
		{name: "roll_steer", title: "roll steer, outer wheel", cases: roll, readings: perRoll(of(outerWheel, toe)),
			formula: &perRollAngle, unit: quantity.DegreePerDegree, signs: outerSigns, step: 0.01, text: "toe of the outer wheel / roll angle"},
		{name: "roll_camber", title: "roll camber to the body, outer wheel", where: "body", cases: roll, readings: perRoll(of(outerWheel, camber)),
			formula: &perRollAngle, unit: quantity.DegreePerDegree, signs: topSigns, step: 0.02, text: "camber of the outer wheel to the body / roll angle"},
		{name: "roll_camber", title: "roll camber to the ground, outer wheel", where: "ground", cases: roll, readings: perRoll(of(outerWheel, camber)),
			formula: &toGround, unit: quantity.DegreePerDegree, signs: topSigns, step: 0.02, text: "1 + roll camber to the body"},
		{name: "roll_centre_kinematic", title: "roll-centre height, kinematic", cases: roll,
			readings: perRoll(rollInward), formula: &againstRoll, unit: quantity.Millimetre, signs: heightSign, step: 5, text: "outward y of both contact points / 2 / roll angle"},
		{name: "roll_centre_force", title: "roll-centre height, from forces", cases: []string{"cornering"}, readings: []reading{padForces(0.5, -0.5)},
			formula: &leverOfCouple, unit: quantity.Millimetre, signs: heightSign, step: 5, text: "track / 2 · ΔFz / F, ΔFz of the pads"},
	}
}

// wheelRate is force over travel of one wheel, both moving alike or opposed.
func wheelRate(caseName string, travel reading) definition {
	return definition{name: "wheel_rate", title: "wheel rate", cases: []string{caseName}, readings: []reading{travel},
		formula: &inverse, unit: quantity.NewtonPerMillimetre, step: 0.5, text: "F / z, z of the contact points, tyres excluded"}
}

// rideRate is the wheel rate with the tyre in series.
func rideRate(caseName string, travel reading) definition {
	d := wheelRate(caseName, travel)
	d.name, d.title, d.text = "ride_rate", "ride rate", "wheel rate and tyre rate in series"
	d.formula, d.needs = &inverseTyre, []int{slotTyreRate}
	return d
}

// travelNumbers answer both wheels moving up together.
func travelNumbers() []definition {
	heave := []string{"heave"}
	perTravel := func(r reading) []reading { return []reading{r, meanTravel} }
	return []definition{
		{name: "bump_steer", title: "bump steer", cases: heave, readings: []reading{of(outerWheel, toe), of(outerWheel, patchZ)},
			formula: &theRatio, unit: quantity.DegreePerMetre, signs: toeSigns, step: 0.2, text: "toe / travel of the wheel"},
		{name: "bump_camber", title: "bump camber", cases: heave, readings: []reading{of(outerWheel, camber), of(outerWheel, patchZ)},
			formula: &theRatio, unit: quantity.DegreePerMetre, signs: topSigns, step: 0.5, text: "camber / travel of the wheel"},
		{name: "track_change", title: "track change", cases: heave,
			readings: perTravel(reading{terms: []readingTerm{{wheel: leftWheel, direction: patchY, factor: 1}, {wheel: rightWheel, direction: patchY, factor: -1}}}),
			formula:  &theRatio, unit: quantity.MillimetrePerMetre, signs: largerSign, step: 1, text: "(y left − y right) of the contact points / travel"},
		{name: "wheelbase_change", title: "wheelbase change", cases: heave, readings: perTravel(both(centreX, -0.5, -0.5)),
			formula: &theRatio, unit: quantity.MillimetrePerMetre, signs: largerSign, step: 5, text: "−x of the wheel centres / travel"},
	}
}

// genericReading is a plain reading of a wheel, offered in every case.
type genericReading struct {
	name, title string
	direction   direction
	unit        func(Per) quantity.Unit
	signs       quantity.Signs
	step        float64
}

var genericReadings = []genericReading{
	{"wheel_toe", "toe", toe, Per.angle, toeSigns, 0.01},
	{"wheel_camber", "camber", camber, Per.angle, topSigns, 0.02},
	{"wheel_wind_up", "wind-up", windUp, Per.angle, quantity.Signs{Plus: "top forward", Minus: "top rearward"}, 0.05},
	{"centre_x", "x of the wheel centre", centreX, Per.length, quantity.Signs{Plus: "forward", Minus: "rearward"}, 0.1},
	{"centre_y", "y of the wheel centre", centreY, Per.length, quantity.Signs{Plus: "to the left", Minus: "to the right"}, 0.1},
	{"centre_z", "z of the wheel centre", centreZ, Per.length, quantity.Signs{Plus: "up", Minus: "down"}, 0.1},
	{"patch_x", "x of the contact point", patchX, Per.length, quantity.Signs{Plus: "forward", Minus: "rearward"}, 0.1},
	{"patch_y", "y of the contact point", patchY, Per.length, quantity.Signs{Plus: "to the left", Minus: "to the right"}, 0.1},
	{"patch_z", "z of the contact point", patchZ, Per.length, quantity.Signs{Plus: "up", Minus: "down"}, 0.1},
}

// with is the reading in a case: with the brake locked the carrier's own point is read.
func (g genericReading) with(b Brake) genericReading {
	if d := b.at(g.direction); d != g.direction {
		g.direction, g.title = d, strings.Replace(g.title, "of the", "of the carrier at the", 1)
	}
	return g
}

// padReading is the change of a pad's force, offered in every case on level pads.
var padReading = genericReading{"pad_load", "change of the pad's force", directions, Per.force,
	quantity.Signs{Plus: "more load", Minus: "less load"}, 10}
