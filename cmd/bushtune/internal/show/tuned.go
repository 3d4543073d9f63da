package show

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing/quantity"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// Tuned is the answer to tune: an axle before and after.
type Tuned struct {
	Noted
	Title, Source string
	*tuning.Outcome
	Wrote    string // the new file; empty if none was asked for
	AllParts bool   // every part, not only the largest
	Worse    []swapping.Harm
	Reserve  *tuning.Reserve
	Full     bool // everything that got worse, not only what matters most
}

// sides are the two studies of a tune with what tables look up in them.
type sides struct {
	*Tuned
	before, after *view
}

func (t *Tuned) sides() *sides {
	return &sides{t, newView(t.Before, t.Asked), newView(t.After, t.Asked)}
}

// Text writes the answer for a person.
func (t *Tuned) Text(p *Page) {
	s := t.sides()
	s.after.head(p, t.Title, t.Source)
	p.blank()
	s.headline(p)
	s.askedTable(p)
	s.conflict(p)
	s.worsened().table(p, "WORSENED, largest first", "before", "after")
	s.movedTable(p)
	s.holds(p)
	s.partsTable(p)
	s.sure(p)
	s.numberTable(p)
	s.after.absentTable(p)
	footnotes(p, t.notes())
	s.wrote(p)
	foot(p)
}

// worsened is what the tune made worse.
func (s *sides) worsened() *worsened { return &worsened{view: s.after, harms: s.Worse, full: s.Full} }

// beforeAfter are the texts of a number on both sides.
func (s *sides) beforeAfter(index int) (before, after cases.Figure) {
	return s.before.study.Figure(index), s.after.study.Figure(index)
}

// askedTable sets every want beside the number before and after.
func (s *sides) askedTable(p *Page) {
	p.blank()
	p.Heading("ASKED")
	g := grid{columns: []column{{gives: true}, {align: point, tight: true}, {align: point, tight: true}, {}, {}, {}, {align: point, tight: true}, {}}}
	g.add("", "before", "after", "", "after", "wanted", "margin", "")
	for i := range s.Asked {
		a := &s.Asked[i]
		before, after := s.before.figureOf(a), s.after.figureOf(a)
		g.addCells(words("  "+s.after.captionOf(a)), words(before.Text), words(after.Text), words(a.Unit.Name),
			words(sign(after)), words(s.after.wish(a)), words(s.after.marginOf(a, s.Wants[i].After)), s.verdict(i))
	}
	g.write(p)
	if text := s.after.reserve(s.Reserve); text != "" {
		p.Prose("  ", text)
	}
}

// verdict says how want i fared.
func (s *sides) verdict(i int) cell {
	a, o := &s.Asked[i], s.Wants[i]
	if !openEnded(a.Want.Kind) {
		return s.after.verdict(a, o)
	}
	before, after := s.before.figureOf(a), s.after.figureOf(a)
	larger := after.Value > before.Value
	switch {
	case after.Text == before.Text:
		return cell{"unchanged", plain}
	case larger == (a.Want.Kind == optimize.MakeLarge):
		return cell{"better", good}
	}
	return cell{"given up", bad}
}

// movedTable lists the parameters with their bounds.
func (s *sides) movedTable(p *Page) {
	p.blank()
	p.Heading("MOVED")
	g := grid{columns: []column{{}, {align: point}, {align: point}, {}, {}, {}}}
	g.add("", "before", "after", "", "allowed", "")
	for i := range s.Parameters {
		q := &s.Parameters[i]
		g.add("  "+q.Path, measure(q.Start), measure(s.Written[i]), q.Unit.Name,
			measure(q.From)+" to "+measure(q.To), s.place(i))
		for _, tied := range q.Tied {
			g.add("    with "+tied, "", "", "", "", "")
		}
	}
	g.write(p)
	if text := s.stepsSentence(); text != "" {
		p.Prose("  ", text)
	}
	s.followedTable(p)
}

// place says where a parameter ended.
func (s *sides) place(i int) string {
	q := &s.Parameters[i]
	moved := s.Rounding.Done() && s.Written[i] != q.Round(s.X[i])
	for _, b := range s.Bounds {
		if b.Parameter == i && !moved {
			return "on its " + boundName(b) + " bound"
		}
	}
	switch {
	case moved && s.Written[i] == q.From, moved && s.Written[i] == q.To:
		return "on its " + boundName(optimize.ActiveBound{Upper: s.Written[i] == q.To}) + " bound"
	case s.Written[i] == q.Start:
		return "not moved"
	}
	return ""
}

func boundName(b optimize.ActiveBound) string {
	if b.Upper {
		return "upper"
	}
	return "lower"
}

// partsTable sets the parts of the steer side by side: who turns the outer wheel
// before and after, in each turn where they differ.
func (s *sides) partsTable(p *Page) {
	index, err := s.after.study.Find(steer, "", "")
	if err != nil {
		return
	}
	for _, turn := range s.turnsThatDiffer(index) {
		s.partsOf(p, turn)
	}
}

// partsOf writes the parts of one number.
func (s *sides) partsOf(p *Page, index int) {
	n := &s.after.numbers[index]
	p.blank()
	p.Heading(s.after.partsTitle(index))
	was := causes(s.before.study.Parts(index))
	now := causes(s.after.study.Parts(index))
	g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {}}}
	g.add("  both sides together", "", "before", "after", "")
	read := func(value float64) string { return s.after.text(index, value) }
	named, rest := s.joined(index, was, now)
	for _, c := range named {
		r := n.Signs.Read(n.Unit.Written(c.after), n.Step)
		g.add("  "+c.element, c.line, read(c.before), r.Text, r.Words)
	}
	if rest != nil {
		g.add("  all other parts", "", read(rest.before), read(rest.after), "")
	}
	before, after := s.beforeAfter(index)
	g.addCells(cell{"  sum", strong}, words(""), cell{before.Text, strong}, cell{after.Text, strong}, cell{after.Words, strong})
	g.write(p)
}

// change is one cause, both sides of the car together, before and after.
type change struct {
	element, line string
	before, after float64 // internal unit
}

func (c *change) size() float64 { return max(math.Abs(c.before), math.Abs(c.after)) }

// joined pairs the causes before with those after, the largest first.
func (s *sides) joined(index int, was, now []cause) (named []change, rest *change) {
	find := func(list []cause, element, line string) float64 {
		for i := range list {
			if list[i].element == element && list[i].line == line {
				return list[i].sum()
			}
		}
		return 0
	}
	var all []change
	for _, c := range was {
		all = append(all, change{c.element, c.line, c.sum(), find(now, c.element, c.line)})
	}
	for _, c := range now {
		if find(was, c.element, c.line) == 0 {
			all = append(all, change{c.element, c.line, 0, c.sum()})
		}
	}
	quantity.GreatestFirst(all, func(c change) float64 { return c.size() })
	for _, c := range all {
		visible := !isZero(s.after.text(index, c.before)) || !isZero(s.after.text(index, c.after))
		switch {
		case s.AllParts || visible && len(named) < largest:
			named = append(named, c)
		case rest == nil:
			rest = &change{before: c.before, after: c.after}
		default:
			rest.before, rest.after = rest.before+c.before, rest.after+c.after
		}
	}
	return named, rest
}

// numberTable sets every number before and after.
func (s *sides) numberTable(p *Page) {
	p.blank()
	p.Heading("ALL NUMBERS")
	g := grid{columns: []column{{gives: true}, {align: point, tight: true}, {align: point, tight: true}, {}, {}}}
	for _, group := range s.after.groups() {
		g.heading(group.heading)
		g.add("", "before", "after", "", "after")
		for k, index := range group.indices {
			before, after := s.beforeAfter(index)
			label := "  " + after.Title
			if phrase := group.phrases[k]; phrase != "" {
				label = "    same, " + phrase
			}
			g.add(label, before.Text, after.Text, after.Unit, sign(after))
			for i := range s.Asked {
				if a := &s.Asked[i]; a.Index == index && a.Goal.Size != 0 {
					before, after := s.before.figureOf(a), s.after.figureOf(a)
					g.add("    "+s.after.at(a), before.Text, after.Text, after.Unit, sign(after))
				}
			}
		}
	}
	g.write(p)
}

// notes are the warnings of the study and of the search, and what is on a bound
// is said in MOVED already.
func (t *Tuned) notes() []string {
	notes := t.After.Warnings()
	for _, w := range t.Warnings {
		if w.Kind != optimize.OnBound {
			notes = append(notes, w.Text)
		}
	}
	return notes
}

// wrote says what became of the file.
func (s *sides) wrote(p *Page) {
	p.blank()
	p.Heading("WROTE")
	if s.Wrote == "" {
		p.Prose("  ", "nothing: --out FILE writes the axle file with the tuned values, your comments kept.")
		return
	}
	moved := 0
	for i := range s.Parameters {
		if s.Written[i] != s.Parameters[i].Start {
			moved += 1 + len(s.Parameters[i].Tied)
		}
	}
	p.Prose("  ", fmt.Sprintf("%s: %s changed to six digits; comments, order and spacing kept; %s is untouched.",
		s.Wrote, plural(moved, "value"), s.Source))
}

// plural counts things.
func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, strings.TrimSuffix(thing, "s"))
}
