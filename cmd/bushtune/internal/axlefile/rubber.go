package axlefile

import (
	"slices"
	"strings"

	"bushtune/bushing/rubber"
)

// stopGapKey is the way until collars are pressed; touching is why no search goes to
// the end of it.
const (
	stopGapKey  = "stop_gap"
	hardnessKey = "hardness"
	touching    = "at 0 the collars touch, which is another bush than one with the least gap"
)

// compose adds to the dimensions in the table rubber what is chosen from a list.
func compose(k *key) {
	k.meaning = "the bush by its dimensions and its compound instead of rates, voids and axial stops, which follow"
	k.keys = append(k.keys, compoundKeys()...)
}

// compoundKeys are what is chosen from a list, of a bush in an axle file and of any
// part in a part file.
func compoundKeys() []key {
	return []key{
		{name: compoundKey, form: word, words: rubber.CompoundNames, meaning: "natural: natural rubber from its hardness (taken when absent); polyurethane: a range from its hardness, range_share says where in it; given: shear_modulus and bulk_modulus"},
		{name: bondedKey, form: truth, meaning: "true: bonded to both sleeves (taken when absent, but to be said of polyurethane); false: torsion and axial load are friction, not stiffness"},
	}
}

// compound is what a table says of the compound.
func (c *content) compound() rubber.Choice {
	bonded, said := c.flags[bondedKey]
	return rubber.Choice{Compound: rubber.Compound(c.choice(compoundKey, rubber.CompoundNames, 0)), Free: said && !bonded}
}

// compoundNeeds are the keys that a compound cannot do without; those that only
// other compounds need, or may have, mean nothing with it.
var compoundNeeds = [...]struct{ must, may []string }{
	rubber.Natural:      {},
	rubber.Polyurethane: {must: []string{"range_share", bondedKey}},
	rubber.Given:        {must: []string{"shear_modulus"}, may: []string{"bulk_modulus"}},
}

// ofOneCompound are the keys that not every compound has.
var ofOneCompound = []string{"range_share", "shear_modulus", "bulk_modulus"}

// idleKeys are the keys that mean nothing with a compound.
func idleKeys(compound rubber.Compound) []string {
	needs := compoundNeeds[compound]
	has := strings.Join(append(append([]string{bondedKey}, needs.must...), needs.may...), " ")
	var idle []string
	for _, name := range ofOneCompound {
		if !strings.Contains(has, name) {
			idle = append(idle, name)
		}
	}
	return idle
}

// facts are slots that a supplier does not choose.
var facts = []string{rangeShareKey, "temperature_factor", "ageing_factor"}

// noChoice says why nobody can choose a slot of a rubber; empty where it can be
// chosen.
func noChoice(slot string, compound rubber.Compound) string {
	switch {
	case slices.Contains(idleKeys(compound), slot):
		return "means nothing with compound = " + quote(rubber.CompoundNames[compound])
	case slices.Contains(facts, slot):
		return "is a fact of the compound, not a choice"
	case slot == hardnessKey && compound == rubber.Given:
		return "changes no rate with compound = " + quote(rubber.CompoundNames[compound]) + ": shear_modulus does"
	}
	return ""
}

// rubberContradictions reports what a compound lacks, and keys that mean nothing
// with it.
func (r *reader) rubberContradictions(c *content) {
	given := func(name string) *entry { return c.given[rubberKey+"."+name] }
	if given(compoundKey) != nil && len(c.words[compoundKey]) == 0 { // not a compound, which is told
		return
	}
	compound := c.compound().Compound
	with := "with compound = " + quote(rubber.CompoundNames[compound])
	for _, name := range compoundNeeds[compound].must {
		if given(name) == nil {
			r.wrong(c.lineOf(rubberKey), c.path+"."+rubberKey+"."+name, "missing "+with, "", compoundHints[name])
		}
	}
	for _, name := range idleKeys(compound) {
		if e := given(name); e != nil {
			r.wrong(e.line, c.path+"."+rubberKey+"."+name, "means nothing "+with, "", "")
		}
	}
}

// compoundHints say why a compound needs a key.
var compoundHints = map[string]string{
	"range_share":   "the hardness of a polyurethane gives a range: 0 its soft end, 1 its stiff end",
	bondedKey:       "say whether the polyurethane is bonded to both sleeves: if not, torsion and axial load are friction",
	"shear_modulus": "small-strain shear modulus in MPa",
}

// compoundRules are the same rules for the schema.
func compoundRules() []object {
	var rules []object
	for compound, name := range rubber.CompoundNames {
		condition := object{"required": []string{compoundKey}, "properties": object{compoundKey: object{"const": name}}}
		if compound == int(rubber.Natural) { // taken when absent
			condition = object{"properties": object{compoundKey: object{"const": name}}}
		}
		refused := object{}
		for _, idle := range idleKeys(rubber.Compound(compound)) {
			refused[idle] = false
		}
		then := object{"properties": refused}
		if must := compoundNeeds[compound].must; must != nil {
			then["required"] = must
		}
		rules = append(rules, object{"if": condition, "then": then})
	}
	return rules
}
