// Package quantity describes the numbers of the axle file: their unit, their
// allowed range and their meaning. Inside the program every number is in mm, N,
// rad, t, s and what follows from them; the scale to the written unit is
// applied once on reading and once on printing.
package quantity

import "math"

// Unit is a written unit: a value inside the program is Factor times the
// written value.
type Unit struct {
	Name   string
	Factor float64
}

const degree = math.Pi / 180

// The units of the axle file. Inside: mm, N, rad, N·mm, t (= N·s²/mm), MPa.
var (
	None                    = Unit{"", 1}
	Millimetre              = Unit{"mm", 1}
	Newton                  = Unit{"N", 1}
	Kilonewton              = Unit{"kN", 1e3}
	NewtonPerMillimetre     = Unit{"N/mm", 1}
	NewtonMetrePerDegree    = Unit{"N·m/deg", 1e3 / degree}
	NewtonPerRadian         = Unit{"N/rad", 1}
	NewtonMetrePerRadian    = Unit{"N·m/rad", 1e3}
	NewtonMetre             = Unit{"N·m", 1e3}
	Degree                  = Unit{"deg", degree}
	DegreePerKilonewtonM    = Unit{"deg/(kN·m)", degree / 1e6}
	Kilogram                = Unit{"kg", 1e-3}
	Megapascal              = Unit{"MPa", 1}
	Hardness                = Unit{"IRHD", 1}
	Hertz                   = Unit{"Hz", 1}
	Gravity                 = Unit{"g", StandardGravity}
	SquareMillimetre        = Unit{"mm²", 1}
	PerSquareMillimetre     = Unit{"1/mm²", 1}
	Millimetre4             = Unit{"mm⁴", 1}
	Millimetre6             = Unit{"mm⁶", 1}
	DegreePerKilonewton     = Unit{"deg/kN", degree / 1e3}
	DegreePer100NewtonM     = Unit{"deg/(100 N·m)", degree / 1e5}
	MillimetrePerKilonewton = Unit{"mm/kN", 1e-3}
)

// StandardGravity is 9.80665 m/s² (ISO 80000-3) in mm/s².
const StandardGravity = 9806.65

// Field describes one slot: one number that the author of an axle file writes.
// A vector is three fields named "at.x", "at.y", "at.z".
type Field struct {
	Name     string  // key in the file
	Unit     Unit    // written unit
	Min, Max float64 // allowed range in the written unit, both ends included
	Above    bool    // Min itself is not allowed
	Required bool    // no default: the key must be there
	Default  float64 // taken when the key is absent, in the written unit; may lie outside the range, Meaning says what it stands for
	Meaning  string  // one line for a person
}

// Allows tells whether a written value is inside the range of the field.
func (f Field) Allows(written float64) bool {
	if math.IsNaN(written) || written > f.Max || written < f.Min {
		return false
	}
	return !f.Above || written != f.Min
}

// Point returns the three fields of a required point or direction in mm.
func Point(name, meaning string) []Field {
	return vector(name, Millimetre, true, meaning)
}

// Vector returns the three fields of an optional vector, zero when absent.
func Vector(name string, unit Unit, meaning string) []Field {
	return vector(name, unit, false, meaning)
}

func vector(name string, unit Unit, required bool, meaning string) []Field {
	fields := make([]Field, 3)
	for i, axis := range []string{".x", ".y", ".z"} {
		fields[i] = Field{Name: name + axis, Unit: unit, Min: -Far, Max: Far, Required: required, Meaning: meaning}
	}
	return fields
}

// Far bounds lengths and components that have no tighter limit of their own.
const Far = 1e6

// Rate returns the field of a rate that may be zero and is zero when absent.
func Rate(name string, unit Unit, meaning string) Field {
	return Field{Name: name, Unit: unit, Min: 0, Max: 1e9, Meaning: meaning}
}

// Angle returns the field of an angle of at most 180 deg either way, zero when absent.
func Angle(name, meaning string) Field {
	return Field{Name: name, Unit: Degree, Min: -180, Max: 180, Meaning: meaning}
}
