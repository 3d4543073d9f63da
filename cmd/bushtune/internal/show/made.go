package show

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/making"
	"bushtune/optimize"
)

// Made is the answer to rubber: a part, whether its dimensions are given or
// chosen, its rates and how far they can be trusted.
type Made struct {
	Source string
	*making.Outcome
	*making.Rated
	Wrote string // the new file; empty if none was asked for
}

// Text writes the answer for a person.
func (m *Made) Text(p *Page) {
	p.Heading(m.part().Title)
	p.Prose("", "from "+m.Source+" · "+m.what())
	if len(m.Got) > 0 {
		m.verdict(p)
		m.gotTable(p)
	}
	m.dimensionTable(p)
	if len(m.Got) > 0 && m.chose() {
		m.holdsTable(p)
		m.reachTable(p)
	}
	m.rateTable(p)
	m.betweenTable(p)
	m.material(p)
	m.othersTable(p)
	footnotes(p, m.Warnings)
	m.forAxle(p)
	m.wroteFile(p)
	foot(p)
}

func (m *Made) part() *axlefile.PartFile { return m.Outcome.File }

// chose tells whether any dimension was free.
func (m *Made) chose() bool {
	for i := range m.part().Dimensions {
		if m.part().Dimensions[i].Free() {
			return true
		}
	}
	return false
}

// what says shape, compound and bond in words.
func (m *Made) what() string {
	c := m.part().Choice
	words := []string{strings.ReplaceAll(m.part().Part.Name, "_", " ")}
	switch c.Compound {
	case rubber.Natural:
		words = append(words, "natural rubber")
	case rubber.Polyurethane:
		words = append(words, "polyurethane")
	case rubber.Given:
		words = append(words, "moduli as given")
	}
	if c.Free {
		return strings.Join(append(words, "not bonded"), ", ")
	}
	return strings.Join(append(words, "bonded"), ", ")
}

// numberName is the name of a number as files write it.
func (m *Made) numberName(i int) string { return m.part().Part.Numbers[i].Name }

func (m *Made) unitOf(i int) string { return m.part().Part.Numbers[i].Unit.Name }

// written is a number in its written unit, rounded.
func (m *Made) written(i int, inside float64) string {
	return rate(m.part().Part.Numbers[i].Unit.Written(inside))
}

// rate writes a rate with three significant digits: what the formulas are worth.
func rate(x float64) string {
	if size := math.Abs(x); size >= 1000 && !math.IsInf(x, 0) {
		unit := math.Pow(10, math.Floor(math.Log10(size))-2)
		x = math.Round(x/unit) * unit
	}
	return significant(x, 3)
}

// verdict is the first thing a person reads.
func (m *Made) verdict(p *Page) {
	p.blank()
	if m.Reached {
		p.line("REACHED: every wanted rate is met.", good)
		return
	}
	var missed []string
	for _, g := range m.Got {
		if !g.Reached {
			missed = append(missed, m.numberName(g.Wanted.Number)+" "+tooMuch(g.Off))
		}
	}
	head := "NOT REACHED: "
	if m.chose() {
		head = "NOT REACHED inside these limits; the closest is "
	}
	for _, line := range wrap(head+strings.Join(missed, ", ")+".", pageWidth-2) {
		p.line(line, bad)
	}
	m.obstacles(p)
}

// obstacles names the rates and ratios that are wanted and that the limits do not
// allow at all.
func (m *Made) obstacles(p *Page) {
	for _, list := range [][]making.Range{m.Reach.Rates, m.Reach.Ratios} {
		for i := range list {
			if r := &list[i]; !r.Inside() {
				factor := m.rangeFactor(r)
				p.Prose("  ", strings.TrimSpace(fmt.Sprintf("%s cannot be had: wanted %s, these limits allow %s to %s %s", m.rangeName(r), m.wantedRange(r), rate(factor*r.Least), rate(factor*r.Most), m.rangeUnit(r)))+".")
			}
		}
	}
	switch {
	case !m.Certain:
		p.Prose("  ", "The search stopped early: "+m.Reason+".")
	case m.Starts > 0:
		p.Prose("  ", fmt.Sprintf("The best of %d starts. Small changes do not come closer; that is no proof that nothing else does, unless a rate or ratio is named here that cannot be had.", m.Starts))
	}
}

// tooMuch words a miss as a share.
func tooMuch(off float64) string {
	word := "too stiff"
	if off < 0 {
		word = "too soft"
	}
	return share(math.Abs(off)) + " % " + word
}

// share writes a share in per cent, fine with a digit more, to compare.
func share(x float64) string { return significant(100*x, 2) }
func fine(x float64) string  { return significant(100*x, 3) }

// wish is what is wanted of one rate.
func (m *Made) wish(w axlefile.WantedRate) string {
	switch w.Goal {
	case optimize.AtLeast:
		return "at least " + measure(w.Value)
	case optimize.AtMost:
		return "at most " + measure(w.Value)
	}
	return measure(w.Value) + " ± " + significant(w.Within, 2)
}

// gotTable sets what is wanted beside what the part has.
func (m *Made) gotTable(p *Page) {
	p.blank()
	p.Heading("WANTED")
	g := grid{columns: []column{{}, {}, {}, {align: point}, {align: point}, {}}}
	g.add("", "", "wanted", "got", "off by %", "")
	for _, got := range m.Got {
		verdict := cell{"reached", good}
		if !got.Reached {
			verdict = cell{"missed", bad}
		}
		g.addCells(words("  "+m.numberName(got.Wanted.Number)), words(m.unitOf(got.Wanted.Number)), words(m.wish(got.Wanted)),
			words(measure(got.Value)), words(offText(&got)), verdict)
	}
	g.write(p)
}

// offText writes how far a rate is off, in per cent; nothing for a limit that holds.
func offText(g *making.Got) string {
	if g.Reached && g.Wanted.Goal != optimize.Target {
		return ""
	}
	text := fmt.Sprintf("%+.1f", 100*g.Off)
	if isZero(strings.TrimLeft(text, "+-")) {
		return "0.0"
	}
	return text
}

// dimensionTable lists the dimensions that stand in the file.
func (m *Made) dimensionTable(p *Page) {
	p.blank()
	head := "DIMENSIONS"
	if m.chose() {
		head = "CHOSEN"
	}
	p.Heading(head)
	g := grid{columns: []column{{}, {align: point}, {}, {}, {}}}
	if m.chose() {
		g.add("", "", "", "allowed", "")
	}
	for i := range m.part().Dimensions {
		d := &m.part().Dimensions[i]
		switch {
		case !d.Given:
		case d.Free():
			g.add("  "+d.Field.Name, measure(m.X[i]), d.Field.Unit.Name, measure(d.From)+" to "+measure(d.To), m.limitWord(i))
		default:
			g.add("  "+d.Field.Name, measure(m.X[i]), d.Field.Unit.Name, "", "")
		}
	}
	g.write(p)
}

// limitWord says where a chosen dimension ended.
func (m *Made) limitWord(i int) string {
	d := &m.part().Dimensions[i]
	switch m.X[i] {
	case d.From:
		return "on its lower limit"
	case d.To:
		return "on its upper limit"
	}
	return ""
}

// holdsTable lists every limit that the part lies on, and what it costs.
func (m *Made) holdsTable(p *Page) {
	if m.Reached || len(m.Holds) == 0 {
		return
	}
	p.blank()
	p.Heading("WHAT HOLDS IT BACK")
	for i := range m.Holds {
		p.Prose("  ", m.holdText(&m.Holds[i]))
	}
}

func (m *Made) holdText(h *making.Hold) string {
	var text, unit, direction string
	if h.Dimension >= 0 {
		d := &m.part().Dimensions[h.Dimension]
		unit, text = d.Field.Unit.Name, d.Field.Name+" lies on its lower limit, "+measure(d.From)
		direction = "less"
		if h.Upper {
			direction, text = "more", d.Field.Name+" lies on its upper limit, "+measure(d.To)
		}
	} else {
		w := m.part().Wanted[h.Want]
		unit, text = m.unitOf(w.Number), m.numberName(w.Number)+" "+m.wish(w)
		direction = "less"
		if h.Upper {
			direction = "more"
		}
	}
	text = strings.TrimSpace(text + " " + unit)
	step := strings.TrimSpace(measure(h.Step) + " " + unit)
	switch {
	case h.Refused != "":
		return text + ". It cannot be moved by " + step + ": " + h.Refused + "."
	case fine(h.Off) == fine(h.Moved):
		return text + "; " + step + " " + direction + " would change next to nothing."
	}
	return text + "; with " + step + " " + direction + " the rates would be off by " + fine(h.Moved) + " % instead of " + fine(h.Off) + " % (root mean square)."
}

// reachTable says which rates and which ratios of rates the limits allow.
func (m *Made) reachTable(p *Page) {
	p.blank()
	p.Heading("WHAT THESE LIMITS CAN REACH, each rate and each ratio alone")
	g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {}, {}}}
	g.add("", "", "least", "most", "wanted", "")
	for i := range m.Reach.Rates {
		m.addRange(&g, &m.Reach.Rates[i])
	}
	for i := range m.Reach.Ratios {
		m.addRange(&g, &m.Reach.Ratios[i])
	}
	g.write(p)
	p.Prose("  ", "Two ratios that can be had alone may still exclude each other. Least and most are the best of a search from a corner and from the middle of the limits.")
}

func (m *Made) addRange(g *grid, r *making.Range) {
	verdict := cell{"inside", good}
	if !r.Inside() {
		verdict = cell{"outside", bad}
	}
	wanted := m.wantedRange(r)
	if wanted == "" {
		return
	}
	factor := m.rangeFactor(r)
	g.addCells(words("  "+m.rangeName(r)), words(m.rangeUnit(r)), words(rate(factor*r.Least)), words(rate(factor*r.Most)), words(wanted), verdict)
}

// rangeName is a rate, or one over another.
func (m *Made) rangeName(r *making.Range) string {
	if r.Over < 0 {
		return m.numberName(r.Number)
	}
	return m.numberName(r.Number) + " / " + m.numberName(r.Over)
}

// rangeUnit is empty for a ratio of rates of one unit.
func (m *Made) rangeUnit(r *making.Range) string {
	switch {
	case r.Over < 0:
		return m.unitOf(r.Number)
	case m.unitOf(r.Number) == m.unitOf(r.Over):
		return ""
	case m.rangeFactor(r) != 1:
		return m.unitOf(r.Number) + " per k" + m.unitOf(r.Over)
	}
	return m.unitOf(r.Number) + " per " + m.unitOf(r.Over)
}

// rangeFactor brings a turning rate over a straight one to a size that is read
// easily: per kN/mm.
func (m *Made) rangeFactor(r *making.Range) float64 {
	if r.Over >= 0 && m.quantityOf(r.Number).Unit != m.quantityOf(r.Over).Unit && m.quantityOf(r.Over).Unit == quantity.NewtonPerMillimetre {
		return 1000
	}
	return 1
}

// wantedRange is what is wanted of a rate or ratio; nothing where a ratio is not
// tied down on either side.
func (m *Made) wantedRange(r *making.Range) string {
	factor := m.rangeFactor(r)
	low, high := rate(factor*r.Low), rate(factor*r.High)
	switch {
	case r.Exact > 0:
		return rate(factor * r.Exact)
	case r.Low > 0 && !math.IsInf(r.High, 1):
		return low + " to " + high
	case r.Low > 0:
		return "at least " + low
	case !math.IsInf(r.High, 1):
		return "at most " + high
	}
	return ""
}

// othersTable lists other parts that fit as well.
func (m *Made) othersTable(p *Page) {
	if len(m.Others) == 0 {
		return
	}
	p.blank()
	p.Heading("OTHERS THAT REACH THE SAME WANTS")
	g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {align: point}, {align: point}}}
	head := []string{"", "", "shown"}
	for k := range m.Others {
		head = append(head, fmt.Sprint("other ", k+1))
	}
	g.add(head...)
	for i := range m.part().Dimensions {
		d := &m.part().Dimensions[i]
		if !d.Free() {
			continue
		}
		row := []string{"  " + d.Field.Name, d.Field.Unit.Name, measure(m.X[i])}
		for _, x := range m.Others {
			row = append(row, measure(x[i]))
		}
		g.add(row...)
	}
	g.write(p)
}
