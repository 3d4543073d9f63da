package axlefile

import (
	"slices"
	"strings"

	"bushtune/compliance"
)

// readWheels makes both wheels from [wheel], [hub] and their overrides.
func (r *reader) readWheels(root *table) {
	there := root.entries[wheelSection] != nil
	if !there {
		r.wrong(1, wheelSection, "missing: the axle has no wheels", "a table ["+wheelSection+"]", "")
	}
	t, hub := root.sub(wheelSection), root.sub(hubSection)
	slots := newContent("", 0, defaultSlots(compliance.WheelFields)).slots
	wheel := newContent(wheelSection, t.line, slots)
	r.fill(wheel, t, wheelKeys(), there, sideTables...)
	r.fill(newContent(hubSection, hub.line, slots), hub, hubKeys(), true, sideTables...)
	r.file.wheel = &part{path: wheelSection, keys: wheelKeys()}
	r.file.hub = &part{path: hubSection, keys: hubKeys()}
	for i, side := range []compliance.Side{compliance.Left, compliance.Right} {
		own := sided{side: side, element: compliance.LeftWheel - i}
		hubOwn := own
		w := r.wheelSide(wheel, t, side, &own, wheelKeys())
		r.leftOfMiddle(w)
		w = r.wheelSide(&content{path: hubSection, line: hub.line, slots: w.slots}, hub, side, &hubOwn, hubKeys())
		r.file.wheel.sides = append(r.file.wheel.sides, own)
		r.file.hub.sides = append(r.file.hub.sides, hubOwn)
		r.file.Axle.Wheels[i] = compliance.Wheel{Slots: append([]float64(nil), w.slots...)}
		if on := wheel.words["on"]; len(on) > 0 {
			r.file.Axle.Wheels[i].Body, _ = r.wheelBody(on[0], side, wheel.given["on"].line)
		}
	}
}

// wheelSide is override for a wheel or hub, whose kind never differs.
func (r *reader) wheelSide(c *content, t *table, side compliance.Side, own *sided, keys []key) *content {
	return r.override(c, t, side, variant{kind: &compliance.Kind{}, keys: keys}, own)
}

// wheelBody finds the body that carries a wheel.
func (r *reader) wheelBody(reference string, side compliance.Side, line int) (int, bool) {
	key := wheelSection + ".on"
	if reference == vehicleWord || explicit(reference) {
		name, _, _ := strings.Cut(reference, ".")
		hint := ""
		if r.bodies[name] != nil {
			hint = "write " + name
		}
		r.wrong(line, key, quote(reference)+" cannot carry both wheels", "a body without its side", hint)
		return 0, false
	}
	return r.resolve(reference, side, line, key)
}

// leftOfMiddle refuses a wheel on the wrong side: both are written as the left one.
func (r *reader) leftOfMiddle(w *content) {
	const y = 1 // slot of centre.y
	if e := w.given["centre"]; e != nil && w.set[y] && w.slots[y] <= 0 && !r.told(w.path+".centre") {
		r.wrong(e.line, w.path+".centre.y", "the left wheel lies right of the middle; values of both wheels are written for the left", "above 0 mm", "")
	}
}

// told tells whether a mistake about a key, or a part of it, is noted already.
func (r *reader) told(key string) bool {
	return slices.ContainsFunc(r.mistakes, func(m Mistake) bool { return m.Key == key || strings.HasPrefix(m.Key, key+".") })
}
