package axlefile

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// target is what a parameter path names: one number of a part, on one side or
// on every side that takes it from the common table.
type target struct {
	part  *part
	field quantity.Field
	index int // of the field in the part's slots
	sides []sided
	side  compliance.Side // Centre: the common value
}

// name is the path as it is written in messages and in the file.
func (t *target) name() string {
	path := t.part.path
	if t.side != compliance.Centre {
		path += "." + t.side.String()
	}
	field := t.field.Name
	if t.part.path == hubSection {
		field = strings.TrimPrefix(field, hubPrefix)
	}
	return path + "." + field
}

// pathError says what is wrong with a path.
type pathError struct{ wrong, allowed, hint string }

// parts lists everything that parameters can move by the start of its path.
func (f *File) parts() []string {
	all := slices.Sorted(maps.Keys(f.elements))
	if f.wheel != nil {
		all = append([]string{wheelSection, hubSection}, all...)
	}
	return all
}

// part is the part of one of those paths.
func (f *File) part(path string) *part {
	switch path {
	case wheelSection:
		return f.wheel
	case hubSection:
		return f.hub
	}
	return f.elements[path]
}

// fieldAt is the field of one of a part's slots.
func (p *part) fieldAt(index int) quantity.Field {
	for i := range p.keys {
		for _, k := range append([]key{p.keys[i]}, p.keys[i].keys...) {
			if n := index - k.first; n >= 0 && n < len(k.fields) {
				return k.fields[n]
			}
		}
	}
	return quantity.Field{}
}

// locate finds what a path names. A side may follow the name or end the path.
func (f *File) locate(path string) (*target, *pathError) {
	words := strings.Split(path, ".")
	p, rest := f.partOf(words)
	if p == nil {
		return nil, f.noPart(words)
	}
	t := &target{part: p}
	if rest, t.side = takeSide(rest); len(rest) == 0 {
		return nil, &pathError{"names a part, not one of its numbers", strings.Join(p.numbers(), ", "), ""}
	}
	if err := t.find(strings.Join(rest, ".")); err != nil {
		return nil, err
	}
	if err := t.choose(); err != nil {
		return nil, err
	}
	for _, s := range t.sides {
		if name := s.curves.byCurve(t.index); name != "" {
			return nil, &pathError{wrong: quote(t.field.Name) + " is given by " + name + ", which stays as it is"}
		}
	}
	return t, nil
}

// partOf splits a path into a part and the words behind its name.
func (f *File) partOf(words []string) (*part, []string) {
	if p := f.part(words[0]); p != nil {
		return p, words[1:]
	}
	if len(words) > 1 {
		return f.part(words[0] + "." + words[1]), words[2:]
	}
	return nil, nil
}

// noPart says which word of a path is not known.
func (f *File) noPart(words []string) *pathError {
	parts := f.parts()
	stem := words[0]
	if len(words) > 1 && stem != wheelSection && stem != hubSection {
		stem += "." + words[1]
	}
	hint := meant(stem, parts)
	if hint == "" {
		var same []string // a part of that name, in another table or without it
		for _, p := range parts {
			_, name, _ := strings.Cut(p, ".")
			if slices.Contains(words, name) {
				same = append(same, p)
			}
		}
		if len(same) > 0 {
			hint = "did you mean " + strings.Join(same, " or ") + "?"
		}
	}
	return &pathError{quote(stem) + " is no part of this axle", strings.Join(parts, ", "), hint}
}

// takeSide takes left or right from the start or the end of the words.
func takeSide(words []string) ([]string, compliance.Side) {
	for _, at := range []int{0, len(words) - 1} {
		if at < len(words) && at >= 0 && slices.Contains(sideTables, words[at]) {
			return slices.Delete(slices.Clone(words), at, at+1), sides(words[at])[0]
		}
	}
	return words, compliance.Centre
}

// find looks for a field by name.
func (t *target) find(name string) *pathError {
	for i := range t.part.keys {
		k := &t.part.keys[i]
		for j := range k.keys {
			inner := &k.keys[j]
			if k.name+"."+inner.name == name && len(inner.fields) == 1 {
				t.field, t.index = inner.fields[0], inner.first
				return nil
			}
		}
		for j, f := range k.fields {
			if fieldKey(k, f) == name {
				t.field, t.index = f, k.first+j
				return nil
			}
		}
	}
	return t.part.noField(name)
}

// fieldKey is the name of a field in a path: that of its key with the component.
func fieldKey(k *key, f quantity.Field) string {
	if _, part, dotted := strings.Cut(f.Name, "."); dotted {
		return k.name + "." + part
	}
	return k.name
}

// noField says that a part has no such number.
func (p *part) noField(name string) *pathError {
	numbers := p.numbers()
	e := &pathError{wrong: quote(name) + " is no number of " + p.path, allowed: strings.Join(numbers, ", "), hint: meant(name, numbers)}
	if k := find(p.keys, name); k != nil {
		e.wrong = quote(name) + " is not one number"
		var components []string
		for _, n := range numbers {
			if strings.HasPrefix(n, name+".") {
				components = append(components, n)
			}
		}
		if components != nil {
			e.hint = "name one of " + strings.Join(components, ", ")
		}
	}
	if p.removed != "" && strings.HasPrefix(name, "profile") {
		e.hint = p.removed
	}
	return e
}

// numbers lists the names of a part's numbers.
func (p *part) numbers() []string {
	var all []string
	for i := range p.keys {
		k := &p.keys[i]
		for _, f := range k.fields {
			all = append(all, fieldKey(k, f))
		}
		for j := range k.keys {
			if len(k.keys[j].fields) == 1 {
				all = append(all, k.name+"."+k.keys[j].name)
			}
		}
	}
	return all
}

// choose picks the sides whose slot moves: the named one, or all that have no
// value of their own.
func (t *target) choose() *pathError {
	for _, s := range t.part.sides {
		own := s.own[t.index]
		if t.side == s.side && t.side != compliance.Centre || t.side == compliance.Centre && !own {
			t.sides = append(t.sides, s)
		}
	}
	switch {
	case len(t.sides) > 0:
		return nil
	case len(t.part.sides) == 0: // the part itself is wrong, which is told already
		return nil
	case t.side == compliance.Centre:
		return &pathError{wrong: "both sides have a value of their own", hint: fmt.Sprintf("name %s.left or %s.right", t.part.path, t.part.path)}
	}
	return &pathError{wrong: "there is no " + t.part.path + " on the " + t.side.String(), hint: "leave out the side"}
}

// slots lists the addresses that move.
func (t *target) slots() []compliance.Slot {
	var all []compliance.Slot
	for _, s := range t.sides {
		all = append(all, compliance.Slot{Element: s.element, Index: t.index})
	}
	return all
}
