package show

import (
	"bushtune/cmd/bushtune/internal/swapping"
)

// records is the answer to swap for programs: stage before is the axle as it is,
// after an axle with the set that Name tells; Line says which end of a range.
func (s *Swapped) records() []Record {
	v := newView(s.Base, s.Asked)
	all := append(v.figures("before", false), v.goalFigures("before")...)
	all = append(all, v.reserveRecords("before", "", s.Reserve)...)
	for i := range s.Columns {
		all = append(all, s.setRecords(v, i)...)
		all = append(all, v.reserveRecords("after", setName(i), s.Columns[i].Reserve)...)
	}
	all = append(all, s.fullRecords(v)...)
	all = append(all, v.wishes()...)
	all = append(all, v.absent()...)
	return append(all, v.noteRecords(append(s.Base.Warnings(), s.Full.limitNotes()...))...)
}

// setRecords are the records of one set.
func (s *Swapped) setRecords(v *view, column int) []Record {
	c := &s.Columns[column]
	name := setName(column)
	all := []Record{{Kind: "set", Name: name, Line: c.Set.Name, StaticLoad: v.loadAtRest(), Words: c.Set.Title}}
	for i := range c.Parts {
		all = append(all, v.partRecords(name, &c.Parts[i])...)
	}
	for i := range v.numbers {
		if n := &v.numbers[i]; !n.Generic || v.shown(i) {
			all = append(all, v.columnFigures(name, c, i)...)
		}
	}
	all = append(all, s.sizedRecords(v, column)...)
	changes := s.told(v, column)
	for i := range changes {
		ch := &changes[i]
		r := v.of("change", "after", ch.Index)
		if ch.AtSize {
			r = v.ofWant("change", "after", &s.Asked[ch.Asked])
		}
		r.Name, r.Line, r.Unit, r.Value, r.Words = name, ch.Verdict.String(), "steps", number(ch.Steps), s.sentence(v, ch, column)
		all = append(all, r)
	}
	all = append(all, s.worsened(v, column).records(name)...)
	for i := range c.Plays {
		all = append(all, v.playRecords(name, &c.Plays[i], c.IsRange())...)
	}
	notes := s.cautions(v, column, changes)
	if pull := s.pull(v, c); pull != "" {
		notes = append([]string{pull}, notes...)
	}
	for _, caution := range notes {
		all = append(all, Record{Kind: "note", Stage: "after", Name: name, StaticLoad: v.loadAtRest(), Words: caution})
	}
	return all
}

// playRecords are the load at rest of a worn bush, at both ends of a range.
func (v *view) playRecords(set string, p *swapping.Play, ranges bool) []Record {
	end := func(line string, rest float64) Record {
		r := Record{Kind: "play", Stage: "after", Name: set + " " + p.Element, Line: p.Line() + line, StaticLoad: v.loadAtRest(),
			X: number(p.Way), XUnit: "mm", Unit: "N", Words: playWords(v, p)}
		if !p.Unknown {
			r.Value = number(rest)
		}
		return r
	}
	if !ranges {
		return []Record{end("", p.Rest)}
	}
	return []Record{end(" low", min(p.Rest, p.RestEnd)), end(" high", max(p.Rest, p.RestEnd))}
}

// partRecords are what a set changes in a part.
func (v *view) partRecords(set string, c *swapping.PartChange) []Record {
	record := func(stage, line string, value float64) Record {
		r := Record{Kind: "replaced", Stage: stage, Name: set + " " + c.Path + "." + c.What, Line: line, StaticLoad: v.loadAtRest(), Unit: c.Unit, Words: c.Words}
		if c.Words == "" {
			r.Value = number(value)
		}
		return r
	}
	switch {
	case c.Words != "":
		return []Record{record("after", "", 0)}
	case c.Low != c.High:
		return []Record{record("before", "", c.Before), record("after", "low", c.Low), record("after", "high", c.High)}
	}
	return []Record{record("before", "", c.Before), record("after", "", c.Low)}
}

// columnFigures are a number with a set: one record, or one for each end of a range.
func (v *view) columnFigures(set string, c *swapping.Column, index int) []Record {
	low, high := c.Between(index)
	end := func(line string, value float64) Record {
		r := v.figure("after", v.study.FigureOf(index, value))
		r.Name, r.Line = set, line
		return r
	}
	if !c.IsRange() {
		return []Record{end("", low)}
	}
	return []Record{end("low", low), end("high", high)}
}
