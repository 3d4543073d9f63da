package axlefile

import (
	"maps"
	"math"
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/compliance"
	"bushtune/compliance/section"
)

// variant is the way in which an element is written: which kind it is, which
// keys its table holds, and how a drawing becomes slots.
type variant struct {
	kind    *compliance.Kind
	keys    []key
	drawn   bool   // the profile is drawn wall by wall
	removed string // why the profile's measures are no parameters
}

// variantsOf lists the variants of one table.
func variantsOf(tableName string) []variant {
	var all []variant
	for _, k := range compliance.Kinds() {
		if k.Table == tableName {
			all = append(all, variant{kind: k, keys: withShape(elementKeys(k))})
		}
	}
	if tableName == compliance.Beam.Table {
		all = append(all, drawnVariant())
	}
	return all
}

func drawnVariant() variant {
	return variant{kind: compliance.Beam, keys: drawnBeamKeys(), drawn: true, removed: "the constants of a drawn profile are fixed when the file is read"}
}

// variantOf chooses the variant by the keys matrix, rubber and profile. It
// reports a shape that does not exist.
func (r *reader) variantOf(tableName, path string, t *table) variant {
	all := variantsOf(tableName)
	if tableName == compliance.Bush.Table {
		return bushVariant(all, t)
	}
	e := t.entries["profile"]
	switch {
	case tableName != compliance.Beam.Table:
		return all[0]
	case e == nil && anySectionKey(t):
		return all[0]
	case e == nil:
		r.wrong(t.line, path+".profile", "missing: the beam has no section", "profile = { shape = … }, or the constants area, inertia_forward, inertia_up, torsion_constant and so on", "")
		return placeOnly(all)
	}
	profile := e.table
	if profile != nil && (profile.entries["nodes"] != nil || profile.entries["walls"] != nil) && profile.entries["shape"] == nil {
		return drawnVariant()
	}
	if profile != nil && profile.entries["shape"] != nil {
		for _, v := range all {
			if v.kind.Variant != "" && profile.entries["shape"].value == any(v.kind.Variant) {
				return v
			}
		}
	}
	return r.unknownShape(path, e, all)
}

// bushVariant is the way in which a bush is written: its kind is named by the key
// that chooses it.
func bushVariant(all []variant, t *table) variant {
	for _, v := range all[1:] {
		if t.entries[v.kind.Variant] != nil {
			return v
		}
	}
	return all[0]
}

// unknownShape reports a profile that names no shape, and returns a variant that
// checks the other keys all the same.
func (r *reader) unknownShape(path string, e *entry, all []variant) variant {
	if e.table == nil {
		return all[1]
	}
	shape := e.table.entries["shape"]
	if shape == nil {
		r.wrong(e.line, path+".profile.shape", "missing", strings.Join(shapeNames(), ", "), "or draw the profile by nodes and walls")
	} else if s, ok := shape.value.(string); !ok || !slices.Contains(shapeNames(), s) {
		r.wrong(shape.line, path+".profile.shape", shape.describe()+" is not a shape", strings.Join(shapeNames(), ", "), meant(s, shapeNames()))
	}
	return placeOnly(all)
}

// placeOnly is a variant of a beam that leaves the section out.
func placeOnly(all []variant) variant {
	v := all[1]
	p := find(v.keys, "profile")
	p.form, p.required = anything, false
	return v
}

// anySectionKey tells whether a beam gives any constant of its section.
func anySectionKey(t *table) bool {
	for _, k := range keysOf(compliance.SectionFields()) {
		if t.entries[k.name] != nil {
			return true
		}
	}
	return false
}

// foreign turns "no such key" into a better message where the key belongs to
// another way of writing the same element.
func (r *reader) foreign(path string, t *table, v variant) {
	for _, name := range t.keys {
		if find(v.keys, name) != nil || slices.Contains(sideTables, name) {
			continue
		}
		for _, other := range variantsOf(v.kind.Table) {
			if find(other.keys, name) != nil {
				r.drop(path + "." + name)
				r.wrong(t.entries[name].line, path+"."+name, "does not go with "+v.written(), strings.Join(names(v.keys), ", "), v.wayOut())
				break
			}
		}
	}
}

// drop takes back the last mistake about a key.
func (r *reader) drop(key string) {
	for i := len(r.mistakes) - 1; i >= 0; i-- {
		if r.mistakes[i].Key == key {
			r.mistakes = append(r.mistakes[:i], r.mistakes[i+1:]...)
			return
		}
	}
}

// written says how a variant is written.
func (v variant) written() string {
	switch {
	case v.drawn:
		return "a profile drawn by nodes and walls"
	case v.kind == compliance.BushMatrix:
		return "a full matrix"
	case v.kind == compliance.BushRubber:
		return "a bush given by its dimensions"
	case v.kind.Variant != "":
		return "a profile of the shape " + v.kind.Variant
	case v.kind == compliance.Beam:
		return "a section given by its constants"
	}
	return "rates given one by one"
}

// instead names the keys that would choose another way of writing the same
// element.
func (v variant) instead() []string {
	var all []string
	for _, other := range variantsOf(v.kind.Table) {
		chosen := other.kind.Variant
		if v.kind.Table == compliance.Beam.Table && chosen != "" {
			chosen = "profile"
		}
		if chosen != "" && find(v.keys, chosen) == nil && !slices.Contains(all, chosen) {
			all = append(all, chosen)
		}
	}
	if v.kind.Variant != "" && v.kind.Table == compliance.Bush.Table {
		all = append(all, "rates one by one (axial, soft, stiff and so on)")
	}
	return all
}

// wayOut tells how a key of another way of writing can be used all the same;
// empty where that says itself.
func (v variant) wayOut() string {
	if v.kind == compliance.BushRubber {
		return "rates and voids follow from the dimensions; give rates, or rubber, not both"
	}
	return ""
}

// draw computes the section's constants of a drawn profile.
func (v variant) draw(r *reader, c *content, t *table) {
	if !v.drawn {
		return
	}
	profile := t.sub("profile")
	nodes, walls := profile.entries["nodes"], profile.entries["walls"]
	if nodes == nil || walls == nil {
		return
	}
	before := len(r.mistakes)
	p := r.drawing(c.path+".profile", find(v.keys, "profile").keys, nodes, walls)
	if len(r.mistakes) > before {
		return
	}
	constants, err := p.Constants()
	if err != nil {
		r.wrongEach(walls.line, c.path+".profile", err)
		return
	}
	s := compliance.SectionOf(&constants)
	first := compliance.Beam.FieldIndex(compliance.SectionFields()[0].Name)
	copy(c.slots[first:], s.Slots())
	c.outline = &p
}

// drawing reads nodes and walls.
func (r *reader) drawing(path string, keys []key, nodes, walls *entry) section.Profile[float64] {
	var p section.Profile[float64]
	for _, row := range nodes.items {
		if v, ok := r.row(path, find(keys, "nodes"), row); ok {
			p.AddNode(v[0], v[1])
		}
	}
	wall := find(keys, "walls")
	for _, row := range walls.items {
		v, ok := r.row(path, wall, row)
		switch {
		case !ok:
		case v[0] != math.Trunc(v[0]) || v[1] != math.Trunc(v[1]) || math.Abs(v[0]) > largestFile || math.Abs(v[1]) > largestFile:
			r.wrong(row.line, path+".walls", "nodes are named by their number in the list, from 0", wall.meaning, "")
		default:
			arc := 0.0
			if len(v) == 4 {
				arc = v[3] * math.Pi / 180
			}
			p.AddArc(int(v[0]), int(v[1]), v[2], arc)
		}
	}
	return p
}

// row reads a short array of numbers.
func (r *reader) row(path string, k *key, e *entry) ([]float64, bool) {
	path += "." + k.name
	if !e.array || len(e.items) < k.least || len(e.items) > k.most {
		r.wrongType(path, e, k)
		return nil, false
	}
	var values []float64
	for _, item := range e.items {
		v, ok := asNumber(item)
		if !ok || math.IsNaN(v) || math.Abs(v) > 1e6 {
			r.wrongType(path, item, k)
			return nil, false
		}
		values = append(values, v)
	}
	return values, true
}

// contradictions reports keys that exclude each other.
func (r *reader) contradictions(kind *compliance.Kind, c *content) {
	switch kind.Table {
	case compliance.Bush.Table:
		r.bushContradictions(c)
		if kind == compliance.BushRubber {
			r.rubberContradictions(c)
		}
		bare := compliance.Element{Kind: kind, Slots: c.slots, Choice: compliance.Choice{Rubber: c.compound()}}
		if b, is := bare.Bush(); is {
			r.atSlot(c, b.CheckStops())
			r.atSlot(c, b.CheckDynamic())
		}
	case compliance.Beam.Table:
		r.beamContradictions(c)
	case compliance.BumpStop.Table:
		if c.given["load"] != nil && c.slots[kind.FieldIndex("gap")] > 0 {
			r.wrong(c.given["load"].line, c.path+".load", "a stop with a gap carries no load", "load only with gap = 0", "")
		}
	}
}

// angleKeys tells which keys turn a bush, by its base.
var angleKeys = map[bushing.Base][]string{
	bushing.Lateral:      {"plan", "lift"},
	bushing.Longitudinal: {"plan", "lift"},
	bushing.Vertical:     {"lean_forward", "lean_outboard"},
	bushing.Explicit:     {"axis", "soft_axis"},
}

// turnsNothing tells whether a key of a bush turns it, but not on this base.
func turnsNothing(name string, base bushing.Base) bool {
	for _, keys := range angleKeys {
		if slices.Contains(keys, name) {
			return !slices.Contains(angleKeys[base], name)
		}
	}
	return false
}

// wrongTurn reports a key that turns nothing on its bush's base.
func (r *reader) wrongTurn(line int, path string, base bushing.Base) {
	r.wrong(line, path, "turns nothing with base = "+quote(bushing.BaseNames[base]), strings.Join(angleKeys[base], ", ")+", clock", "")
}

func (r *reader) bushContradictions(c *content) {
	if c.given["base"] != nil && len(c.words["base"]) == 0 { // not a base, which is told
		return
	}
	base := bushing.Base(c.choice("base", bushing.BaseNames, 0))
	for _, name := range slices.Sorted(maps.Keys(c.given)) {
		if turnsNothing(name, base) {
			r.wrongTurn(c.given[name].line, c.path+"."+name, base)
		}
	}
}

func (r *reader) beamContradictions(c *content) {
	cross, ends := c.given["ends_y"], c.given["start"]
	if ends == nil {
		ends = c.given["end"]
	}
	if cross != nil && ends != nil {
		r.wrong(ends.line, c.path, "the beam's place is given twice", "at with ends_y, or start with end", "")
	}
	if at := c.given["at"]; at != nil && cross == nil && ends != nil {
		r.wrong(at.line, c.path+".at", "does not go with start and end", "at with ends_y, or start with end", "")
	}
	if cross == nil && (c.given["start"] == nil) != (c.given["end"] == nil) {
		r.wrong(ends.line, c.path, "one end of the beam is missing", "start with end", "")
	}
}
