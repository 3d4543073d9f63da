package axlefile

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"bushtune/compliance"
)

// Position is a bush of the axle in whose place a part of a catalogue may stand:
// on both sides, or on one where the path ends in it.
type Position struct {
	Path          string  // "bush.pivot", "bush.pivot.left"
	Outer, Length float64 // mm: the largest part that has room; 0: any

	part     *part
	side     compliance.Side // Centre: wherever the bush exists
	elements []int
}

// Bushes lists the bushes of the axle by their paths, in the order of the file.
func (f *File) Bushes() []string {
	var all []string
	for i := range f.Axle.Elements {
		e := &f.Axle.Elements[i]
		if path := e.Kind.Table + "." + e.Name; e.Kind.Table == compliance.Bush.Table && !slices.Contains(all, path) {
			all = append(all, path)
		}
	}
	return all
}

// Position finds the bush that a path names. The error names the nearest, or all.
func (f *File) Position(path string) (Position, error) {
	words, side := takeSide(strings.Split(path, "."))
	p := f.elements[strings.Join(words, ".")]
	bushes := f.Bushes()
	switch {
	case len(bushes) == 0:
		return Position{}, errors.New("this axle has no bush")
	case p == nil || !slices.Contains(bushes, p.path):
		hint := meant(strings.Join(words, "."), bushes)
		if hint == "" {
			hint = "there are " + strings.Join(bushes, ", ")
		}
		return Position{}, fmt.Errorf("%q is no bush of this axle; %s", path, hint)
	}
	at := Position{Path: p.path, part: p, side: side}
	for _, s := range p.sides {
		if side == compliance.Centre || s.side == side {
			at.elements = append(at.elements, s.element)
		}
	}
	if len(at.elements) == 0 {
		return at, fmt.Errorf("there is no %s on the %s", p.path, side)
	}
	if side != compliance.Centre {
		at.Path += "." + side.String()
	}
	return at, nil
}

// OneSided tells whether a part in this position can make the halves of the axle
// differ.
func (p *Position) OneSided() bool { return p.side != compliance.Centre }

// Takes tells whether a part has room; if not, why.
func (p *Position) Takes(part *Part) (why string) {
	for _, m := range []struct {
		most, size float64
		what       string
	}{{p.Outer, part.Outer, "outer diameter"}, {p.Length, part.Length, "length"}} {
		switch {
		case m.most == 0:
		case m.size == 0:
			return "its " + m.what + " is not given"
		case m.size > m.most:
			return "its " + m.what + " of " + decimal(m.size) + " mm is above " + decimal(m.most) + " mm"
		}
	}
	return ""
}

// Fit returns the file with parts in positions: its axle, and its search without
// the numbers that the parts fix. The paths of parameters that are searched no
// longer are in fixed.
func (f *File) Fit(positions []Position, parts []*Part) (fitted *File, fixed []string) {
	next := *f
	next.Axle = f.Axle.Clone()
	for i := range positions {
		for _, element := range positions[i].elements {
			takePart(&next.Axle.Elements[element], parts[i])
		}
	}
	next.Search = nil
	for i := range f.Search {
		if p, ok := f.searchBeside(&f.Search[i], positions); ok {
			next.Search = append(next.Search, p)
		} else {
			fixed = append(fixed, f.Search[i].Path)
		}
	}
	return &next, fixed
}

// takePart makes an element the plain bush of a part, at the place where it is.
func takePart(e *compliance.Element, p *Part) {
	slots := slices.Clone(p.Slots)
	for i, f := range compliance.Bush.Fields {
		if old := e.Kind.FieldIndex(f.Name); old >= 0 && ofPlace(keyName(f.Name)) {
			slots[i] = e.Slots[old]
		}
	}
	e.Kind, e.Slots, e.Choice.Curves = compliance.Bush, slots, p.Curves
}

// keyName is the key under which a field stands: "at" for "at.x".
func keyName(field string) string {
	name, _, _ := strings.Cut(field, ".")
	return name
}

// searchBeside is a parameter of the search without what parts in positions fix;
// not ok if that is the parameter itself.
func (f *File) searchBeside(p *Parameter, positions []Position) (Parameter, bool) {
	left := *p
	left.Moves, left.targets, left.Tied = nil, nil, nil
	for i, t := range p.targets {
		moves := f.movesBeside(p, t, positions)
		if len(moves) == 0 && i == 0 {
			return left, false
		}
		if len(moves) > 0 {
			left.targets, left.Moves = append(left.targets, t), append(left.Moves, moves...)
			if i > 0 {
				left.Tied = append(left.Tied, t.name())
			}
		}
	}
	return left, true
}

// movesBeside are the moves of one of a parameter's numbers that no part fixes, at
// the slots of a plain bush where a part is put.
func (f *File) movesBeside(p *Parameter, t *target, positions []Position) []Move {
	var left []Move
	for _, m := range p.Moves {
		if !slices.Contains(t.slots(), m.Slot) {
			continue
		}
		if fits(positions, m.Slot.Element) {
			field := f.Axle.Field(m.Slot).Name
			if !ofPlace(keyName(field)) {
				continue
			}
			m.Slot.Index = compliance.Bush.FieldIndex(field)
		}
		left = append(left, m)
	}
	return left
}

// fits tells whether a part is put in the place of an element.
func fits(positions []Position, element int) bool {
	return slices.ContainsFunc(positions, func(p Position) bool { return slices.Contains(p.elements, element) })
}

// Replaced lists the slots of the axle that parts in this position replace. Each
// holds what Part.Slots holds at the same index.
func (p *Position) Replaced() (slots []compliance.Slot) {
	for i, f := range compliance.Bush.Fields {
		if !ofPlace(keyName(f.Name)) {
			for _, element := range p.elements {
				slots = append(slots, compliance.Slot{Element: element, Index: i})
			}
		}
	}
	return slots
}

// Overlaps tells whether two positions share a bush.
func (p Position) Overlaps(q Position) bool {
	return slices.ContainsFunc(q.elements, func(e int) bool { return slices.Contains(p.elements, e) })
}
