package show

import (
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/tuning"
)

// Caution stands under every answer.
const Caution = "Caution: changed bushes and alignment change how a car behaves at its limit and can make it unsafe. " +
	"These are estimates from the numbers in the file: no type approval, no statement on durability or welds. " +
	"Measure before and after, follow local vehicle rules, have the work done and inspected by someone qualified."

// Solved is the answer to solve: an axle as it stands.
type Solved struct {
	Noted
	Title, Source string // of the file
	Study         *cases.Study
	Asked         []tuning.Asked
	Reserve       *tuning.Reserve
	Parts         []int // numbers whose parts are shown
	AllParts      bool  // every part, not only the largest
	Sensitivity   bool  // with the parts of a number what its rates do to it
	Matrix        bool
	Loads         bool
	Names         bool // names for files and --parts instead of values
	Readings      bool // the plain readings of every wheel in every case
}

// Text writes the answer for a person.
func (s *Solved) Text(p *Page) {
	v := newView(s.Study, s.Asked)
	v.named = s.Names
	v.head(p, s.Title, s.Source)
	p.blank()
	v.numberTable(p)
	if text := v.reserve(s.Reserve); text != "" && !s.Names {
		p.blank()
		p.Prose("", text)
	}
	if s.Names && !s.Readings {
		p.blank()
		p.Prose("", "The readings of every wheel in every case have names too: --readings lists them.")
	}
	for _, index := range s.Parts {
		v.partsTable(p, index, s.AllParts)
		if s.Sensitivity {
			v.sensitivityTable(p, index, s.AllParts)
		}
	}
	if s.Matrix {
		v.matrixTable(p)
	}
	if s.Loads {
		v.loadTable(p)
	}
	if s.Readings {
		v.readingTable(p)
	}
	v.absentTable(p)
	footnotes(p, s.Study.Warnings())
	foot(p)
}

// head names the axle and says what holds for every table.
func (v *view) head(p *Page, title, source string) {
	p.Heading(title)
	p.line("from "+source+" · static load: "+v.loadAtRest()+" · body fixed, wheels move", plain)
}

// footnotes lists warnings.
func footnotes(p *Page, warnings []string) {
	if len(warnings) == 0 {
		return
	}
	p.blank()
	p.Heading("NOTES")
	for _, w := range warnings {
		p.Prose("  ", w)
	}
}

// foot writes the caution.
func foot(p *Page) {
	p.blank()
	p.Prose("", Caution)
}

// readingTable writes the plain readings of the outer and the inner wheel, case
// by case; the same readings of the left and the right wheel are in the records.
func (v *view) readingTable(p *Page) {
	p.blank()
	p.Heading("READINGS OF EVERY WHEEL")
	g := grid{columns: []column{{gives: true}, {align: point}, {}, {}}}
	for _, c := range v.study.Cases() {
		g.heading(headed(c.Name, c, c.Title))
		for i := range v.numbers {
			if n := &v.numbers[i]; n.Generic && n.Case == c.Name && !byItsSide(n) {
				f := v.study.Figure(i)
				g.add("  "+f.Number, f.Text, f.Unit, f.Words)
			}
		}
	}
	g.write(p)
}
