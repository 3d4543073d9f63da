package axlefile

import (
	"maps"
	"slices"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/cases/plausible"
	"bushtune/compliance"
	"bushtune/compliance/section"
)

// Description says what was understood of a file, as data to be printed.
type Description struct {
	Title      string
	Bodies     []Existence      // each body by name
	Elements   []Existence      // each element by its path
	Places     []plausible.Said // where everything lies, in words
	Sections   []Section        // of each beam
	Rubbers    []Rubber         // bushes given by their dimensions
	Wheels     [2]string        // labels of the bodies that carry them, left and right
	StaticLoad float64          // N per rear wheel; 0: not included
	Overrides  []string         // numbers that one side has for itself: "bush.pivot.right.soft"
	Cases      []string         // the author's own
	States     []string
	Search     []Parameter
}

// Existence tells how often a part exists, and where.
type Existence struct {
	Name  string // "arm", "bush.pivot"
	Kind  string // variant of the element's kind: "matrix", "V"; empty for the plain one
	Sides []compliance.Side
	From  string // what an element joins, as labels of its first side
	To    string
}

// Section is the section of a beam by its constants, however the file gives it.
type Section struct {
	Beam   string    // path of the beam
	Values []float64 // in the order of compliance.SectionFields, internal units
}

// Rubber is a bush given by its dimensions, with the rates that follow from them.
type Rubber struct {
	Bush       string // its path, with the side if the sides differ: "bush.pivot", "bush.pivot.right"
	Dimensions rubber.Bush[float64]
	Choice     rubber.Choice
	Rates      bushing.Bush[float64]
}

// Describe says what was understood.
func (f *File) Describe() Description {
	d := Description{
		Title: f.Title, Search: f.Search, Overrides: f.overrides(),
	}
	for _, b := range f.Axle.Bodies {
		d.Bodies = exists(d.Bodies, Existence{Name: b.Name}, b.Side)
	}
	for _, e := range f.Axle.Elements {
		d.Elements = exists(d.Elements, Existence{
			Name: e.Kind.Table + "." + e.Name, Kind: e.Kind.Variant, From: f.label(e.From), To: f.label(e.To),
		}, e.Side)
		if e.Kind.Table == compliance.Beam.Table && e.Side != compliance.Right {
			d.Sections = append(d.Sections, Section{Beam: compliance.Beam.Table + "." + e.Name, Values: sectionConstants(&e)})
		}
	}
	d.Places = plausible.Say(f.Axle, &f.Vehicle)
	d.Rubbers = f.rubbers()
	for i, w := range f.Axle.Wheels {
		d.Wheels[i] = f.label(w.Body)
	}
	if f.Axle.Static != nil {
		d.StaticLoad = f.Axle.Static.WheelLoad[0]
	}
	for _, c := range f.Cases {
		d.Cases = append(d.Cases, c.Name)
	}
	for _, s := range f.States {
		d.States = append(d.States, s.Name)
	}
	return d
}

// rubbers lists the bushes given by their dimensions: one for both sides where
// these are alike.
func (f *File) rubbers() []Rubber {
	var all []Rubber
	for i := range f.Axle.Elements {
		e := &f.Axle.Elements[i]
		dimensions, is := e.Rubber()
		if !is {
			continue
		}
		r := Rubber{Bush: e.Label(), Dimensions: dimensions, Choice: e.Choice.Rubber}
		r.Rates, _ = e.Bush()
		common := e.Kind.Table + "." + e.Name
		last := len(all) - 1
		switch {
		case e.Side == compliance.Right && last >= 0 && all[last].Bush == common+"."+compliance.Left.String() && all[last].same(&r):
			all[last].Bush = common
		default:
			all = append(all, r)
		}
	}
	return all
}

// same tells whether two bushes have the same rubber.
func (r *Rubber) same(other *Rubber) bool {
	return r.Dimensions == other.Dimensions && r.Choice == other.Choice
}

// exists adds a side to a part that is listed already, or lists it.
func exists(list []Existence, part Existence, side compliance.Side) []Existence {
	for i := range list {
		if list[i].Name == part.Name {
			list[i].Sides = append(list[i].Sides, side)
			return list
		}
	}
	part.Sides = []compliance.Side{side}
	return append(list, part)
}

// sectionConstants are those that the file gives, or those of the drawn shape.
// A shape that cannot be drawn has been refused before.
func sectionConstants(e *compliance.Element) []float64 {
	fields := compliance.SectionFields()
	for _, shape := range section.Shapes[float64]() {
		if shape.Name != e.Kind.Variant {
			continue
		}
		var p section.Profile[float64]
		shape.Draw(&p, e.Slots[e.Kind.FieldIndex("profile."+shape.Fields[0].Name):])
		p.Open(e.Choice.Opens, 0)
		constants, err := p.Constants()
		if err != nil {
			panic("axlefile: " + err.Error())
		}
		s := compliance.SectionOf(&constants)
		return s.Slots()
	}
	first := e.Kind.FieldIndex(fields[0].Name)
	return e.Slots[first : first+len(fields)]
}

func (f *File) label(body int) string {
	if body == compliance.Vehicle {
		return vehicleWord
	}
	return f.Axle.Bodies[body].Label()
}

// overrides lists every number that a side has for itself, in the order of the
// paths of parts.
func (f *File) overrides() []string {
	var all []string
	for _, path := range f.parts() {
		p := f.part(path)
		for _, s := range p.sides {
			for _, index := range slices.Sorted(maps.Keys(s.own)) {
				t := target{part: p, side: s.side, field: p.fieldAt(index)}
				all = append(all, t.name())
			}
		}
	}
	return all
}
