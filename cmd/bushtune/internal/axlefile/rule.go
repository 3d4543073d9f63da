package axlefile

import (
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// RuleKind says what a rule does to a bush.
type RuleKind int

// The kinds, in the order in which rules act.
const (
	Hardness     RuleKind = iota // Value is added to the hardness, IRHD or Shore A
	Polyurethane                 // of the hardness Value, Shore A: a range of moduli
	Rates                        // loads at all deflections are multiplied by Value
	Worn                         // Rates, with free play
	SwapSides                    // left and right parts are exchanged
)

// noKind is the kind of a rule that does not say it.
const noKind RuleKind = -1

// ruleNames are the keys that choose the kind.
var ruleNames = []string{"hardness", "polyurethane", "rates", "worn", "swap_sides"}

// String is the key of the kind.
func (k RuleKind) String() string { return ruleNames[k] }

// Rule changes bushes of an axle, however many.
type Rule struct {
	Kind     RuleKind
	Value    float64
	FreePlay float64 // mm either way from the middle, of worn
	Bonded   bool    // polyurethane is bonded to both sleeves
	Solid    bool    // polyurethane fills the bush: no voids, no intermediate sleeve
	Elements []int   // of the axle

	name, file string
	line       int
	lines      map[string]int // of its keys
	at         []string       // paths of bushes; none: every bush
	side       compliance.Side
}

// Wrong is a mistake about a key of the rule.
func (r *Rule) Wrong(key, wrong, allowed, hint string) Mistake {
	m := Mistake{File: r.file, Line: r.line, Key: r.name, Wrong: wrong, Allowed: allowed, Hint: hint}
	if line, given := r.lines[key]; given {
		m.Line = line
	}
	if key != "" {
		m.Key = strings.TrimPrefix(m.Key+"."+key, ".")
	}
	return m
}

// The slots of a rule's table: those of ruleNames with a number, then the play.
const playSlot = 4

const (
	atKey    = "at"
	sideKey  = "side"
	playKey  = "free_play"
	solidKey = "solid"
)

// ruleKeys lists the keys of [rule.NAME].
func ruleKeys() []key {
	value := func(kind RuleKind, f quantity.Field, meaning string) key {
		return key{name: ruleNames[kind], form: number, fields: []quantity.Field{f}, first: int(kind), meaning: meaning}
	}
	play := quantity.Field{Unit: quantity.Millimetre, Above: true, Max: 20}
	return []key{
		value(Hardness, quantity.Field{Unit: quantity.Hardness, Min: -45, Max: 45}, "added to the hardness of bushes given by their dimensions, IRHD or Shore A"),
		value(Polyurethane, quantity.Field{Unit: quantity.None, Min: 55, Max: 92}, "bushes given by their dimensions become polyurethane of this hardness, Shore A: a range; bonded must be said"),
		value(Rates, quantity.Field{Unit: quantity.None, Above: true, Max: 1e3}, "factor on the loads of the bush at every deflection"),
		value(Worn, quantity.Field{Unit: quantity.None, Above: true, Max: 1}, "factor on the rates of a worn bush, beyond free_play"),
		{name: ruleNames[SwapSides], form: truth, meaning: "true: the left parts are fitted on the right and the right ones on the left"},
		{name: playKey, form: number, fields: []quantity.Field{play}, first: playSlot, meaning: "with worn: free way from the middle to either side along each axis"},
		{name: bondedKey, form: truth, meaning: "with polyurethane: true: bonded to both sleeves; false: torsion and axial load are friction, not stiffness"},
		{name: solidKey, form: truth, meaning: "with polyurethane: true: without voids and intermediate sleeve, as many are made"},
		{name: atKey, form: list, meaning: "the bushes, as \"bush.pivot\" or \"bush.pivot.left\"; absent: every bush"},
		{name: sideKey, form: word, words: sideTables, meaning: "only the bushes of this side; absent: both"},
	}
}

// readRules reads the tables [rule.NAME].
func (r *reader) readRules(root *table) (rules []Rule) {
	if root.entries[ruleSection] == nil {
		return nil
	}
	r.eachNamed(root, ruleSection, func(_, path string, t *table) {
		before := len(r.mistakes)
		c := newContent(path, t.line, make([]float64, playSlot+1))
		r.fill(c, t, ruleKeys(), true)
		rule := Rule{name: path, file: r.file.Name, line: t.line, lines: map[string]int{},
			FreePlay: c.slots[playSlot], Bonded: c.flags[bondedKey], Solid: c.flags[solidKey],
			at: c.words[atKey], side: compliance.Side(1 + c.choice(sideKey, sideTables, 0))}
		if c.given[sideKey] == nil {
			rule.side = compliance.Centre
		}
		for name, e := range c.given {
			rule.lines[name] = e.line
		}
		if path == shortPath {
			rule.name = ""
		}
		wrong := rule.chooseKind(c)
		if len(c.given) < len(t.keys) && rule.Kind == noKind { // a misspelt key is told already
			wrong = nil
		}
		r.mistakes = append(r.mistakes, wrong...)
		if len(r.mistakes) == before {
			rules = append(rules, rule)
		}
	})
	return rules
}

// chooseKind finds the one thing that a rule does, and keys that do not go with it.
func (r *Rule) chooseKind(c *content) (wrong Mistakes) {
	var given []string
	r.Kind = noKind
	for kind, name := range ruleNames {
		if c.given[name] != nil {
			given = append(given, name)
			r.Kind = RuleKind(kind)
		}
	}
	if len(given) != 1 {
		one := "one of " + strings.Join(ruleNames, ", ")
		if given == nil {
			return Mistakes{r.Wrong("", "the rule does not say what changes", one, "")}
		}
		return Mistakes{r.Wrong(given[1], "the rule says a second thing: "+given[0]+" is there already", one, "write a second rule")}
	}
	if r.Kind != SwapSides {
		r.Value = c.slots[r.Kind]
	}
	needs := map[string]RuleKind{playKey: Worn, bondedKey: Polyurethane, solidKey: Polyurethane}
	for _, name := range []string{playKey, bondedKey, solidKey} {
		if c.given[name] != nil && needs[name] != r.Kind {
			wrong = append(wrong, r.Wrong(name, "means nothing with "+given[0], "", "it goes with "+ruleNames[needs[name]]))
		}
	}
	if at := c.given[atKey]; at != nil && at.array && len(at.items) == 0 {
		wrong = append(wrong, r.Wrong(atKey, "names no bush", "", "leave it out for every bush"))
	}
	switch {
	case r.Kind == Polyurethane && c.given[bondedKey] == nil:
		wrong = append(wrong, r.Wrong(ruleNames[Polyurethane], "bonded is missing", "bonded = true, bonded = false", compoundHints[bondedKey]))
	case r.Kind == SwapSides && c.given[ruleNames[SwapSides]].value == false:
		wrong = append(wrong, r.Wrong(ruleNames[SwapSides], "false changes nothing", "true", "leave the rule out"))
	case r.Kind == SwapSides && c.given[sideKey] != nil:
		wrong = append(wrong, r.Wrong(sideKey, "means nothing with swap_sides, which takes both sides", "", ""))
	}
	return wrong
}

// place finds the bushes that a rule means in the axle as its set makes it.
func (r *Rule) place(f *File) (wrong Mistakes) {
	names := f.Bushes()
	at := r.at
	if at == nil {
		at = names
	}
	for _, path := range at {
		words, side := takeSide(strings.Split(path, "."))
		name := strings.Join(words, ".")
		if !slices.Contains(names, name) {
			wrong = append(wrong, r.Wrong(atKey, quote(path)+" is no bush of this axle", strings.Join(names, ", "), meant(name, names)))
			continue
		}
		found := r.placeOne(f.Axle, name, side)
		if !found && r.at != nil {
			wrong = append(wrong, r.Wrong(atKey, path+" does not exist where the rule looks", "", "a side that the bush has; swap_sides needs both"))
		}
	}
	if len(wrong) == 0 && len(r.Elements) == 0 {
		wrong = append(wrong, r.Wrong("", "there is no bush for this rule", "", ""))
	}
	return wrong
}

// bushPath names a bush without its side.
func bushPath(e *compliance.Element) string { return e.Kind.Table + "." + e.Name }

// placeOne adds the bushes of one path; false if there are none.
func (r *Rule) placeOne(axle *compliance.Axle, name string, side compliance.Side) bool {
	found := false
	for i := range axle.Elements {
		e := &axle.Elements[i]
		switch {
		case e.Kind.Table != compliance.Bush.Table || bushPath(e) != name:
		case side != compliance.Centre && e.Side != side, r.side != compliance.Centre && e.Side != r.side:
		case r.Kind == SwapSides && (side != compliance.Centre || e.Side == compliance.Centre || !paired(axle, e)):
		default:
			found = true
			if !slices.Contains(r.Elements, i) {
				r.Elements = append(r.Elements, i)
			}
		}
	}
	return found
}

// paired tells whether a bush exists on the other side too.
func paired(axle *compliance.Axle, e *compliance.Element) bool {
	return slices.ContainsFunc(axle.Elements, func(o compliance.Element) bool {
		return o.Kind.Table == e.Kind.Table && o.Name == e.Name && o.Side != e.Side
	})
}
