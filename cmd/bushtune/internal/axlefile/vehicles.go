package axlefile

import (
	"math"
	"strings"

	"bushtune/cases"
)

// vehicleKeys lists the keys of [vehicle].
func vehicleKeys() []key {
	return append(keysOf(cases.VehicleFields),
		key{name: "tyre_in_series", form: truth, meaning: "true: level pads reach the wheels through the vertical rate of the tyres; absent: false"},
		key{name: "static_load", form: truth, meaning: "whether the linear answer includes the load at rest; absent: true if mass and rear_share are given"})
}

// readVehicle reads [vehicle] and puts its static load on the axle.
func (r *reader) readVehicle(root *table) {
	t := root.sub(vehicleSection)
	c := newContent(vehicleSection, t.line, defaultSlots(cases.VehicleFields))
	r.fill(c, t, vehicleKeys(), true)
	v := cases.NewVehicle(c.slots)
	v.TyreInSeries = c.flags["tyre_in_series"]
	v.StaticLoad = !math.IsNaN(v.Mass) && !math.IsNaN(v.RearShare)
	if e := c.given["static_load"]; e != nil {
		v.StaticLoad = c.flags["static_load"]
	}
	if e := c.given["tyre_in_series"]; e != nil && v.TyreInSeries && math.IsNaN(v.TyreRate) && c.given["tyre_rate"] == nil {
		r.wrong(e.line, vehicleSection+".tyre_in_series", "needs the rate of the tyre", "", "give tyre_rate")
	}
	static, missing := v.Static()
	if lost := notGiven(missing, c); len(lost) > 0 {
		r.wrong(c.given["static_load"].line, vehicleSection+".static_load", "the load at rest needs "+strings.Join(lost, " and "), "", "give "+strings.Join(lost, " and ")+", or static_load = false")
	}
	r.file.Vehicle, r.file.Axle.Static = v, static
}

// notGiven leaves out the keys that stand in the file but are wrong, which is
// told already.
func notGiven(missing []string, c *content) []string {
	var lost []string
	for _, name := range missing {
		if c.given[name] == nil {
			lost = append(lost, name)
		}
	}
	return lost
}
