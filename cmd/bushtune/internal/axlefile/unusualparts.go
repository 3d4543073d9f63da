package axlefile

import (
	"slices"
	"strings"

	"bushtune/bushing/rubber"
	"bushtune/cases"
	"bushtune/cases/plausible"
	"bushtune/compliance"
)

// Unusual lists what is unusual in an axle with the set that the axle without it, of
// which base tells, has not. study is of that axle; it may be nil.
func (s *Set) Unusual(axle *compliance.Axle, study *cases.Study, base []Unusual) (all []Unusual) {
	subject := plausible.Subject{Title: s.File.Title, Axle: axle, Vehicle: s.File.Vehicle, Study: study}
	for _, n := range subject.Notes() {
		known := slices.ContainsFunc(base, func(u Unusual) bool { return u.Check == n.Check && (u.Key == n.Key || u.Text == n.Text) })
		if !known && n.Check != plausible.Absence {
			all = append(all, s.place(n))
		}
	}
	return all
}

// place finds a note in the texts of the set: at its value, else at the table of its
// part, else at the rules.
func (s *Set) place(n plausible.Note) Unusual {
	words := strings.Split(n.Key, ".")
	for depth := len(words); depth > 1; depth-- {
		for _, p := range s.parts {
			if e, _ := p.root.follow(words[:depth]); e != nil {
				return Unusual{n, p.Name, e.line}
			}
		}
	}
	for _, p := range s.parts {
		if len(p.rules) > 0 && !p.Short {
			return Unusual{n, p.Name, p.rules[0].line}
		}
	}
	return Unusual{n, s.Name, 0}
}

// Unusual lists what is unusual of the parts of a catalogue.
func (c *Catalogue) Unusual() (all []Unusual) {
	for i := range c.Parts {
		p := &c.Parts[i]
		path := stockSection + "." + p.Name
		notes := plausible.Bush(path, p.Slots, p.Curves)
		for _, size := range []struct {
			key     string
			written float64
		}{{outerKey, p.Outer}, {lengthKey, p.Length}} {
			if size.written > 0 { // 0: not given
				notes = append(notes, plausible.Key(bushRubber+size.key, "").Of(path+"."+size.key, size.written)...)
			}
		}
		for _, n := range notes {
			line := p.Line
			if e, _ := c.root.follow([]string{stockSection, p.Name, strings.TrimPrefix(n.Key, path+".")}); e != nil {
				line = e.line
			}
			all = append(all, Unusual{n, c.Name, line})
		}
	}
	return all
}

// bushRubber starts the keys of the usual ranges of a rubber bush.
const bushRubber = "bush.rubber."

// ofCompound are the dimensions that every rubber part has; they are judged as those of
// a bush.
var ofCompound = []string{"hardness", "shear_modulus", "bulk_modulus", "temperature_factor", "ageing_factor"}

// Unusual lists what is unusual in a part file: its dimensions, of a bush all of
// them, and the rates wanted of a bush.
func (p *PartFile) Unusual() []Unusual {
	var notes []plausible.Note
	bush := p.Part == rubber.BushPart
	for i := range p.Dimensions {
		d := &p.Dimensions[i]
		key := bushRubber + d.Field.Name
		if !d.Given || d.From == 0 && d.To == 0 || !bush && !slices.Contains(ofCompound, d.Field.Name) {
			continue
		}
		if d.Field.Name == "hardness" && p.Choice.Compound == rubber.Polyurethane {
			key += ".polyurethane"
		}
		path, usual := partSection+"."+d.Field.Name, plausible.Key(key, "")
		if d.Free() {
			notes = append(notes, usual.Of(path+".from", d.From)...)
			path += ".to"
		}
		notes = append(notes, usual.Of(path, d.To)...)
	}
	for _, w := range p.Wanted {
		if f := p.Part.Numbers[w.Number]; bush {
			notes = append(notes, plausible.Key("bush."+f.Name, "").Of(wantedSection+"."+f.Name, w.Value)...)
		}
	}
	return placed(p.Name, p.source.root, nil, notes)
}

// UnusualRig lists readings under loads that no wheel of a car carries; a load of
// nothing is none of them.
func UnusualRig(name string, rows []RigRow, study *cases.Study) (all []Unusual) {
	for i := range rows {
		unit := study.SizeUnit(rows[i].Number)
		usual := plausible.Size(unit)
		size := max(rows[i].Size, -rows[i].Size) / unit.Factor
		if usual == nil || size <= usual.To {
			continue
		}
		for _, n := range usual.Of("column "+loadColumn, size) {
			all = append(all, Unusual{n, name, rows[i].Line})
		}
	}
	return all
}
