package cases

import (
	"fmt"
	"math"

	"bushtune/compliance"
)

// NumberPart is the signed part of one rate of one element in a number.
type NumberPart struct {
	Element string  // "bush.pivot.left"; "wheel.left" for the wheel's own
	Side    string  // "left", "right"; empty for a part that exists once
	Line    string  // "soft", "bending vertical"; empty for a whole element
	Value   float64 // internal unit
}

// partRoom is what Parts works with.
type partRoom struct {
	labels []NumberPart // without values, in the order of values
	values []float64
}

// padParts is the number of parts of the tyres, after those of the model.
const padParts = 2

// prepareParts makes room and labels for the parts of a number.
func (s *Study) prepareParts() {
	if s.parts.labels != nil {
		return
	}
	axle := s.rig.solver.Axle()
	for _, p := range s.rig.solver.PartList() {
		s.parts.labels = append(s.parts.labels, labelOf(axle, p))
	}
	for _, side := range WheelNames {
		s.parts.labels = append(s.parts.labels, NumberPart{Element: "wheel." + side, Side: side, Line: "tyre"})
	}
	s.parts.values = make([]float64, len(s.parts.labels))
}

// labelOf names a part of the model.
func labelOf(axle *compliance.Axle, p compliance.Part) NumberPart {
	if p.Element < 0 {
		side := WheelNames[-1-p.Element]
		line := "load at rest"
		if p.Kind == compliance.HubPart {
			line = "hub"
		}
		return NumberPart{Element: "wheel." + side, Side: side, Line: line}
	}
	e := &axle.Elements[p.Element]
	label := NumberPart{Element: e.Label(), Side: e.Side.String(), Line: "load at rest"}
	if p.Kind == compliance.LinePart {
		label.Line = e.LineWord(p.Line)
	}
	return label
}

// splitInto writes the parts of a number in the order of the labels and tells
// whether it has any: unit-load method, part = rate·strain under the reading's
// load·strain under the case.
func (s *Study) splitInto(index int, out []float64) bool {
	n := &s.numbers[index]
	if n.NoParts != "" {
		return false
	}
	a := &s.answers[n.answers[0]]
	s.respond(a)
	a.sensor.stretch(&s.rig, s.generation)
	a.load.stretch(&s.rig, s.generation)
	model := out[:len(out)-padParts]
	s.rig.solver.Parts(&a.sensor.full, &a.load.full, a.sensor.strain, a.load.strain, model)
	for w := range padParts {
		out[len(model)+w] = s.rig.tyre * a.sensor.share[w] * a.load.pads[w]
	}
	factor := a.scale * s.overScalar(n)
	for i := range out {
		out[i] *= factor
	}
	return true
}

// largestMissing is the share of the largest part by which parts may miss their sum.
const largestMissing = 1e-8

// PartsMissing is the error of a number whose parts do not sum to it.
type PartsMissing struct {
	Number, Case string
	Missing      float64 // share of the largest part, or of a noticeable step if that is more
}

// Error names the number.
func (p *PartsMissing) Error() string {
	return fmt.Sprintf("the parts of %s in %s miss their sum by %.2g of the largest part: the axle's answer is not sound and no figure is shown", p.Number, p.Case, p.Missing)
}

// CheckParts wants the parts of every number to sum to it, but for rounding. They
// are found line by line, so that they hold the assembled stiffness and its solution
// to the elements themselves.
func (s *Study) CheckParts() error {
	s.prepareParts()
	for i := range s.numbers {
		value := s.Value(i)
		if math.IsNaN(value) || !s.splitInto(i, s.parts.values) {
			continue
		}
		n := &s.numbers[i]
		sum, largest := 0.0, n.Step*n.Unit.Factor // a number that is nothing has parts that are rounding
		for _, part := range s.parts.values {
			sum += part
			largest = max(largest, math.Abs(part))
		}
		missing := math.Abs(sum - value)
		if !(missing <= largestMissing*largest || missing <= s.rig.solver.Rounding()*max(largest, s.extent(n))) {
			return &PartsMissing{Number: n.Title, Case: n.Case, Missing: missing / largest}
		}
	}
	return nil
}

// extent is the largest that a number could be if pads did not hold the wheels: the
// root of the work of its load times that of its reading. Held wheels move by the
// difference of such movements, and so does their rounding.
func (s *Study) extent(n *number) float64 {
	a := &s.answers[n.answers[0]]
	work := func(terms []term) float64 {
		var p compliance.Port
		s.rig.addTerms(terms, &p)
		q := s.rig.solver.Motion(&p)
		return p.Dot(&q)
	}
	return math.Abs(a.scale*s.overScalar(n)) * math.Sqrt(work(a.sensor.terms)*work(a.load.terms))
}

// overScalar is what the first answer is multiplied by in a number: one, or one
// over a roll angle, a travel or another answer.
func (s *Study) overScalar(n *number) float64 {
	in := inputs[float64]{track: s.rig.track, vehicle: &s.vehicle}
	in.z[0] = 1
	for i := 1; i < n.count; i++ {
		in.z[i] = s.answers[n.answers[i]].value(&s.rig)
	}
	return n.formula.value(in)
}

// partRounding is the share of the largest part below which a part is rounding of nothing, there on one processor and not on another.
const partRounding = 1e-12

// Parts splits a number into the signed parts of every rate of every element;
// they sum to it. A number that is a reading over a roll angle, a travel or
// another answer has the parts of the reading over the same. Without a static
// load each part of a plain reading is −∂number/∂ln rate. Parts that are nothing
// but rounding are left out. Nil if the number has no additive parts; Number.NoParts says why.
func (s *Study) Parts(index int) []NumberPart {
	s.prepareParts()
	if !s.splitInto(index, s.parts.values) {
		return nil
	}
	var parts []NumberPart
	largest := 0.0
	for _, part := range s.parts.values {
		largest = max(largest, math.Abs(part))
	}
	for i, label := range s.parts.labels {
		if label.Value = s.parts.values[i]; math.Abs(label.Value) > partRounding*largest {
			parts = append(parts, label)
		}
	}
	return parts
}
