package plausible

import "bushtune/bushing/quantity"

// numbers are the usual ranges of the numbers of the answer: of every case on level
// pads where a case has them, of states at 0.4 g. They are also those of wants for
// small loads. Common practice, no source.
var numbers = []Range{
	{Key: "lateral_force_steer", Unit: quantity.DegreePerKilonewton, From: -0.6, To: 0.3},
	{Key: "mean_axle_steer", Unit: quantity.DegreePerKilonewton, From: -0.6, To: 0.3},
	{Key: "lateral_force_camber", Unit: quantity.DegreePerKilonewton, From: -0.1, To: 1},
	{Key: "lateral_compliance", Unit: quantity.MillimetrePerKilonewton, From: 0.02, To: 8},
	{Key: "aligning_steer", Unit: quantity.DegreePer100NewtonM, From: 0.001, To: 0.8},
	{Key: "steer_neutral_point", Unit: quantity.Millimetre, From: -1500, To: 1500},
	{Key: "longitudinal_compliance", Unit: quantity.MillimetrePerKilonewton, From: 0.01, To: 10},
	{Key: "impact_toe", Unit: quantity.DegreePerKilonewton, From: -0.6, To: 0.6},
	{Key: "brake_steer", Unit: quantity.DegreePerKilonewton, From: -0.6, To: 0.6},
	{Key: "brake_recession", Unit: quantity.MillimetrePerKilonewton, From: -3, To: 15},
	{Key: "brake_wind_up", Unit: quantity.DegreePerKilonewton, From: -0.5, To: 6},
	{Key: "anti_lift_percent", Unit: quantity.Percent, From: -60, To: 300},
	{Key: "wheel_rate", Unit: quantity.NewtonPerMillimetre, From: 6, To: 350},
	{Key: "ride_rate", Unit: quantity.NewtonPerMillimetre, From: 5, To: 250},
	{Key: "roll_rate", Unit: quantity.NewtonMetrePerDegree, From: 30, To: 4000},
	{Key: "roll_steer", Unit: quantity.DegreePerDegree, From: -0.2, To: 0.3},
	{Key: "roll_camber", Unit: quantity.DegreePerDegree, From: -1.3, To: 0.3, For: []string{"body"}},
	{Key: "roll_centre_kinematic", Unit: quantity.Millimetre, From: -150, To: 450},
	{Key: "roll_centre_force", Unit: quantity.Millimetre, From: -150, To: 450},
	{Key: "bump_steer", Unit: quantity.DegreePerMetre, From: -20, To: 20},
	{Key: "bump_camber", Unit: quantity.DegreePerMetre, From: -70, To: 15},
	{Key: "track_change", Unit: quantity.MillimetrePerMetre, From: -500, To: 900},
	{Key: "wheelbase_change", Unit: quantity.MillimetrePerMetre, From: -400, To: 400},
	{Key: "total_outer_toe", Unit: quantity.Degree, From: -0.8, To: 0.8},
	{Key: "roll_angle", Unit: quantity.Degree, From: 0.1, To: 4.5},
}
