package show

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/swapping"
)

// mostTold is how many changes of a set are said in sentences, unless more are for
// the worse or about what is wanted.
const mostTold = 8

// whatChanges says in sentences what a set does, the largest change first.
func (s *Swapped) whatChanges(p *Page, v *view, set int) {
	c := &s.Columns[set]
	p.blank()
	p.wrappedHeading("WHAT CHANGES with " + setName(set) + ": " + c.Set.Title)
	changes := s.told(v, set)
	if pull := s.pull(v, c); pull != "" {
		p.Prose("  ", pull)
	}
	if len(changes) == 0 {
		p.Prose("  ", s.nothing(c))
	}
	g := grid{columns: []column{{}, {gives: true}}}
	var small []string
	for i := range changes {
		ch := &changes[i]
		if i >= mostTold && ch.Verdict < swapping.Depends && ch.Want == "" && v.numbers[ch.Index].Name != steer {
			small = append(small, v.caption(ch.Index))
			continue
		}
		g.addCells(cell{"  " + ch.Verdict.String(), toneOf(ch.Verdict)}, words(s.sentence(v, ch, set)))
	}
	g.write(p)
	if small != nil {
		p.Prose("  ", "Smaller changes, none for the worse: "+strings.Join(small, "; ")+".")
	}
	for _, caution := range s.cautions(v, set, changes) {
		p.Prose("  ", caution)
	}
}

// sentence says one change of a set.
func (s *Swapped) sentence(v *view, ch *swapping.Change, column int) string {
	if ch.AtSize {
		return s.sizedSentence(v, ch, column)
	}
	return v.sentence(ch, s.alike(v, s.Columns[column:column+1], ch.Index))
}

func toneOf(v swapping.Verdict) tone {
	switch v {
	case swapping.Better:
		return good
	case swapping.Worse, swapping.Depends:
		return bad
	}
	return plain
}

// told lists the changes that are said: those of the tables, without what another
// change says with the same verdict, and turning right only what differs from
// turning left.
func (s *Swapped) told(v *view, column int) []swapping.Change {
	all := slices.DeleteFunc(s.Changes(column, v.shown), func(ch swapping.Change) bool {
		if ch.AtSize {
			return s.alikeAtSize(v, s.Columns[column:column+1], ch.Asked)
		}
		return strings.HasSuffix(v.numbers[ch.Index].Case, cases.TurnRight) && s.alike(v, s.Columns[column:column+1], ch.Index)
	})
	return slices.DeleteFunc(slices.Clone(all), func(ch swapping.Change) bool {
		return !ch.AtSize && slices.ContainsFunc(all, func(o swapping.Change) bool { return !o.AtSize && o.Verdict == ch.Verdict && v.covers(&o, &ch) })
	})
}

// alike tells whether a number reads the same in both turns, as it is and with each
// of some sets.
func (s *Swapped) alike(v *view, columns []swapping.Column, index int) bool {
	other, two := v.study.OtherTurn(index)
	if !two || v.text(index, v.study.Value(index)) != v.text(other, v.study.Value(other)) {
		return false
	}
	return !slices.ContainsFunc(columns, func(c swapping.Column) bool {
		low, high := c.Between(index)
		otherLow, otherHigh := c.Between(other)
		return v.text(index, low) != v.text(other, otherLow) || v.text(index, high) != v.text(other, otherHigh)
	})
}

// covers tells whether a change goes without saying beside another one: the same
// number in a variant of its case, or the mean of two wheels of which the outer one is
// told.
func (v *view) covers(o, ch *swapping.Change) bool {
	m, n := &v.numbers[o.Index], &v.numbers[ch.Index]
	base, turned := strings.CutSuffix(n.Case, cases.TurnRight)
	main, phrase := variantOf(base)
	if turned {
		main += cases.TurnRight
	}
	if m.Name == steer && n.Name == "mean_axle_steer" && m.Case == n.Case {
		return true
	}
	return phrase != "" && m.Name == n.Name && m.Where == n.Where && m.Case == main
}

// nothing says that a set changes nothing, or nothing that can be noticed.
func (s *Swapped) nothing(c *swapping.Column) string {
	for i := range s.Base.Numbers() {
		if low, high := c.Between(i); low != high || low != s.Base.Value(i) {
			return "Nothing that could be noticed: no number changes by a step."
		}
	}
	return "Nothing: every number is equal to that of the axle as it is."
}

// cautions are what a tuner should know before fitting a set.
func (s *Swapped) cautions(v *view, column int, changes []swapping.Change) (all []string) {
	c := &s.Columns[column]
	for i := range changes {
		ch := &changes[i]
		n := &v.numbers[ch.Index]
		base, _ := strings.CutSuffix(n.Case, cases.TurnRight)
		if ch.AtSize || n.Name != "longitudinal_compliance" || base != "impact" || ch.Low >= ch.Before {
			continue
		}
		where, wheel := "", "the wheel"
		if ch.High > ch.Before {
			where = " at the stiff end of the range"
		}
		if !s.alike(v, s.Columns[column:column+1], ch.Index) && s.BothTurns() {
			wheel = "the " + v.wheelWord(ch.Index)
		}
		all = append(all, "Harsher ride"+where+": "+wheel+" gives way less over a strip, so more of each blow reaches body and brackets.")
	}
	for _, r := range c.Set.Rules {
		switch {
		case r.Kind == axlefile.Worn:
			all = append(all, "Worn rubber is no setting: have worn bushes replaced. With play the wheel also moves by the play itself whenever the load changes sides, which no number here counts.")
		case r.Kind == axlefile.Polyurethane && r.Bonded:
			all = append(all, "Polyurethane of one hardness is sold with very different moduli: ask the maker for measured rates.")
		case r.Kind == axlefile.Polyurethane:
			all = append(all, "Polyurethane of one hardness is sold with very different moduli: ask the maker for measured rates. Not bonded, it turns and slides along its axis with friction alone: it sticks and lets go, wants grease, and nothing here counts that.")
		case r.Kind == axlefile.SwapSides && len(changes) == 0:
			all = append(all, "Nothing in these parts is made for one side, so the sides may be exchanged.")
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	for _, w := range c.Warnings {
		all = append(all, "Watch: "+w+".")
	}
	return all
}

// pull says to which side an axle whose halves differ steers under braking. Toe-in
// turns the right wheel to the left and the left one to the right.
func (s *Swapped) pull(v *view, c *swapping.Column) string {
	right, err := v.study.Find("brake_steer", "braking", "")
	left, two := v.study.OtherTurn(right)
	if err != nil || !two {
		return ""
	}
	low, high := c.Span(func(value func(int) float64) float64 { return (value(right) - value(left)) / 2 })
	n := &v.numbers[right]
	if max(math.Abs(low), math.Abs(high)) < n.Step*n.Unit.Factor {
		return ""
	}
	text := func(toLeft float64) string { return v.text(right, math.Abs(toLeft)) }
	if low < 0 && high > 0 && text(low) != text(0) && text(high) != text(0) {
		return "The halves of the axle differ: over the range of the compound it steers under braking from " + text(low) + " to the right to " +
			text(high) + " " + n.Unit.Name + " to the left, so the car may pull either way."
	}
	way, pulls := "left", "right"
	if low+high < 0 {
		way, pulls, low, high = pulls, way, -high, -low
	}
	by := text(low)
	if text(high) != by {
		by += " to " + text(high)
	}
	return "The halves of the axle differ: under braking it steers to the " + way + " by " + by + " " + n.Unit.Name + ", so the car pulls to the " + pulls + "."
}

// playTable says where worn bushes bear in their play.
func (s *Swapped) playTable(p *Page, v *view) {
	for i := range s.Columns {
		if len(s.Columns[i].Plays) == 0 {
			continue
		}
		p.blank()
		p.Heading("WHERE THE WORN BUSHES BEAR AT REST with " + setName(i))
		p.Prose("  ", "The figures hold while a bush stays on its side. Beyond the load that takes it off, it first goes through the play to the other side.")
		g := grid{columns: []column{{}, {}, {gives: true}}}
		for _, row := range playRows(v, s.Columns[i].Plays) {
			g.add(row...)
		}
		g.write(p)
	}
}

// playRows words every play, once for both sides where they are alike.
func playRows(v *view, plays []swapping.Play) (rows [][]string) {
	for i := range plays {
		p := &plays[i]
		label, side := swapping.Sideless(p.Element)
		line := playWords(v, p)
		twin := slices.IndexFunc(plays, func(o swapping.Play) bool {
			name, other := swapping.Sideless(o.Element)
			return name == label && other != side && o.Direction == p.Direction && playWords(v, &o) == line
		})
		switch {
		case twin >= 0 && twin < i:
			continue
		case twin < 0 && side != "":
			label += "." + side
		}
		rows = append(rows, []string{"  " + label, p.Line(), line})
	}
	return rows
}

// playWords says on which side of its play a bush bears, and until when.
func playWords(v *view, p *swapping.Play) string {
	way := "± " + measure(p.Way) + " mm"
	switch {
	case p.Unknown:
		return "not known: the axle file includes no static load; the figures hold once the play of " + way + " is taken up"
	case p.Floats && !p.Turns:
		return "floats within " + way + " (" + p.Towards + "): the figures hold once the play is taken up"
	}
	rest := fmt.Sprintf("bears with %+.0f N", p.Rest)
	if end := fmt.Sprintf("bears with %+.0f N", p.RestEnd); end != rest {
		rest = fmt.Sprintf("bears with %+.0f to %+.0f N", p.Rest, p.RestEnd)
	}
	if p.Turns {
		return rest + " over the range of the compound: on which side of its " + way + ", only a test tells"
	}
	text := fmt.Sprintf("%s, inner sleeve pushed %s through %s mm of play", rest, p.Towards, measure(p.Way))
	if p.Leaves == "" {
		return text
	}
	title, _, _ := strings.Cut(v.titles[p.Leaves], ",")
	return text + "; taken off by " + significant(p.At, 2) + " kN a wheel (" + title + ")"
}
