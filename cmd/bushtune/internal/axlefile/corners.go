package axlefile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bushtune/bushing/rubber"
	"bushtune/compliance"
)

// box is what [search] may do to one bush given by its dimensions.
type box struct {
	element    compliance.Element // its slots are moved to and fro
	parameters []*Parameter       // those that move a dimension
}

// checkCorners reports searches that could end with a bush that nobody can make.
// Every condition of such a bush compares quantities that rise or fall with each
// dimension by itself, whatever the others are: over a box the worst of it lies
// at a corner, so the inside needs no look.
func (r *reader) checkCorners() {
	for i := range r.file.Axle.Elements {
		if e := &r.file.Axle.Elements[i]; e.Kind == compliance.BushRubber {
			b := box{element: *e}
			b.element.Slots = slices.Clone(e.Slots)
			for j := range r.file.Search {
				if p := &r.file.Search[j]; p.shapes(i, e.Kind) {
					b.parameters = append(b.parameters, p)
				}
			}
			r.checkBox(&b, i)
		}
	}
}

// shapes tells whether a parameter moves a dimension of an element.
func (p *Parameter) shapes(element int, kind *compliance.Kind) bool {
	return slices.ContainsFunc(p.Moves, func(m Move) bool {
		return m.Slot.Element == element && strings.HasPrefix(kind.Fields[m.Slot.Index].Name, rubberKey+".")
	})
}

// checkBox tries every corner and tells each combination that cannot be made once.
func (r *reader) checkBox(b *box, element int) {
	var low, high, start []float64
	for _, p := range b.parameters {
		low, high, start = append(low, p.From), append(high, p.To), append(start, p.Start)
	}
	told := map[string]bool{}
	rubber.Corners(low, high, func(corner []float64) bool {
		for _, wrong := range b.wrongAt(corner, element) {
			x := b.fewest(corner, start, wrong, element)
			if combination := fmt.Sprint(x, wrong); !told[combination] {
				told[combination] = true
				r.tellCorner(b, x, start, wrong, element)
			}
		}
		return true
	})
}

// wrongAt lists the keys that are wrong where the parameters have the values x.
func (b *box) wrongAt(x []float64, element int) (slots []string) {
	for i, p := range b.parameters {
		for _, m := range p.Moves {
			if m.Slot.Element == element {
				b.element.Slots[m.Slot.Index] = m.At(x[i])
			}
		}
	}
	for _, wrong := range wrongSlots(b.element.Check()) {
		slots = append(slots, wrong.Slot)
	}
	return slots
}

// reasonAt is why a key is wrong at x; empty if it is not.
func (b *box) reasonAt(x []float64, slot string, element int) string {
	if !slices.Contains(b.wrongAt(x, element), slot) {
		return ""
	}
	for _, wrong := range wrongSlots(b.element.Check()) {
		if wrong.Slot == slot {
			return wrong.Reason
		}
	}
	return ""
}

// fewest puts back to its present value every parameter that is not needed to
// make a key wrong.
func (b *box) fewest(corner, start []float64, slot string, element int) []float64 {
	x := slices.Clone(corner)
	for i := range x {
		at := x[i]
		if x[i] = start[i]; b.reasonAt(x, slot, element) == "" {
			x[i] = at
		}
	}
	return x
}

// tellCorner reports one combination at the last of its parameters, with how far
// that one may go in it.
func (r *reader) tellCorner(b *box, x, start []float64, slot string, element int) {
	var others []string
	last := -1
	for i := range x {
		if x[i] == start[i] {
			continue
		}
		if last >= 0 {
			others = append(others, b.parameters[last].stands(x[last]))
		}
		last = i
	}
	if last < 0 { // the present values, told before but for rounding
		return
	}
	p := b.parameters[last]
	wrong := strings.TrimSpace("at " + decimal(x[last]) + " " + p.Unit.Name)
	if others != nil {
		wrong += " with " + strings.Join(others, " and ")
	}
	wrong += " the bush cannot be made: " + slot + " " + b.reasonAt(x, slot, element)
	from, to := p.From, p.To
	if bound := b.farthest(x, start, last, slot, element); x[last] > start[last] {
		to = bound
	} else {
		from = bound
	}
	r.wrong(p.Line, searchSection+"."+p.Path, wrong, strings.TrimSpace(decimal(from)+" to "+decimal(to)+" "+p.Unit.Name), "")
}

// halvings of the way from the present value to a corner find the farthest value
// to far more digits than are told.
const halvings = 30

// farthest is how far one parameter may go from its present value towards x while
// the others stay there, to three digits of the way.
func (b *box) farthest(x, start []float64, last int, slot string, element int) float64 {
	try, good, bad := slices.Clone(x), start[last], x[last]
	for range halvings {
		try[last] = (good + bad) / 2
		if b.reasonAt(try, slot, element) == "" {
			good = try[last]
		} else {
			bad = try[last]
		}
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(x[last]-start[last])))-2)
	const onStep = 1e-4 // of a step: what halving leaves of a bound that lies on one
	if x[last] > start[last] {
		return max(math.Floor(good/step+onStep)*step, start[last])
	}
	return min(math.Ceil(good/step-onStep)*step, start[last])
}

// stands is a parameter with a value.
func (p *Parameter) stands(x float64) string {
	return strings.TrimSpace(p.Path + " at " + decimal(x) + " " + p.Unit.Name)
}
