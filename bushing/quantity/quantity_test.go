package quantity

import (
	"math"
	"testing"
)

// rounding is two roundings: one to read, one to print.
const rounding = 2.5e-16

// Inside the program is mm, N, rad, t, s: each unit against its definition in
// those, written out here.
func TestUnitsAgainstDefinitions(t *testing.T) {
	const deg = math.Pi / 180
	const metre, kilogram, kilonewton = 1e3, 1e-3, 1e3
	for _, c := range []struct {
		unit Unit
		want float64
	}{
		{None, 1}, {Millimetre, 1}, {Newton, 1}, {Kilonewton, kilonewton}, {NewtonPerMillimetre, 1}, {NewtonPerRadian, 1}, {Megapascal, 1},
		{Newton, kilogram * metre}, // N = kg·m/s²
		{NewtonMetrePerDegree, metre / deg}, {NewtonMetrePerRadian, metre}, {NewtonMetre, metre}, {Degree, deg},
		{DegreePerKilonewtonM, deg / (kilonewton * metre)}, {Kilogram, kilogram}, {Gravity, 9.80665 * metre},
		{SquareMillimetre, 1}, {PerSquareMillimetre, 1}, {Millimetre4, 1}, {Millimetre6, 1},
		{DegreePerKilonewton, deg / kilonewton}, {DegreePer100NewtonM, deg / (100 * metre)}, {MillimetrePerKilonewton, 1 / kilonewton},
	} {
		if math.Abs(c.unit.Factor-c.want) > rounding*2*c.want {
			t.Errorf("%s: factor %.17g, want %.17g", c.unit.Name, c.unit.Factor, c.want)
		}
	}
}

// Reading and printing give the number back.
func TestUnitsRoundTrip(t *testing.T) {
	for _, u := range []Unit{NewtonMetrePerDegree, Degree, DegreePerKilonewtonM, Kilogram, Gravity, DegreePer100NewtonM} {
		for _, written := range []float64{0, 1, -23, 8.7, 0.02, 1e-12, 1e9} {
			if got := written * u.Factor / u.Factor; math.Abs(got-written) > rounding*math.Abs(written) {
				t.Errorf("%g %s comes back as %.17g", written, u.Name, got)
			}
		}
	}
}

// Both ends of a range belong to it unless Above; nothing that is no number does.
func TestAllowsAtTheEdges(t *testing.T) {
	closed := Field{Min: -2, Max: 3}
	open := Field{Min: 0, Max: 3, Above: true}
	for _, c := range []struct {
		field   Field
		written float64
		want    bool
	}{
		{closed, -2, true}, {closed, 3, true}, {closed, 0, true},
		{closed, math.Nextafter(-2, -3), false}, {closed, math.Nextafter(3, 4), false},
		{closed, math.NaN(), false}, {closed, math.Inf(1), false}, {closed, math.Inf(-1), false},
		{open, 0, false}, {open, math.Copysign(0, -1), false}, {open, math.SmallestNonzeroFloat64, true}, {open, 3, true}, {open, math.NaN(), false},
	} {
		if got := c.field.Allows(c.written); got != c.want {
			t.Errorf("Allows(%g) in %g…%g (above %v) = %v", c.written, c.field.Min, c.field.Max, c.field.Above, got)
		}
	}
}

func TestFieldMakers(t *testing.T) {
	point, vector := Point("at", "somewhere"), Vector("preload", Newton, "a load")
	for i, axis := range []string{"x", "y", "z"} {
		if p := point[i]; p.Name != "at."+axis || p.Unit != Millimetre || !p.Required || p.Meaning != "somewhere" || !p.Allows(-Far) {
			t.Errorf("point: %+v", p)
		}
		if v := vector[i]; v.Name != "preload."+axis || v.Unit != Newton || v.Required || v.Default != 0 {
			t.Errorf("vector: %+v", v)
		}
	}
	if r := Rate("soft", NewtonPerMillimetre, "rate"); !r.Allows(0) || r.Allows(-1) || r.Required {
		t.Errorf("rate: %+v", r)
	}
	if a := Angle("plan", "angle"); !a.Allows(180) || !a.Allows(-180) || a.Allows(181) || a.Unit != Degree {
		t.Errorf("angle: %+v", a)
	}
}
