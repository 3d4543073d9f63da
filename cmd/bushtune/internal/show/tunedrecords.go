package show

import (
	"io"
	"strconv"

	"bushtune/optimize"
)

// records is the answer to tune for programs.
func (t *Tuned) records() []Record {
	s := t.sides()
	all := []Record{s.search("status", nil, s.Status.String()), s.search("reason", nil, s.Reason)}
	all = append(all, s.after.wishes()...)
	for i := range s.Asked {
		o := s.Wants[i]
		all = append(all, s.after.miss("before", &s.Asked[i], o.MissBefore))
		after := s.after.miss("after", &s.Asked[i], o.Miss)
		after.Words = s.verdict(i).text
		all = append(all, after, s.after.margin("before", &s.Asked[i], o.Before), s.after.margin("after", &s.Asked[i], o.After))
	}
	all = append(all, s.conflictRecords()...)
	all = append(all, s.after.reserveRecords("after", "", s.Reserve)...)
	for i := range s.Parameters {
		all = append(all, s.parameter(i)...)
	}
	if text := s.stepsSentence(); text != "" {
		all = append(all, s.search("steps", nil, text))
	}
	all = append(all, s.followedRecords()...)
	all = append(all, s.worsened().records("")...)
	all = append(all, s.prices()...)
	all = append(all, s.agreement()...)
	all = append(all, s.before.figures("before", false)...)
	all = append(all, s.after.figures("after", false)...)
	all = append(all, s.before.goalFigures("before")...)
	all = append(all, s.after.goalFigures("after")...)
	if index, err := s.after.study.Find(steer, "", ""); err == nil {
		for _, turn := range s.turnsThatDiffer(index) {
			all = append(all, s.before.parts("before", turn)...)
			all = append(all, s.after.parts("after", turn)...)
		}
	}
	all = append(all, s.after.absent()...)
	return append(all, s.after.noteRecords(t.notes())...)
}

// search is a record about the search itself.
func (s *sides) search(line string, value *float64, text string) Record {
	return Record{Kind: "search", Line: line, StaticLoad: s.after.loadAtRest(), Value: value, Words: text}
}

// parameter lists bounds and values of one parameter.
func (s *sides) parameter(i int) []Record {
	q := &s.Parameters[i]
	record := func(stage, line string, value float64, text string) Record {
		return Record{Kind: "parameter", Stage: stage, Name: q.Path, Line: line, StaticLoad: s.after.loadAtRest(),
			Value: number(value), Unit: q.Unit.Name, Words: text}
	}
	all := []Record{
		record("", "from", q.From, ""), record("", "to", q.To, ""),
		record("before", "value", q.Start, ""), record("after", "value", s.Written[i], s.place(i)),
	}
	if s.Rounding.Done() {
		all = append(all, record("after", "value in full digits", s.X[i], ""))
	}
	return all
}

// prices are the prices of limits and bounds: per unit of the want or parameter,
// in the unit of the one number that is made large or small, else in the sum of
// what is wanted.
func (s *sides) prices() []Record {
	var all []Record
	priced := "sum of what is wanted"
	if s.Result.Prices.Number >= 0 {
		priced = s.after.numbers[s.Numbers[s.Result.Prices.Number]].Unit.Name
	}
	add := func(r Record, price float64, unit string) {
		r.Kind, r.Stage, r.Unit, r.Words = "price", "after", priced+" per "+unit, s.Result.Prices.Reason
		if r.Value = nil; s.Result.Prices.Given {
			r.Value = number(price)
		}
		all = append(all, r)
	}
	for _, l := range s.Limits {
		a := &s.Asked[l.Want]
		r := s.after.ofWant("", "", a)
		r.Name, r.Line = a.Name, a.Want.Kind.String()
		add(r, l.Price, a.Unit.Name)
	}
	for _, b := range s.Bounds {
		q := &s.Parameters[b.Parameter]
		add(Record{Name: q.Path, Line: boundName(b) + " bound", StaticLoad: s.after.loadAtRest()}, b.Price, q.Unit.Name)
	}
	return all
}

// agreement says how many starts agree and how well the result is settled.
func (s *sides) agreement() []Record {
	a := &s.Agreement
	count := func(line string, n int) Record { return s.search(line, number(float64(n)), "") }
	all := []Record{
		count("starts", a.Starts), count("starts that could not be solved", a.Failed),
		count("starts with the same cost", a.SameCost), count("starts at the same values", a.SamePoint),
		s.search("first-order residual", number(s.AimResidual), "cost per range"),
		s.search("first-order residual of the misses", number(s.ViolationResidual), "steps per range"),
	}
	for k, e := range a.Ends[min(1, len(a.Ends)):] {
		all = append(all, s.otherEnd(end(k, e), e)...)
	}
	return all
}

// otherEnd is one other end: its values, and how far it is worse than the result
// or, where it misses limits, by how much.
func (s *sides) otherEnd(line string, e optimize.End) []Record {
	record := func(name string, value float64, unit string) Record {
		return Record{Kind: "end", Name: name, Line: line, StaticLoad: s.after.loadAtRest(), Value: number(value), Unit: unit}
	}
	var all []Record
	for i, q := range s.Parameters {
		all = append(all, record(q.Path, e.X[i], q.Unit.Name))
	}
	if missesLimits(e) {
		return append(all, record("limits missed by", missedLimits(&e), "steps"))
	}
	return append(all, record("worse by", e.Aim-s.Result.After.Aim, "steps"))
}

// end names another end.
func end(k int, e optimize.End) string {
	return plural(e.Starts, "start") + ", end " + strconv.Itoa(k+1)
}

// JSON writes the answer for programs.
func (t *Tuned) JSON(w io.Writer) error { return writeJSON(w, t.noted(t.records())) }

// CSV writes the answer for programs.
func (t *Tuned) CSV(w io.Writer) error { return writeCSV(w, t.noted(t.records())) }
