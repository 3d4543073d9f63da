package show

import (
	"fmt"
	"io"
	"math"

	"bushtune/optimize"
)

// records is the answer to choose for programs.
func (c *Chosen) records() []Record {
	v := c.view()
	all := append(v.after.wishes(), v.standing("as it stands", &c.Present)...)
	all = append(all, v.choice("", "", "recommended", nil, "", v.recommended()))
	for i := range c.Best {
		all = append(all, v.combination(fmt.Sprintf("best %d", i+1), &c.Best[i])...)
	}
	if cheaper := v.saving(); cheaper != nil {
		all = append(all, v.combination("cheaper", cheaper)...)
	}
	if c.Free != nil {
		all = append(all, v.standing("free rates", &c.FreeAt)...)
		all = append(all, v.choice("free rates", "", "verdict", nil, "", v.freeVerdict()))
		for i := range v.Parameters {
			all = append(all, v.choice("free rates", v.Parameters[i].Path, "value", number(c.FreeX[i]), v.Parameters[i].Unit.Name, ""))
		}
		for i := range c.FreeRates {
			q := &c.FreeRates[i]
			all = append(all, v.choice("free rates", q.Path, "value", number(c.FreeX[len(v.Parameters)+i]), q.Unit.Name, ""))
		}
	}
	all = append(all, v.worsened().records("best 1")...)
	for _, line := range v.remarks() {
		all = append(all, v.choice("", "", "remark", nil, "", line))
	}
	all = append(all, v.before.figures("before", false)...)
	all = append(all, v.after.figures("after", false)...)
	return append(all, v.after.noteRecords(c.After.Warnings())...)
}

// recommended names what the answer recommends: the stage of its records.
func (v *chosenView) recommended() string {
	if v.Stays {
		return "as it stands"
	}
	return "best 1"
}

// freeVerdict says whether the free rates, as they are told, meet what is wanted.
func (v *chosenView) freeVerdict() string {
	if v.FreeMeets() {
		return "every want with a number is met"
	}
	return "not every want is met"
}

// choice is one record about a combination.
func (v *chosenView) choice(stage, name, line string, value *float64, unit, text string) Record {
	return Record{Kind: "choice", Stage: stage, Name: name, Line: line, StaticLoad: v.after.loadAtRest(), Value: value, Unit: unit, Words: text}
}

// combination lists the parts, costs, wanted numbers and parameters of one.
func (v *chosenView) combination(stage string, c *optimize.Chosen) []Record {
	var all []Record
	for i, part := range v.Parts(c) {
		all = append(all, v.choice(stage, v.Positions[i].Path, "part", nil, "", part.Name))
	}
	if c.Price > 0 {
		all = append(all, v.choice(stage, "", "price", number(float64(c.Price)), "", ""))
	}
	all = append(all, v.standing(stage, &optimize.State{Values: c.Values, Aim: c.Aim, Violation: c.Violation})...)
	for i := range v.Parameters {
		q := &v.Parameters[i]
		all = append(all, v.choice(stage, q.Path, "value", number(c.X[i]), q.Unit.Name, ""))
	}
	return all
}

// standing lists the costs and wanted numbers of one state.
func (v *chosenView) standing(stage string, s *optimize.State) []Record {
	all := []Record{
		v.choice(stage, "", "limits missed by", number(math.Sqrt(s.Violation)), "steps", ""),
		v.choice(stage, "", "aim", number(s.Aim), "steps", ""),
	}
	for i := range v.Asked {
		a := &v.Asked[i]
		now := s.Values[a.Want.Number]
		r := v.after.ofWant("choice", stage, a)
		r.Name, r.Line, r.Value, r.Words = a.Name, "value", number(now), v.judged(i, s.Values).text
		all = append(all, r)
		if !openEnded(a.Want.Kind) {
			r = v.after.miss(stage, a, a.Want.Outcome(now, now).Miss)
			r.Kind = "choice"
			all = append(all, r)
		}
	}
	return all
}

// JSON writes the answer for programs.
func (c *Chosen) JSON(w io.Writer) error { return writeJSON(w, c.noted(c.records())) }

// CSV writes the answer for programs.
func (c *Chosen) CSV(w io.Writer) error { return writeCSV(w, c.noted(c.records())) }
