package show

import (
	"math"
	"strconv"
	"strings"
)

// measure writes the value of a parameter, which has no step of its own, with
// four significant digits and no exponent.
func measure(x float64) string { return significant(x, 4) }

// significant writes a value with so many significant digits, without zeros at
// its end.
func significant(x float64, digits int) string {
	if x == 0 {
		return "0"
	}
	decimals := max(0, digits-1-int(math.Floor(math.Log10(math.Abs(x)))))
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// percent is the change from before to after in words; empty if it rounds to
// nothing or has no meaning.
func percent(before, after float64, more, less string) string {
	change := 100 * (after/before - 1)
	if math.IsNaN(change) || math.IsInf(change, 0) || math.Abs(change) < 0.5 {
		return ""
	}
	word := more
	if change < 0 {
		word = less
	}
	return strconv.FormatFloat(math.Abs(change), 'f', 0, 64) + " % " + word
}
