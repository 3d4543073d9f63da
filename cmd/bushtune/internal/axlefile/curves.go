package axlefile

import (
	"errors"
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
)

// curveSuffix ends the keys of measured curves: "soft_curve".
const curveSuffix = "_curve"

// radialWords are the words for radial: whether soft and stiff are coupled.
var radialWords = []string{"separate", "elliptical"}

// curveKeys lists the keys of a bush's measured curves.
func curveKeys() []key {
	keys := []key{{name: "radial", form: word, words: radialWords, meaning: "elliptical: the void closes along an ellipse of the half-axes soft_gap and stiff_gap, along each axis as given; separate (taken when absent): each direction for itself"}}
	for d, name := range bushing.DirectionNames {
		units := "[mm, N]"
		if d >= int(bushing.ConeSoft) {
			units = "[deg, N·m]"
		}
		keys = append(keys, key{name: name + curveSuffix, form: curve, least: 2, most: 2,
			meaning: "load of the inner against the outer sleeve over deflection instead of " + name + ", points " + units + " with rising deflection and never falling load; points on the + side alone hold both ways"})
	}
	return keys
}

// curve reads the points of a measured curve.
func (r *reader) curve(c *content, k *key, path string, e *entry) {
	if !e.array {
		r.wrongType(path, e, k)
		return
	}
	deflection, load := curveUnits(k.name)
	var points [][2]float64
	for _, item := range e.items {
		v, ok := r.row(c.path, k, item)
		if !ok {
			return
		}
		points = append(points, [2]float64{v[0] * deflection.Factor, v[1] * load.Factor})
	}
	table, err := bushing.NewTable(points)
	var at *bushing.PointError
	switch {
	case errors.As(err, &at):
		r.wrong(e.items[at.Point-1].line, path, err.Error(), k.allowed(), "")
	case err != nil:
		r.wrong(e.line, path, err.Error(), k.allowed(), "")
	default:
		c.curves[k.name] = table
	}
}

// curveUnits are the written units of the curve with that key.
func curveUnits(name string) (deflection, load quantity.Unit) {
	if slices.Index(bushing.DirectionNames, name[:len(name)-len(curveSuffix)]) >= int(bushing.ConeSoft) {
		return quantity.Degree, quantity.NewtonMetre
	}
	return quantity.Millimetre, quantity.Newton
}

// laws gathers the curves of a bush; nil if it has none. Both sides share those
// of the common table unless one has its own.
func (c *content) laws(base *content) *bushing.Curves {
	laws := bushing.Curves{Elliptical: c.word("radial", "") == radialWords[1]}
	for d, name := range bushing.DirectionNames {
		laws.Tables[d] = c.curves[name+curveSuffix]
	}
	if laws == (bushing.Curves{}) {
		return nil
	}
	if base.shared == nil {
		base.shared = &laws
	}
	if laws == *base.shared {
		return base.shared
	}
	return &laws
}

// atSlot reports an error of a package below at the keys that it names; false if
// it names none.
func (r *reader) atSlot(c *content, err error) bool {
	all := wrongSlots(err)
	for _, wrong := range all {
		r.wrong(c.lineOf(wrong.Slot), c.path+"."+wrong.Slot, wrong.Reason, "", "")
	}
	return len(all) > 0
}

// lineOf is the line of a key, or of the table that holds it if it is absent.
func (c *content) lineOf(name string) int {
	group, _, _ := strings.Cut(name, ".")
	for _, n := range []string{name, group} {
		if e := c.given[n]; e != nil {
			return e.line
		}
	}
	return c.line
}

// wrongSlots lists the slots that an error of a package below names, one by one
// where several are joined.
func wrongSlots(err error) []*bushing.SlotError {
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		var all []*bushing.SlotError
		for _, one := range several.Unwrap() {
			all = append(all, wrongSlots(one)...)
		}
		return all
	}
	if wrong, ok := err.(*bushing.SlotError); ok {
		return []*bushing.SlotError{wrong}
	}
	if inner := errors.Unwrap(err); inner != nil {
		return wrongSlots(inner)
	}
	return nil
}

// replaceRates lets a curve of one side take the place of the common rate, and a
// rate of one side that of the common curve.
func (c *content) replaceRates() {
	for d, name := range bushing.DirectionNames {
		switch {
		case c.given[name+curveSuffix] != nil && c.given[name] == nil:
			c.slots[firstRate+d] = 0
		case c.given[name] != nil && c.given[name+curveSuffix] == nil:
			delete(c.curves, name+curveSuffix)
		}
	}
}

// byCurve tells which curve stands in for a slot, or nothing.
func (c *content) byCurve(index int) string {
	if c == nil {
		return ""
	}
	for d, name := range bushing.DirectionNames {
		if c.curves[name+curveSuffix] != nil && index == firstRate+d {
			return name + curveSuffix
		}
	}
	return ""
}

// firstRate is the slot of a bush's first rate.
var firstRate = slices.IndexFunc(bushing.Fields, func(f quantity.Field) bool { return f.Name == bushing.DirectionNames[0] })
