package axlefile

import (
	"fmt"
	"slices"
	"strings"

	"bushtune/compliance"
)

// vehicleWord stands for the vehicle in from, to and outer.
const vehicleWord = "vehicle"

// body is a body of the file: index by side, −2 where it does not exist.
type body struct {
	name  string
	line  int
	index [3]int // Centre, Left, Right
}

const absent = -2

// readBodies makes the bodies in the order of the file.
func (r *reader) readBodies(root *table) {
	r.bodies = map[string]*body{}
	keys := bodyKeys()
	r.eachNamed(root, bodySection, func(name, path string, t *table) {
		if name == vehicleWord {
			r.wrong(t.line, path, "the vehicle is there already and does not move", "any other name", "")
			return
		}
		c := newContent(path, t.line, nil)
		r.fill(c, t, keys, true)
		b := &body{name: name, line: t.line, index: [3]int{absent, absent, absent}}
		for _, side := range sides(c.word("side", sideWords[0])) {
			b.index[side] = len(r.file.Axle.Bodies)
			r.file.Axle.Bodies = append(r.file.Axle.Bodies, compliance.Body{Name: name, Side: side})
		}
		r.bodies[name] = b
	})
	if len(root.sub(bodySection).keys) == 0 {
		r.wrong(1, bodySection, "the axle has no body", "at least one table ["+bodySection+".NAME]", "")
	}
}

// sides translates a word of sideWords.
func sides(word string) []compliance.Side {
	switch word {
	case "left":
		return []compliance.Side{compliance.Left}
	case "right":
		return []compliance.Side{compliance.Right}
	case "one":
		return []compliance.Side{compliance.Centre}
	}
	return []compliance.Side{compliance.Left, compliance.Right}
}

// explicit tells whether a reference names a side: "arm.left".
func explicit(reference string) bool {
	_, side, dotted := strings.Cut(reference, ".")
	return dotted && (side == "left" || side == "right")
}

// resolve finds the body that an element of one side refers to. It reports what
// does not exist and returns false.
func (r *reader) resolve(reference string, side compliance.Side, line int, key string) (int, bool) {
	if reference == vehicleWord {
		return compliance.Vehicle, true
	}
	name, end, dotted := strings.Cut(reference, ".")
	b := r.bodies[name]
	if b == nil || dotted && !explicit(reference) {
		r.wrong(line, key, "the body "+quote(reference)+" does not exist", strings.Join(r.references(), ", "), meant(reference, r.references()))
		return 0, false
	}
	if dotted {
		side = sides(end)[0]
	}
	for _, try := range []compliance.Side{side, compliance.Centre} {
		if b.index[try] != absent && (try == side || !dotted) {
			return b.index[try], true
		}
	}
	r.notThere(b, reference, side, line, key)
	return 0, false
}

// notThere reports a body that exists, but not on the side that is needed.
func (r *reader) notThere(b *body, reference string, side compliance.Side, line int, key string) {
	var there []string
	for _, index := range b.index {
		if index != absent {
			there = append(there, r.file.Axle.Bodies[index].Label())
		}
	}
	hint := "this part exists once, so it names one of two bodies by its side"
	if side != compliance.Centre {
		hint = "there is none on the " + side.String()
	}
	r.wrong(line, key, quote(reference)+" names no single body here", strings.Join(there, ", "), hint)
}

// references lists what from and to can name.
func (r *reader) references() []string {
	all := []string{vehicleWord}
	for _, b := range r.file.Axle.Bodies {
		if b.Side == compliance.Left || b.Side == compliance.Centre || r.bodies[b.Name] != nil && r.bodies[b.Name].index[compliance.Left] == absent {
			all = append(all, b.Name)
		}
	}
	for _, b := range r.file.Axle.Bodies {
		if b.Side != compliance.Centre {
			all = append(all, b.Label())
		}
	}
	return all
}

// checkReach reports bodies that no chain of elements joins to the vehicle.
func (r *reader) checkReach() {
	bodies := r.file.Axle.Bodies
	held := make([]bool, len(bodies))
	isHeld := func(i int) bool { return i == compliance.Vehicle || held[i] }
	for changed := true; changed; {
		changed = false
		for _, e := range r.file.Axle.Elements {
			for _, pair := range [][2]int{{e.From, e.To}, {e.To, e.From}} {
				if isHeld(pair[0]) && !isHeld(pair[1]) {
					held[pair[1]], changed = true, true
				}
			}
		}
	}
	if r.broken {
		return
	}
	for i, b := range bodies {
		if !held[i] {
			r.wrong(r.bodies[b.Name].line, bodySection+"."+b.Label(), "no element joins this body to the vehicle", "", "name it in the from or to of a bush, link or beam, or take it out")
		}
	}
}

// checkChains reports beam ends that are continuous and lead nowhere, once where
// both sides say the same.
func (r *reader) checkChains(root *table) {
	if r.broken {
		return
	}
	var told []string
	for _, b := range r.file.Axle.BrokenChains() {
		e := &r.file.Axle.Elements[b.Element]
		path := e.Kind.Table + "." + e.Name
		written := root.sub(e.Kind.Table).entries[e.Name]
		if own := written.table.entries[e.Side.String()]; own != nil && own.table.entries["warping"] != nil {
			written, path = own, e.Label()
		}
		line := written.line
		if warping := written.table.entries["warping"]; warping != nil {
			line = warping.line
		}
		if end := fmt.Sprint(path, b.End); !slices.Contains(told, end) {
			told = append(told, end)
			r.wrong(line, path+".warping", b.Reason(), "", "")
		}
	}
}
