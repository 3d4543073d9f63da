package axlefile

import (
	"fmt"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/optimize"
)

// withinShare is how far off a target may be, as a share of it, where the file
// does not say: well inside the closest tolerance class that suppliers offer
// (RMA D1, 10 %) and about the error of the formulas. Common practice, no source.
const withinShare = 0.02

// The slots of a wanted rate.
const (
	slotWantedTarget = iota
	slotWantedLeast
	slotWantedMost
	slotWithin
	wantedSlots
)

// rateKeys lists what the table of a wanted rate may hold.
func rateKeys() []key {
	positive := quantity.Field{Unit: quantity.None, Above: true, Max: 1e12}
	value := func(name string, slot int, meaning string) key {
		return key{name: name, form: number, fields: []quantity.Field{positive}, first: slot, meaning: meaning}
	}
	return []key{
		value("target", slotWantedTarget, "as near as possible to this; a number alone says the same"),
		value("at_least", slotWantedLeast, "not below this"),
		value("at_most", slotWantedMost, "not above this"),
		value("within", slotWithin, "how far off a target counts as reached, in the unit of the rate; absent: 2 % of it"),
	}
}

// readWanted reads [wanted], whose keys are the rates of the part.
func (r *partReader) readWanted(root *table) {
	if r.part.Part == nil {
		return
	}
	var known []string
	for _, f := range r.part.Part.Numbers {
		known = append(known, f.Name)
	}
	t := root.sub(wantedSection)
	for _, name := range t.keys {
		e, at := t.entries[name], wantedSection+"."+name
		number := -1
		for i := range known {
			if known[i] == name {
				number = i
			}
		}
		if number < 0 {
			r.wrong(e.line, at, "a "+r.part.Part.Name+" has no rate of this name", strings.Join(known, ", "), meant(name, known))
			continue
		}
		r.wantedRate(number, at, e)
	}
}

// wantedRate reads what is wanted of one rate: a number, or a table with a target
// or with limits.
func (r *partReader) wantedRate(number int, at string, e *entry) {
	before := len(r.mistakes)
	c := newContent(at, e.line, make([]float64, wantedSlots))
	if e.table == nil || e.many {
		r.take(c, &rateKeys()[slotWantedTarget], at, e)
		c.given["target"] = e
	} else {
		r.fill(c, e.table, rateKeys(), true)
		r.checkGoals(c)
	}
	if len(r.mistakes) > before {
		return
	}
	for _, g := range []struct {
		name string
		goal optimize.Kind
		slot int
	}{{"target", optimize.Target, slotWantedTarget}, {"at_least", optimize.AtLeast, slotWantedLeast}, {"at_most", optimize.AtMost, slotWantedMost}} {
		if c.given[g.name] == nil {
			continue
		}
		w := WantedRate{Number: number, Line: e.line, Goal: g.goal, Value: c.slots[g.slot], Within: c.slots[slotWithin]}
		if w.Within == 0 {
			w.Within = withinShare * w.Value
		}
		r.part.Wanted = append(r.part.Wanted, w)
	}
}

// checkGoals reports a table that asks for nothing, or for things that do not go
// together.
func (r *partReader) checkGoals(c *content) {
	target, least, most := c.given["target"], c.given["at_least"], c.given["at_most"]
	switch {
	case target == nil && least == nil && most == nil:
		r.wrong(c.line, c.path, "does not say what is wanted of the rate", "target, at_least, at_most", "")
	case target != nil && (least != nil || most != nil):
		r.wrong(target.line, c.path, "asks for a target and for a limit", "target with within, or at_least and at_most", "")
	case target != nil && c.given["within"] != nil && c.slots[slotWithin] >= c.slots[slotWantedTarget] && c.slots[slotWantedTarget] > 0:
		r.wrong(c.given["within"].line, c.path+".within", "allows a rate of nothing", "below the target, "+decimal(c.slots[slotWantedTarget]), "")
	case target == nil && c.given["within"] != nil:
		r.wrong(c.given["within"].line, c.path+".within", "belongs to a target", "target", "a limit holds or does not")
	case least != nil && most != nil && c.slots[slotWantedLeast] > c.slots[slotWantedMost]:
		r.wrong(least.line, c.path, fmt.Sprintf("at_least %s is above at_most %s", decimal(c.slots[slotWantedLeast]), decimal(c.slots[slotWantedMost])), "at_least below at_most", "")
	}
}
