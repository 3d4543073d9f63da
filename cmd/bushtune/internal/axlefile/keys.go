package axlefile

import (
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
	"bushtune/compliance/section"
)

// form is how the value of a key is written.
type form int

const (
	number   form = iota // one number
	vector               // an array of numbers, one for each field
	matrix               // six rows of six numbers, symmetric
	text                 // free words
	word                 // one word of a list
	pair                 // two words of a list, for from and to
	list                 // one text or an array of texts
	truth                // true or false
	rows                 // an array of arrays of numbers
	curve                // points of two numbers
	nested               // a table of keys
	anything             // not looked at, because a mistake was told already
)

// key describes one key of a table. The reader, the hints, the parameter paths
// and the schema are all driven by lists of keys.
type key struct {
	name     string
	form     form
	fields   []quantity.Field // of numbers: their unit and range
	first    int              // slot of the first field
	words    []string         // of words
	keys     []key            // of a nested table
	least    int              // of rows: how many numbers one holds
	most     int
	required bool
	meaning  string
}

// find returns the key with that name, or nil.
func find(keys []key, name string) *key {
	for i := range keys {
		if keys[i].name == name {
			return &keys[i]
		}
	}
	return nil
}

func names(keys []key) []string {
	all := make([]string, len(keys))
	for i := range keys {
		all[i] = keys[i].name
	}
	return all
}

// keysOf groups fields into keys: "at.x", "at.y", "at.z" are the vector at,
// "matrix.11" and so on a matrix, "profile.leg" a key of the nested table
// profile. Slots keep the order of the fields.
func keysOf(fields []quantity.Field) []key {
	var keys []key
	for i, f := range fields {
		group, component, dotted := strings.Cut(f.Name, ".")
		k := find(keys, group)
		if k == nil {
			keys = append(keys, key{name: group, form: formOf(group, component), first: i, meaning: f.Meaning})
			k = &keys[len(keys)-1]
		}
		k.required = k.required || f.Required
		if dotted && k.form == nested {
			k.keys = append(k.keys, key{name: component, form: number, fields: []quantity.Field{f}, first: i, required: f.Required, meaning: f.Meaning})
			continue
		}
		k.fields = append(k.fields, f)
	}
	return keys
}

func formOf(group, component string) form {
	switch {
	case component == "":
		return number
	case group == matrixKey:
		return matrix
	case len(component) == 1:
		return vector
	}
	return nested
}

// matrixKey and rubberKey choose how a bush is written.
const (
	matrixKey = "matrix"
	rubberKey = "rubber"
)

// sideWords are the words for side, in the order of sides below.
var sideWords = []string{"both", "left", "right", "one"}

// elementKeys lists what a table of this kind of element may hold.
func elementKeys(kind *compliance.Kind) []key {
	keys := []key{
		{name: "from", form: text, required: true, meaning: "the body, or vehicle, at one end"},
		{name: "to", form: text, required: true, meaning: "the body, or vehicle, at the other end"},
		{name: "side", form: word, words: sideWords, meaning: "both: written for the left, mirrored for the right (taken when absent); left or right: only there; one: exists once, written where it is"},
	}
	switch kind.Table {
	case compliance.Bush.Table:
		keys = append(keys, bushChoices()...)
		if kind == compliance.Bush {
			keys = append(keys, curveKeys()...)
		}
	case compliance.Beam.Table:
		keys = append(keys, beamChoices(kind)...)
	}
	fields := keysOf(kind.Fields)
	switch kind {
	case compliance.BushMatrix:
		find(fields, matrixKey).required = true
	case compliance.BushRubber:
		compose(find(fields, rubberKey))
	}
	return append(keys, fields...)
}

func bushChoices() []key {
	return []key{
		{name: "base", form: word, words: bushing.BaseNames, meaning: "the vehicle axis along which the bush axis lies before plan, lift and clock; absent: lateral"},
		{name: "outer", form: text, meaning: "the body, or vehicle, that carries the outer sleeve, to which the voids are bonded; absent: the to side"},
		{name: "holds_moments", form: truth, meaning: "true: torsion and cones carry static load too; absent: the bush is tightened at design height"},
	}
}

func beamChoices(kind *compliance.Kind) []key {
	keys := []key{{name: "warping", form: pair, words: compliance.WarpingNames,
		meaning: "what the end on the from side and the end on the to side do to the warping of the section; absent: free"}}
	if kind.Variant != "" {
		keys = append(keys, key{name: "opens", form: word, words: section.Openings(), meaning: "where the open side of a shape looks before tilt; absent: down"})
	}
	return keys
}

// drawnBeamKeys lists the keys of a beam whose profile is drawn wall by wall.
func drawnBeamKeys() []key {
	keys := slices.DeleteFunc(elementKeys(compliance.Beam), func(k key) bool {
		return slices.ContainsFunc(compliance.SectionFields(), func(f quantity.Field) bool {
			group, _, _ := strings.Cut(f.Name, ".")
			return group == k.name
		})
	})
	return append(keys, key{name: "profile", form: nested, required: true, meaning: "the section's midline, drawn wall by wall", keys: []key{
		{name: "nodes", form: rows, least: 2, most: 2, required: true, meaning: "points [forward, up] of the midline in mm, numbered from 0"},
		{name: "walls", form: rows, least: 3, most: 4, required: true, meaning: "walls [from node, to node, thickness in mm] or [from node, to node, thickness, arc in deg]: the arc is + when it turns left on its way, forward to the right and up upwards"},
	}})
}

// withShape adds the key shape to the nested table profile of a shape's keys.
func withShape(keys []key) []key {
	p := find(keys, "profile")
	if p == nil {
		return keys
	}
	p.meaning = "the section's shape and its measures"
	p.keys = append([]key{{name: "shape", form: word, words: shapeNames(), required: true, meaning: "what the section looks like"}}, p.keys...)
	return keys
}

func shapeNames() []string {
	var all []string
	for _, k := range compliance.ProfileBeams {
		all = append(all, k.Variant)
	}
	return all
}

// bodyKeys lists what a [body.NAME] table may hold.
func bodyKeys() []key {
	return []key{{name: "side", form: word, words: sideWords, meaning: "both: one on the left and its mirror image on the right (taken when absent); one: a single central body"}}
}

// wheelKeys lists the keys of [wheel]; those of the hub have a table of their own.
func wheelKeys() []key {
	keys := []key{{name: "on", form: text, required: true, meaning: "the body that carries the wheels"}}
	for _, k := range keysOf(compliance.WheelFields) {
		if !strings.HasPrefix(k.name, hubPrefix) {
			keys = append(keys, k)
		}
	}
	return keys
}

// hubPrefix marks the slots of a wheel that the file keeps in the table [hub].
const hubPrefix = "hub_"

// hubKeys lists the keys of [hub].
func hubKeys() []key {
	var keys []key
	for _, k := range keysOf(compliance.WheelFields) {
		if name, ok := strings.CutPrefix(k.name, hubPrefix); ok {
			k.name = name
			keys = append(keys, k)
		}
	}
	return keys
}
