package show

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/cmd/bushtune/internal/tuning"
)

// Swapped is the answer to swap: an axle beside itself with other parts.
type Swapped struct {
	Noted
	Title, Source string // of the axle file
	*swapping.Comparison
	Full     FullSets // empty unless asked for
	AllWorse bool     // everything that got worse, not only what matters most
}

// setName names a set in tables.
func setName(i int) string { return fmt.Sprintf("set %d", i+1) }

// Text writes the answer for a person.
func (s *Swapped) Text(p *Page) {
	v := newView(s.Base, s.Asked)
	v.head(p, s.Title, s.Source)
	p.blank()
	for i := range s.Columns {
		s.worsened(v, i).inShort(p, "Worse with "+setName(i))
	}
	s.setTable(p)
	s.wantTable(p, v)
	for i := range s.Columns {
		s.worsened(v, i).table(p, "WORSENED with "+setName(i)+", largest first", "as it is", setName(i))
	}
	for from := 0; from < len(s.Columns); {
		g, many := s.block(v, from)
		p.blank()
		g.write(p)
		from += many
	}
	p.blank()
	p.Prose("", judges(s.Columns))
	for i := range s.Columns {
		s.whatChanges(p, v, i)
	}
	s.fullTable(p)
	s.playTable(p, v)
	v.absentTable(p)
	footnotes(p, append(s.Base.Warnings(), s.Full.limitNotes()...))
	foot(p)
}

// worsened is what a set makes worse.
func (s *Swapped) worsened(v *view, column int) *worsened {
	harms := swapping.WithLimits(s.Columns[column].Worse, s.limitsAtSize(column))
	return &worsened{view: v, harms: harms, full: s.AllWorse, sized: s.Full.titles()}
}

// setTable says what every set is, as the program understood it.
func (s *Swapped) setTable(p *Page) {
	p.blank()
	p.Heading("THE SETS")
	g := grid{columns: []column{{}, {}, {gives: true}}}
	for i := range s.Columns {
		c := &s.Columns[i]
		title := c.Set.Title
		if strings.ReplaceAll(title, " + ", "+") != c.Set.Name {
			title += ", from " + c.Set.Name
		}
		g.across("  "+setName(i)+"  "+title, strong)
		if len(c.Parts) == 0 {
			g.across("    nothing differs from the axle as it is", plain)
		}
		path := ""
		for _, part := range c.Parts {
			label := ""
			if part.Path != path {
				path, label = part.Path, "    "+part.Path
			}
			g.add(label, part.What, partMove(&part))
		}
	}
	g.write(p)
}

// partMove words the change of a part.
func partMove(c *swapping.PartChange) string {
	if c.Words != "" {
		return c.Words
	}
	after := measure(c.Low)
	if high := measure(c.High); high != after {
		after += " to " + high
	}
	return strings.TrimSpace(measure(c.Before) + " → " + after + " " + c.Unit)
}

// judges says how verdicts are found and, where there is a range, what it means.
func judges(columns []swapping.Column) string {
	text := "A step is the change of a number that is just worth noticing. Better and worse are judged by the wants of the axle file where it has one " +
		"on the number, which is named; else by what is usual for a rear axle (common practice, no source)."
	if slices.ContainsFunc(columns, func(c swapping.Column) bool { return c.IsRange() }) {
		text += " \"a to b\" is the least and the largest value over the range of the compound: the real part lies somewhere between, and only a test tells where."
	}
	return text
}

// mostColumns is how many sets stand side by side at most.
const mostColumns = 4

// signWidth is the room of sign words beside a figure, labelWidth the least that
// names of numbers need to be read at a glance.
const (
	signWidth  = 16
	labelWidth = 24
)

// block is the table of as many sets from one on as fit the page.
func (s *Swapped) block(v *view, from int) (*grid, int) {
	for many := min(mostColumns, len(s.Columns)-from); ; many-- {
		g := s.sideBySide(v, s.Columns[from:from+many], from)
		if many == 1 || !g.overflows() {
			return g, many
		}
	}
}

// overflows tells whether a grid leaves less than labelWidth for its first column.
func (g *grid) overflows() bool {
	g.fit()
	w := g.columns[0].width
	return w > 0 && w < labelWidth
}

// sideBySide writes every number of the axle as it is and with some sets.
func (s *Swapped) sideBySide(v *view, columns []swapping.Column, from int) *grid {
	g := &grid{columns: []column{{gives: true}, {align: point}, {}, {width: signWidth}}}
	head := []cell{{"SIDE BY SIDE", strong}, words("as it is"), words(""), words("")}
	for i := range columns {
		a := point
		if columns[i].IsRange() {
			a = right
		}
		g.columns = append(g.columns, column{align: a}, column{width: signWidth})
		head = append(head, words(setName(from+i)), words(""))
	}
	g.addCells(head...)
	for _, group := range v.groups() {
		s.addGroup(g, v, &group, columns)
	}
	return g
}

// addGroup writes one group of numbers; those that no set changes by a step are only
// named.
func (s *Swapped) addGroup(g *grid, v *view, group *group, columns []swapping.Column) {
	g.heading(group.heading)
	if s.asTurningLeft(v, group, columns) {
		g.across("  as turning left", plain)
		return
	}
	var unchanged []string
	for k, index := range group.indices {
		title, label := v.numbers[index].Title, "  "+v.numbers[index].Title
		if phrase := group.phrases[k]; phrase != "" {
			title, label = title+", "+phrase, label+", "+phrase
		}
		if !noticed(v, columns, index) {
			unchanged = append(unchanged, title)
			continue
		}
		g.addCells(s.numberRow(v, label, index, columns)...)
	}
	if unchanged == nil {
		return
	}
	text := "  unchanged: " + strings.Join(unchanged, "; ")
	for i, line := range wrap(text, pageWidth-4) {
		if i > 0 {
			line = "  " + line
		}
		g.across(line, plain)
	}
}

// asTurningLeft tells whether a group is one of a turn to the right that reads the
// same as its turn to the left.
func (s *Swapped) asTurningLeft(v *view, group *group, columns []swapping.Column) bool {
	return !slices.ContainsFunc(group.indices, func(index int) bool {
		return !strings.HasSuffix(v.numbers[index].Case, cases.TurnRight) || !s.alike(v, columns, index)
	})
}

// noticed tells whether any of the sets changes a number by a step.
func noticed(v *view, columns []swapping.Column, index int) bool {
	n := &v.numbers[index]
	before, step := v.study.Value(index), n.Step*n.Unit.Factor
	return slices.ContainsFunc(columns, func(c swapping.Column) bool {
		low, high := c.Between(index)
		lost := math.IsNaN(low) || math.IsNaN(high)
		return lost != math.IsNaN(before) || max(math.Abs(low-before), math.Abs(high-before)) >= step
	})
}

// numberRow is one number with its unit and sign word, then with every set. The sign
// word of a set stands beside it where it is another one.
func (s *Swapped) numberRow(v *view, label string, index int, columns []swapping.Column) []cell {
	f := v.study.Figure(index)
	row := []cell{words(label), words(f.Text), words(f.Unit), words(sign(f))}
	for i := range columns {
		low, high := columns[i].Between(index)
		row = append(row, words(v.between(index, low, high)), words(signsBetween(v, index, low, high, sign(f))))
	}
	return row
}

// signsBetween are the sign words of a range; empty if all are those from before.
func signsBetween(v *view, index int, low, high float64, before string) string {
	a, b := sign(v.study.FigureOf(index, low)), sign(v.study.FigureOf(index, high))
	switch {
	case a == before && b == before, a == "" && b == "":
		return ""
	case a == b || a == "" || b == "":
		return strings.TrimSpace(a + " " + b)[:max(len(a), len(b))]
	}
	return a + " to " + b
}

// wantTable writes how every want with a number stands, set by set. Wants under a load
// of full size are told with the number itself, which stands nowhere else.
func (s *Swapped) wantTable(p *Page, v *view) {
	g := grid{columns: []column{{gives: true}, {}, {}}}
	for i := range s.Asked {
		a := &s.Asked[i]
		turned := strings.HasSuffix(v.numbers[a.Index].Case, cases.TurnRight)
		if a.Goal.Size != 0 {
			s.addSized(&g, v, i)
			continue
		}
		if openEnded(a.Want.Kind) || turned && s.alike(v, s.Columns, a.Index) {
			continue
		}
		judge := func(value float64) cell {
			now := a.Unit.Written(value)
			return v.judgedWithMargin(a, a.Want.Outcome(now, now))
		}
		g.addCells(words("  "+v.captionOf(a)+": "+v.wishUnit(a)), words("as it is"), judge(s.Base.Value(a.Index)))
		for k := range s.Columns {
			low, high := s.Columns[k].Between(a.Index)
			g.addCells(words(""), words(setName(k)), worst(judge(low), judge(high)))
		}
	}
	if len(g.rows) == 0 {
		return
	}
	p.blank()
	p.Heading("WANTED BY THE AXLE FILE")
	g.write(p)
	for i, r := range s.reserves() {
		if text := v.reserve(r); text != "" {
			p.Prose("  ", reserveName(i)+" · "+text)
		}
	}
}

// reserves are those of the axle as it is and with every set.
func (s *Swapped) reserves() []*tuning.Reserve {
	all := []*tuning.Reserve{s.Reserve}
	for i := range s.Columns {
		all = append(all, s.Columns[i].Reserve)
	}
	return all
}

func reserveName(i int) string {
	if i == 0 {
		return "as it is"
	}
	return setName(i - 1)
}

// addSized writes how a want under a load of full size stands.
func (s *Swapped) addSized(g *grid, v *view, asked int) {
	if s.alikeAtSize(v, s.Columns, asked) {
		return
	}
	a := &s.Asked[asked]
	g.addCells(words("  "+v.captionOf(a)+": "+v.wishUnit(a)), words("as it is"), s.sizedVerdict(v, asked, s.AtSize[asked]))
	for k := range s.Columns {
		g.addCells(words(""), words(setName(k)), s.sizedVerdict(v, asked, s.Columns[k].AtSize[asked]))
	}
}

// worst is the verdict at the two ends of a range.
func worst(low, high cell) cell {
	switch {
	case low == high:
		return low
	case low.tone == bad && high.tone != bad:
		return cell{"met to " + low.text, bad}
	case high.tone == bad && low.tone != bad:
		return cell{"met to " + high.text, bad}
	}
	return cell{low.text + " to " + high.text, bad}
}

// JSON writes the answer for programs.
func (s *Swapped) JSON(w io.Writer) error { return writeJSON(w, s.noted(s.records())) }

// CSV writes the answer for programs.
func (s *Swapped) CSV(w io.Writer) error { return writeCSV(w, s.noted(s.records())) }
