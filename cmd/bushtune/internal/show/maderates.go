package show

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/making"
)

// rateTable lists every number of the part: of a polyurethane at both ends of its
// range too, and with all errors at their worst.
func (m *Made) rateTable(p *Page) {
	p.blank()
	columns, head := []column{{}, {align: point}}, []string{"", "rate"}
	if m.Softest == nil {
		p.Heading("RATES")
	} else {
		p.Heading("RATES: a polyurethane of one hardness has a range, never one number")
		columns, head = append(columns, column{align: point}, column{align: point}), []string{"", "at " + measure(m.rangeShare()), "low", "high"}
	}
	g := grid{columns: append(columns, column{}, column{}, column{gives: true})}
	g.add(append(head, "", "all errors", "")...)
	for i := range m.Values {
		if m.has(i) {
			g.add(m.rateRow(i)...)
		}
	}
	g.write(p)
	m.errorTable(p)
}

// has tells whether the part has a number, unlike the gap of a void that is not
// there.
func (m *Made) has(i int) bool { return m.Values[i] != 0 || m.part().Friction(i) }

func (m *Made) rateRow(i int) []string {
	row := []string{"  " + m.numberName(i), m.written(i, m.Values[i])}
	if m.Softest != nil {
		row = append(row, m.written(i, m.Softest[i]), m.written(i, m.Stiffest[i]))
	}
	if m.part().Friction(i) {
		row = append(row[:1], make([]string, len(row)-1)...)
		return append(row, "", "friction", "no stiffness: "+m.quantityOf(i).Meaning)
	}
	worst, all := rubber.WorstBand(m.Bands[i]), ""
	if worst.Low != worst.High {
		all = m.written(i, worst.Low*m.Values[i]) + " to " + m.written(i, worst.High*m.Values[i])
	}
	return append(row, m.unitOf(i), all, m.quantityOf(i).Meaning)
}

// errorTable lists how far each rate may be off, each source in a column of its own.
func (m *Made) errorTable(p *Page) {
	sources := m.sources()
	if len(sources) == 0 {
		return
	}
	p.blank()
	p.Heading("HOW FAR EACH RATE MAY BE OFF, by source")
	columns, head := []column{{}}, []string{""}
	for k := range sources {
		columns, head = append(columns, column{}), append(head, sourceMark(k))
	}
	g := grid{columns: columns}
	g.add(head...)
	for i, bands := range m.Bands {
		if len(bands) == 0 {
			continue
		}
		row := []string{"  " + m.numberName(i)}
		for _, source := range sources {
			row = append(row, m.bandText(i, source))
		}
		g.add(row...)
	}
	g.write(p)
	for k, source := range sources {
		p.Prose("  ", sourceMark(k)+" "+source)
	}
	p.Prose("  ", "All errors above: each of these at its worst at once. Measure the first parts: that leaves the error of the test and the class, which is how far later parts may differ.")
}

// sourceMark stands over the column of a source of error.
func sourceMark(k int) string { return "(" + string(rune('a'+k)) + ")" }

// sources lists the sources of error, in the order in which they are found.
func (m *Made) sources() []string {
	var all []string
	for _, bands := range m.Bands {
		for _, b := range bands {
			if !slices.Contains(all, b.Source) {
				all = append(all, b.Source)
			}
		}
	}
	return all
}

// bandText is one source's band of a number, in per cent.
func (m *Made) bandText(i int, source string) string {
	for _, b := range m.Bands[i] {
		if b.Source == source {
			return percents(b.Low, b.High)
		}
	}
	return ""
}

// percents writes a band of factors: "±14 %", "−3 to +5 %".
func percents(low, high float64) string {
	down, up := 100*(1-low), 100*(high-1)
	if math.Abs(down-up) < 0.05*math.Max(math.Abs(down), math.Abs(up)) {
		return "±" + significant((down+up)/2, 2) + " %"
	}
	return signedPercent(-down) + " to " + signedPercent(up) + " %"
}

// signedPercent writes a number of per cent with its sign, nothing without.
func signedPercent(x float64) string {
	text := significant(x, 2)
	switch {
	case isZero(text):
		return "0"
	case x > 0:
		return "+" + text
	}
	return text
}

// betweenTable lists the two limits that each rate must lie between, whatever
// formula it comes from, and below what they are.
func (m *Made) betweenTable(p *Page) {
	if !slices.ContainsFunc(m.Between, func(b rubber.Between) bool { return b.High > 0 }) {
		return
	}
	p.blank()
	p.Heading("WHAT EACH RATE MUST LIE BETWEEN, by the theory of elasticity")
	g := grid{columns: []column{{}, {align: point}, {align: point}, {}}}
	g.add("", "above", "below", "")
	var low, high meanings
	for i, b := range m.Between {
		if b.High > 0 && m.Values[i] > 0 && m.unitOf(i) != "" { // a shape factor is what it is
			g.add("  "+m.numberName(i), m.written(i, b.Low), m.written(i, b.High), m.unitOf(i))
			low.add(b.LowIs, m.numberName(i))
			high.add(b.HighIs, m.numberName(i))
		}
	}
	g.write(p)
	low.write(p, "above")
	high.write(p, "below")
}

// meanings are texts with the names that share them.
type meanings struct {
	texts []string
	names [][]string
}

func (m *meanings) add(text, name string) {
	at := slices.Index(m.texts, text)
	if at < 0 {
		at = len(m.texts)
		m.texts, m.names = append(m.texts, text), append(m.names, nil)
	}
	m.names[at] = append(m.names[at], name)
}

func (m *meanings) write(p *Page, word string) {
	for i, text := range m.texts {
		p.Prose("  ", strings.Join(m.names[i], ", ")+" "+word+": "+text+".")
	}
}

// material says which moduli were taken, and how sure they are.
func (m *Made) material(p *Page) {
	c := &m.Compound
	p.blank()
	p.Heading("RUBBER")
	line := fmt.Sprintf("E %s, G %s, bulk %s MPa", rate(c.Moduli.E), rate(c.Moduli.G), rate(c.Moduli.Bulk))
	switch m.part().Choice.Compound {
	case rubber.Natural:
		p.Prose("  ", fmt.Sprintf("Natural rubber of %s IRHD: %s (Lindley's table).", measure(c.Hardness), line))
		p.Prose("  ", fmt.Sprintf("G for that hardness: %s MPa by Lindley, %s MPa by Gent's relation, %s. Compounds of one hardness differ that much, which is not in the errors above: measure G of yours and give it (compound = \"given\", shear_modulus).",
			rate(c.Lindley), rate(c.Gent), cmpWords(c.Gent/c.Lindley)))
		if c.HarderGent > 0 {
			p.Prose("  ", fmt.Sprintf("%d IRHD more: G ×%s by Lindley, ×%s by Gent; common practice says about 20 %%.", making.HarderBy, rate(c.HarderLindley), rate(c.HarderGent)))
		}
		p.Prose("  ", fmt.Sprintf("Hardness scatters by ±%d IRHD: G %s to %s MPa.", rubber.HardnessScatter, rate(c.Low.G), rate(c.High.G)))
	case rubber.Polyurethane:
		p.Prose("  ", fmt.Sprintf("Polyurethane of %s Shore A: G %s to %s MPa, from its stress at 100 %% extension with the limits of 95 %% of all compounds (RMA). The rates stand for range_share %s of it.", measure(c.Hardness), rate(c.Low.G), rate(c.High.G), measure(m.rangeShare())))
	default:
		p.Prose("  ", "As given: "+line+".")
	}
	if c.Typical {
		d := &c.Dynamic
		p.Prose("  ", fmt.Sprintf("Dynamic (%s): rate ×%s at %s Hz, loss factor %s.", rubber.Typical, rate(d.Ratio), measure(d.At), significant(d.Loss, 2)))
	}
	m.factors(p)
}

// factors says what the author put on the moduli.
func (m *Made) factors(p *Page) {
	for i, f := range m.part().Part.Fields {
		if name, ok := strings.CutSuffix(f.Name, "_factor"); ok && m.Slots[i] != 1 {
			p.Prose("  ", fmt.Sprintf("E and G include a factor of %s for %s, as the file gives it.", measure(m.Slots[i]), name))
		}
	}
}

func cmpWords(ratio float64) string {
	if text := percent(1, ratio, "more", "less"); text != "" {
		return text
	}
	return "the same"
}

// forAxle prints the lines that an axle file takes instead of six rates.
func (m *Made) forAxle(p *Page) {
	if m.part().Part != rubber.BushPart {
		return
	}
	p.blank()
	p.Heading("FOR AN AXLE FILE, in place of the six rates of a [bush.NAME]")
	for i := range m.part().Dimensions {
		d := &m.part().Dimensions[i]
		if d.Given || m.X[i] != d.Field.Default {
			p.line("  rubber."+d.Field.Name+" = "+plainNumber(m.X[i]), plain)
		}
	}
	if c := m.part().Choice; c.Compound != rubber.Natural {
		p.line(fmt.Sprintf("  rubber.compound = %q", rubber.CompoundNames[c.Compound]), plain)
	}
	if c := m.part().Choice; c.Free || c.Compound == rubber.Polyurethane {
		p.line(fmt.Sprintf("  rubber.bonded = %v", !c.Free), plain)
	}
}

// plainNumber writes the six digits of a dimension.
func plainNumber(x float64) string { return significant(x, 6) }

// wroteFile says what became of the file.
func (m *Made) wroteFile(p *Page) {
	if !m.chose() && m.Wrote == "" {
		return
	}
	p.blank()
	p.Heading("WROTE")
	if m.Wrote == "" {
		p.Prose("  ", "nothing: --out FILE writes the part file with these dimensions, your comments kept.")
		return
	}
	p.Prose("  ", m.Wrote+": the dimensions as chosen, to six digits; comments, order and spacing kept; "+m.Source+" is untouched.")
}

// quantityOf is the field of a number.
func (m *Made) quantityOf(i int) *quantity.Field { return &m.part().Part.Numbers[i] }
