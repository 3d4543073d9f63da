package show

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cmd/bushtune/internal/making"
)

// named is how many rates and ratios that cannot be had are named at the top.
const named = 3

// obstacles names the rates and ratios that are wanted and that the limits do not
// allow at all, those that are farthest from it first.
func (m *Made) obstacles(p *Page) {
	var outside []*making.Range
	for _, list := range [][]making.Range{m.Reach.Rates, m.Reach.Ratios} {
		for i := range list {
			if !list[i].Inside() {
				outside = append(outside, &list[i])
			}
		}
	}
	quantity.GreatestFirst(outside, func(r *making.Range) float64 { return r.Missing() })
	for i, r := range outside {
		if i == named {
			p.Prose("  ", fmt.Sprintf("and %d more below.", len(outside)-named))
			break
		}
		factor := m.rangeFactor(r)
		p.Prose("  ", strings.TrimSpace(fmt.Sprintf("%s cannot be had: wanted %s, these limits allow %s to %s %s", m.rangeName(r), m.wantedRange(r), rate(factor*r.Least), rate(factor*r.Most), m.rangeUnit(r)))+".")
	}
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
		unit, text = m.dimensionUnit(h.Dimension), d.Field.Name+" lies on its lower limit, "+measure(d.From)
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
	return text + "; with " + step + " " + direction + " the largest miss would be " + fine(h.Moved) + " % instead of " + fine(h.Off) + " %."
}
