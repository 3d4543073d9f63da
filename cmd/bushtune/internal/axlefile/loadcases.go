package axlefile

import (
	"strings"

	"bushtune/cases"
)

// titleText is the key for a title of a case or state.
func titleText() key {
	return key{name: titleKey, form: text, meaning: "what headings say; absent: the name"}
}

// caseKeys lists the keys of [case.NAME].
func caseKeys() []key {
	keys := []key{titleText(), {name: "pads", form: word, words: cases.PadNames, required: true, meaning: "level: the height of the contact points is held; floating: their vertical force is"}}
	keys = append(keys, key{name: "brake", form: word, words: cases.BrakeNames, meaning: "off: the wheels are free to roll; locked: the horizontal forces at the contact points pass their moment to the carriers; on: the fore-aft ones alone do, as in a braking car; absent: locked if there is a force along x at a contact point, else off"})
	for _, wheel := range cases.WheelNames {
		load := append([]key{{name: "at", form: word, words: cases.ApplicationNames, meaning: "where the force acts: at the contact point or the wheel centre; absent: patch"}}, keysOf(cases.WheelLoadFields)...)
		keys = append(keys, key{name: wheel, form: nested, keys: load, meaning: "load on the " + wheel + " wheel; absent: none"})
	}
	return keys
}

// readCases reads the author's own load cases.
func (r *reader) readCases(root *table) {
	taken := map[string]bool{}
	for _, c := range cases.BuiltIn() {
		taken[c.Name], taken[c.Name+cases.TurnRight] = true, true
	}
	for _, s := range cases.BuiltInStates() {
		taken[s.Name] = true
	}
	r.eachNamed(root, caseSection, func(name, path string, t *table) {
		before := len(r.mistakes)
		r.freeName(taken, name, path, t.line)
		c := newContent(path, t.line, nil)
		keys := caseKeys()
		r.fill(c, t, keys, true, cases.WheelNames...)
		var loads [2]cases.WheelLoad
		for i, wheel := range cases.WheelNames {
			loads[i] = r.wheelLoad(path+"."+wheel, find(keys, wheel), t.entries[wheel])
		}
		if len(r.mistakes) > before {
			return
		}
		brake := cases.Brake(c.choice("brake", cases.BrakeNames, int(cases.UsualBrake(loads[0], loads[1]))))
		made, err := cases.NewCase(name, c.word(titleKey, name), cases.Pads(c.choice("pads", cases.PadNames, 0)), brake, loads[0], loads[1])
		if err != nil {
			r.wrong(t.line, path, strings.TrimPrefix(err.Error(), "case "+name+": "), "", "")
			return
		}
		r.file.Cases = append(r.file.Cases, made)
	})
	r.readStates(root, taken)
}

// freeName reports a name that a case or state has already.
func (r *reader) freeName(taken map[string]bool, name, path string, line int) {
	if taken[name] {
		r.wrong(line, path, "there is a case or state of this name already", "any other name", "")
	}
	taken[name] = true
}

// wheelLoad reads the load on one wheel of a case.
func (r *reader) wheelLoad(path string, k *key, e *entry) cases.WheelLoad {
	slots := defaultSlots(cases.WheelLoadFields)
	c := newContent(path, 0, slots)
	if e != nil && e.table == nil {
		r.wrongType(path, e, k)
	} else if e != nil {
		r.fill(c, e.table, k.keys, true)
	}
	return cases.NewWheelLoad(c.slots, cases.Application(c.choice("at", cases.ApplicationNames, 0)))
}

// stateKeys lists the keys of [state.NAME].
func stateKeys() []key { return append([]key{titleText()}, keysOf(cases.StateFields)...) }

// readStates reads the author's own states of the vehicle, whose names must
// differ from those of the cases.
func (r *reader) readStates(root *table, taken map[string]bool) {
	r.eachNamed(root, stateSection, func(name, path string, t *table) {
		r.freeName(taken, name, path, t.line)
		c := newContent(path, t.line, defaultSlots(cases.StateFields))
		r.fill(c, t, stateKeys(), true)
		if c.given["lateral"] == nil && c.given["braking"] == nil {
			r.wrong(t.line, path, "the state has no acceleration", "lateral, braking, or both", "")
		}
		r.file.States = append(r.file.States, cases.NewState(name, c.word(titleKey, name), c.slots))
	})
}
