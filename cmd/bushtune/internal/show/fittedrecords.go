package show

import (
	"bytes"
	"io"
	"strconv"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// records is the answer to fit for programs.
func (f *Fitted) records() []Record {
	all := []Record{f.fitRecord("status", nil, f.Status.String()), f.fitRecord("starts", number(float64(f.Starts)), ""),
		f.fitRecord("starts at the same sum of squares", number(float64(f.Agree)), ""),
		f.fitRecord("relative offset", number(f.Offset), "standard errors"),
		f.fitRecord("degrees of freedom", number(f.Freedom), "")}
	for i := range f.Parameters {
		all = append(all, f.estimate(i)...)
	}
	for i := range f.Parameters {
		for j := i + 1; j < len(f.Parameters); j++ {
			if f.Estimates[i].HasInterval() && f.Estimates[j].HasInterval() {
				all = append(all, f.ofRig(Record{Kind: "correlation", Name: f.Parameters[i].Path, Line: f.Parameters[j].Path, Value: number(f.Correlation(i, j))}))
			}
		}
	}
	for k, d := range f.Unseen {
		all = append(all, f.unseenRecords(k, d)...)
	}
	all = append(all, f.offsetRecords()...)
	all = append(all, f.testRecords()...)
	all = append(all, f.channelRecords()...)
	for i := range f.Rows {
		all = append(all, f.residualRecords(i)...)
	}
	for _, l := range f.LeftOut {
		all = append(all, f.ofRow("left out", "standard errors off", &l.RigRow, number(l.Studentised), ""))
	}
	return append(all, newView(f.After, nil).noteRecords(f.fitNotes())...)
}

// ofRig fills in what holds for every record of a fit.
func (f *Fitted) ofRig(r Record) Record {
	r.StaticLoad = newView(f.After, nil).loadAtRest()
	return r
}

func (f *Fitted) fitRecord(line string, value *float64, words string) Record {
	return f.ofRig(Record{Kind: "fit", Line: line, Value: value, Words: words})
}

// estimate lists what is known of one parameter.
func (f *Fitted) estimate(i int) []Record {
	q, e := &f.Parameters[i], &f.Estimates[i]
	record := func(stage, line string, value float64, words string) Record {
		return f.ofRig(Record{Kind: "parameter", Stage: stage, Name: q.Path, Line: line, Value: number(value), Unit: q.Unit.Name, Words: words})
	}
	all := []Record{
		record("", "from", q.From, ""), record("", "to", q.To, ""),
		record("before", "value", q.Start, ""), record("after", "value", e.Value, e.Standing.String()),
	}
	if !e.HasInterval() {
		return all
	}
	all = append(all, record("after", "standard error", e.Error, ""))
	degrees := record("after", "degrees of freedom of the standard error", e.Freedom, "")
	degrees.Unit = ""
	all = append(all, degrees)
	for _, probability := range []float64{likely, nearlySure} {
		name := strconv.Itoa(int(100*probability+0.5)) + " % interval "
		for k, s := range e.Spans(probability) {
			name := map[bool]string{true: "another "}[k > 0] + name
			all = append(all, record("after", name+"from", s.Low, atBound(s.LowBound)), record("after", name+"to", s.High, atBound(s.HighBound)))
		}
	}
	return all
}

// atBound words an end of an interval that is there for want of allowed values beyond.
func atBound(is bool) string {
	if is {
		return "at the bound"
	}
	return ""
}

// unseenRecords are the shares of the parameters in a direction that is not seen,
// in ranges.
func (f *Fitted) unseenRecords(k int, d optimize.Direction) []Record {
	var all []Record
	for i, j := range d.Parameters {
		all = append(all, f.ofRig(Record{Kind: "unseen", Name: f.Parameters[j].Path, Line: "direction " + strconv.Itoa(k+1),
			Value: number(d.Shares[i]), Unit: "range", Words: "no reading tells this combination"}))
	}
	return all
}

// testRecords are the standard errors without and with what to measure next.
func (f *Fitted) testRecords() []Record {
	var all []Record
	for k, t := range f.Tests {
		for j := range f.Parameters {
			q := &f.Parameters[j]
			record := func(stage string, value float64) Record {
				return f.ofRig(Record{Kind: "test", Stage: stage, Name: q.Path, Line: "standard error with test " + strconv.Itoa(k+1),
					Number: t.Side + " " + t.Channel, Case: t.Case, X: number(t.Load), XUnit: t.Unit.Name, Value: number(value), Unit: q.Unit.Name})
			}
			all = append(all, record("before", t.Before[j]), record("after", t.After[j]))
		}
	}
	return all
}

// channelRecords sum up the channels.
func (f *Fitted) channelRecords() []Record {
	var all []Record
	for i := range f.Channels {
		c := &f.Channels[i]
		record := func(stage, line string, value float64) {
			all = append(all, f.ofRig(Record{Kind: "channel", Stage: stage, Name: c.Name, Line: line, Value: number(value), Unit: c.Unit.Name}))
		}
		record("before", "root mean square", c.Before)
		record("after", "root mean square", c.After)
		record("after", "mean", c.Bias)
		record("after", "largest", c.Unit.Written(f.Residuals[c.Worst].Difference))
	}
	return all
}

// residualRecords are what one reading has left over.
func (f *Fitted) residualRecords(i int) []Record {
	r, row, unit := &f.Residuals[i], &f.Rows[i], f.unitOf(i)
	words := ""
	if r.Outlier {
		words = "does not fit the rest"
	}
	record := func(line string, value *float64, unit string) Record {
		out := f.ofRow("residual", line, row, value, unit)
		out.Words = words
		return out
	}
	return []Record{
		record("measured", number(unit.Written(row.Value)), unit.Name), record("fitted", number(unit.Written(r.Value)), unit.Name),
		record("model less measured", number(unit.Written(r.Difference)), unit.Name), record("studentised", number(r.Studentised), ""),
	}
}

// ofRow is a record about a reading.
func (f *Fitted) ofRow(kind, line string, row *axlefile.RigRow, value *float64, unit string) Record {
	size := f.After.SizeUnit(row.Number)
	return f.ofRig(Record{Kind: kind, Stage: "after", Name: "line " + strconv.Itoa(row.Line), Line: line, Number: row.Side + " " + row.Channel, Case: row.Case,
		Pads: f.padsOf(row), X: number(size.Written(row.Size)), XUnit: size.Name, Value: value, Unit: unit})
}

// padsOf is what holds the pads in the case of a reading.
func (f *Fitted) padsOf(row *axlefile.RigRow) string {
	return f.After.Numbers()[row.Number].Pads.String()
}

// JSON writes the answer for programs.
func (f *Fitted) JSON(w io.Writer) error { return writeJSON(w, f.noted(f.records())) }

// CSV writes the answer for programs.
func (f *Fitted) CSV(w io.Writer) error { return writeCSV(w, f.noted(f.records())) }

// leftover is a row of the table of residuals.
type leftover struct{ cells []string }

// Header names the columns of the table of residuals.
func (leftover) Header() []string {
	return []string{"line", "case", "load", "load unit", "channel", "side", "measured", "fitted", "model less measured", "unit", "standard deviation", "studentised", "leverage", "remark"}
}

// Cells are the columns of the table of residuals.
func (l leftover) Cells() []string { return l.cells }

// ResidualTable is every reading with what is left over, as CSV; readings that were
// left out stand at the end.
func (f *Fitted) ResidualTable() ([]byte, error) {
	var rows []leftover
	for i := range f.Rows {
		r, row, unit := &f.Residuals[i], &f.Rows[i], f.unitOf(i)
		remark := ""
		if r.Outlier {
			remark = "does not fit the rest"
		}
		rows = append(rows, leftover{append(f.rowCells(row), sevenDigits(unit.Written(row.Value)), sevenDigits(unit.Written(r.Value)),
			sevenDigits(unit.Written(r.Difference)), unit.Name, sevenDigits(unit.Written(f.Deviation(i))),
			cellOf(number(r.Studentised)), sevenDigits(r.Leverage), remark)})
	}
	for _, l := range f.LeftOut {
		rows = append(rows, leftover{append(f.rowCells(&l.RigRow), "", "", "", "", "", sevenDigits(l.Studentised), "", "left out")})
	}
	var text bytes.Buffer
	err := writeCSV(&text, rows)
	return text.Bytes(), err
}

// rowCells are the first columns of a reading.
func (f *Fitted) rowCells(row *axlefile.RigRow) []string {
	size := f.After.SizeUnit(row.Number)
	return []string{strconv.Itoa(row.Line), row.Case, sevenDigits(size.Written(row.Size)), size.Name, row.Channel, row.Side}
}

// sevenDigits writes a number so that it can be read.
func sevenDigits(x float64) string { return strconv.FormatFloat(x, 'g', 7, 64) }
