// Package plausible tells what of an axle is unusual: a value outside the range in
// which its like is found, or values that do not fit each other. Nothing of it is
// an error, because everything of it can be meant; a note says what is usual and,
// where one explains the value, the likely slip.
//
// The usual ranges are data, one row a check: keys.go for the keys of an axle
// file, numbers.go for the numbers that an axle answers, wide.go for the axle as a
// whole. All of them are common practice, no source.
package plausible

import (
	"math"
	"strconv"
	"strings"

	"bushtune/bushing/quantity"
)

// Range is the usual range of one number in its written unit, both ends included.
type Range struct {
	Key      string // of a key: table and name, "bush.soft"; of a number of the answer its name
	Unit     quantity.Unit
	From, To float64
	Least    float64  // a value nearer to zero, and not zero, is unusual; 0: none is
	Why      string   // what the ends stand for
	For      []string // of a beam the shapes, of a number the places that it holds for; nil: any
}

// Usual tells whether a written value lies in the range.
func (r *Range) Usual(written float64) bool {
	return written >= r.From && written <= r.To && (written == 0 || math.Abs(written) >= r.Least)
}

// String is the range in words: "60 to 20000 N/mm".
func (r *Range) String() string {
	return strings.TrimSpace(digits(r.From) + " to " + digits(r.To) + " " + r.Unit.Name)
}

// Note is one thing that is unusual.
type Note struct {
	Check string  // the row that tells it: "bush.soft", "ride_frequency"
	Key   string  // path of the value or part as in an axle file, "bush.pivot.right.soft"; empty: the axle as a whole
	Value float64 // in Unit; of a note without a number 0
	Unit  string
	Text  string // what is unusual: "550000 N/mm"
	Usual string // "60 to 20000 N/mm"
	Slip  string // "N/m written for N/mm?"; may be empty
	Plain bool   // Text is the bare value, so that it can be quoted as it is written
}

// String is the note on one line.
func (n *Note) String() string {
	text := n.Text
	if n.Key != "" {
		text = n.Key + ": " + text
	}
	if n.Slip != "" {
		text += "; " + n.Slip
	}
	return text + "; usual: " + n.Usual
}

// note is what the range says of a value under a path; false if it is usual.
func (r *Range) note(path string, written float64) (Note, bool) {
	if r.Usual(written) {
		return Note{}, false
	}
	return Note{Check: r.Key, Key: path, Value: written, Unit: r.Unit.Name, Plain: true,
		Text: strings.TrimSpace(digits(written) + " " + r.Unit.Name), Usual: r.String(), Slip: r.slip(written)}, true
}

// slip is one way in which a number is written in another unit or sense: Factor
// times what stands there would have been right.
type slip struct {
	unit   string
	factor float64
	words  string
	keys   string // a part of the keys that it is for; empty: any
}

const perDegree = 180 / math.Pi

// slips are tried in this order for ranges of both signs; for others the one that
// leads nearest to the middle of the range is named.
var slips = []slip{
	{"N/mm", 1e-3, "N/m written for N/mm", ""},
	{"N/mm", 1e3, "kN/mm written for N/mm", ""},
	{"N/mm", 9.80665, "kgf/mm written for N/mm", ""},
	{"N/mm", 0.175127, "lbf/in written for N/mm", ""},
	{"N·m/deg", 1 / perDegree, "N·m/rad written for N·m/deg", ""},
	{"N·m/deg", 1e-3, "N·mm/deg written for N·m/deg", ""},
	{"N·m/deg", 1e-3 / perDegree, "N·mm/rad written for N·m/deg", ""},
	{"N·m/deg", 1e3, "kN·m/deg written for N·m/deg", ""},
	{"N·m/rad", perDegree, "N·m/deg written for N·m/rad", ""},
	{"N·m/rad", 1e-3, "N·mm/rad written for N·m/rad", ""},
	{"mm", 0.5, "a diameter written for a radius", "radius"},
	{"mm", 0.5, "the track written for half of it", "wheel.centre.y"},
	{"mm", 0.5, "the whole length written for half of it", "ends_y"},
	{"mm", 2, "a radius written for a diameter", "diameter"},
	{"mm", 1e3, "m written for mm", ""},
	{"mm", 10, "cm written for mm", ""},
	{"mm", 25.4, "inches written for mm", ""},
	{"mm", 1e-3, "µm written for mm", ""},
	{"mm", -1, "the wrong sign", ""},
	{"deg", perDegree, "radians written for degrees", ""},
	{"deg", 1. / 60, "minutes of arc written for degrees", "wheel."},
	{"deg", 0.5, "the whole angle written for half of it", "half_angle"},
	{"N", 1e3, "kN written for N", ""},
	{"N", 9.80665, "kgf written for N", ""},
	{"N", 4.448222, "lbf written for N", ""},
	{"N·m", 1e-3, "N·mm written for N·m", ""},
	{"kg", 0.5, "the mass of both wheels written for one", "unsprung"},
	{"kg", 1e3, "t written for kg", ""},
	{"kg", 1e-3, "g written for kg", ""},
	{"kg", 0.45359237, "lb written for kg", ""},
	{"MPa", 1e3, "GPa written for MPa", ""},
	{"MPa", 1e-3, "kPa written for MPa", ""},
	{"MPa", 1e-6, "Pa written for MPa", ""},
	{"MPa", 0.00689476, "psi written for MPa", ""},
	{"deg/(kN·m)", perDegree, "rad/(kN·m) written for deg/(kN·m)", ""},
	{"deg/(kN·m)", 1e3, "deg/(N·m) written for deg/(kN·m)", ""},
	{"deg/(kN·m)", 1. / 60, "minutes of arc written for degrees", ""},
	{"mm²", 100, "cm² written for mm²", ""},
	{"mm⁴", 1e4, "cm⁴ written for mm⁴", ""},
	{"mm⁶", 1e6, "cm⁶ written for mm⁶", ""},
	{"g", 1 / 9.80665, "m/s² written for g", ""},
	{"", 0.01, "percent written for a share", "share"},
	{"kN", 1e-3, "N written for kN", ""},
}

// leastSlip is by how much a value must lie outside before a slip of any key is named:
// a value just outside is nobody's slip of a unit.
const leastSlip = 1.25

// slip names the likely slip behind an unusual value; empty if none explains it.
func (r *Range) slip(written float64) string {
	if r.Unit.Name == "1/mm²" && written > 0 && r.Usual(1/written) {
		return "the shear area written for one over it?"
	}
	best, nearest := "", math.Inf(1)
	for _, s := range slips {
		if s.unit != r.Unit.Name || !strings.Contains(r.Key, s.keys) || !r.Usual(written*s.factor) || s.keys == "" && r.outside(written) < leastSlip {
			continue
		}
		if r.From < 0 && 0 < s.factor && s.factor <= 1e-3 && r.outside(written)*math.Sqrt(s.factor) < 1 {
			continue // a thousandth of it is next to nothing, which such a range allows but nobody means
		}
		off := 0.0 // of a range of both signs, or where the key itself names the slip
		if r.From > 0 && s.keys == "" {
			off = math.Abs(math.Log(written * s.factor / math.Sqrt(r.From*r.To)))
		}
		if off < nearest {
			best, nearest = s.words+"?", off
		}
	}
	return best
}

// outside is by which factor a value lies outside the range.
func (r *Range) outside(written float64) float64 {
	switch {
	case written > r.To && r.To > 0:
		return written / r.To
	case written < r.From && r.From < 0:
		return written / r.From
	case written < r.From && written > 0:
		return r.From / written
	case written != 0 && math.Abs(written) < r.Least:
		return r.Least / math.Abs(written)
	}
	return math.Inf(1)
}

// printed is how many significant digits a note prints.
const printed = 4

// digits writes a number without exponent, in few digits.
func digits(v float64) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', printed, 64), 64)
	if rounded == 0 {
		return "0"
	}
	if math.Abs(rounded) >= 1e7 || math.Abs(rounded) < 1e-5 {
		return strings.Replace(strconv.FormatFloat(rounded, 'g', -1, 64), "e+0", "e", 1)
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
