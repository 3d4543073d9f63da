package axlefile

import (
	"math"
	"strconv"
	"strings"
)

// digits is how many significant digits a written value keeps: finer than any
// measure of a part, and short enough to read.
const digits = 6

// cleanDigits is where the noise of a change of unit begins: two such changes
// cost two roundings of 1e-16.
const cleanDigits = 12

// rounded keeps six significant digits.
func rounded(x float64) float64 { return toDigits(x, digits) }

// clean takes the noise away that a change of unit leaves in the last digits.
func clean(x float64) float64 { return toDigits(x, cleanDigits) }

func toDigits(x float64, n int) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', n, 64), 64)
	if err != nil {
		return x
	}
	return y
}

// decimal writes a number with at most six significant digits.
func decimal(x float64) string { return shortest(rounded(x)) }

// shortest writes the fewest digits that read back as the same number, as TOML
// reads it: without an exponent between 0.0001 and ten million.
func shortest(x float64) string {
	size := math.Abs(x)
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return strings.ToLower(strings.TrimPrefix(strconv.FormatFloat(x, 'g', -1, 64), "+"))
	case size == 0:
		return "0"
	case size >= 1e-4 && size < 1e7:
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(x, 'e', -1, 64), "e")
	power, _ := strconv.Atoi(exponent)
	return mantissa + "e" + strconv.Itoa(power)
}
