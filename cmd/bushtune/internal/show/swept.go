package show

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"bushtune/cases"
)

// Swept is the answer to sweep: a case or state from nothing to a load.
type Swept struct {
	Noted
	Title, Source string // of the file
	Name          string // of the case
	Study         *cases.Study
	Answer        *cases.Swept
	Causes        *cases.ToeCurve // of a state; nil for a load case
	Bushes        bool            // every bush at every load
	Lost          string          // why it goes no further than it does; empty if it goes to the end
}

// sweptTopics are the tables of the movements under the load.
var sweptTopics = []topic{
	{"TOE AND CAMBER under the load", []string{"wheel_toe", "outer_wheel_toe", "inner_wheel_toe", "wheel_camber", "outer_wheel_camber", "inner_wheel_camber", "camber_to_ground"}, ""},
	{"WHERE THE WHEELS GO under the load", []string{"centre_x", "outer_centre_x", "inner_centre_x", "patch_y", "outer_patch_y", "inner_patch_y", "wheel_wind_up", "outer_wheel_wind_up", "inner_wheel_wind_up"}, ""},
	{"AXLE under the load", []string{"track", "wheelbase", "roll_angle", "pad_load", "outer_pad_load", "inner_pad_load"}, ""},
	{"CROSS-MEMBER STRESS, nominal: no fatigue verdict", []string{"stress_"}, ""},
}

// Text writes the answer for a person.
func (s *Swept) Text(p *Page) {
	v := newView(s.Study, nil)
	v.head(p, s.Title, s.Source)
	p.Heading("SWEEP OF " + s.Name)
	p.lost(s.Lost)
	defs := s.causeTable(p)
	s.runOuts(p)
	for i := range sweptTopics {
		curveTables(p, sweptTopics[i].heading, curvesOf(s.Answer.Totals, &sweptTopics[i]))
	}
	numbers := s.beside(v)
	curveTables(p, "SECANT (the whole movement over the whole load) AND TANGENT (a small load more)", numbers)
	bushTables(p, "", s.Answer.Totals, s.Bushes)
	for i := range numbers {
		defs = append(defs, *numbers[i].Series)
	}
	definitions(p, append(defs, s.Answer.Totals...))
	footnotes(p, s.warnings())
	foot(p)
}

// warnings are those of the sweep and of the split, each once.
func (s *Swept) warnings() []string {
	all := append(lostNotes(s.Lost), s.Answer.Warnings...)
	if s.Causes == nil {
		return all
	}
	for _, w := range s.Causes.Warnings {
		if !strings.Contains(strings.Join(all, "\n"), w) {
			all = append(all, w)
		}
	}
	return all
}

// causeTable writes who turns the outer wheel; the parts sum to the toe.
func (s *Swept) causeTable(p *Page) []cases.Series {
	if s.Causes == nil {
		return nil
	}
	var all []curve
	for i := range s.Causes.Causes {
		c := &s.Causes.Causes[i]
		if c.Where == "braking_force" && isNothing(c) {
			continue
		}
		all = append(all, curve{c, "by " + strings.ReplaceAll(c.Where, "_", " "), ""})
	}
	all = append(all, curve{&s.Causes.Total, "toe of the outer wheel", "sum"})
	curveTables(p, "WHO TURNS THE OUTER WHEEL, the causes sum to its toe", all)
	whole := s.Causes.Causes[0]
	whole.Title = "causes of the toe"
	return []cases.Series{whole, s.Causes.Total}
}

// runOuts says where toe turns round, which gaps are closed and which rates doubled.
func (s *Swept) runOuts(p *Page) {
	p.blank()
	p.Heading("WHERE IT CHANGES ITS WAY")
	if len(s.Answer.RunsOut) == 0 {
		p.Prose("  ", "Up to the end of this sweep the toe of the outer wheel keeps turning the same way, no gap closes and no rate of a bush doubles.")
	}
	for _, r := range s.Answer.RunsOut {
		p.Prose("  ", s.runOut(&r))
	}
}

// runOut says what happens at which load and which bush line has stiffened most.
func (s *Swept) runOut(r *cases.RunOut) string {
	at := fmt.Sprintf("at %s %s", loadText(r.X), s.Answer.Totals[0].X.Unit)
	if r.X == 0 {
		at = "at rest already"
	}
	part := strings.TrimSpace(r.Element + " " + strings.ReplaceAll(r.Line, "_", " "))
	switch {
	case r.What != cases.ToeTurns:
		return part + ": " + r.What + " " + at + "."
	case r.Element == "":
		return r.What + " " + at + "; no bush has stiffened."
	}
	return fmt.Sprintf("%s %s; stiffest: %s, %.1f times its rate at the design position.", r.What, at, part, r.Stiffer)
}

// loadText is a place of a sweep with the digits to which it is found.
func loadText(x float64) string {
	decimals := 0
	if math.Abs(x) < 100 {
		decimals = 3
	}
	return strconv.FormatFloat(x, 'f', decimals, 64)
}

// beside sets secant and tangent of each named number of the case side by side.
func (s *Swept) beside(v *view) []curve {
	named := map[string]bool{"outer_wheel_toe": true, "inner_wheel_toe": true, "wheel_toe": true}
	for i := range v.numbers {
		if !v.numbers[i].Generic {
			named[v.numbers[i].Name] = true
		}
	}
	var all []curve
	for i := range s.Answer.Tangents {
		t := &s.Answer.Tangents[i]
		if !named[t.Number] {
			continue
		}
		place := strings.ReplaceAll(t.Where, "_", " ")
		for j := range s.Answer.Secants {
			if c := &s.Answer.Secants[j]; c.Number == t.Number && c.Where == t.Where && c.Case == t.Case {
				all = append(all, curve{c, c.Title + ", secant", place})
			}
		}
		all = append(all, curve{t, t.Title + ", tangent", place})
	}
	return all
}

// records is the answer for programs.
func (s *Swept) records() []Record {
	v := newView(s.Study, nil)
	a := s.Answer
	list := v.curveRecords(s.Name, "total", a.Totals)
	list = append(list, v.curveRecords(s.Name, "secant", a.Secants)...)
	list = append(list, v.curveRecords(s.Name, "tangent", a.Tangents)...)
	defs := append(append([]cases.Series(nil), a.Totals...), a.Tangents...)
	if s.Causes != nil {
		list = append(list, v.curveRecords(s.Name, "cause", append(append([]cases.Series(nil), s.Causes.Causes...), s.Causes.Total))...)
		defs = append(append(defs, s.Causes.Causes...), s.Causes.Total)
	}
	for i := range a.RunsOut {
		r := &a.RunsOut[i]
		list = append(list, Record{Kind: "limit", Name: r.Element, Line: r.Line, Case: s.Name, StaticLoad: v.loadAtRest(),
			X: number(r.X), XUnit: a.Totals[0].X.Unit, Value: number(r.Stiffer), Unit: "times", Words: s.runOut(r)})
	}
	return append(append(list, v.definitionRecords(defs)...), v.noteRecords(s.warnings())...)
}

// JSON writes the answer for programs.
func (s *Swept) JSON(w io.Writer) error { return writeJSON(w, s.noted(s.records())) }

// CSV writes the answer for programs.
func (s *Swept) CSV(w io.Writer) error { return writeCSV(w, s.noted(s.records())) }
