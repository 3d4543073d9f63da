package show

import (
	"io"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
)

// CaseAtSize is one case at full size.
type CaseAtSize struct {
	Name, Title string
	Linear      map[string]float64 // of numbers of the study, by number:where, written
	Answer      *cases.Swept       // nil if the load cannot be held
	Lost        string             // then why
}

// AtSize is the answer to solve --at-size.
type AtSize struct {
	Noted
	Title, Source string // of the file
	Study         *cases.Study
	Cases         []CaseAtSize
}

// LinearKey names a number within a case.
func LinearKey(number, where string) string { return number + ":" + where }

// sizedRow is one number at full size in its four readings; nil where there is none.
// The total has a unit of its own.
type sizedRow struct {
	series                  *cases.Series
	linear, secant, tangent *float64
	total                   *cases.Series // whose last point it is
}

// rows are the numbers of a case. The linear value is that of the study, or where
// it has none the tangent of the unloaded axle; a state has none, as its number is
// that at its size.
func (c *CaseAtSize) rows(generic map[string]bool) (all []sizedRow) {
	for i := range c.Answer.Tangents {
		t := &c.Answer.Tangents[i]
		if generic[t.Number] {
			continue
		}
		row := sizedRow{series: t, tangent: &t.Points[len(t.Points)-1].Value, linear: &t.Points[0].Value}
		if value, known := c.Linear[LinearKey(t.Number, t.Where)]; known {
			row.linear = &value
		}
		if t.X.Unit == quantity.Gravity.Name {
			row.linear = nil
		}
		row.secant = lastOf(c.Answer.Secants, t)
		row.total = sameNumber(c.Answer.Totals, t)
		all = append(all, row)
	}
	return all
}

// lastOf is the last value of the series of the same number, nil if there is none.
func lastOf(series []cases.Series, like *cases.Series) *float64 {
	if s := sameNumber(series, like); s != nil {
		return &s.Points[len(s.Points)-1].Value
	}
	return nil
}

// sameNumber is the series of the same number, nil if there is none.
func sameNumber(series []cases.Series, like *cases.Series) *cases.Series {
	for i := range series {
		if s := &series[i]; s.Number == like.Number && s.Where == like.Where && s.Case == like.Case {
			return s
		}
	}
	return nil
}

// Text writes the answer for a person.
func (a *AtSize) Text(p *Page) {
	v := newView(a.Study, nil)
	v.head(p, a.Title, a.Source)
	p.Prose("", "Linear: small movements at rest. Secant: the whole movement over the whole load. Tangent: a small load more at full size. Total: the movement itself.")
	p.blank()
	hidden := hiddenReadings()
	g := grid{columns: []column{{gives: true}, {align: point}, {align: point}, {align: point}, {}, {align: point}, {gives: true}}}
	var defs []cases.Series
	var warnings []string
	for i := range a.Cases {
		c := &a.Cases[i]
		if c.Answer == nil {
			g.heading(c.Title)
			g.across("  "+c.Lost, bad)
			continue
		}
		g.heading(c.heading())
		g.add("", "linear", "secant", "tangent", "", "total", "")
		for _, row := range c.rows(hidden) {
			g.add(row.cells()...)
			defs = append(defs, *row.series)
		}
		warnings = append(warnings, c.Answer.Warnings...)
	}
	g.write(p)
	definitions(p, defs)
	footnotes(p, warnings)
	foot(p)
}

// heading names the case, its load and its pads.
func (c *CaseAtSize) heading() string {
	t := &c.Answer.Tangents[0]
	return c.Title + " · at " + measure(t.Points[len(t.Points)-1].X) + " " + t.X.Unit + " of " + t.X.Name + " · pads " + t.Pads
}

// wheelTitle names a number in a row, with its wheel.
func wheelTitle(s *cases.Series) string {
	if s.Where == "outer" || s.Where == "inner" {
		return "  " + s.Title + ", " + s.Where
	}
	return "  " + s.Title
}

// cells are the columns of the text.
func (r *sizedRow) cells() []string {
	text := func(value *float64) string {
		if value == nil {
			return ""
		}
		return textOf(r.series, *value)
	}
	moved, total := *r.tangent, ""
	if r.secant != nil {
		moved = *r.secant
	}
	if r.total != nil {
		moved = r.total.Points[len(r.total.Points)-1].Value
		total = textOf(r.total, moved) + " " + r.total.Unit
	}
	word, _, _ := strings.Cut(r.series.Signs.Read(moved, r.series.Step).Words, ":")
	return []string{wheelTitle(r.series), text(r.linear), text(r.secant), text(r.tangent), r.series.Unit, total, word}
}

// hiddenReadings are plain readings that tables leave out; records have them.
func hiddenReadings() map[string]bool {
	hidden := map[string]bool{}
	for _, name := range []string{"centre_z", "patch_x", "patch_z", "centre_y", "wheel_wind_up"} {
		hidden[name] = true
	}
	return hidden
}

// records is the answer for programs.
func (a *AtSize) records() []Record {
	v := newView(a.Study, nil)
	var list, notes []Record
	var defs []cases.Series
	for i := range a.Cases {
		c := &a.Cases[i]
		if c.Answer == nil {
			notes = append(notes, v.noteRecords([]string{c.Name + ": " + c.Lost})...)
			continue
		}
		for _, row := range c.rows(nil) {
			list = append(list, v.sizedRecords(&row)...)
			defs = append(defs, *row.series)
		}
		notes = append(notes, v.noteRecords(c.Answer.Warnings)...)
	}
	return append(append(list, v.definitionRecords(defs)...), notes...)
}

// sizedRecords are the readings of one number, the stage in which each stands.
func (v *view) sizedRecords(row *sizedRow) (list []Record) {
	s := row.series
	x := s.Points[len(s.Points)-1].X
	for _, one := range []struct {
		stage string
		value *float64
	}{{"linear", row.linear}, {"secant", row.secant}, {"tangent", row.tangent}} {
		if one.value != nil {
			list = append(list, v.sizedRecord(one.stage, s, x, *one.value))
		}
	}
	if row.total != nil {
		list = append(list, v.sizedRecord("total", row.total, x, row.total.Points[len(row.total.Points)-1].Value))
	}
	return list
}

// sizedRecord is one reading of a number at full size.
func (v *view) sizedRecord(stage string, s *cases.Series, x, value float64) Record {
	return Record{Kind: "figure", Stage: stage, Line: s.X.Name, Number: s.Number, Case: s.Case, Where: s.Where, Pads: s.Pads, StaticLoad: v.loadAtRest(),
		X: number(x), XUnit: s.X.Unit, Value: number(value), Unit: s.Unit, Words: s.Signs.Read(value, s.Step).Words}
}

// JSON writes the answer for programs.
func (a *AtSize) JSON(w io.Writer) error { return writeJSON(w, a.noted(a.records())) }

// CSV writes the answer for programs.
func (a *AtSize) CSV(w io.Writer) error { return writeCSV(w, a.noted(a.records())) }
