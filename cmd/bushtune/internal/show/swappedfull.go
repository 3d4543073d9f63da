package show

import (
	"slices"

	"bushtune/cases"
)

// FullSets are the cases at full size beside each other, all in the same order.
type FullSets struct {
	Base []CaseAtSize
	Sets [][][]CaseAtSize // set, place of its range, case
}

// totals are the movements themselves of the numbers that solve shows at full size.
func (c *CaseAtSize) totals() (all []*cases.Series) {
	for i := range c.Answer.Totals {
		if t := &c.Answer.Totals[i]; lastOf(c.Answer.Tangents, t) != nil {
			all = append(all, t)
		}
	}
	return all
}

// between are the least and the largest total of a number in a case with a set; held
// tells whether the load is held at every place of the range.
func (f *FullSets) between(set, k int, like *cases.Series) (low, high float64, held bool) {
	for i, place := range f.Sets[set] {
		if place[k].Answer == nil {
			return 0, 0, false
		}
		total := *lastOf(place[k].Answer.Totals, like)
		if i == 0 {
			low, high = total, total
		}
		low, high = min(low, total), max(high, total)
	}
	return low, high, true
}

// lost is why a load is not held with a set; empty if it is everywhere in its range.
func (f *FullSets) lost(set, k int) string {
	for _, place := range f.Sets[set] {
		if place[k].Answer == nil {
			return place[k].Lost
		}
	}
	return ""
}

// fullTable writes how far the axle goes under loads of full size, as it is and with
// some sets; what no set changes by a step is left out.
func (s *Swapped) fullTable(p *Page) {
	for from := 0; from < len(s.Full.Sets); {
		to := min(from+mostColumns, len(s.Full.Sets))
		g := s.fullBlock(from, to)
		for to > from+1 && g.overflows() {
			to--
			g = s.fullBlock(from, to)
		}
		p.blank()
		g.write(p)
		from = to
	}
	if len(s.Full.Sets) > 0 {
		p.blank()
		p.Prose("", "At full size: how far the axle goes from rest under each load as a whole, closed voids and stops included. What no set changes by a step is left out.")
	}
}

// fullBlock is the table of the sets from one on up to another.
func (s *Swapped) fullBlock(from, to int) *grid {
	g := &grid{columns: []column{{gives: true}, {align: point}, {}}}
	head := []cell{{"AT FULL SIZE", strong}, words("as it is"), words("")}
	for set := from; set < to; set++ {
		g.columns = append(g.columns, column{align: right})
		head = append(head, words(setName(set)))
	}
	g.addCells(head...)
	for k := range s.Full.Base {
		s.addFull(g, k, from, to)
	}
	return g
}

// addFull writes one case.
func (s *Swapped) addFull(g *grid, k, from, to int) {
	c := &s.Full.Base[k]
	if c.Answer == nil {
		g.heading(c.Title)
		g.across("  as it is: "+c.Lost, bad)
		return
	}
	g.heading(c.heading())
	hidden := hiddenReadings()
	rows := 0
	for _, t := range c.totals() {
		if cells, changed := s.fullRow(t, k, from, to); changed && !hidden[t.Number] {
			g.addCells(cells...)
			rows++
		}
	}
	for set := from; set < to; set++ {
		if lost := s.Full.lost(set, k); lost != "" {
			g.across("  "+setName(set)+": "+lost, bad)
			rows++
		}
	}
	if rows == 0 {
		g.across("  no number changes by a step", plain)
	}
}

// fullRow is the total of one number; changed tells whether a set moves it by a step.
func (s *Swapped) fullRow(t *cases.Series, k, from, to int) (cells []cell, changed bool) {
	before := t.Points[len(t.Points)-1].Value
	cells = []cell{words(wheelTitle(t)), words(textOf(t, before)), words(t.Unit)}
	for set := from; set < to; set++ {
		low, high, held := s.Full.between(set, k, t)
		if !held {
			cells = append(cells, cell{"lost", bad})
			continue
		}
		text := textOf(t, low)
		if other := textOf(t, high); other != text {
			text += " to " + other
		}
		cells = append(cells, words(text))
		changed = changed || max(before-low, high-before, low-before, before-high) >= t.Step
	}
	return cells, changed
}

// fullRecords are the totals for programs: line total, or total low and total high.
func (s *Swapped) fullRecords(v *view) (all []Record) {
	for k := range s.Full.Base {
		c := &s.Full.Base[k]
		if c.Answer == nil {
			all = append(all, v.noteRecords([]string{c.Name + ": " + c.Lost})...)
			continue
		}
		for _, t := range c.totals() {
			all = append(all, v.fullRecord("before", "", "total", t, t.Points[len(t.Points)-1].Value))
			for set := range s.Full.Sets {
				low, high, held := s.Full.between(set, k, t)
				switch {
				case !held:
				case !s.Columns[set].IsRange():
					all = append(all, v.fullRecord("after", setName(set), "total", t, low))
				default:
					all = slices.Concat(all, []Record{v.fullRecord("after", setName(set), "total low", t, low), v.fullRecord("after", setName(set), "total high", t, high)})
				}
			}
		}
		for set := range s.Full.Sets {
			if lost := s.Full.lost(set, k); lost != "" {
				all = append(all, v.noteRecords([]string{setName(set) + ", " + c.Name + ": " + lost})...)
			}
		}
	}
	return all
}

func (v *view) fullRecord(stage, name, line string, t *cases.Series, value float64) Record {
	return Record{Kind: "figure", Stage: stage, Name: name, Line: line, Number: t.Number, Case: t.Case, Where: t.Where, Pads: t.Pads, StaticLoad: v.loadAtRest(),
		X: number(t.Points[len(t.Points)-1].X), XUnit: t.X.Unit, Value: number(value), Unit: t.Unit, Words: t.Signs.Read(value, t.Step).Words}
}
