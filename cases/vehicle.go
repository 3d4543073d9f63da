package cases

import (
	"math"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// Vehicle holds what the numbers need to know of the car around the axle, in
// internal units. A value that is not given is NaN; numbers that need it are
// then not offered.
type Vehicle struct {
	Mass            float64 // t, whole car
	RearShare       float64 // share of Mass on the rear wheels
	Wheelbase       float64 // mm
	GravityHeight   float64 // mm, centre of gravity above ground
	Unsprung        float64 // t per rear wheel
	RearBrakeShare  float64 // share of the braking force at the rear wheels
	FrontRollRate   float64 // N·mm/rad, body to ground without tyres
	FrontRollCentre float64 // mm above ground
	RearRollShare   float64 // share of the lateral load transfer taken by the rear wheels
	Trail           float64 // mm, pneumatic trail behind the contact point
	TyreRate        float64 // N/mm, vertical

	TyreInSeries bool // level pads reach the wheel through the vertical tyre rate
	StaticLoad   bool // the linear answer includes the load at rest
}

// The slots of a vehicle by number, in the order of VehicleFields.
const (
	slotMass = iota
	slotRearShare
	slotWheelbase
	slotGravityHeight
	slotUnsprung
	slotRearBrakeShare
	slotFrontRollRate
	slotFrontRollCentre
	slotRearRollShare
	slotTrail
	slotTyreRate
	vehicleSlots
)

// VehicleFields lists the numbers of a vehicle in the order that NewVehicle
// reads. All are optional; a default of NaN means absent.
var VehicleFields = []quantity.Field{
	slotMass:            optional("mass", quantity.Kilogram, 0, 1e5, "mass of the whole car"),
	slotRearShare:       optional("rear_share", quantity.None, 0, 1, "share of the mass on the rear wheels"),
	slotWheelbase:       optional("wheelbase", quantity.Millimetre, 0, 2e4, "distance between front and rear wheel axes"),
	slotGravityHeight:   optional("cg_height", quantity.Millimetre, 0, 1e4, "centre of gravity above ground"),
	slotUnsprung:        {Name: "unsprung", Unit: quantity.Kilogram, Min: 0, Max: 1e4, Meaning: "mass that moves with one rear wheel; absent: 0"},
	slotRearBrakeShare:  optional("rear_brake_share", quantity.None, 0, 1, "share of the braking force at the rear wheels"),
	slotFrontRollRate:   optional("front_roll_rate", quantity.NewtonMetrePerDegree, 0, 1e7, "roll rate of the front axle, tyres not included"),
	slotFrontRollCentre: {Name: "front_roll_centre", Unit: quantity.Millimetre, Min: -2000, Max: 2000, Default: math.NaN(), Meaning: "height of the front roll centre above ground"},
	slotRearRollShare:   {Name: "rear_roll_share", Unit: quantity.None, Min: 0, Max: 1, Default: math.NaN(), Meaning: "share of the lateral load transfer at the rear wheels; absent: from roll rates and roll centres, the rear ones from the axle"},
	slotTrail:           {Name: "trail", Unit: quantity.Millimetre, Min: -500, Max: 500, Meaning: "pneumatic trail: how far behind the contact point the lateral force of a vehicle state acts; absent: 0"},
	slotTyreRate:        optional("tyre_rate", quantity.NewtonPerMillimetre, 0, 1e6, "vertical rate of one tyre"),
}

// optional is a field above a minimum that is absent unless written.
func optional(name string, unit quantity.Unit, low, high float64, meaning string) quantity.Field {
	return quantity.Field{Name: name, Unit: unit, Min: low, Above: true, Max: high, Default: math.NaN(), Meaning: meaning}
}

// NewVehicle reads a vehicle from its slots in the order of VehicleFields, in
// internal units, NaN for what is not given.
func NewVehicle(s []float64) Vehicle {
	return Vehicle{
		Mass: s[slotMass], RearShare: s[slotRearShare], Wheelbase: s[slotWheelbase], GravityHeight: s[slotGravityHeight],
		Unsprung: s[slotUnsprung], RearBrakeShare: s[slotRearBrakeShare], FrontRollRate: s[slotFrontRollRate],
		FrontRollCentre: s[slotFrontRollCentre], RearRollShare: s[slotRearRollShare], Trail: s[slotTrail], TyreRate: s[slotTyreRate],
	}
}

// UnknownVehicle is a vehicle of which nothing is given.
func UnknownVehicle() Vehicle {
	slots := make([]float64, len(VehicleFields))
	for i, f := range VehicleFields {
		slots[i] = f.Default * f.Unit.Factor
	}
	return NewVehicle(slots)
}

// Slots is the inverse of NewVehicle: in the order of VehicleFields, internal units, NaN for what is not given.
func (v *Vehicle) Slots() [vehicleSlots]float64 {
	return [vehicleSlots]float64{
		slotMass: v.Mass, slotRearShare: v.RearShare, slotWheelbase: v.Wheelbase, slotGravityHeight: v.GravityHeight,
		slotUnsprung: v.Unsprung, slotRearBrakeShare: v.RearBrakeShare, slotFrontRollRate: v.FrontRollRate,
		slotFrontRollCentre: v.FrontRollCentre, slotRearRollShare: v.RearRollShare, slotTrail: v.Trail, slotTyreRate: v.TyreRate,
	}
}

// missing names the values among needs that are not given.
func (v *Vehicle) missing(needs []int) []string {
	slots := v.Slots()
	var names []string
	for _, n := range needs {
		if math.IsNaN(slots[n]) {
			names = append(names, VehicleFields[n].Name)
		}
	}
	return names
}

// WheelLoad is the load of one rear wheel on the ground at rest in N.
func (v *Vehicle) WheelLoad() float64 {
	return v.Mass * v.RearShare * quantity.StandardGravity / 2
}

// Static is the load at rest for the compliance model. It is nil if the choice
// static_load is off; missing names the values that it needs and lacks.
func (v *Vehicle) Static() (static *compliance.Static, missing []string) {
	if !v.StaticLoad {
		return nil, nil
	}
	if missing = v.missing([]int{slotMass, slotRearShare}); missing != nil {
		return nil, missing
	}
	load := v.WheelLoad()
	return &compliance.Static{WheelLoad: [2]float64{load, load}, Unsprung: [2]float64{v.Unsprung, v.Unsprung}}, nil
}
