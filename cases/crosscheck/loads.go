package crosscheck

// Amplitudes of the loads: the analysis is linear.
const (
	unitForce  = 1000.0   // N, 1 kN
	unitMoment = 200000.0 // N·mm, 200 N·m
)

// Load acts on one wheel's body: a force at the patch or at the wheel centre
// and a moment. Vehicle axes on both sides, N and N·mm.
type Load struct {
	AtPatch  Point // force at the contact patch
	AtCentre Point // force at the wheel centre
	Moment   Point
}

// Case is a load case. Level pads hold the height of both patches, floating
// pads their vertical force.
type Case struct {
	Name        string
	Level       bool
	Left, Right Load
}

// Cases are the load cases of the cross-check. The turn is to the left: the
// lateral force is +y and the right wheel is the outer one.
func Cases() []Case {
	lateral := Load{AtPatch: Point{0, unitForce, 0}}
	outward := Load{AtPatch: Point{0, -unitForce, 0}}
	impact := Load{AtCentre: Point{-unitForce, 0, 0}}
	brake := Load{AtPatch: Point{-unitForce, 0, 0}}
	align := Load{Moment: Point{0, 0, unitMoment}}
	up := Load{AtPatch: Point{0, 0, unitForce}}
	down := Load{AtPatch: Point{0, 0, -unitForce}}
	none := Load{}
	return []Case{
		{"lateral parallel", true, lateral, lateral},
		{"lateral single", true, none, lateral},
		{"lateral opposed", true, lateral, outward},
		{"braking both", true, brake, brake},
		{"braking single", true, none, brake},
		{"impact both", true, impact, impact},
		{"impact single", true, none, impact},
		{"aligning torque", true, align, align},
		{"lateral parallel", false, lateral, lateral},
		{"lateral single", false, none, lateral},
		{"heave", false, up, up},
		{"roll couple", false, up, down},
	}
}
