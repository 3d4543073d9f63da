package show

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"strconv"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/tuning"
)

// Record is one figure of an answer for programs: a row of the CSV, an object of
// the JSON, with the same keys and the same content in both.
type Record struct {
	Kind       string   `json:"kind"`        // figure, part, want, load, matrix, condition, parameter, price, search, end, curve, limit, definition, dimension, reach, rate, modulus, set, replaced, change, worsened, reserve, play, absent, note, unusual
	Stage      string   `json:"stage"`       // before, after, other 1; total, secant, tangent, cause, linear; else empty
	Name       string   `json:"name"`        // of the element, want or parameter
	Line       string   `json:"line"`        // rate of an element, column of the matrix, load of a bush, property of a parameter
	Number     string   `json:"number"`      // name of the number
	Case       string   `json:"case"`        // load case or state
	Where      string   `json:"where"`       // place, for numbers that have several
	Pads       string   `json:"pads"`        // level or floating
	StaticLoad string   `json:"static_load"` // included or not included
	X          *float64 `json:"x"`           // place on a curve: travel or load; null where there is none
	XUnit      string   `json:"x_unit"`
	Value      *float64 `json:"value"` // not rounded; null where there is none
	Unit       string   `json:"unit"`
	Words      string   `json:"words"` // what the sign means, or a remark
}

// Header names the columns of the CSV.
func (Record) Header() []string {
	return []string{"kind", "stage", "name", "line", "number", "case", "where", "pads", "static_load", "x", "x_unit", "value", "unit", "words"}
}

// Cells are the columns of the CSV.
func (r Record) Cells() []string {
	return []string{r.Kind, r.Stage, r.Name, r.Line, r.Number, r.Case, r.Where, r.Pads, r.StaticLoad, cellOf(r.X), r.XUnit, cellOf(r.Value), r.Unit, r.Words}
}

// cellOf writes a value of a record, nothing where there is none.
func cellOf(value *float64) string {
	if value == nil {
		return ""
	}
	return strconv.FormatFloat(*value, 'g', -1, 64)
}

// number is a value of a record; none if it is not finite.
func number(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	if x == 0 {
		x = 0 // not −0
	}
	return &x
}

// rower is a type of record.
type rower interface {
	Header() []string
	Cells() []string
}

// writeJSON writes records as an array with one object a line.
func writeJSON[R rower](w io.Writer, records []R) error {
	if _, err := io.WriteString(w, "["); err != nil {
		return err
	}
	for i, r := range records {
		text, err := json.Marshal(r)
		if err != nil {
			return err
		}
		separator := ",\n"
		if i == 0 {
			separator = "\n"
		}
		if _, err := io.WriteString(w, separator+string(text)); err != nil {
			return err
		}
	}
	_, err := io.WriteString(w, "\n]\n")
	return err
}

// writeCSV writes records under a line of column names.
func writeCSV[R rower](w io.Writer, records []R) error {
	var none R
	rows := [][]string{none.Header()}
	for _, r := range records {
		rows = append(rows, r.Cells())
	}
	c := csv.NewWriter(w)
	return c.WriteAll(rows)
}

// figure is the record of one number.
func (v *view) figure(stage string, f cases.Figure) Record {
	return Record{Kind: "figure", Stage: stage, Number: f.Number, Case: f.Case, Where: f.Where, Pads: f.Pads,
		StaticLoad: v.loadAtRest(), Value: number(f.Value), Unit: f.Unit, Words: f.Words}
}

// of starts a record about a number.
func (v *view) of(kind, stage string, index int) Record {
	n := &v.numbers[index]
	return Record{Kind: kind, Stage: stage, Number: n.Name, Case: n.Case, Where: n.Where, Pads: n.Pads.String(),
		StaticLoad: v.loadAtRest(), Unit: n.Unit.Name}
}

// ofWant starts a record about a wanted number; X is the size of its load.
func (v *view) ofWant(kind, stage string, a *tuning.Asked) Record {
	r := v.of(kind, stage, a.Index)
	if a.Goal.Size != 0 {
		unit := v.study.SizeUnit(a.Index)
		r.X, r.XUnit = number(unit.Written(a.Goal.Size)), unit.Name
	}
	if a.Goal.Straight {
		r.Line = straightLine
	}
	return r
}

// straightLine marks the figure of a straightness.
const straightLine = "off the straight line"

// goalFigures are the records of the numbers that are wanted under a load of full
// size.
func (v *view) goalFigures(stage string) []Record {
	var all []Record
	for i := range v.asked {
		a := &v.asked[i]
		if a.Goal.Size == 0 {
			continue
		}
		f, r := v.figureOf(a), v.ofWant("figure", stage, a)
		r.Name, r.Value, r.Words = a.Name, number(f.Value), f.Words
		all = append(all, r)
	}
	return all
}

// figures are the records of every number with a name of its own, and of the
// plain readings that tables show or that are asked for.
func (v *view) figures(stage string, readings bool) []Record {
	var all []Record
	for i := range v.numbers {
		if n := &v.numbers[i]; !n.Generic || readings || v.shown(i) {
			all = append(all, v.figure(stage, v.study.Figure(i)))
		}
	}
	return all
}

// parts are the records of the parts of a number, every one of them; of the toe in a
// state those of its causes.
func (v *view) parts(stage string, index int) []Record {
	n := &v.numbers[index]
	var all []Record
	for _, c := range v.study.Causes(index) {
		r := v.of("part", stage, index)
		written := n.Unit.Written(c.Value)
		r.Name, r.Value, r.Words = c.Name, number(written), n.Signs.Read(written, n.Step).Words
		all = append(all, r)
	}
	for _, part := range v.study.Parts(index) {
		r := v.of("part", stage, index)
		r.Name, r.Line = part.Element, part.Line
		written := n.Unit.Written(part.Value)
		r.Value, r.Words = number(written), n.Signs.Read(written, n.Step).Words
		all = append(all, r)
	}
	return all
}

// sensitivities are the records of what 1 % more of every rate does to a number.
func (v *view) sensitivities(index int) []Record {
	n := &v.numbers[index]
	var all []Record
	for _, rate := range v.study.Sensitivities(index) {
		r := v.of("sensitivity", "", index)
		r.Name, r.Line = rate.Element, rate.Rate
		written := n.Unit.Written(rate.Value / 100)
		r.Value, r.Unit, r.Words = number(written), n.Unit.Name+" for 1 % more", n.Signs.Read(written, n.Step/100).Words
		all = append(all, r)
	}
	return all
}

// wishes are the records of what is wanted, and of how far it is missed.
func (v *view) wishes() []Record {
	var all []Record
	for i := range v.asked {
		a := &v.asked[i]
		r := v.ofWant("want", "", a)
		r.Name, r.Line, r.Words = a.Name, "wanted", a.Want.Kind.String()
		if !openEnded(a.Want.Kind) {
			r.Value = number(a.Want.Value)
		}
		all = append(all, r)
	}
	return all
}

// absent are the records of the numbers that are not offered.
func (v *view) absent() []Record {
	var all []Record
	for _, a := range v.absences() {
		all = append(all, Record{Kind: "absent", Number: a.Number, StaticLoad: v.loadAtRest(), Words: needs(a)})
	}
	return all
}

// noteRecords are footnotes as records.
func (v *view) noteRecords(notes []string) []Record {
	var all []Record
	for _, n := range notes {
		all = append(all, Record{Kind: "note", StaticLoad: v.loadAtRest(), Words: n})
	}
	return all
}

// records is the answer to solve for programs.
func (s *Solved) records() []Record {
	v := newView(s.Study, s.Asked)
	all := append(v.figures("", s.Readings), v.goalFigures("")...)
	for i, r := range v.wishes() {
		o := s.Asked[i].Judge(s.Study)
		all = append(all, r, v.miss("", &s.Asked[i], o.Miss), v.margin("", &s.Asked[i], o.After))
	}
	all = append(all, v.reserveRecords("", "", s.Reserve)...)
	for _, index := range s.Parts {
		all = append(all, v.parts("", index)...)
		if s.Sensitivity {
			all = append(all, v.sensitivities(index)...)
		}
	}
	if s.Matrix {
		all = append(all, v.matrix()...)
	}
	if s.Loads {
		all = append(all, v.loads()...)
	}
	all = append(all, v.absent()...)
	return append(all, v.noteRecords(s.Study.Warnings())...)
}

// miss is the record of how far a want is missed.
func (v *view) miss(stage string, a *tuning.Asked, miss float64) Record {
	r := v.ofWant("want", stage, a)
	r.Name, r.Line, r.Value = a.Name, "missed by", number(miss)
	return r
}

// matrix is the wheel compliance matrix: the row in Name, the column in Line.
func (v *view) matrix() []Record {
	all := []Record{{Kind: "condition", Pads: cases.Floating.String(), StaticLoad: v.loadAtRest(), Value: number(v.study.Solver().Condition()), Words: "of the stiffness, turns scaled by 300 mm"}}
	for _, e := range v.matrixEntries() {
		all = append(all, Record{Kind: "matrix", Name: e.row, Line: e.column, Pads: cases.Floating.String(),
			StaticLoad: v.loadAtRest(), Value: number(e.value), Unit: e.unit.Name})
	}
	return all
}

// loads are load and travel of every bush in every case.
func (v *view) loads() []Record {
	var all []Record
	loads := v.study.BushLoads()
	for i := range loads {
		b := &loads[i]
		usages := v.study.Usages(b)
		for _, u := range append(usages[:], v.study.Strains(b)...) {
			r := Record{Kind: "load", Name: b.Element, Line: u.What, Case: b.Case, Pads: v.cases[b.Case].Pads.String(),
				StaticLoad: v.loadAtRest(), Value: number(u.Value), Unit: u.Unit}
			if u.Over() {
				r.Words = "over its limit of " + measure(u.Limit) + " " + u.Unit
			}
			all = append(all, r)
		}
	}
	return all
}

// JSON writes the answer for programs.
func (s *Solved) JSON(w io.Writer) error { return writeJSON(w, s.noted(s.records())) }

// CSV writes the answer for programs.
func (s *Solved) CSV(w io.Writer) error { return writeCSV(w, s.noted(s.records())) }
