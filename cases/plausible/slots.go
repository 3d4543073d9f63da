package plausible

import (
	"math"
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
	"bushtune/cases"
	"bushtune/compliance"
)

// Subject is what notes are about. All but Axle may be left out.
type Subject struct {
	Title   string
	Axle    *compliance.Axle
	Vehicle cases.Vehicle
	Cases   []cases.Case  // the author's own
	States  []cases.State // the author's own
	Study   *cases.Study  // of the above; nil: what needs an answer is not judged
}

// Notes lists what is unusual: values first, in the order of the model, then what
// does not fit together, then the answer.
func (s *Subject) Notes() []Note {
	j := &judge{Subject: s, seen: map[string]bool{}}
	j.wheels()
	for i := range s.Axle.Elements {
		j.element(&s.Axle.Elements[i])
	}
	j.vehicle()
	j.loads()
	j.wide()
	j.answer()
	return j.notes
}

// judge gathers notes.
type judge struct {
	*Subject
	notes []Note
	seen  map[string]bool // paths that have a note
}

// value holds one written value against the row of its key; what has its default
// is absent or meant.
func (j *judge) value(key, variant, path string, written float64) {
	if r := rangeOf(keys, key, variant); r != nil {
		if n, unusual := r.note(path, written); unusual && !j.seen[path] {
			j.seen[path] = true
			j.notes = append(j.notes, n)
		}
	}
}

// rangeOf finds the row of a key; nil if nothing is usual or unusual there. A key
// with a component has the row of its vector.
func rangeOf(table []Range, key, variant string) *Range {
	for i := range table {
		r := &table[i]
		if r.Key == key && (r.For == nil || slices.Contains(r.For, variant)) {
			return r
		}
	}
	if at := strings.LastIndex(key, "."); at > 0 && len(key)-at == 2 {
		return rangeOf(table, key[:at], variant)
	}
	return nil
}

// Key returns the usual range of a key of an axle file, "bush.soft"; variant is the
// shape of a beam. Nil if there is none.
func Key(key, variant string) *Range { return rangeOf(keys, key, variant) }

// Number returns the usual range of a number of the answer at a place; nil if there
// is none.
func Number(name, where string) *Range { return rangeOf(numbers, name, where) }

// fields judges slots: those of the right side only where they differ from the
// left ones.
func (j *judge) fields(table, variant, path string, fields []quantity.Field, slots, other []float64) {
	for i, f := range fields {
		if math.IsNaN(slots[i]) || slots[i] == f.Default*f.Unit.Factor || other != nil && slots[i] == other[i] {
			continue
		}
		j.value(table+"."+f.Name, variant, path+"."+f.Name, f.Unit.Written(slots[i]))
	}
}

// wheels judges both wheels and their hubs.
func (j *judge) wheels() {
	left := j.Axle.Wheels[0].Slots
	for w, wheel := range j.Axle.Wheels {
		for i, f := range compliance.WheelFields {
			v := wheel.Slots[i]
			if v == f.Default*f.Unit.Factor || w == 1 && v == left[i] {
				continue
			}
			side := ""
			if w == 1 {
				side = ".right"
			}
			table, name := "wheel", f.Name
			if hub, is := strings.CutPrefix(name, "hub_"); is {
				table, name = "hub", hub
			}
			j.value(table+"."+name, "", table+side+"."+name, f.Unit.Written(v))
		}
	}
}

// pathOf is the path of an element in a file: with the side if its slots differ
// from those of the other side, whose slots are returned too.
func (j *judge) pathOf(e *compliance.Element) (path string, left []float64) {
	path = e.Kind.Table + "." + e.Name
	if e.Side != compliance.Right {
		return path, nil
	}
	for i := range j.Axle.Elements {
		o := &j.Axle.Elements[i]
		if o.Side == compliance.Left && o.Kind == e.Kind && o.Name == e.Name {
			return path + ".right", o.Slots
		}
	}
	return path, nil
}

// element judges the slots of one element.
func (j *judge) element(e *compliance.Element) {
	path, left := j.pathOf(e)
	fields, slots := e.Kind.Fields, slices.Clone(e.Slots)
	inCar := false // the section's places are those of the car, which the place of its centroid tells
	if e.Kind.Table == compliance.Beam.Table {
		_, _, inCar = sectionInCar(e)
	}
	for i, f := range fields {
		switch {
		case f.Name == "at.y" && e.Kind.Table == compliance.Bush.Table && e.Side == compliance.Centre:
			slots[i] = math.Abs(slots[i])
		case inCar && (strings.HasPrefix(f.Name, "centroid.") || strings.HasPrefix(f.Name, "shear_centre.")):
			slots[i] = f.Default * f.Unit.Factor
		case f.Name == "rubber.hardness" && e.Choice.Rubber.Compound == rubber.Polyurethane:
			j.value("bush.rubber.hardness.polyurethane", "", path+"."+f.Name, f.Unit.Written(slots[i]))
			slots[i] = f.Default * f.Unit.Factor
		}
	}
	j.fields(e.Kind.Table, e.Kind.Variant, path, fields, slots, left)
	if e.Choice.Curves != nil && left == nil {
		j.curves(path, e.Choice.Curves)
	}
}

// curves judges the measured curves of a bush: how far they reach, their largest
// load, and their rate at zero deflection.
func (j *judge) curves(path string, c *bushing.Curves) {
	for d, t := range c.Tables {
		if t == nil {
			continue
		}
		name := bushing.DirectionNames[d]
		at, length, force, rate := path+"."+name+"_curve", quantity.Millimetre, quantity.Newton, quantity.NewtonPerMillimetre
		kind := "bush.curve"
		switch bushing.Direction(d) {
		case bushing.Torsion:
			kind = "bush.torsion_curve"
		case bushing.ConeSoft, bushing.ConeStiff:
			kind = "bush.cone_curve"
		}
		if d >= int(bushing.ConeSoft) {
			length, force, rate = quantity.Degree, quantity.NewtonMetre, quantity.NewtonMetrePerDegree
		}
		far, most := 0.0, 0.0
		for _, p := range t.Points() {
			far, most = max(far, math.Abs(p[0])), max(most, math.Abs(p[1]))
		}
		j.value(kind+".load", "", at, force.Written(most))
		j.value(kind+".travel", "", at, length.Written(far))
		j.value("bush."+name, "", at, rate.Written(t.Rate()))
	}
}

// vehicle judges the car around the axle.
func (j *judge) vehicle() {
	slots := j.Vehicle.Slots()
	j.fields("vehicle", "", "vehicle", cases.VehicleFields, slots[:], nil)
}

// loads judges the author's own cases and states.
func (j *judge) loads() {
	for _, c := range j.Cases {
		largest := 0.0
		for w, on := range c.Wheels {
			path := "case." + c.Name + "." + cases.WheelNames[w]
			for i, axis := range []string{".x", ".y", ".z"} {
				j.value("case.force", "", path+".force"+axis, on.Force[i])
			}
			j.value("case.mz", "", path+".mz", quantity.NewtonMetre.Written(on.Moment))
			largest = max(largest, on.Force.Norm())
		}
		if largest > 0 {
			j.value("case.largest_force", "", "case."+c.Name, largest)
		}
	}
	for _, s := range j.States {
		j.value("state.lateral", "", "state."+s.Name+".lateral", quantity.Gravity.Written(s.Lateral))
		j.value("state.braking", "", "state."+s.Name+".braking", quantity.Gravity.Written(s.Braking))
	}
}
