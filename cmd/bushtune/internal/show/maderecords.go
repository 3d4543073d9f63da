package show

import (
	"fmt"
	"io"
	"math"

	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/making"
)

// JSON writes the answer for programs.
func (m *Made) JSON(w io.Writer) error { return writeJSON(w, m.noted(m.records())) }

// CSV writes the answer for programs.
func (m *Made) CSV(w io.Writer) error { return writeCSV(w, m.noted(m.records())) }

// records is the answer for programs.
func (m *Made) records() []Record {
	all := m.gotRecords()
	all = append(all, m.dimensionRecords()...)
	all = append(all, m.holdRecords()...)
	for _, list := range [][]making.Range{m.Reach.Rates, m.Reach.Ratios} {
		for i := range list {
			all = append(all, m.rangeRecords(&list[i])...)
		}
	}
	all = append(all, m.rateRecords()...)
	all = append(all, m.modulusRecords()...)
	for _, w := range m.Warnings {
		all = append(all, Record{Kind: "note", Words: w})
	}
	return all
}

func (m *Made) gotRecords() []Record {
	var all []Record
	for i, g := range m.Got {
		r := Record{Kind: "want", Number: m.numberName(g.Wanted.Number), Unit: m.unitOf(g.Wanted.Number)}
		wanted, got, off := r, r, r
		wanted.Line, wanted.Value, wanted.Words = "wanted", number(g.Wanted.Value), g.Wanted.Goal.String()
		got.Line, got.Value, got.Words = "got", number(g.Value), reachedWord(g.Reached)
		off.Line, off.Value, off.Unit = "off by", number(100*g.Off), "%"
		parts := off
		parts.Line, parts.Value = "of the parts", number(100*m.Yield.Each[i])
		missed := off
		missed.Line, missed.Value = "missed by", number(100*g.Miss)
		all = append(all, wanted, got, off, missed, parts)
	}
	if m.Yield != nil {
		all = append(all, Record{Kind: "want", Line: "every want, of the parts", Value: number(100 * m.Yield.All), Unit: "%", Words: m.scatterWords()})
	}
	return all
}

func reachedWord(reached bool) string {
	if reached {
		return "reached"
	}
	return "missed"
}

func (m *Made) dimensionRecords() []Record {
	var all []Record
	for i := range m.part().Dimensions {
		d := &m.part().Dimensions[i]
		if !d.Given {
			continue
		}
		r := Record{Kind: "dimension", Name: d.Field.Name, Line: "given", Value: number(m.X[i]), Unit: m.dimensionUnit(i)}
		if !d.Free() {
			all = append(all, r)
			continue
		}
		from, to := r, r
		r.Line, r.Words = "chosen", m.limitWord(i)
		from.Line, from.Value = "from", number(d.From)
		to.Line, to.Value = "to", number(d.To)
		all = append(all, r, from, to)
		for k, x := range m.Others {
			other := r
			other.Stage, other.Value, other.Words = fmt.Sprint("other ", k+1), number(x[i]), ""
			all = append(all, other)
		}
	}
	return all
}

// holdRecords are the costs of limits: the largest miss as things are, and with the
// limit moved by X.
func (m *Made) holdRecords() []Record {
	var all []Record
	for i := range m.Holds {
		h := &m.Holds[i]
		r := Record{Kind: "price", Line: "largest miss", Unit: "%", Words: h.Refused, X: number(h.Step)}
		if h.Dimension >= 0 {
			d := &m.part().Dimensions[h.Dimension]
			r.Name, r.XUnit = d.Field.Name, m.dimensionUnit(h.Dimension)
		} else {
			w := m.part().Wanted[h.Want]
			r.Number, r.XUnit = m.numberName(w.Number), m.unitOf(w.Number)
		}
		before, after := r, r
		before.Stage, before.X, before.Value = "before", nil, number(100*h.Off)
		before.XUnit = ""
		after.Stage, after.Value = "after", number(100*h.Moved)
		all = append(all, before, after)
	}
	return all
}

func (m *Made) rangeRecords(q *making.Range) []Record {
	r := Record{Kind: "reach", Number: m.rangeName(q), Unit: m.rangeUnit(q), Words: "inside"}
	if !q.Inside() {
		r.Words = "outside"
	}
	all := make([]Record, 0, 4)
	for _, v := range []struct {
		line  string
		value float64
	}{{"least", q.Least}, {"most", q.Most}, {"wanted from", q.Low}, {"wanted to", q.High}} {
		if (v.line == "wanted from" && v.value == 0) || math.IsInf(v.value, 1) {
			continue
		}
		one := r
		one.Line, one.Value = v.line, number(v.value)
		all = append(all, one)
	}
	return all
}

func (m *Made) rateRecords() []Record {
	var all []Record
	for i, value := range m.Values {
		r := Record{Kind: "rate", Number: m.numberName(i), Unit: m.unitOf(i)}
		add := func(line string, inside float64, words string) {
			one := r
			one.Line, one.Value, one.Words = line, number(m.quantityOf(i).Unit.Written(inside)), words
			all = append(all, one)
		}
		switch {
		case m.part().Friction(i):
			r.Words = "friction, not stiffness"
			all = append(all, r)
			continue
		case value == 0:
			continue
		}
		add("", value, "")
		if m.Softest != nil {
			add("low", m.Softest[i], "")
			add("high", m.Stiffest[i], "")
		}
		if b := m.Between[i]; b.High > 0 {
			add("above", b.Low, b.LowIs)
			add("below", b.High, b.HighIs)
		}
		for _, band := range m.Bands[i] {
			add("least", band.Low*value, band.Source)
			add("most", band.High*value, band.Source)
		}
		if worst := rubber.WorstBand(m.Bands[i]); worst.Low != worst.High {
			add("least", worst.Low*value, worst.Source)
			add("most", worst.High*value, worst.Source)
		}
	}
	return all
}

func (m *Made) modulusRecords() []Record {
	c := &m.Compound
	var all []Record
	add := func(name, line string, value float64, unit, words string) {
		all = append(all, Record{Kind: "modulus", Name: name, Line: line, Value: number(value), Unit: unit, Words: words})
	}
	add("E", "", c.Moduli.E, "MPa", "")
	add("G", "", c.Moduli.G, "MPa", "")
	add("bulk", "", c.Moduli.Bulk, "MPa", "")
	add("G", "least", c.Low.G, "MPa", "")
	add("G", "most", c.High.G, "MPa", "")
	if c.Lindley > 0 {
		add("G", "", c.Lindley, "MPa", "Lindley")
		add("G", "", c.Gent, "MPa", "Gent")
	}
	if c.HarderGent > 0 {
		add("G", "5 IRHD more over G", c.HarderLindley, "", "Lindley")
		add("G", "5 IRHD more over G", c.HarderGent, "", "Gent")
	}
	if c.Typical {
		add("dynamic over static", "", c.Dynamic.Ratio, "", rubber.Typical)
		add("loss factor", "", c.Dynamic.Loss, "", rubber.Typical)
	}
	return all
}
