package axlefile

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// EditFit returns the text of the file with parts in positions and the parameters
// of the search that Fit leaves set to x, in their order. Comments, order and
// spacing stay. Keys of the bushes that the parts do not have, and parameters of
// the search that the parts fix, become comments.
func (f *File) EditFit(positions []Position, parts []*Part, source string, x []float64) ([]byte, error) {
	fitted, fixed := f.Fit(positions, parts)
	if len(x) != len(fitted.Search) {
		panic(fmt.Sprintf("axlefile: %d values for %d parameters", len(x), len(fitted.Search)))
	}
	ed := newEditor(f.source)
	moved := f.Axle.Clone()
	for i := range fitted.Search {
		p := &fitted.Search[i]
		p.Apply(fitted.Axle, p.Round(x[i]))
		own := *p // at the slots of the bushes that are there now
		own.Moves = f.movesOf(p.Path, p.targets)
		ed.tune(f, &own, x[i], moved)
	}
	for i := range positions {
		if err := ed.fit(&positions[i], parts[i], source); err != nil {
			return nil, err
		}
		if err := ed.handOver(&positions[i], parts[i], positions); err != nil {
			return nil, err
		}
	}
	for i := range f.Search {
		if p := &f.Search[i]; slices.Contains(fixed, p.Path) || f.drawnOver(p, positions, parts) {
			if err := ed.silence(f.source.root, strings.Split(searchSection+"."+p.key, ".")); err != nil {
				return nil, err
			}
		}
	}
	text := ed.apply()
	return text, f.compareFit(text, fitted)
}

// drawnOver tells whether a part gives by a curve what a parameter changes as a number,
// on one side at least: the file cannot have both.
func (f *File) drawnOver(p *Parameter, positions []Position, parts []*Part) bool {
	return slices.ContainsFunc(p.Moves, func(m Move) bool {
		for i := range positions {
			if slices.Contains(positions[i].elements, m.Slot.Element) && parts[i].drawn[f.Axle.Field(m.Slot).Name+curveSuffix] != nil {
				return true
			}
		}
		return false
	})
}

// movesOf are the moves of a parameter that belong to the given numbers.
func (f *File) movesOf(path string, targets []*target) []Move {
	var moves []Move
	for i := range f.Search {
		for _, m := range f.Search[i].Moves {
			if f.Search[i].Path == path && slices.ContainsFunc(targets, func(t *target) bool { return slices.Contains(t.slots(), m.Slot) }) {
				moves = append(moves, m)
			}
		}
	}
	return moves
}

// fit writes the numbers of one part into the table of its position.
func (ed *editor) fit(p *Position, part *Part, source string) error {
	words := strings.Split(p.part.path, ".")
	own := ed.document.root.sub(words[0]).sub(words[1])
	if p.side != compliance.Centre {
		own = own.sub(p.side.String())
	} else {
		for _, side := range sideTables {
			if err := ed.silenceRubber(own.sub(side), nil); err != nil {
				return err
			}
		}
	}
	if err := ed.silenceRubber(own, part); err != nil {
		return err
	}
	ed.remark(own, "# "+part.Name+" of "+source)
	for i, field := range compliance.Bush.Fields {
		if ofPlace(keyName(field.Name)) || !part.gives(i) {
			continue
		}
		t := &target{part: p.part, field: field, side: p.side}
		written := part.written(i)
		if e := own.entries[field.Name]; e != nil {
			if present, ok := asNumber(e); ok && present == written {
				continue
			}
		}
		ed.set(t, written)
	}
	ed.fitCurves(p, part)
	return nil
}

// handOver moves what a part on one side does not have from the common table of both
// sides to the other side, where the old part stays.
func (ed *editor) handOver(p *Position, part *Part, positions []Position) error {
	if p.side == compliance.Centre {
		return nil
	}
	words := strings.Split(p.part.path, ".")
	common := ed.document.root.sub(words[0]).sub(words[1])
	for i, field := range compliance.Bush.Fields {
		e := common.entries[field.Name]
		if e == nil || ofPlace(field.Name) || part.gives(i) || slices.Contains(bushing.DirectionNames, field.Name) {
			continue
		}
		value, ok := asNumber(e)
		if !ok {
			continue
		}
		if err := ed.silence(common, []string{field.Name}); err != nil {
			return err
		}
		for _, other := range p.part.sides {
			stays := other.side != p.side && !fits(positions, other.element)
			if stays && common.sub(other.side.String()).entries[field.Name] == nil {
				ed.set(&target{part: p.part, field: field, side: other.side}, value)
			}
		}
	}
	return nil
}

// fitCurves writes the curves of a part.
func (ed *editor) fitCurves(p *Position, part *Part) {
	if part.Curves != nil && part.Curves.Elliptical {
		ed.write(p, "radial", quote(radialWords[1]))
	}
	for _, k := range curveKeys() {
		if points := part.drawn[k.name]; points != nil {
			ed.write(p, k.name, pointsText(points))
		}
	}
}

// write adds a key to the table of a position, or of its side.
func (ed *editor) write(p *Position, name, value string) {
	words := strings.Split(p.part.path, ".")
	t, path := ed.document.root.sub(words[0]).sub(words[1]), []string{name}
	if p.side != compliance.Centre {
		if own := t.sub(p.side.String()); own.room.known {
			t = own
		} else {
			path = []string{p.side.String(), name}
		}
	}
	if t.room.known {
		ed.insert(t, path, value)
		return
	}
	ed.added[p.part.path] += strings.Join(path, ".") + " = " + value + ed.newline
}

// pointsText writes the points of a curve.
func pointsText(points [][2]float64) string {
	var texts []string
	for _, p := range points {
		texts = append(texts, "["+shortest(p[0])+", "+shortest(p[1])+"]")
	}
	return "[" + strings.Join(texts, ", ") + "]"
}

// gives tells whether a part has a number of its own for a slot.
func (p *Part) gives(slot int) bool {
	f := compliance.Bush.Fields[slot]
	return p.written(slot) != f.Default
}

// written is one number of a part in the unit of its field.
func (p *Part) written(slot int) float64 {
	return clean(p.Slots[slot] / compliance.Bush.Fields[slot].Unit.Factor)
}

// silenceRubber makes comments of the keys of a bush's table that describe a part
// other than the one given, which may be nil: a key that both have stays.
func (ed *editor) silenceRubber(t *table, part *Part) error {
	for _, name := range slices.Clone(t.keys) {
		if ofPlace(name) || slices.Contains(sideTables, name) {
			continue
		}
		slot := slices.IndexFunc(compliance.Bush.Fields, func(f quantity.Field) bool { return f.Name == name })
		if slot >= 0 && part != nil && part.gives(slot) {
			continue
		}
		if err := ed.silence(t, []string{name}); err != nil {
			return err
		}
	}
	return nil
}

// silence makes a comment of the key at a path, with all it holds.
func (ed *editor) silence(t *table, path []string) error {
	e := t.entries[path[0]]
	if e != nil && len(path) > 1 && e.table != nil {
		return ed.silence(e.table, path[1:])
	}
	switch {
	case e == nil || len(path) > 1:
		return fmt.Errorf("the key %s is not found", strings.Join(path, "."))
	case e.whole == span{} && e.table == nil, e.whole == span{} && e.table.room.inline:
		return fmt.Errorf("line %d: %s stands inside braces and cannot be made a comment; give it a line of its own", e.line, path[0])
	}
	if e.whole != (span{}) {
		ed.comment(e.whole)
	}
	if e.table != nil && !e.table.room.inline {
		for _, name := range e.table.keys {
			if err := ed.silence(e.table, []string{name}); err != nil {
				return err
			}
		}
	}
	return nil
}

// comment puts a comment sign before every line of a range.
func (ed *editor) comment(s span) {
	text := ed.document.text
	start := bytes.LastIndexByte(text[:s.start], '\n') + 1
	for start < s.end {
		at := change{span{start, start}, "# "}
		if !slices.Contains(ed.changes, at) {
			ed.changes = append(ed.changes, at)
		}
		next := bytes.IndexByte(text[start:], '\n')
		if next < 0 {
			return
		}
		start += next + 1
	}
}

// remark adds a line of comment behind the last key of a table, if it has lines.
func (ed *editor) remark(t *table, text string) {
	r := t.room
	if !r.known || r.inline {
		return
	}
	line := r.indent + text + ed.newline
	if before := ed.document.text[:r.offset]; len(before) > 0 && before[len(before)-1] != '\n' {
		line = ed.newline + strings.TrimSuffix(line, ed.newline)
	}
	ed.changes = append(ed.changes, change{span{r.offset, r.offset}, line})
}

// compareFit reads the edited text and holds it against the axle with the parts.
func (f *File) compareFit(text []byte, fitted *File) error {
	again, err := Parse(f.Name, text)
	if err != nil {
		return fmt.Errorf("the file with the parts would not be read again: %s", quantity.OneLine(err.Error())) // no mistake of the user's
	}
	if len(again.Axle.Elements) != len(fitted.Axle.Elements) {
		return fmt.Errorf("the edited file has %d elements instead of %d", len(again.Axle.Elements), len(fitted.Axle.Elements))
	}
	for i := range fitted.Axle.Elements {
		want, got := &fitted.Axle.Elements[i], &again.Axle.Elements[i]
		if want.Kind != got.Kind || (want.Choice.Curves == nil) != (got.Choice.Curves == nil) {
			return fmt.Errorf("%s is another kind of part after editing", want.Label())
		}
		for j := range want.Slots {
			if math.Abs(got.Slots[j]-want.Slots[j]) > rewriteTolerance*math.Abs(want.Slots[j]) {
				return fmt.Errorf("%s.%s reads as %g instead of %g after editing; a number that the part does not have stands in the common table of both sides",
					want.Label(), want.Kind.Fields[j].Name, got.Slots[j], want.Slots[j])
			}
		}
	}
	return nil
}
