package compliance

import (
	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// maxLines is the largest number of lines of one element: a beam with two
// continuous ends has eight.
const maxLines = 8

// Lines is one element ready for assembly, in N, mm, rad, about the axle's
// centre.
type Lines[T exact.Number] struct {
	Count   int
	Rate    [maxLines]T               // N/mm, N·mm/rad; of a curved law the tangent where the static load leaves it
	Wrench  [maxLines]exact.Wrench[T] // G: unit wrench on To, its opposite on From
	Warp    [maxLines][2]T            // beam: strain per unit warping freedom at From and To
	Load    [maxLines]T               // installed load without strain, N or N·mm, tension positive
	Anchor  Anchor[T]
	AtZero  [maxLines]T              // rate at zero deflection, with which the static solve runs
	Curved  bool                     // some law is not linear; else nothing below counts or is kept
	Law     [maxLines]bushing.Law[T] // load of each line over its absolute deflection, To against From
	Radial  bushing.Radial[T]        // bush: if Coupled, the law of the lines soft and stiff together
	Settled [maxLines]float64        // deflection of each curved line at rest, mm or rad
	Cross   T                        // bush: N/mm between the lines soft and stiff where a static load leaves them
	Second  []secondOrder[T]         // beam: strains of the second order
	Wound   []secondOrder[T]         // beam: ∫τ²dx, of the rate of twist τ
	Helix   T                        // beam: N·mm³, rate of what of the helix strain of its fibres nothing else can undo: energy ½·Helix·(∫τ²dx)²
	last    carried                  // what carry last found
}

// Anchor is the geometry that a static load needs to act through: where the
// element holds its bodies and with what its force axes turn.
type Anchor[T exact.Number] struct {
	From, To exact.Vec[T] // points held, mm from the axle's centre; the same unless TwoPoint
	Lean     float64      // share of To's rotation, against From's, in that of the force axes
	TwoPoint bool         // the force keeps to the line through both points
	Slender  T            // 1/length in 1/mm of a two-point element
}

// secondOrder is a term of the second order in a strain: line strains by
// by·e_a·e_b on top of its linear strain.
type secondOrder[T exact.Number] struct {
	line, a, b int
	by         T
}

// add appends a line and returns its number.
func (l *Lines[T]) add(rate T, wrench exact.Wrench[T]) int {
	i := l.Count
	l.Rate[i], l.Wrench[i] = rate, wrench
	l.AtZero[i] = rate
	l.Count++
	return i
}

// reset empties the lines before an element writes them; add overwrites rates
// and wrenches.
func (l *Lines[T]) reset() {
	l.Count, l.Second, l.Wound, l.Helix = 0, l.Second[:0], l.Wound[:0], 0
	l.Warp, l.Load, l.Anchor = [maxLines][2]T{}, [maxLines]T{}, Anchor[T]{}
	l.Curved, l.Radial, l.Settled, l.Cross, l.last.known = false, bushing.Radial[T]{}, [maxLines]float64{}, 0, false
}

// copyFrom takes over the lines of another element, in memory of its own.
func (l *Lines[T]) copyFrom(other *Lines[T]) {
	second, wound := append(l.Second[:0], other.Second...), append(l.Wound[:0], other.Wound...)
	*l = *other
	l.Second, l.Wound = second, wound
}

// mirrorSigns turns a left-hand wrench or displacement into its mirror image.
var mirrorSigns = [6]float64{1, -1, 1, -1, 1, -1}

// mirror turns left-hand lines into those of the right side. Rates and loads
// stay; a rate of twist changes its sign, being the same rotation over a length
// that runs the other way.
func (l *Lines[T]) mirror() {
	for i := range l.Count {
		g := &l.Wrench[i]
		g[1], g[3], g[5] = -g[1], -g[3], -g[5]
		l.Warp[i] = [2]T{-l.Warp[i][0], -l.Warp[i][1]}
	}
	l.Anchor.From[1], l.Anchor.To[1] = -l.Anchor.From[1], -l.Anchor.To[1]
}
