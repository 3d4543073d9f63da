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
	Noted
	Source string
	*making.Outcome
	*making.Rated
	Yield *making.Yield // share of parts that meet the wants; nil where nothing is wanted
	Wrote string        // the new file; empty if none was asked for
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
	m.othersTable(p)
	if len(m.Got) > 0 && m.chose() {
		m.holdsTable(p)
		m.reachTable(p)
	}
	m.rateTable(p)
	m.betweenTable(p)
	m.material(p)
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

// dimensionUnit is the unit of a dimension; polyurethanes are known by Shore A,
// whose figures are taken as IRHD.
func (m *Made) dimensionUnit(i int) string {
	unit := m.part().Dimensions[i].Field.Unit
	if unit == quantity.Hardness && m.part().Choice.Compound == rubber.Polyurethane {
		return "Shore A"
	}
	return unit.Name
}

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
		p.line("REACHED: every wanted rate is met, by a part exactly as drawn.", good)
		m.ofRange(p)
		m.partsThatMeet(p)
		return
	}
	missed := 0
	for i := range m.Got {
		if !m.Got[i].Reached {
			missed++
		}
	}
	head := "NOT REACHED: "
	if m.chose() {
		head = "NOT REACHED inside these limits: "
	}
	worst, _ := m.Worst()
	p.line(head+fmt.Sprintf("%d of %s missed, %s most, %s.", missed, plural(len(m.Got), "want"), m.numberName(m.Got[worst].Wanted.Number), tooMuch(&m.Got[worst])), bad)
	m.ofRange(p)
	if g := &m.Got[worst]; g.Wanted.Goal == optimize.Target {
		p.Prose("  ", fmt.Sprintf("Its miss, what lies beyond the %s %% that it may be off, is %s %%.", fine(g.Wanted.Within/g.Wanted.Value), fine(g.Miss)))
	}
	m.obstacles(p)
	m.partsThatMeet(p)
	switch {
	case !m.Certain:
		p.Prose("  ", "The search stopped early: "+m.Reason+".")
	case m.Starts > 0:
		p.Prose("  ", fmt.Sprintf("Searches from %d starts found no part inside these limits whose largest miss is below %s %%. That is no proof; a rate or ratio that cannot be had, where one is named, says more.", m.Starts, fine(m.Full)))
	}
}

// ofRange says for which of the polyurethanes of one hardness a verdict holds; nothing
// of other compounds.
func (m *Made) ofRange(p *Page) {
	if m.Softest != nil {
		p.Prose("  ", fmt.Sprintf("That is at range_share %s. Polyurethanes of this hardness have a range of rates, which RATES tells.", measure(m.rangeShare())))
	}
}

// rangeShare is where in the range of a polyurethane the part stands.
func (m *Made) rangeShare() float64 { return m.Slots[axlefile.RangeShare(m.part().Part)] }

// tooMuch words how far a rate is off as a share.
func tooMuch(g *making.Got) string {
	word := "too stiff"
	if g.Off < 0 {
		word = "too soft"
	}
	return fine(math.Abs(g.Off)) + " % " + word
}

// fine writes a share in per cent; what would be rounding noise is nothing.
func fine(x float64) string {
	if math.Abs(x) < noShare {
		return "0"
	}
	return significant(100*x, 3)
}

// noShare is a share that is nothing: two hundredths of what the written dimensions leave.
const noShare = 2e-6

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
	g := grid{columns: []column{{}, {}, {}, {align: point}, {align: point}, {}, {align: right}}}
	g.add("", "", "wanted", "got", "off by %", "", "of 100 parts")
	for i, got := range m.Got {
		verdict := cell{"reached", good}
		if !got.Reached {
			verdict = cell{"missed by " + fine(got.Miss) + " %", bad}
		}
		g.addCells(words("  "+m.numberName(got.Wanted.Number)), words(m.unitOf(got.Wanted.Number)), words(m.wish(got.Wanted)),
			words(measure(got.Value)), words(offText(&got)), verdict, words(ofHundred(m.Yield.Each[i])))
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
			g.add("  "+d.Field.Name, measure(m.X[i]), m.dimensionUnit(i), measure(d.From)+" to "+measure(d.To), m.limitWord(i))
		default:
			g.add("  "+d.Field.Name, measure(m.X[i]), m.dimensionUnit(i), "", "")
		}
	}
	g.write(p)
	if m.part().Part == rubber.BushPart {
		p.Prose("  ", "outer_diameter is that of the rubber, inside the outer sleeve: where a housing is meant, take off twice the wall of that sleeve.")
	}
	switch {
	case !m.chose():
	case m.Rounded && !m.Reached && m.costOfSteps() != "":
		p.Prose("  ", "In "+workshopSteps()+", which makes "+m.costOfSteps()+".")
	case m.Rounded:
		p.Prose("  ", "In "+workshopSteps()+".")
	default:
		p.Prose("  ", m.notRounded())
	}
}

// costOfSteps says what steps do to the largest miss; empty where that cannot be seen.
func (m *Made) costOfSteps() string {
	_, miss := m.Worst()
	if fine(miss) == fine(m.Full) {
		return ""
	}
	return "the largest miss " + fine(miss) + " % instead of " + fine(m.Full) + " %"
}

// notRounded says how far steps were searched.
func (m *Made) notRounded() string {
	text := "Not rounded: in " + workshopSteps() + " no part was found that reaches every want"
	if !m.Reached {
		text = "Not rounded: in " + workshopSteps() + " no part was found whose largest miss is as small"
	}
	if m.Steps.Cut {
		return text + fmt.Sprintf(", and the search ended after %d branches before all were seen.", m.Steps.Searches)
	}
	return text + fmt.Sprintf(": not with any step of %s, each with the steps of the rest outwards until a want is lost, in %d branches.", m.part().Dimensions[m.Steps.First].Field.Name, m.Steps.Searches)
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
		row := []string{"  " + d.Field.Name, m.dimensionUnit(i), measure(m.X[i])}
		for _, x := range m.Others {
			row = append(row, measure(x[i]))
		}
		g.add(row...)
	}
	g.write(p)
}
