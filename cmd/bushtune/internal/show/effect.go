package show

import (
	"strings"

	"bushtune/cases"
)

// effect is how a number is said in a sentence: who does what, by its sign, and
// what more, less or the other sign of it means on the road.
type effect struct {
	number      string
	subject     string
	plus, minus string    // what the subject does
	more, less  [2]string // of plus, of minus; may be empty
	turned      [2]string // to plus, to minus
}

// handed is an effect whose two signs have a name of their own.
func handed(number, subject, plus, minus, plusName, minusName string) effect {
	return effect{number: number, subject: subject, plus: plus, minus: minus,
		more:   [2]string{"more " + plusName, "more " + minusName},
		less:   [2]string{"less " + plusName, "less " + minusName},
		turned: [2]string{plusName + " instead of " + minusName, minusName + " instead of " + plusName}}
}

// effects lists the numbers that are said in words of their own; of the others their
// title is the subject.
func effects() []effect {
	either := func(number, subject, plus, minus, more, less string) effect {
		return effect{number: number, subject: subject, plus: plus, minus: minus, more: [2]string{more, more}, less: [2]string{less, less}}
	}
	return []effect{
		handed("lateral_force_steer", "the outer wheel", "toes in", "toes out", "understeer", "oversteer"),
		handed("total_outer_toe", "the outer wheel", "toes in", "toes out", "understeer", "oversteer"),
		handed("roll_steer", "the outer wheel", "toes in", "toes out", "understeer", "oversteer"),
		handed("mean_axle_steer", "the axle as a whole", "steers with the force", "steers against the force", "understeer", "oversteer"),
		either("lateral_force_camber", "the outer wheel", "leans top outward", "leans top inward", "less precise", "more precise"),
		either("lateral_compliance", "the outer wheel", "gives way inward", "gives way outward", "less precise", "more precise"),
		handed("aligning_steer", "the axle", "steers with the torque", "steers against the torque", "oversteer", "understeer"),
		{number: "longitudinal_compliance", subject: "the wheel", plus: "moves back", minus: "moves forward",
			more: [2]string{"softer", ""}, less: [2]string{"harsher", ""}},
		either("impact_toe", "the wheel", "toes in", "toes out", "the road steers more", "the road steers less"),
		{number: "brake_steer", subject: "the wheels", plus: "toe in", minus: "toe out", more: [2]string{"steadier", "less steady"},
			less: [2]string{"less steady", "steadier"}, turned: [2]string{"steadier", "less steady"}},
		either("brake_recession", "the wheel", "moves back", "moves forward", "softer on the brakes", "firmer on the brakes"),
		either("brake_wind_up", "the wheel carrier", "turns its top forward", "turns its top rearward", "softer on the brakes", "firmer on the brakes"),
		{number: "steer_neutral_point", subject: "the steer-neutral point", plus: "lies behind the wheel axis", minus: "lies ahead of the wheel axis"},
		{number: "roll_centre_kinematic", subject: "the roll centre, by its path,", plus: "lies above ground", minus: "lies below ground"},
		{number: "roll_centre_force", subject: "the roll centre, from forces,", plus: "lies above ground", minus: "lies below ground"},
		{number: "anti_lift_angle", subject: "the body", plus: "is held down", minus: "is lifted"},
		{number: "anti_lift_percent", subject: "the body", plus: "is held down", minus: "is lifted"},
		{number: "roll_angle", subject: "the body", plus: "leans outward", minus: "leans inward"},
		{number: "roll_camber", subject: "the outer wheel", plus: "leans top outward", minus: "leans top inward"},
		either("bump_steer", "the wheel", "toes in", "toes out", "the road steers more", "the road steers less"),
		{number: "bump_camber", subject: "the wheel", plus: "leans top outward", minus: "leans top inward"},
		{number: "track_change", subject: "the track", plus: "grows", minus: "shrinks"},
		{number: "wheelbase_change", subject: "the wheelbase", plus: "grows", minus: "shrinks"},
		{number: "wheel_rate", subject: "the wheel rate", more: [2]string{"harder springing"}, less: [2]string{"softer springing"}},
		{number: "ride_rate", subject: "the ride rate", more: [2]string{"harder springing"}, less: [2]string{"softer springing"}},
		{number: "roll_rate", subject: "the roll rate", more: [2]string{"less roll"}, less: [2]string{"more roll"}},
	}
}

// effectOf finds the words for a number.
func (v *view) effectOf(index int, alike bool) effect {
	n := &v.numbers[index]
	name := n.Name
	if name == "total_outer_toe" && v.noSideForce(index) {
		name = "brake_steer"
	}
	for _, e := range effects() {
		if e.number != name {
			continue
		}
		v.nameWheel(&e, index, alike)
		switch n.Where {
		case "centre":
			e.subject += " at its centre"
		case "patch":
			e.subject += " at the contact point"
		case "body":
			e.subject += ", seen from the body,"
		case "ground":
			e.subject += ", seen from the ground,"
		}
		return e
	}
	e := effect{subject: "the " + n.Title, plus: "is " + n.Signs.Plus, minus: "is " + n.Signs.Minus}
	if n.Generic {
		e.subject = "the " + n.Title + ","
	}
	return e
}

// nameWheel says which wheel does it where only one of them does: one is
// pushed alone, or the halves of the axle differ and no curve tells the outer one.
func (v *view) nameWheel(e *effect, index int, alike bool) {
	wheel := ""
	switch {
	case strings.Contains(v.numbers[index].Case, "_single"):
		wheel = "that wheel"
	case !alike && v.straightAhead(index):
		wheel = "the right wheel"
		if strings.HasSuffix(v.numbers[index].Case, cases.TurnRight) {
			wheel = "the left wheel"
		}
	}
	switch {
	case wheel == "" || !strings.Contains(e.subject, "wheel"):
	case e.subject == "the wheels":
		e.subject, e.plus, e.minus = wheel, "toes in", "toes out"
	case e.subject == "the wheel" || e.subject == "the outer wheel":
		e.subject = wheel
	}
}

// straightAhead tells whether a case has no side force, of an axle whose halves
// differ.
func (v *view) straightAhead(index int) bool {
	name, turned := strings.CutSuffix(v.numbers[index].Case, cases.TurnRight)
	_, two := v.titles[name+cases.TurnRight]
	return (two || turned) && v.noSideForce(index)
}

// noSideForce tells whether a case pushes both wheels alike and along the car.
func (v *view) noSideForce(index int) bool {
	name, _ := strings.CutSuffix(v.numbers[index].Case, cases.TurnRight)
	for _, st := range v.study.States() {
		if st.Name == name {
			return st.Lateral == 0
		}
	}
	return name == "braking" || name == "braking_inboard" || name == "impact" || name == "heave"
}

// situations are the cases as a driver meets them.
var situations = map[string]string{
	"cornering":          "under a side force",
	"cornering_floating": "under a side force, pads floating,",
	"aligning":           "under the tyres' aligning torque",
	"braking":            "under braking",
	"braking_single":     "braking on the outer wheel alone",
	"braking_inboard":    "under braking with inboard brakes",
	"impact":             "over a strip",
	"impact_single":      "over a strip under the outer wheel alone",
	"heave":              "over a bump under both wheels",
	"roll":               "in roll",
}

// situation says in which case a number is read, as the start of a sentence.
func (v *view) situation(index int) string {
	name, turned := strings.CutSuffix(v.numbers[index].Case, cases.TurnRight)
	words := situations[name]
	if words == "" {
		words, _, _ = strings.Cut(v.titles[name], ", 1 kN")
		if v.own(name) {
			words = "under " + words
		}
	}
	if turned && !v.straightAhead(index) {
		words += ", turning right,"
	}
	return strings.ToUpper(words[:1]) + words[1:]
}
