package axlefile

import (
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/optimize"
)

// Want is one wish about one number, in the number's written unit.
type Want struct {
	Name   string
	Line   int
	Number string // name of the number
	Case   string // "" for the number's own case
	Where  string // "" for the number's first place
	Goal   optimize.Kind
	Value  float64 // target or limit; unused by make
	Per    float64 // missing by this much weighs 1; 0: the number's own step
	Weight float64 // 1 when absent
	// Size is the load on a wheel in kN, of a case without a force the moment in
	// N·m, of a state its acceleration in g; 0: the number for small loads.
	Size     float64
	Straight bool // how far the number at that size is off its value for small loads
}

// The slots of a want's table.
const (
	slotTarget = iota
	slotAtLeast
	slotAtMost
	slotPer
	slotWeight
	slotSize
	wantSlots
)

// goalKeys are the keys of which a want holds exactly one, with what they ask for.
var goalKeys = []struct {
	name string
	goal optimize.Kind
	slot int
}{{"target", optimize.Target, slotTarget}, {"at_least", optimize.AtLeast, slotAtLeast}, {"at_most", optimize.AtMost, slotAtMost}, {makeKey, 0, 0}}

const makeKey = "make"

const straightKey = "straight"

var makeWords = []string{"large", "small"}

// wantKeys lists the keys of [want.NAME].
func wantKeys() []key {
	value := func(name string, slot int, meaning string) key {
		return key{name: name, form: number, fields: []quantity.Field{anyNumber}, first: slot, meaning: meaning}
	}
	per := value("per", slotPer, "missing by this much weighs 1, in the unit of the number; absent: the number's just-noticeable step")
	per.fields = []quantity.Field{{Unit: quantity.None, Above: true, Max: 1e9}}
	weight := value("weight", slotWeight, "how much the want counts against others; absent: 1")
	weight.fields = []quantity.Field{{Unit: quantity.None, Above: true, Max: 1e6}}
	size := value("size", slotSize, "load at which the number is read, on the axle as it really moves: the largest force on a wheel in kN, the moment in N·m of a case without a force, the lateral acceleration (else the braking) in g of a state; a number per load is then its mean over the load; absent: for small loads")
	size.fields = []quantity.Field{{Unit: quantity.None, Above: true, Max: 1e5}}
	return []key{
		{name: "number", form: text, required: true, meaning: "name of the number, as in the tables of solve"},
		{name: "case", form: text, meaning: "case or state in which it is read; absent: the number's own"},
		{name: "where", form: text, meaning: "place, for numbers that have several; absent: the first"},
		value("target", slotTarget, "as near as possible to this, in the unit of the number"),
		value("at_least", slotAtLeast, "not below this"),
		value("at_most", slotAtMost, "not above this"),
		{name: makeKey, form: word, words: makeWords, meaning: "as large or as small as the limits allow"},
		per, weight, size,
		{name: straightKey, form: truth, meaning: "true: how far the number at that size is off the straight line, that is off its value for small loads; target = 0 asks for a straight line"},
	}
}

// readWants reads what is wanted.
func (r *reader) readWants(root *table) {
	if root.entries[wantSection] == nil {
		return
	}
	if e := root.entries[wantSection]; e.table != nil && len(e.table.keys) == 0 {
		r.wrong(e.line, wantSection, "there is no want in it", "["+wantSection+".NAME], one table for each want", "")
	}
	present := r.offered()
	r.eachNamed(root, wantSection, func(name, path string, t *table) {
		before := len(r.mistakes)
		c := newContent(path, t.line, make([]float64, wantSlots))
		c.slots[slotWeight] = 1
		r.fill(c, t, wantKeys(), true)
		w := Want{Name: name, Line: t.line, Number: c.word("number", ""), Case: c.word("case", ""), Where: c.word("where", ""), Per: c.slots[slotPer], Weight: c.slots[slotWeight],
			Size: c.slots[slotSize], Straight: c.flags[straightKey]}
		r.goal(&w, c)
		switch {
		case len(c.words["number"]) > 0 && w.Number == "":
			r.wrong(c.given["number"].line, path+".number", "names no number", "a name, as in the tables of solve", "")
		case w.Number != "" && present != nil:
			r.checkNumber(present, &w, c)
		}
		if len(r.mistakes) == before {
			r.file.Wants = append(r.file.Wants, w)
		}
	})
	if present != nil {
		r.checkContradictions(present, r.file.Wants)
	}
}

// goal takes the one goal of a want.
func (r *reader) goal(w *Want, c *content) {
	var given, all []string
	for _, g := range goalKeys {
		all = append(all, g.name)
		if c.given[g.name] == nil {
			continue
		}
		given = append(given, g.name)
		w.Goal, w.Value = g.goal, c.slots[g.slot]
		if g.name == makeKey {
			w.Goal, w.Value = optimize.MakeLarge+optimize.Kind(c.choice(makeKey, makeWords, 0)), 0
		}
	}
	switch {
	case len(given) == 0:
		r.wrong(c.line, c.path, "does not say what is wanted of the number", "one of "+strings.Join(all, ", "), "")
	case len(given) > 1:
		r.wrong(c.given[given[1]].line, c.path+"."+given[1], "asks for a second thing: "+given[0]+" is there already", "one of "+strings.Join(all, ", "), "write a second table [want.NAME] for the same number")
	}
}
