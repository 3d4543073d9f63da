package axlefile

import (
	"fmt"
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cases/plausible"
	"bushtune/compliance"
	"bushtune/optimize"
)

// Unusual is a note about something that can be read and is unusual, with its place.
type Unusual struct {
	plausible.Note
	File string
	Line int // of the value, or of the table that it belongs to; 1 for the axle as a whole, 0 for what has no line
}

// String is the note on one line: "rear.toml:12: bush.pivot.soft: …".
func (u *Unusual) String() string { return fmt.Sprintf("%s:%d: %s", u.File, u.Line, u.Note.String()) }

// Unusual lists what is unusual in the file: values, what does not fit together, what
// is asked for and, with a study of it, the answer. study may be nil.
func (f *File) Unusual(study *cases.Study) []Unusual {
	subject := plausible.Subject{Title: f.Title, Axle: f.Axle, Vehicle: f.Vehicle, Cases: f.Cases, States: f.States, Study: study}
	notes := subject.Notes()
	for i := range f.Search {
		notes = append(notes, f.unusualBounds(&f.Search[i])...)
	}
	for i := range f.Wants {
		notes = append(notes, f.Wants[i].unusual(study)...)
	}
	return placed(f.Name, f.source.root, f.source.text, notes)
}

// placed finds the places of notes in a file.
func placed(name string, root *table, text []byte, notes []plausible.Note) (all []Unusual) {
	for _, n := range notes {
		path, e, line := root.place(n.Key)
		if n.Check == plausible.Absence && e != nil {
			continue // a 0 that is written is meant
		}
		n.Key = path
		if n.Plain && e != nil && e.value != nil && e.span.end > e.span.start && e.span.end <= len(text) {
			n.Text = strings.TrimSpace(string(text[e.span.start:e.span.end]) + " " + n.Unit)
		}
		all = append(all, Unusual{n, name, line})
	}
	return all
}

// place finds a value by its path: its own entry, or none and the line of the
// innermost table on the way. A value that the left side gives for itself is found
// there.
func (t *table) place(path string) (string, *entry, int) {
	words := strings.Split(path, ".")
	for at := 1; at < len(words) && at <= 2; at++ {
		sided := slices.Insert(slices.Clone(words), at, compliance.Left.String())
		if e, _ := t.follow(sided); e != nil {
			return strings.Join(sided, "."), e, e.line
		}
	}
	e, line := t.follow(words)
	return path, e, line
}

// follow walks along a path and returns the entry, or none and the last line.
func (t *table) follow(words []string) (*entry, int) {
	line := max(1, t.line)
	for i, word := range words {
		e := t.entries[word]
		if e == nil {
			return nil, line
		}
		line = e.line
		switch rest := words[i+1:]; {
		case len(rest) == 0:
			return e, line
		case e.table != nil:
			t = e.table
		case e.array:
			item := e.item(rest[0])
			if item == nil {
				return nil, line
			}
			return item, item.line
		default:
			return nil, line
		}
	}
	return nil, line
}

// item is a component of a vector, or an element of a matrix: "y", "23"; nil if there
// is none.
func (e *entry) item(name string) *entry {
	if i := slices.Index(axisNames[len(e.items)], name); i >= 0 {
		return e.items[i]
	}
	if len(name) == 2 && square(e) && name[0] >= '1' && name[0] <= '6' && name[1] >= '1' && name[1] <= '6' {
		return e.items[name[0]-'1'].items[name[1]-'1']
	}
	return nil
}

// unusualBounds judges the bounds of a parameter.
func (f *File) unusualBounds(p *Parameter) (notes []plausible.Note) {
	at := searchSection + "." + p.key
	t, shape := p.targets[0], ""
	if e := t.sides[0].element; e >= 0 {
		shape = f.Axle.Elements[e].Kind.Variant
	}
	usual := plausible.Key(usualKey(t), shape)
	notes = append(usual.Of(at+".from", p.From), usual.Of(at+".to", p.To)...)
	if notes != nil {
		return notes
	}
	switch {
	case p.Log:
		notes = plausible.Asked("ratio", quantity.None).Of(at, p.To/p.From)
		if p.Tolerance > 0 {
			notes = append(notes, plausible.Asked("tolerance", quantity.Percent).Of(at+".tolerance", p.Tolerance)...)
		}
	case p.Unit == quantity.Degree && t.field.Name != "clock", p.Unit == quantity.Millimetre && strings.Contains(t.field.Name, "."):
		notes = plausible.Asked("span", p.Unit).Of(at, p.To-p.From)
	}
	for i := range notes {
		switch notes[i].Check {
		case "ratio":
			notes[i].Text, notes[i].Plain = "to is "+decimal(clean(p.To/p.From))+" times from", false
		case "span":
			notes[i].Text, notes[i].Plain = "spans "+decimal(clean(p.To-p.From))+" "+p.Unit.Name, false
		}
	}
	return notes
}

// usualKey is the row of a target's number among the usual ranges.
func usualKey(t *target) string {
	section, _, _ := strings.Cut(t.part.path, ".")
	return section + "." + strings.TrimPrefix(t.field.Name, hubPrefix)
}

// unusual judges what is wanted of a number; study may be nil.
func (w *Want) unusual(study *cases.Study) (notes []plausible.Note) {
	at := wantSection + "." + w.Name
	if w.Goal <= optimize.AtMost && w.Size == 0 && !w.Straight {
		for _, g := range goalKeys {
			if g.goal == w.Goal && g.name != makeKey {
				notes = append(notes, plausible.Number(w.Number, w.Where).Of(at+"."+g.name, w.Value)...)
			}
		}
	}
	notes = append(notes, plausible.Asked("weight", quantity.None).Of(at+".weight", w.Weight)...)
	if study == nil {
		return notes
	}
	index, err := study.Find(w.Number, w.Case, w.Where)
	if err != nil {
		return notes
	}
	if w.Size > 0 {
		notes = append(notes, plausible.Size(study.SizeUnit(index)).Of(at+".size", w.Size)...)
	}
	if step := study.Numbers()[index].Step; w.Per > 0 {
		for _, n := range plausible.Asked("per", quantity.None).Of(at+".per", w.Per/step) {
			n.Text, n.Plain = decimal(w.Per)+" is "+decimal(clean(w.Per/step))+" noticeable steps", false
			notes = append(notes, n)
		}
	}
	return notes
}
