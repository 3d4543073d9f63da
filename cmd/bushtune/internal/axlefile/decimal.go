package axlefile

import (
	"math"
	"strconv"
	"strings"
)

// digits is how many significant digits a written value keeps: finer than any
// measure of a part, and short enough to read.
const digits = 6

// decimal writes a number with at most six significant digits, as TOML reads
// it: without an exponent between 0.0001 and ten million.
func decimal(x float64) string {
	short := strconv.FormatFloat(x, 'g', digits, 64)
	rounded, err := strconv.ParseFloat(short, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return strings.ToLower(short)
	}
	return shortest(rounded)
}

// shortest writes the fewest digits that read back as the same number.
func shortest(x float64) string {
	if size := math.Abs(x); size == 0 {
		return "0"
	} else if size >= 1e-4 && size < 1e7 {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	s := strconv.FormatFloat(x, 'e', -1, 64)
	mantissa, exponent, _ := strings.Cut(s, "e")
	power, _ := strconv.Atoi(exponent)
	return mantissa + "e" + strconv.Itoa(power)
}
