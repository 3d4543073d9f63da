package show

import (
	"fmt"
	"math"
	"strings"

	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// Chosen is the answer to choose: the parts of a catalogue that suit an axle best.
type Chosen struct {
	Noted
	Title, Source string
	Catalogue     string // where it came from, in words
	*tuning.Choice
	Worse []swapping.Harm
	Full  bool    // everything that got worse, not only what matters most
	Step  float64 // what a cheaper combination may cost more, in steps
	Wrote string  // the new file; empty if none was asked for
}

// chosenView is an answer with what its tables look up.
type chosenView struct {
	*Chosen
	before, after *view
}

func (c *Chosen) view() *chosenView {
	return &chosenView{c, newView(c.Before, c.Asked), newView(c.After, c.Asked)}
}

// Text writes the answer for a person.
func (c *Chosen) Text(p *Page) {
	v := c.view()
	v.after.head(p, c.Title, c.Source)
	p.line("parts of "+c.Catalogue+": "+plural(len(c.Choice.Catalogue.Parts), "part"), plain)
	p.blank()
	v.headline(p)
	v.worsened().table(p, "WORSENED WITH THE BEST, largest first", "before", "after")
	v.bestTable(p)
	v.freeTable(p)
	v.sure(p)
	footnotes(p, c.After.Warnings())
	v.wrote(p)
	foot(p)
}

// worsened is what the best parts make worse.
func (v *chosenView) worsened() *worsened {
	return &worsened{view: v.after, harms: v.Worse, full: v.Full}
}

// headline says what is best, what free rates would be worth, and what may be saved.
func (v *chosenView) headline(p *Page) {
	best := &v.Best[0]
	for _, line := range wrap(v.summary(), pageWidth) {
		p.Heading(line)
	}
	if v.Stays {
		v.worsened().inShort(p, "Worse with it")
	} else {
		v.worsened().inShort(p, "Worse")
	}
	p.blank()
	for i := range v.Asked {
		p.Prose("  ", v.change(i, best))
	}
	p.Prose("  ", v.gap())
	if !v.Stays {
		p.Prose("  ", v.cheaper())
	}
}

// summary is the outcome in one sentence or two.
func (v *chosenView) summary() string {
	best := &v.Best[0]
	if !v.Stays {
		return "BEST OF " + v.counted() + ": " + v.named(best) + ". " + v.limits(best) + "."
	}
	text := "LEAVE IT AS IT STANDS: of " + strings.ToLower(v.counted()) + " none is better. The nearest, " + v.named(best) + ", "
	switch beyond := (&optimize.Chosen{Aim: v.Present.Aim, Violation: v.Present.Violation, Held: v.Present.Held}); {
	case v.Present.Held && !best.Held:
		return text + "misses limits by " + steps(math.Sqrt(best.Violation)) + ", which hold as it stands."
	case best.Above(beyond) < leastWorth:
		return text + "is as good."
	default:
		return text + "is worse by " + steps(best.Above(beyond)) + "."
	}
}

// counted is how many combinations there are, or how many were looked at.
func (v *chosenView) counted() string {
	if v.Exhaustive {
		return strings.ToUpper(plural(v.Tuned, "combination"))
	}
	return fmt.Sprintf("%d COMBINATIONS LOOKED AT (HEURISTIC)", v.Tuned)
}

// named names the parts of a combination with their places.
func (v *chosenView) named(c *optimize.Chosen) string {
	var all []string
	for i, part := range v.Parts(c) {
		all = append(all, part.Name+" at "+v.Positions[i].Path)
	}
	return strings.Join(all, ", ")
}

// limits says whether a combination holds all limits.
func (v *chosenView) limits(c *optimize.Chosen) string {
	if c.Held {
		return "Every limit holds"
	}
	return "Limits are missed by " + steps(math.Sqrt(c.Violation))
}

// steps writes a number of just-noticeable steps.
func steps(x float64) string {
	text := significant(x, 2)
	if text == "1" {
		return "1 step"
	}
	return text + " steps"
}

// change says what became of one wanted number.
func (v *chosenView) change(i int, c *optimize.Chosen) string {
	a := &v.Asked[i]
	text := v.before.captionOf(a) + ": " + v.before.figureOf(a).Text + " → " + v.value(i, c.Values) + " " + a.Unit.Name
	if !openEnded(a.Want.Kind) {
		text += ", " + v.after.wish(a) + ": " + v.judged(i, c.Values).text
	}
	return text + "."
}

// value writes one wanted number among the values of the optimiser.
func (v *chosenView) value(i int, values []float64) string {
	a := &v.Asked[i]
	return v.after.written(a.Index, values[a.Want.Number])
}

// judged says how a want fares; nothing for one without a value to reach.
func (v *chosenView) judged(i int, values []float64) cell {
	a := &v.Asked[i]
	if openEnded(a.Want.Kind) {
		return words("")
	}
	now := values[a.Want.Number]
	return v.after.verdict(a, a.Want.Outcome(now, now))
}

// gap says what the catalogue costs against rates that are free.
func (v *chosenView) gap() string {
	if v.Free == nil {
		return "Nothing is free besides the parts, so there is no gap to tell."
	}
	best, free := &v.Best[0], &v.FreeAt
	text := "Rates that are free between the least and the largest of the catalogue would "
	switch worth := v.worth(); {
	case worth < leastWorth:
		return text + "do no better than the best of the parts."
	case best.Held:
		text += "be better by " + steps(worth)
	case v.FreeMeets():
		text += "meet every want"
	case steps(math.Sqrt(free.Violation)) == steps(math.Sqrt(best.Violation)):
		return text + "miss the limits by as much."
	default:
		text += "miss the limits by " + steps(math.Sqrt(free.Violation)) + " instead of " + steps(math.Sqrt(best.Violation))
	}
	return text + v.differences(best.Values, free.Values) + "."
}

// leastWorth is the share of a step below which two combinations are told to be equally good.
const leastWorth = 0.005

// worth is by how many steps the tune with free rates is better than the best.
func (v *chosenView) worth() float64 {
	best, free := &v.Best[0], &v.FreeAt
	if best.Held {
		return best.Aim - free.Aim
	}
	return math.Sqrt(best.Violation) - math.Sqrt(free.Violation)
}

// differences lists the wanted numbers that differ as they are rounded.
func (v *chosenView) differences(than, now []float64) string {
	var all []string
	told := map[int]bool{} // by the value of the optimiser: two wants may be about one number
	for i := range v.Asked {
		a := &v.Asked[i]
		was, is := v.value(i, than), v.value(i, now)
		if was != is && !told[a.Want.Number] {
			told[a.Want.Number] = true
			all = append(all, v.after.captionOf(a)+" "+is+" instead of "+was+" "+a.Unit.Name)
		}
	}
	if all == nil {
		return ""
	}
	return ": " + strings.Join(all, "; ")
}

// saving is a combination of a lower price that costs little and is better than the
// axle as it stands; nil if there is none.
func (v *chosenView) saving() *optimize.Chosen {
	c := v.Cheaper(v.Step)
	if c == nil || v.Present.AsGood(c) {
		return nil
	}
	return c
}

// cheaper names a combination of a lower price that costs little.
func (v *chosenView) cheaper() string {
	best := &v.Best[0]
	c := v.saving()
	switch {
	case best.Price == 0:
		return "Not every part that has room has a price class, so no combination is called cheaper."
	case best.Price == v.Prices[0].Price:
		return fmt.Sprintf("No combination is cheaper than the best, price %d.", best.Price)
	case c == nil:
		return fmt.Sprintf("No combination cheaper than price %d comes within %s of the best.", best.Price, steps(v.Step))
	}
	text := fmt.Sprintf("Cheaper and costs little: %s, price %d instead of %d", v.named(c), c.Price, best.Price)
	if worse := v.worse(c); worse >= leastWorth {
		return text + ", worse by " + steps(worse) + v.differences(best.Values, c.Values) + "."
	}
	return text + ", as good as the best."
}

// worse is by how many steps a combination is worse than the best, in what decides
// between them; infinite where it misses limits that the best holds.
func (v *chosenView) worse(c *optimize.Chosen) float64 { return c.Above(&v.Best[0]) }

// sure says what was looked at and what was not.
func (v *chosenView) sure(p *Page) {
	p.blank()
	p.Heading("HOW SURE")
	for _, line := range v.remarks() {
		p.Prose("  ", line)
	}
}

// remarks are the sentences about the search.
func (v *chosenView) remarks() []string {
	all := []string{v.searched()}
	if v.Impossible > 0 {
		all = append(all, fmt.Sprintf("%d of them could not be solved and are left out.", v.Impossible))
	}
	if n := v.unsettled(); n > 0 {
		all = append(all, fmt.Sprintf("The tune of %d of the combinations shown did not settle: they may be a little better than shown.", n))
	}
	for i := range v.Positions {
		if refused := len(v.Choice.Catalogue.Parts) - len(v.Offers[i]); refused > 0 {
			all = append(all, fmt.Sprintf("%s: %d of %s have no room.", v.Positions[i].Path, refused, plural(len(v.Choice.Catalogue.Parts), "part")))
		}
	}
	if len(v.Fixed) > 0 {
		all = append(all, "Not searched, because the parts fix them: "+strings.Join(v.Fixed, ", ")+".")
	}
	if v.Best[0].Price > 0 {
		all = append(all, "price: the sum of the price classes of the positions. A step is the just-noticeable step of a wanted number.")
	}
	if v.Free != nil {
		all = append(all, "The optimum with free rates is that of a local tune from several starts, one of them the best combination. Each rate is free by itself: rubber need not be able to have them together.")
	}
	return all
}

// searched says which combinations were tuned, and how.
func (v *chosenView) searched() string {
	inside := "evaluated: nothing in [search] is left to tune"
	if len(v.Parameters) > 0 {
		inside = fmt.Sprintf("tuned by a local method from up to %d starts, those shown again from more", v.Starts)
	}
	if v.Exhaustive {
		return fmt.Sprintf("Every one of %s was %s. None was left out.", plural(v.Tuned, "combination"), inside)
	}
	return fmt.Sprintf("Heuristic: of %s combinations %d were %s; parts were exchanged one by one from several starts. A better combination may exist.",
		significant(v.Combinations, 3), v.Tuned, inside)
}

// unsettled counts the combinations shown whose tune did not settle.
func (v *chosenView) unsettled() (n int) {
	for i := range v.Best {
		if !v.Best[i].Settled {
			n++
		}
	}
	return n
}

// wrote says what became of the file.
func (v *chosenView) wrote(p *Page) {
	p.blank()
	p.Heading("WROTE")
	switch {
	case v.Wrote != "" && v.Stays:
		p.Prose("  ", "nothing: no combination is better than the axle as it stands, so "+v.Wrote+" is not written.")
		return
	case v.Wrote == "":
		p.Prose("  ", "nothing: --out FILE writes the axle file with the best parts, your comments kept.")
		return
	}
	p.Prose("  ", v.Wrote+": the best parts put in; what they fix or do not have became a comment; your comments kept; "+v.Source+" is untouched.")
}
