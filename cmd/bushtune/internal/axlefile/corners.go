package axlefile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/compliance"
)

// box is what [search] may do to one bush given by its dimensions: values of the
// parameters that move one of them, in their written units.
type box struct {
	index      int                // of the element
	element    compliance.Element // a copy whose slots are moved to and fro
	parameters []*Parameter
	start      []float64 // present values
}

// checkCorners reports searches that could end with a bush that nobody can make.
// Every condition of such a bush compares quantities that rise or fall with each
// dimension by itself, whatever the others are: over a box the worst of it lies
// at a corner, so the inside needs no look.
func (r *reader) checkCorners() {
	for i := range r.file.Axle.Elements {
		e := &r.file.Axle.Elements[i]
		if e.Kind != compliance.BushRubber {
			continue
		}
		b := box{index: i, element: *e}
		b.element.Slots = slices.Clone(e.Slots)
		for j := range r.file.Search {
			if p := &r.file.Search[j]; p.shapes(i, e.Kind) {
				b.parameters, b.start = append(b.parameters, p), append(b.start, p.Start)
			}
		}
		r.checkBox(&b)
	}
}

// shapes tells whether a parameter moves a dimension of an element.
func (p *Parameter) shapes(element int, kind *compliance.Kind) bool {
	return slices.ContainsFunc(p.Moves, func(m Move) bool {
		return m.Slot.Element == element && strings.HasPrefix(kind.Fields[m.Slot.Index].Name, rubberKey+".")
	})
}

// mostLooked is how many bad corners of a box are looked into; the first of them
// show what is wrong.
const mostLooked = 200

// checkBox tries every corner and tells each combination that cannot be made once.
func (r *reader) checkBox(b *box) {
	var low, high []float64
	for _, p := range b.parameters {
		low, high = append(low, p.From), append(high, p.To)
	}
	told, looked := map[string]bool{}, 0
	rubber.Corners(low, high, func(corner []float64) bool {
		for _, wrong := range b.wrongAt(corner) {
			looked++
			x := b.fewest(corner, wrong.Slot)
			if combination := fmt.Sprint(x, wrong.Slot); !told[combination] {
				told[combination] = true
				r.tellCorner(b, x, wrong.Slot)
			}
		}
		return looked < mostLooked
	})
}

// wrongAt is what cannot be made where the parameters have the values x.
func (b *box) wrongAt(x []float64) []*bushing.SlotError {
	for i, p := range b.parameters {
		for _, m := range p.Moves {
			if m.Slot.Element == b.index {
				b.element.Slots[m.Slot.Index] = m.At(x[i])
			}
		}
	}
	return wrongSlots(b.element.Check())
}

// reasonAt is why a key is wrong at x; empty if it is not.
func (b *box) reasonAt(x []float64, slot string) string {
	for _, wrong := range b.wrongAt(x) {
		if wrong.Slot == slot {
			return wrong.Reason
		}
	}
	return ""
}

// fewest puts back to its present value every parameter that is not needed to
// make a key wrong. What the first round must keep, because without it another key
// is wrong, the second can often put back.
func (b *box) fewest(corner []float64, slot string) []float64 {
	x := slices.Clone(corner)
	for range 2 {
		for i := range x {
			at := x[i]
			if x[i] = b.start[i]; b.reasonAt(x, slot) == "" {
				x[i] = at
			}
		}
	}
	return x
}

// tellCorner reports one combination at the last of its parameters, with how far
// that one may go in it.
func (r *reader) tellCorner(b *box, x []float64, slot string) {
	var others []string
	last := -1
	for i := range x {
		if x[i] == b.start[i] {
			continue
		}
		if last >= 0 {
			others = append(others, b.parameters[last].Path+" at "+b.parameters[last].written(x[last]))
		}
		last = i
	}
	if last < 0 { // the present values, told before but for rounding
		return
	}
	p := b.parameters[last]
	wrong := "at " + p.written(x[last])
	if others != nil {
		wrong += " with " + strings.Join(others, " and ")
	}
	wrong += " the bush cannot be made: " + slot + " " + b.reasonAt(x, slot)
	from, to := p.From, p.To
	if bound := b.farthest(x, last, slot); x[last] > p.Start {
		to = bound
	} else {
		from = bound
	}
	r.wrong(p.Line, searchSection+"."+p.Path, wrong, decimal(from)+" to "+p.written(to), "")
}

// written is a value of a parameter with its unit.
func (p *Parameter) written(x float64) string {
	return strings.TrimSpace(decimal(x) + " " + p.Unit.Name)
}

// Halvings of the way from the present value to a corner find the farthest value
// to far more digits than are told; onStep is what they leave, in told digits, of
// a bound that lies on one.
const (
	halvings = 30
	onStep   = 1e-4
)

// farthest is how far one parameter may go from its present value towards x while
// the others stay there, to three digits of the way.
func (b *box) farthest(x []float64, last int, slot string) float64 {
	start := b.start[last]
	try, good, bad := slices.Clone(x), start, x[last]
	for range halvings {
		try[last] = (good + bad) / 2
		if b.reasonAt(try, slot) == "" {
			good = try[last]
		} else {
			bad = try[last]
		}
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(x[last]-start)))-2)
	if x[last] > start {
		return max(math.Floor(good/step+onStep)*step, start)
	}
	return min(math.Ceil(good/step-onStep)*step, start)
}
