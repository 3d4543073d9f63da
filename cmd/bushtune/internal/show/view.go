package show

import (
	"math"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// view is a study with what tables look up in it again and again.
type view struct {
	study   *cases.Study
	numbers []cases.Number
	titles  map[string]string // case or state → title
	cases   map[string]cases.Case
	given   map[string]bool // built-in cases and states, in both turns
	several map[string]bool // names of numbers that stand in the main case of several groups
	asked   []tuning.Asked
	named   bool // tables give the numbers' names for files instead of their values
}

func newView(study *cases.Study, asked []tuning.Asked) *view {
	v := &view{study: study, numbers: study.Numbers(), asked: asked,
		titles: map[string]string{}, cases: map[string]cases.Case{}, several: map[string]bool{}, given: map[string]bool{}}
	for _, c := range cases.BuiltIn() {
		v.given[c.Name], v.given[c.Name+cases.TurnRight] = true, true
	}
	for _, st := range study.States() {
		v.given[st.Name], v.given[st.Name+cases.TurnRight] = true, true
	}
	for _, c := range study.Cases() {
		v.titles[c.Name], v.cases[c.Name] = c.Title, c
	}
	main := map[string]string{}
	for i := range v.numbers {
		n := &v.numbers[i]
		base, _ := strings.CutSuffix(n.Case, cases.TurnRight)
		if _, sub := variantOf(base); sub != "" {
			continue
		}
		if first, seen := main[n.Name]; seen && first != base {
			v.several[n.Name] = true
		}
		main[n.Name] = base
	}
	return v
}

// variant is a case whose numbers stand under those of a main case.
type variant struct{ name, phrase string }

// family is a main case with its variants: one group of the table of numbers.
type family struct {
	main     string
	variants []variant
}

// families lists the groups in the order in which an engineer asks.
func families() []family {
	return []family{
		{"cornering", []variant{{"cornering_floating", "pads floating"}}},
		{"aligning", nil},
		{"braking", []variant{{"braking_single", "outer wheel alone"}, {"braking_inboard", "inboard brakes"}}},
		{"impact", []variant{{"impact_single", "outer wheel alone"}}},
		{"heave", nil},
		{"roll", nil},
	}
}

// variantOf returns the main case of a case and how it differs, or the case.
func variantOf(name string) (main, phrase string) {
	for _, f := range families() {
		for _, v := range f.variants {
			if v.name == name {
				return f.main, v.phrase
			}
		}
	}
	return name, ""
}

// caption names a number outside its group: its title, and its case where the
// title alone does not tell.
func (v *view) caption(index int) string {
	n := &v.numbers[index]
	base, turned := strings.CutSuffix(n.Case, cases.TurnRight)
	_, phrase := variantOf(base)
	switch {
	case phrase != "":
	case n.Generic || v.several[n.Name]:
		phrase, _, _ = strings.Cut(v.titles[base], ",")
	}
	caption := n.Title
	if phrase != "" {
		caption += ", " + phrase
	}
	if turned {
		caption += ", turning right"
	}
	return caption
}

// captionOf names what a want is about: a number, at a size of load.
func (v *view) captionOf(a *tuning.Asked) string {
	caption := v.caption(a.Index)
	if at := v.at(a); at != "" {
		caption += ", " + at
	}
	return caption
}

// at says under which load a wanted number stands; empty for small loads.
func (v *view) at(a *tuning.Asked) string {
	if a.Goal.Size == 0 {
		return ""
	}
	unit := v.study.SizeUnit(a.Index)
	if unit == quantity.Gravity { // the state has a size in its title
		return "scaled to " + measure(unit.Written(a.Goal.Size)) + " " + unit.Name
	}
	at := "at " + measure(unit.Written(a.Goal.Size)) + " " + unit.Name
	if a.Goal.Straight {
		return "off the straight line " + at
	}
	return at
}

// figureOf is a wanted number as it stands, at its size of load.
func (v *view) figureOf(a *tuning.Asked) cases.Figure {
	return v.figureAt(a, a.Value(v.study))
}

// figureAt is a wanted number of a value in internal units.
func (v *view) figureAt(a *tuning.Asked, value float64) cases.Figure {
	if math.IsNaN(value) {
		return cases.Figure{Value: value, Text: "lost", Words: cannotHold}
	}
	return v.study.FigureOf(a.Index, value)
}

// cannotHold is said where there is no number.
const cannotHold = "the axle cannot hold this load"

// reference is how a number is named on the command line: its name in files, the
// case and the place.
func (v *view) reference(index int) string {
	n := &v.numbers[index]
	s := n.Name + "@" + n.Case
	if n.Where != "" {
		s += ":" + n.Where
	}
	return s
}

// text is a value of a number in internal units, rounded, without its unit.
func (v *view) text(index int, value float64) string {
	return v.study.FigureOf(index, value).Text
}

// written is text for a value in the written unit.
func (v *view) written(index int, value float64) string {
	return v.text(index, value*v.numbers[index].Unit.Factor)
}

// wish is what a want asks for: "at least 0.020".
func (v *view) wish(a *tuning.Asked) string {
	switch a.Want.Kind {
	case optimize.MakeLarge:
		return "largest possible"
	case optimize.MakeSmall:
		return "smallest possible"
	}
	return a.Want.Kind.String() + " " + v.text(a.Index, a.Inside())
}

// wishUnit is a wish with its unit.
func (v *view) wishUnit(a *tuning.Asked) string {
	if openEnded(a.Want.Kind) {
		return v.wish(a)
	}
	return strings.TrimSpace(v.wish(a) + " " + a.Unit.Name)
}

// openEnded tells whether a want has no value at which it is met.
func openEnded(k optimize.Kind) bool { return k == optimize.MakeLarge || k == optimize.MakeSmall }

// verdict says how far a want is met. A limit that the six digits of a written
// parameter miss counts as met, up to the share of a step that the optimiser
// allows a target.
func (v *view) verdict(a *tuning.Asked, o optimize.WantOutcome) cell {
	if math.IsNaN(o.Miss) {
		return cell{cannotHold, bad}
	}
	miss := max(o.Miss, -o.Miss)
	if o.Met || miss <= optimize.MetShare*a.Want.Scale {
		return cell{"met", good}
	}
	text := v.written(a.Index, miss)
	if isZero(text) {
		text = significant(miss, 1)
	}
	if a.Want.Kind == optimize.AtMost || a.Want.Kind == optimize.Target && o.Miss > 0 {
		return cell{"over by " + text, bad}
	}
	return cell{"short by " + text, bad}
}

// isZero tells whether a rounded number is nothing.
func isZero(text string) bool { return strings.Trim(text, "-0.") == "" }

// loadAtRest says whether the answer includes the load at rest.
func (v *view) loadAtRest() string {
	if v.study.Solver().Loaded() {
		return "included"
	}
	return "not included"
}

// heading writes the part of a case's title before its first comma in capitals,
// then what holds pads and wheels, then the rest.
func heading(title string, c cases.Case) string {
	head, rest, _ := strings.Cut(title, ", ")
	return headed(strings.ToUpper(head), c, rest)
}

func headed(head string, c cases.Case, rest string) string {
	return head + ", pads " + c.Pads.String() + braked(c) + ": " + rest
}

// braked says what the brake does where the wheels are not free to roll.
func braked(c cases.Case) string {
	if words := c.Brake.Words(); words != "" {
		return ", " + words
	}
	return ""
}
