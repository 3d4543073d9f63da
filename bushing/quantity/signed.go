package quantity

import (
	"math"
	"strconv"
)

// The units of numbers that only come out: ratios and readings under a load.
var (
	Percent                 = Unit{"%", 0.01}
	DegreePerDegree         = Unit{"deg/deg", 1}
	DegreePerMetre          = Unit{"deg/m", degree / 1e3}
	MillimetrePerMetre      = Unit{"mm/m", 1e-3}
	NewtonPerKilonewton     = Unit{"N/kN", 1e-3}
	MillimetrePer100NewtonM = Unit{"mm/(100 N·m)", 1e-5}
	NewtonPer100NewtonM     = Unit{"N/(100 N·m)", 1e-5}
)

// Written returns a value inside the program in the written unit.
func (u Unit) Written(inside float64) float64 { return inside / u.Factor }

// Signs are the words for the two signs of a number: "toe-in", "toe-out".
type Signs struct{ Plus, Minus string }

// Reading is a number ready to print.
type Reading struct {
	Text  string  // rounded
	Value float64 // what Text says
	Words string  // the word for its sign; empty for zero
}

// Read rounds a written value so that the last place is a tenth of the
// just-noticeable step, and finds the word for its sign. Zero has no sign.
func (s Signs) Read(written, step float64) Reading {
	digits := Decimals(step)
	text := strconv.FormatFloat(written, 'f', digits, 64)
	value, _ := strconv.ParseFloat(text, 64)
	if value == 0 {
		text, value = strconv.FormatFloat(0, 'f', digits, 64), 0
	}
	r := Reading{Text: text, Value: value}
	switch {
	case value > 0:
		r.Words = s.Plus
	case value < 0:
		r.Words = s.Minus
	}
	return r
}

// Decimals is the number of decimal places whose last is at most a tenth of step.
func Decimals(step float64) int {
	return max(0, int(math.Ceil(1-math.Log10(step)-1e-9)))
}
