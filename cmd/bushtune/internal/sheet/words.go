package sheet

import (
	"math"
	"strconv"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/cmd/bushtune/internal/show"
)

// directionWords name the six directions on a page, in order.
var directionWords = [6]string{"soft radial", "axial", "stiff radial", "cone about soft", "torsion", "cone about stiff"}

// units are the written units of one kind of direction.
type units struct{ travel, load, rate quantity.Unit }

// unitsOf are those along a direction or about it.
func unitsOf(d bushing.Direction) units {
	if d >= bushing.ConeSoft {
		return units{quantity.Degree, quantity.NewtonMetre, quantity.NewtonMetrePerDegree}
	}
	return units{quantity.Millimetre, quantity.Newton, quantity.NewtonPerMillimetre}
}

// about tells whether a direction is a rotation.
func about(d bushing.Direction) bool { return d >= bushing.ConeSoft }

// figure writes a number with three significant digits at most.
func figure(x float64) string { return show.Significant(x, 3) }

// exactFigure writes a number as a person writes it in the axle file.
func exactFigure(x float64) string { return show.Significant(x, 6) }

// signed writes a number with its sign.
func signed(x float64) string {
	text := figure(x)
	if x > 0 && strings.Trim(text, "0.") != "" {
		return "+" + text
	}
	return text
}

// fixed writes a number with so many decimals; zero has no sign.
func fixed(x float64, decimals int) string {
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// nudge keeps a share that a search finds to 1e-10 from being cut to the digit below.
const nudge = 1e-7

// percent writes a share as a change, cut toward nothing so that a band never looks
// wider than it is: "+14 %", "-23 %", "-0.4 %".
func percent(share float64) string {
	scaled, decimals := 100*share, 0
	if math.Abs(scaled) < 10 {
		decimals = 1
	}
	unit := math.Pow(10, float64(decimals))
	cut := math.Trunc(scaled*unit+math.Copysign(nudge, scaled)) / unit
	text := fixed(cut, decimals)
	if cut > 0 {
		text = "+" + text
	}
	return text + " %"
}

// list joins words with commas and a last "and".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
