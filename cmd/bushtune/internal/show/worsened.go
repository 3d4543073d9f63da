package show

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/swapping"
)

// mostWorse is how many things that got worse stand on a first screen; exceeded limits,
// and what comes before them, always do.
const mostWorse = 8

// worsened lists what got worse, the most harmful first.
type worsened struct {
	*view
	harms []swapping.Harm
	full  bool
	sized map[string]string // titles of cases at full size
}

// table writes the list under a heading, and what was looked at.
func (w *worsened) table(p *Page, heading, before, after string) {
	p.blank()
	if len(w.harms) == 0 {
		p.wrappedHeading(heading)
		p.Prose("  ", "nothing by a noticeable step. "+w.lookedAt())
		return
	}
	g := grid{columns: []column{{gives: true}, {align: point}, {align: point}, {}, {}}}
	g.addCells(cell{heading, strong}, words(before), words(after), words(""), words(""))
	shown := w.shownHarms()
	for i := range shown {
		h := &shown[i]
		g.addCells(words("  "+w.label(h)), words(w.number(h, h.Before)), words(w.number(h, h.After)), words(h.Unit), cell{w.remark(h), toneOfHarm(h)})
	}
	g.write(p)
	if more := len(w.harms) - len(shown); more > 0 {
		p.Prose("  ", fmt.Sprintf("%d more, none larger: --full lists them. %s", more, w.lookedAt()))
		return
	}
	p.Prose("  ", w.lookedAt())
}

// mostInShort is how many harms the sentence at the head of an answer names.
const mostInShort = 2

// inShort says at the head of an answer what is worst: exceeded limits and lost wants,
// else the largest. It leads with who makes it worse.
func (w *worsened) inShort(p *Page, who string) {
	if len(w.harms) == 0 {
		p.Prose("", who+": nothing by a noticeable step.")
		return
	}
	var worst []*swapping.Harm
	for _, was := range []bool{false, true} { // what was so before last
		for i := range w.harms {
			if h := &w.harms[i]; w.grave(h) && asBefore(h) == was && len(worst) < mostInShort {
				worst = append(worst, h)
			}
		}
	}
	t := bad
	if len(worst) == 0 {
		t, worst = plain, append(worst, &w.harms[0])
	}
	var all []string
	for _, h := range worst {
		moved := strings.TrimSpace(w.number(h, h.Before) + " → " + w.number(h, h.After) + " " + h.Unit)
		all = append(all, fmt.Sprintf("%s %s (%s)", w.label(h), moved, w.remark(h)))
	}
	if more := len(w.harms) - len(worst); more > 0 {
		all = append(all, fmt.Sprintf("%d more", more))
	}
	for _, line := range wrap(who+": "+strings.Join(all, "; ")+".", pageWidth) {
		p.line(line, t)
	}
}

// grave tells harm that stands in every list, however long: an axle that cannot be
// followed, exceeded limits, a pull, lost wants.
func (w *worsened) grave(h *swapping.Harm) bool { return h.Kind < swapping.Number || h.Broken }

// asBefore tells of an exceeded limit that it was exceeded before, by no less.
func asBefore(h *swapping.Harm) bool {
	return h.Kind == swapping.OverLimit && h.Before >= h.After
}

// lookedAt says what the list is found among.
func (w *worsened) lookedAt() string {
	sized := ""
	if len(w.sized) > 0 {
		sized = ", every bush limit at full size"
	}
	return fmt.Sprintf("Looked at: every number and bush limit in every load case%s, and both wheels together and in roll within ±%.0f mm, every %.0f mm and closer where a void closes or a stop is met.",
		sized, cases.TravelSpan, cases.TravelStep)
}

// shownHarms are those of the first screen: without a number that another one says in
// a variant of its case.
func (w *worsened) shownHarms() (shown []swapping.Harm) {
	if w.full {
		return w.harms
	}
	for i := range w.harms {
		h := &w.harms[i]
		if w.grave(h) || len(shown) < mostWorse && !w.said(h, shown) {
			shown = append(shown, *h)
		}
	}
	return shown
}

// said tells whether a number stands in no table, or goes without saying beside one that
// is listed and got worse by more.
func (w *worsened) said(h *swapping.Harm, listed []swapping.Harm) bool {
	return h.Kind == swapping.Number && (!w.shown(h.Index) || slices.ContainsFunc(listed, func(o swapping.Harm) bool {
		a, b := &swapping.Change{Index: o.Index}, &swapping.Change{Index: h.Index}
		return o.Kind == swapping.Number && (w.covers(a, b) || w.covers(b, a))
	}))
}

func toneOfHarm(h *swapping.Harm) tone {
	if h.Kind <= swapping.OverLimit || h.Broken {
		return bad
	}
	return plain
}

// number writes a value of a harm.
func (w *worsened) number(h *swapping.Harm, value float64) string {
	switch {
	case math.IsNaN(value) && h.Kind >= swapping.Carrying, math.IsNaN(value) && h.Kind == swapping.OverLimit:
		return "?" // no such strain of the bush as it was
	case math.IsNaN(value):
		return "lost"
	}
	if h.Index >= 0 {
		return w.written(h.Index, value)
	}
	return quantity.Signs{}.Read(value, h.Step).Text
}

// label names what got worse.
func (w *worsened) label(h *swapping.Harm) string {
	switch h.Kind {
	case swapping.NoFurther:
		return "how far the axle can be followed, " + h.What + ", " + motionWords(h.In)
	case swapping.Pulling:
		return "pull: mean steer to the left, " + w.straightAhead(h.Index)
	case swapping.Number:
		return w.caption(h.Index)
	case swapping.AtSize:
		return w.captionOf(&w.asked[h.Asked])
	case swapping.OnTravel:
		label := map[string]string{"wheel_rate": "wheel rate", "wheel_toe": "toe", "camber_to_ground": "camber to the ground"}[h.What]
		if h.Name != "" {
			label += " of the " + h.Name + " wheel"
		}
		return label + ", " + placeWords(h)
	}
	label := h.Name + ", " + h.What
	if h.Travel {
		return label + ", " + placeWords(h)
	}
	title, _, _ := strings.Cut(cmp.Or(w.titles[h.In], w.sized[h.In]), ",")
	if w.sized[h.In] != "" {
		title += " at full size"
	}
	return label + ", " + title
}

// straightAhead says where the car goes straight in a number's case.
func (w *worsened) straightAhead(index int) string {
	title, _, _ := strings.Cut(w.titles[w.numbers[index].Case], ",")
	return title
}

// motionWords names a motion of the pads.
func motionWords(motion string) string {
	if motion == cases.Heave.String() {
		return "both wheels together"
	}
	return "in roll"
}

// placeWords says where on a travel something is.
func placeWords(h *swapping.Harm) string {
	at := measure(math.Abs(h.X)) + " mm"
	switch {
	case h.In != cases.Heave.String():
		return at + " in roll"
	case h.X < 0:
		return at + " rebound"
	case h.X > 0:
		return at + " bump"
	}
	return "design height"
}

// remark says how much worse it is.
func (w *worsened) remark(h *swapping.Harm) string {
	var all []string
	switch {
	case h.Limit > 0:
		text := wholePercent(h.After/h.Limit) + " of " + measure(h.Limit)
		if !math.IsNaN(h.Before) {
			text += ", was " + wholePercent(h.Before/h.Limit)
		}
		switch {
		case h.Kind == swapping.OverLimit && asBefore(h):
			text = "EXCEEDED as before: " + text
		case h.Kind == swapping.OverLimit:
			text = "EXCEEDED: " + text
		}
		all = append(all, text)
	case math.IsInf(h.Steps, 0):
		all = append(all, cannotHold)
	default:
		all = append(all, steps(h.Steps))
	}
	switch {
	case h.Kind == swapping.NoFurther:
		all = []string{"no equilibrium beyond"}
	case h.Kind == swapping.OnTravel && h.What == "wheel_rate" && h.Rest > 0 && h.After > 0:
		all = append(all, significant(h.After/h.Rest, 2)+" × design height")
	}
	switch {
	case h.Broken:
		all = append(all, "want "+h.Want+" lost")
	case h.Inside:
		all = append(all, "inside your limit")
	case h.Want != "":
		all = append(all, "want "+h.Want)
	}
	return strings.Join(all, "; ")
}

func wholePercent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// records are the list for programs, whole: each before and after, and by how many
// noticeable steps.
func (w *worsened) records(name string) (all []Record) {
	for i := range w.harms {
		h := &w.harms[i]
		base := Record{Kind: "worsened", Name: name, Line: h.Kind.String(), Case: h.In, StaticLoad: w.loadAtRest(), Unit: h.Unit}
		if h.Index >= 0 {
			n := &w.numbers[h.Index]
			base.Number, base.Where, base.Pads = n.Name, n.Where, n.Pads.String()
		} else {
			base.Number, base.Where = strings.ReplaceAll(h.What, " ", "_"), h.Name
		}
		if h.Travel {
			base.X, base.XUnit = number(h.X), quantity.Millimetre.Name
		}
		was, now, by := base, base, base
		was.Stage, was.Value = "before", number(h.Before)
		now.Stage, now.Value, now.Words = "after", number(h.After), w.label(h)+": "+w.remark(h)
		by.Value, by.Unit, by.Words = number(h.Steps), "steps", "worse by"
		all = append(all, was, now, by)
		if h.Limit > 0 {
			limit := base
			limit.Value, limit.Words = number(h.Limit), "limit"
			all = append(all, limit)
		}
	}
	return all
}
