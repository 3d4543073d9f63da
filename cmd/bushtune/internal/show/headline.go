package show

import (
	"strings"

	"bushtune/bushing/quantity"

	"bushtune/cases"
	"bushtune/optimize"
)

// headline is what a newcomer reads first: the outer wheel before and after, the
// price, the cause and what stopped it.
func (s *sides) headline(p *Page) {
	for _, line := range wrap(s.summary(), pageWidth) {
		p.Heading(line)
	}
	s.worsened().inShort(p, "Worse")
	p.blank()
	g := grid{columns: []column{{}, {align: point}, {}, {align: point}, {}, {}}}
	g.add("THE OUTER WHEEL IN A CORNER", "before", "", "after", "", "")
	s.addHeadline(&g, "lateral-force steer", steer, "")
	if state := s.corneringState(); state != "" {
		s.addHeadline(&g, "total toe, "+s.after.titles[state], "total_outer_toe", state)
	}
	g.write(p)
	p.Prose("  ", s.cost())
	p.Prose("  ", s.cause())
	p.Prose("  ", s.stop())
}

// summary is the outcome in one sentence.
func (s *sides) summary() string {
	missed := strings.Join(s.missed(), "; ")
	switch {
	case s.Status == optimize.StoppedEarly && missed == "":
		return "STOPPED EARLY: every want with a number is met, but " + s.Reason + "."
	case s.Status == optimize.StoppedEarly:
		return "STOPPED EARLY, the best found is shown: " + missed + "."
	case missed == "" && s.Status.Err() != nil:
		return "NOT REACHED, but by less than can be noticed."
	case missed == "":
		return "TUNED: every want with a number is met."
	case s.Status == optimize.Compromise:
		return "TUNED, a compromise: " + missed + "."
	}
	return "NOT REACHED, the closest is shown: " + missed + "."
}

// missed names every want with a number that is not met, and by how much.
func (s *sides) missed() []string {
	var all []string
	for i := range s.Asked {
		a := &s.Asked[i]
		if v := s.verdict(i); !openEnded(a.Want.Kind) && v.tone == bad {
			all = append(all, s.after.captionOf(a)+" is "+v.text+" "+a.Unit.Name)
		}
	}
	return all
}

// addHeadline writes one number with both signs in words, in both turns of an
// axle whose halves differ.
func (s *sides) addHeadline(g *grid, title, name, caseName string) {
	index, err := s.after.study.Find(name, caseName, "")
	if err != nil {
		return
	}
	s.addTurn(g, title, index)
	if other, ok := s.after.study.OtherTurn(index); ok {
		s.addTurn(g, title+", turning right", other)
	}
}

func (s *sides) addTurn(g *grid, title string, index int) {
	before, after := s.beforeAfter(index)
	g.add("  "+title, before.Text, sign(before), after.Text, sign(after),
		after.Unit+", pads "+after.Pads)
}

// sign is the sign word of a figure without what follows from it.
func sign(f cases.Figure) string {
	word, _, _ := strings.Cut(f.Words, ":")
	return word
}

// corneringState is the first offered state with lateral acceleration alone.
func (s *sides) corneringState() string {
	for _, st := range s.after.study.States() {
		if _, offered := s.after.titles[st.Name]; offered && st.Lateral > 0 && st.Braking == 0 {
			return st.Name
		}
	}
	return ""
}

// cost says what became of the ride over a strip, of each wheel where they differ.
func (s *sides) cost() string {
	index, err := s.after.study.Find("longitudinal_compliance", "impact", "")
	if err != nil {
		return ""
	}
	const what = "Cost in longitudinal compliance: "
	turns := s.turnsThatDiffer(index)
	if len(turns) == 1 {
		return what + s.costOf(index) + "."
	}
	var all []string
	for _, turn := range turns {
		all = append(all, s.after.wheelWord(turn)+" "+s.costOf(turn))
	}
	return what + strings.Join(all, "; ") + "."
}

// costOf says what became of the longitudinal compliance in one turn.
func (s *sides) costOf(index int) string {
	before, after := s.beforeAfter(index)
	change := percent(before.Value, after.Value, "softer over a strip", "stiffer over a strip")
	moved := before.Text + " → " + after.Text + " " + after.Unit
	switch {
	case before.Text == after.Text || change == "":
		return "none, " + moved
	case after.Value > before.Value:
		return "none, it rose " + moved + ", " + change
	}
	return moved + ", " + change
}

// turnsThatDiffer is a number, and the same in the other turn unless it reads alike
// before and after.
func (s *sides) turnsThatDiffer(index int) []int {
	other, two := s.after.study.OtherTurn(index)
	if !two {
		return []int{index}
	}
	before, after := s.beforeAfter(index)
	otherBefore, otherAfter := s.beforeAfter(other)
	if before.Text == otherBefore.Text && after.Text == otherAfter.Text {
		return []int{index}
	}
	return []int{index, other}
}

// wheelWord names the outer wheel of a number's case.
func (v *view) wheelWord(index int) string {
	if strings.HasSuffix(v.numbers[index].Case, cases.TurnRight) {
		return "left wheel"
	}
	return "right wheel"
}

// cause names the part that turns the outer wheel out most, before and after, in each
// turn where they differ.
func (s *sides) cause() string {
	index, err := s.after.study.Find(steer, "", "")
	if err != nil {
		return ""
	}
	var all []string
	for _, turn := range s.turnsThatDiffer(index) {
		text := s.after.largestCause(s.before, turn)
		if strings.HasSuffix(s.after.numbers[turn].Case, cases.TurnRight) {
			text += " turning right"
		}
		all = append(all, text)
	}
	return "Largest cause of toe-out in " + s.after.numbers[index].Unit.Name + ": " + strings.Join(all, "; ") + "."
}

// largestCause names the part that turns the outer wheel out most, before and after.
func (v *view) largestCause(was *view, index int) string {
	worst := func(v *view) string {
		all := causes(v.study.Parts(index))
		quantity.GreatestFirst(all, func(c cause) float64 { return -c.sum() })
		most := all[0]
		if most.sum() >= 0 {
			return "none"
		}
		return most.name() + " " + v.text(index, most.sum())
	}
	return worst(was) + " before; " + worst(v) + " after"
}

// stop names the limits and bounds that hold the result back.
func (s *sides) stop() string {
	var held []string
	for _, l := range s.Limits {
		if s.verdict(l.Want).tone != bad && (l.Multiplier > 0 || s.unmet()) {
			a := &s.Asked[l.Want]
			held = append(held, s.after.captionOf(a)+" "+s.after.wishUnit(a))
		}
	}
	for _, b := range s.Bounds {
		if b.Multiplier > 0 || s.unmet() {
			held = append(held, s.Parameters[b.Parameter].Path+" at "+s.bound(b))
		}
	}
	switch {
	case s.Status.Err() != nil && s.Result.Status.Err() == nil:
		return "What stopped it: the steps of a workshop; in full digits every want with a number is met."
	case held != nil && s.inFullDigits() != "":
		return "What stopped it in full digits: " + strings.Join(held, "; ") + "."
	case held != nil:
		return "What stopped it: " + strings.Join(held, "; ") + "."
	case s.unmet():
		return "What stopped it: the wants contradict each other; no bound is touched."
	}
	return "What stopped it: no limit; this is the best compromise between the wants."
}

// unmet tells whether limits could not all hold, so that nothing has a price.
func (s *sides) unmet() bool { return s.ViolationResidual > 0 || s.Result.After.Violation > 0 }

// bound is the value of a bound with its unit.
func (s *sides) bound(b optimize.ActiveBound) string {
	q := &s.Parameters[b.Parameter]
	value := q.From
	if b.Upper {
		value = q.To
	}
	return strings.TrimSpace(measure(value) + " " + q.Unit.Name)
}
