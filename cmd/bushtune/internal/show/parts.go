package show

import (
	"math"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
)

// cause is one rate of one element, with its parts of a number on both sides.
type cause struct {
	element, line     string
	left, right, once float64 // internal unit of the number
}

func (c *cause) sum() float64 { return c.left + c.right + c.once }

// size orders causes: the larger of the two sides, because they may cancel.
func (c *cause) size() float64 {
	return max(math.Abs(c.left), math.Abs(c.right), math.Abs(c.once), math.Abs(c.sum()))
}

// name is how a cause is called in a sentence.
func (c *cause) name() string { return strings.TrimSpace(c.element + " " + c.line) }

// causes joins the parts of a number by element and rate, largest first.
func causes(parts []cases.NumberPart) []cause {
	var all []cause
	at := map[[2]string]int{}
	for _, p := range parts {
		element := p.Element
		if p.Side != "" {
			element = strings.TrimSuffix(element, "."+p.Side)
		}
		key := [2]string{element, p.Line}
		if _, known := at[key]; !known {
			at[key] = len(all)
			all = append(all, cause{element: element, line: p.Line})
		}
		c := &all[at[key]]
		switch p.Side {
		case cases.WheelNames[cases.LeftWheel]:
			c.left += p.Value
		case cases.WheelNames[cases.RightWheel]:
			c.right += p.Value
		default:
			c.once += p.Value
		}
	}
	quantity.GreatestFirst(all, func(c cause) float64 { return c.size() })
	return all
}

// largest is how many causes a table names unless all are asked for.
const largest = 8

// few returns the largest causes of which at least one side can be noticed, and
// the rest added up; no rest if everything is asked for.
func (v *view) few(index int, all []cause, everything bool) (named []cause, rest *cause) {
	n := 0
	for n < len(all) && n < largest && !isZero(v.text(index, all[n].size())) {
		n++
	}
	if everything || n == len(all) {
		return all, nil
	}
	rest = &cause{element: "all other parts"}
	for _, c := range all[n:] {
		rest.left, rest.right, rest.once = rest.left+c.left, rest.right+c.right, rest.once+c.once
	}
	return all[:n], rest
}

// partsTitle heads the parts of a number.
func (v *view) partsTitle(index int) string {
	n := &v.numbers[index]
	title := "PARTS OF " + v.caption(index)
	if n.Name == steer {
		title = "WHO TURNS THE OUTER WHEEL: " + v.caption(index)
	}
	return title + ", " + n.Unit.Name + " · pads " + n.Pads.String()
}

// partsTable writes which part of which side makes how much of a number.
func (v *view) partsTable(p *Page, index int, everything bool) {
	n := &v.numbers[index]
	p.blank()
	p.Heading(v.partsTitle(index))
	if all := v.study.Causes(index); all != nil {
		v.causesTable(p, index, all)
		return
	}
	parts := v.study.Parts(index)
	if parts == nil {
		p.Prose("  ", "This number is no sum of parts: "+n.NoParts+".")
		return
	}
	g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {align: point}, {}}}
	g.add("", "", "left", "right", "together", "")
	named, rest := v.few(index, causes(parts), everything)
	for _, c := range named {
		v.addCause(&g, n, &c)
	}
	if rest != nil {
		v.addCause(&g, n, rest)
	}
	sum := v.study.Figure(index)
	g.addCells(cell{"  sum", strong}, words(""), words(""), words(""), cell{sum.Text, strong}, cell{sum.Words, strong})
	g.write(p)
}

// causesTable writes the causes of the toe in a state.
func (v *view) causesTable(p *Page, index int, all []cases.Cause) {
	n := &v.numbers[index]
	g := grid{columns: []column{{gives: true}, {align: point}, {}}}
	for _, c := range all {
		if r := n.Signs.Read(n.Unit.Written(c.Value), n.Step); c.Value != 0 {
			g.add("  "+c.Title, r.Text, r.Words)
		}
	}
	sum := v.study.Figure(index)
	g.addCells(cell{"  sum", strong}, cell{sum.Text, strong}, cell{sum.Words, strong})
	g.write(p)
}

// addCause writes one cause; a part that exists once has no sides.
func (v *view) addCause(g *grid, n *cases.Number, c *cause) {
	read := func(value float64) quantity.Reading { return n.Signs.Read(n.Unit.Written(value), n.Step) }
	sides := [2]string{read(c.left).Text, read(c.right).Text}
	if c.once != 0 && c.left == 0 && c.right == 0 {
		sides = [2]string{}
	}
	all := read(c.sum())
	g.add("  "+c.element, c.line, sides[0], sides[1], all.Text, all.Words)
}

// sensitivityTable writes what a hundredth more of every rate does to a number.
func (v *view) sensitivityTable(p *Page, index int, everything bool) {
	n := &v.numbers[index]
	p.blank()
	p.wrappedHeading("WHAT 1 % MORE OF A RATE DOES TO " + v.caption(index) + ", " + n.Unit.Name)
	rates := v.study.Sensitivities(index)
	if rates == nil {
		p.Prose("  ", "No rate changes this number, or it is one of a vehicle state.")
		return
	}
	parts := make([]cases.NumberPart, len(rates))
	for i, r := range rates {
		parts[i] = cases.NumberPart{Element: r.Element, Side: r.Side, Line: r.Rate, Value: r.Value / 100}
	}
	finer := *n
	finer.Step /= 100
	g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {align: point}, {}}}
	g.add("", "", "left", "right", "together", "")
	all := causes(parts)
	for i := range all {
		if i == largest && !everything {
			break
		}
		v.addCause(&g, &finer, &all[i])
	}
	g.write(p)
}
