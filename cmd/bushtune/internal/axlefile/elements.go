package axlefile

import (
	"errors"
	"math"
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
	"bushtune/compliance/section"
)

// part is one table of numbers that parameters can move: an element of one kind
// on all its sides, the wheel or the hub.
type part struct {
	path    string // "bush.pivot"
	keys    []key
	sides   []sided
	removed string // why what looks like a parameter is none; may be empty
}

// sided is a part on one side.
type sided struct {
	side    compliance.Side
	element int          // as in compliance.Slot
	own     map[int]bool // slots that the override of this side gives
	curves  *content     // of a bush: its curves, which take the place of rates
}

// kindTables lists the tables of elements, each once.
func kindTables() []string {
	var tables []string
	for _, k := range compliance.Kinds() {
		if !slices.Contains(tables, k.Table) {
			tables = append(tables, k.Table)
		}
	}
	return tables
}

// readElements makes the elements, table by table in the order of the file.
func (r *reader) readElements(root *table) {
	for _, name := range root.keys {
		if slices.Contains(kindTables(), name) {
			r.eachNamed(root, name, func(element, path string, t *table) { r.element(name, element, path, t) })
		}
	}
}

// sideTables are the overrides that a table can hold.
var sideTables = []string{"left", "right"}

// element reads one element table with its overrides.
func (r *reader) element(tableName, name, path string, t *table) {
	before := len(r.mistakes)
	variant := r.variantOf(tableName, path, t)
	c := newContent(path, t.line, variant.kind.Defaults())
	c.instead = variant.instead()
	r.fill(c, t, variant.keys, true, sideTables...)
	r.foreign(path, t, variant)
	variant.draw(r, c, t)
	r.contradictions(variant.kind, c)
	p := &part{path: path, keys: variant.keys, removed: variant.removed}
	for _, side := range r.elementSides(c) {
		own := sided{side: side, element: len(r.file.Axle.Elements)}
		content := r.override(c, t, side, variant, &own)
		own.curves = content
		e, ok := r.build(variant.kind, name, side, content, c)
		if ok && !r.shapeless(variant, before) {
			r.possible(&e, content)
			r.rightOfMiddle(&e, content)
		}
		if ok && len(r.mistakes) == before {
			p.sides = append(p.sides, own)
			r.file.Axle.Elements = append(r.file.Axle.Elements, e)
		}
	}
	r.strayOverrides(path, t, r.elementSides(c))
	r.broken = r.broken || len(r.mistakes) > before
	r.file.elements[path] = p
}

// elementSides says where an element exists: as told, or once where it names a
// body by its side.
func (r *reader) elementSides(c *content) []compliance.Side {
	word := c.word("side", "")
	if word == "" && (explicit(c.word("from", "")) || explicit(c.word("to", ""))) {
		word = "one"
	}
	return sides(word)
}

// override reads [kind.name.left] or [kind.name.right], which gives only what
// differs; without one it returns the common content.
func (r *reader) override(c *content, t *table, side compliance.Side, v variant, own *sided) *content {
	e := t.entries[side.String()]
	if e == nil || side == compliance.Centre {
		return c
	}
	path := c.path + "." + side.String()
	if e.table == nil || e.many {
		r.wrong(e.line, path, e.describe()+" does not fit", "a table with what differs on the "+side.String(), "")
		return c
	}
	before := len(r.mistakes)
	o := c.override(path, e.line)
	for _, key := range e.table.keys {
		if slices.Contains(common, key) {
			r.wrong(e.table.entries[key].line, path+"."+key, "cannot differ between the sides", "", "it stands in ["+c.path+"]")
		}
	}
	r.partial = true
	r.fill(o, e.table, overridable(v.keys), false, common...)
	r.foreign(path, e.table, v)
	r.partial = false
	own.own = o.set
	o.replaceRates()
	for key, entry := range c.given {
		if o.given[key] == nil {
			o.given[key] = entry
		}
	}
	if before == len(r.mistakes) {
		r.contradictions(v.kind, o)
	}
	return o
}

// common are the keys that both sides share.
var common = []string{"from", "to", "side", "on", "outer"}

// overridable lists the keys that one side may give for itself.
func overridable(keys []key) []key {
	return slices.DeleteFunc(slices.Clone(keys), func(k key) bool {
		return slices.Contains(common, k.name)
	})
}

// strayOverrides reports overrides of sides on which the element does not exist.
func (r *reader) strayOverrides(path string, t *table, there []compliance.Side) {
	for _, word := range sideTables {
		if e := t.entries[word]; e != nil && !slices.Contains(there, sides(word)[0]) {
			r.wrong(e.line, path+"."+word, "the part does not exist on the "+word, "", "it exists "+existence(there))
		}
	}
}

func existence(there []compliance.Side) string {
	if there[0] == compliance.Centre {
		return "once, so its values stand in its own table"
	}
	return "on the " + there[0].String() + " only"
}

// build makes the element of one side.
func (r *reader) build(kind *compliance.Kind, name string, side compliance.Side, c, base *content) (compliance.Element, bool) {
	e := compliance.Element{Kind: kind, Name: name, Side: side, Slots: slices.Clone(c.slots)}
	var ok [2]bool
	for end, key := range []string{"from", "to"} {
		if len(base.words[key]) == 0 {
			continue
		}
		index, found := r.end(base, key, side)
		ok[end] = found
		if end == 0 {
			e.From = index
		} else {
			e.To = index
		}
	}
	if !ok[0] || !ok[1] {
		return e, false
	}
	e.Choice = r.choice(base, c)
	return e, true
}

// shapeless tells whether a mistake found since then leaves open where the
// element lies or what its section is, so that its geometry cannot be judged.
func (r *reader) shapeless(v variant, since int) bool {
	for _, m := range r.mistakes[since:] {
		words := strings.Split(m.Key, ".")
		for _, word := range words[min(2, len(words)):] {
			if k := find(v.keys, word); k != nil && (k.form == vector || k.form == matrix || k.form == nested || v.kind.Table == compliance.Beam.Table) {
				return true
			}
		}
	}
	return false
}

// end resolves from or to for one side.
func (r *reader) end(c *content, key string, side compliance.Side) (int, bool) {
	reference, line := c.word(key, ""), c.given[key].line
	if explicit(reference) && side != compliance.Centre {
		r.wrong(line, c.path+"."+key, quote(reference)+" names a side, but the part exists on each side", "the body without its side",
			`a part that joins the two sides exists once: side = "one"`)
		return 0, false
	}
	return r.resolve(reference, side, line, c.path+"."+key)
}

// choice translates the words of an element.
func (r *reader) choice(base, c *content) compliance.Choice {
	return compliance.Choice{
		Base:         bushing.Base(c.choice("base", bushing.BaseNames, 0)),
		OuterIsFrom:  r.outerIsFrom(base),
		HoldsMoments: c.flags["holds_moments"],
		Curves:       c.laws(base),
		Rubber:       c.compound(),
		Ends: [2]compliance.Warping{
			compliance.Warping(c.choice("warping", compliance.WarpingNames, 0)),
			compliance.Warping(c.choice("warping", compliance.WarpingNames, 1)),
		},
		Opens:   section.Opening(c.choice("opens", section.Openings(), 0)),
		Outline: c.outline,
	}
}

// outerIsFrom tells on which side the outer sleeve sits; the to side if not said.
func (r *reader) outerIsFrom(c *content) bool {
	outer, from, to := c.word("outer", ""), c.word("from", ""), c.word("to", "")
	if outer != "" && outer != from && outer != to {
		r.wrong(c.given["outer"].line, c.path+".outer", quote(outer)+" is at neither end", from+", "+to, meant(outer, []string{from, to}))
	}
	return outer != "" && outer == from
}

// possible asks the element's kind whether its geometry can be.
func (r *reader) possible(e *compliance.Element, c *content) {
	one := compliance.Axle{Bodies: r.file.Axle.Bodies, Elements: []compliance.Element{*e}}
	for i := range one.Wheels {
		one.Wheels[i] = compliance.Wheel{Slots: make([]float64, len(compliance.WheelFields))}
	}
	err := one.Validate()
	if err == nil {
		return
	}
	if r.atSlot(c, err) {
		return
	}
	if inner := errors.Unwrap(err); inner != nil {
		err = inner
	}
	r.wrongEach(c.line, c.path, err)
}

// rightOfMiddle reports an element of one side all of whose points lie right of
// the middle: somebody wrote the right one as it lies in the car.
func (r *reader) rightOfMiddle(e *compliance.Element, c *content) {
	points, right := 0, 0
	line := c.line
	for i, f := range e.Kind.Fields {
		name, isY := strings.CutSuffix(f.Name, ".y")
		if !isY || f.Unit != quantity.Millimetre || math.IsNaN(e.Slots[i]) {
			continue
		}
		points++
		if e.Slots[i] < 0 {
			right++
			if given := c.given[name]; given != nil {
				line = given.line
			}
		}
	}
	if e.Side != compliance.Centre && points > 0 && right == points {
		r.wrong(line, c.path, "lies right of the middle", "y above 0: values of both sides are written for the left, the right is the mirror image", `a part in the middle has side = "one"`)
	}
}

// wrongEach notes an error of a package below, which may be several joined.
func (r *reader) wrongEach(line int, path string, err error) {
	for text := range strings.Lines(err.Error()) {
		r.wrong(line, path, strings.TrimPrefix(strings.TrimSpace(text), "section: "), "", "")
	}
}
