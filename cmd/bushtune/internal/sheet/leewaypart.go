package sheet

import (
	"fmt"
	"math"
	"strconv"

	"bushtune/bushing/rubber"
	"bushtune/cases"
)

// leewayPart says what the axle can bear.
func (s *Sheet) leewayPart(d *document) {
	d.heading(2, "What the axle can bear")
	d.prose(fmt.Sprintf("How far rates may be off, all other parts of the axle as they are, until the first want of the axle file that holds now is lost. "+
		"Searched from 1/%g to %g times the rate; *open*: nothing ends it there. A want counts as held up to a hundredth of its step, as in tuning. Each row by itself: what one row uses up is missing in the others.", cases.LeewayRange, cases.LeewayRange))
	if !s.bounded() {
		d.prose("**Nothing bounds the rates:** no want of the axle file is a limit that holds as the axle stands.")
		d.items(s.wantNotes(nil)...)
		return
	}
	_, most := s.tolerance()
	t := newTable(words("rates changed"), numbers("softer"), numbers("stiffer"), words("rate may lie between"),
		words(fmt.Sprintf("class %s, ±%s %%", rubber.ClassNames[s.axle.Class], figure(100*most))), words("softer ends at"), words("stiffer ends at"))
	key := map[int]string{}
	for i := range s.leeways {
		w := &s.leeways[i]
		t.add(w.what, change(&w.leeway.Softer), change(&w.leeway.Stiffer), s.band(w), s.enough(&w.leeway), ending(&w.leeway.Softer, key), ending(&w.leeway.Stiffer, key))
	}
	d.table(t)
	if notes := s.wantNotes(key); notes != nil {
		d.items(notes...)
	}
	d.prose(s.verdict())
	if n := len(s.wants.failing); n > 0 {
		d.prose(fmt.Sprintf("**%d of %d limits of the axle file fail as the axle stands**, so the bands above are those of the others alone: tune the axle first, then write this page.",
			n, len(s.wants.limits)))
	}
}

// bounded tells whether some limit holds now.
func (s *Sheet) bounded() bool { return len(s.wants.limits) > len(s.wants.failing) }

// wantNotes explains letters and lists the wants that end nothing.
func (s *Sheet) wantNotes(key map[int]string) []string {
	var notes []string
	wording := s.axle.wording()
	note := func(lead string, i int) {
		notes = append(notes, fmt.Sprintf("%s: want \"%s\", %s; now %s.", lead, s.axle.Asked[i].Name, wording.Want(i), wording.Now(i)))
	}
	for n := range len(key) {
		for limit, letter := range key {
			if letter == letterOf(n) {
				note(letter, s.wants.limits[limit])
			}
		}
	}
	for _, i := range s.wants.failing {
		note("Fails already, so it ends nothing", i)
	}
	for _, i := range s.wants.open {
		note("Is no limit, so it ends nothing", i)
	}
	return notes
}

// change is an exit as a change of the rate.
func change(e *cases.Exit) string {
	if e.Open() {
		return "open"
	}
	return percent(e.Factor - 1)
}

// band is the leeway of one rate as a rate.
func (s *Sheet) band(w *bearable) string {
	if !w.alone {
		return ""
	}
	unit := unitsOf(w.direction).rate
	rate := unit.Written(s.rate(w.direction))
	low, high := figure(rate*w.leeway.Softer.Factor), figure(rate*w.leeway.Stiffer.Factor)
	if w.leeway.Softer.Open() {
		low = "below " + low
	}
	if w.leeway.Stiffer.Open() {
		high = "above " + high
	}
	return low + " to " + high + " " + unit.Name
}

// ending names what ends a leeway by a letter, in the order in which they appear.
func ending(e *cases.Exit, key map[int]string) string {
	switch {
	case e.Cause != nil:
		return "axle lost"
	case e.Limit < 0:
		return "open"
	}
	if key[e.Limit] == "" {
		key[e.Limit] = letterOf(len(key))
	}
	return key[e.Limit]
}

// letterOf is the sign of the n-th want that ends something: A to Z, then A1 …
func letterOf(n int) string {
	letter := string(rune('A' + n%26))
	if n >= 26 {
		letter += strconv.Itoa(n / 26)
	}
	return letter
}

// verdict compares the common factor with the class in a sentence, and says what
// would help.
func (s *Sheet) verdict() string {
	least, most := s.tolerance()
	for i := range s.leeways {
		w := &s.leeways[i]
		if w.what != ofThisBush {
			continue
		}
		text := fmt.Sprintf("**In short:** with all rates of this bush off by one factor, as by a compound of another hardness, the axle bears %s; class %s asks ±%s %%: %s.",
			bears(&w.leeway), rubber.ClassNames[s.axle.Class], figure(100*most), s.enough(&w.leeway))
		if s.rubber != nil {
			low, high := s.allBands()
			word := "enough"
			if w.leeway.Softer.Factor > low || w.leeway.Stiffer.Factor < high {
				word = "not enough"
			}
			text += fmt.Sprintf(" All errors of the rates at their worst at once, %s %s: %s.", around(low-1), around(high-1), word)
		}
		if fits(&w.leeway, most) {
			return text
		}
		if least < most && fits(&w.leeway, least) {
			text += fmt.Sprintf(" The narrow end of the class, ±%s %%, is enough.", figure(100*least))
		}
		return text + " " + nominalFor(&w.leeway, most)
	}
	return ""
}

// bears words both ends of a leeway.
func bears(w *cases.Leeway) string {
	switch softer, stiffer := w.Softer.Open(), w.Stiffer.Open(); {
	case softer && stiffer:
		return "any change"
	case softer:
		return "any softening and " + change(&w.Stiffer)
	case stiffer:
		return change(&w.Softer) + " and any stiffening"
	}
	return change(&w.Softer) + " " + change(&w.Stiffer)
}

// nominalFor says at which multiples of the rates a tolerance would fit inside a
// leeway.
func nominalFor(w *cases.Leeway, tolerance float64) string {
	low, high := w.Softer.Factor/(1-tolerance), w.Stiffer.Factor/(1+tolerance)
	switch {
	case w.Softer.Open() && !w.Stiffer.Open():
		return fmt.Sprintf("Ordered at %s times these rates or less, it would be.", cut(high, math.Floor))
	case w.Stiffer.Open() && !w.Softer.Open():
		return fmt.Sprintf("Ordered at %s times these rates or more, it would be.", cut(low, math.Ceil))
	case low <= high:
		return fmt.Sprintf("Ordered at %s to %s times these rates, it would be.", cut(low, math.Ceil), cut(high, math.Floor))
	}
	return "No other nominal rates make it fit: it takes a closer class, or wants with more room."
}

// cut rounds a factor to three decimals, to the safe side.
func cut(factor float64, round func(float64) float64) string {
	return fixed(round(1000*factor)/1000, 3)
}
