package axlefile

import (
	"errors"
	"slices"
	"strings"

	"bushtune/cases"
	"bushtune/compliance"
)

// offered is a study that knows the names of numbers, cases and places of the
// file's axle and vehicle, or nil if it cannot be made. While the axle itself
// has mistakes a stand-in takes its place, because names hardly depend on it.
func (r *reader) offered() *cases.Study {
	vehicle := r.file.Vehicle
	vehicle.StaticLoad, vehicle.TyreInSeries = false, false
	axles := []*compliance.Axle{r.file.Axle, standIn()}
	if len(r.mistakes) > 0 {
		axles = axles[1:]
	}
	for _, axle := range axles {
		if study, err := cases.NewStudy(axle, vehicle, r.file.Cases, r.file.States); err == nil {
			return study
		}
	}
	return nil
}

// everything is a study of all names that any axle and vehicle can have with the
// file's cases: every value of the vehicle is given and both turns are run.
func (r *reader) everything() (*cases.Study, error) {
	slots := defaultSlots(cases.VehicleFields)
	for i, f := range cases.VehicleFields {
		slots[i] = (f.Min + f.Max) / 2 * f.Unit.Factor
	}
	return cases.NewStudy(standIn(), cases.NewVehicle(slots), r.file.Cases, r.file.States)
}

// standIn is an axle of two carriers on one bush each, not symmetric so that it
// is run in both turns.
func standIn() *compliance.Axle {
	axle := &compliance.Axle{}
	for i, y := range []float64{700, 690} {
		side := compliance.Left + compliance.Side(i)
		axle.Bodies = append(axle.Bodies, compliance.Body{Name: "carrier", Side: side})
		wheel := defaultSlots(compliance.WheelFields)
		wheel[1], wheel[3] = y, 300
		axle.Wheels[i] = compliance.Wheel{Body: i, Slots: wheel}
		bush := compliance.Bush.Defaults()
		bush[1] = y
		for _, rate := range []string{"soft", "axial", "stiff", "cone_soft", "torsion", "cone_stiff"} {
			bush[compliance.Bush.FieldIndex(rate)] = 1e6
		}
		axle.Elements = append(axle.Elements, compliance.Element{
			Kind: compliance.Bush, Name: "mount", Side: side, From: compliance.Vehicle, To: i, Slots: bush,
		})
	}
	return axle
}

// checkNumber reports a number, case or place that does not exist.
func (r *reader) checkNumber(present *cases.Study, w *Want, c *content) {
	index, err := present.Find(w.Number, w.Case, w.Where)
	var unknown *cases.UnknownName
	if !errors.As(err, &unknown) {
		r.checkSize(present, w, c, index)
		return
	}
	key := map[string]string{"number": "number", "case": "case", "place": "where"}[unknown.What]
	line := c.given[key].line
	path := c.path + "." + key
	if all, err := r.everything(); err == nil {
		if _, err := all.Find(w.Number, w.Case, w.Where); err == nil {
			r.notOffered(present, w, unknown, line, path)
			return
		}
	}
	wrong := "there is no " + unknown.What + " " + quote(unknown.Name)
	if unknown.Of != "" {
		wrong = unknown.Of + " has no " + unknown.What + " " + quote(unknown.Name)
	}
	r.wrong(line, path, wrong, strings.Join(named(present, unknown), ", "), meant(unknown.Name, unknown.Known))
}

// checkSize reports a size at which a number cannot be had.
func (r *reader) checkSize(present *cases.Study, w *Want, c *content, index int) {
	err := present.CheckGoal(cases.Goal{Number: index, Size: w.Size * present.SizeUnit(index).Factor, Straight: w.Straight})
	if err == nil {
		return
	}
	key, hint := "size", ""
	if w.Straight {
		key = straightKey
	}
	if w.Straight && w.Size == 0 {
		hint = "add size, in " + present.SizeUnit(index).Name
	}
	r.wrong(c.given[key].line, c.path+"."+key, err.Error(), "", hint)
}

// notOffered reports a name that exists, but not for this axle and vehicle.
func (r *reader) notOffered(present *cases.Study, w *Want, unknown *cases.UnknownName, line int, path string) {
	if strings.HasSuffix(w.Case, cases.TurnRight) && present.Symmetric() {
		r.wrong(line, path, "the axle is symmetric, so a turn to the right is the mirror image of one to the left",
			"", "write "+strings.TrimSuffix(w.Case, cases.TurnRight))
		return
	}
	needs := unknown.Needs
	for _, a := range present.Absent() {
		if needs == nil {
			needs = a.Needs
		}
	}
	r.wrong(line, path, quote(unknown.Name)+" needs values of the vehicle that are not given", "", "give "+strings.Join(needs, ", ")+" in [vehicle]")
}

// named lists the allowed names; of numbers only those with a name of their own,
// because the plain readings of every wheel would fill a screen.
func named(s *cases.Study, unknown *cases.UnknownName) []string {
	if unknown.What != "number" {
		return unknown.Known
	}
	var all []string
	for _, n := range s.Numbers() {
		if !n.Generic && !slices.Contains(all, n.Name) {
			all = append(all, n.Name)
		}
	}
	return all
}
