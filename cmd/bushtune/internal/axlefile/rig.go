package axlefile

import (
	"encoding/csv"
	"errors"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
)

// Rig data are a table, as it leaves a spreadsheet: one line of headings, one
// reading a line. The columns are case, load [kN], channel, side, value [deg] and,
// if it is known, sd [deg], the standard deviation of the value. Units stand in the
// headings; where loads or values of several units occur there is a column for each,
// value [deg] and value [mm], and a line fills the one that fits. Values are changes
// from the position without test load, in vehicle axes: x forward, y left, z up for
// both wheels. Between semicolons a number may have a decimal comma. Lines that start with # are remarks; other columns are the author's own.

// RigRow is one reading, in internal units.
type RigRow struct {
	Line                int
	Case, Channel, Side string
	Number              int     // of the reading in the study, per load
	Size                float64 // of the load, as in cases.Goal
	Value               float64
	Deviation           float64 // standard deviation; 0: not given
}

// The columns of rig data.
const (
	caseColumn    = "case"
	loadColumn    = "load"
	channelColumn = "channel"
	sideColumn    = "side"
	valueColumn   = "value"
	sdColumn      = "sd"
)

var (
	rigColumns  = []string{caseColumn, loadColumn, channelColumn, sideColumn, valueColumn, sdColumn}
	rigNeeds    = rigColumns[:5]
	rigMeasured = []string{loadColumn, valueColumn, sdColumn} // they have a unit
)

// rigUnit is a unit that a heading may have.
type rigUnit struct {
	quantity.Unit
	of string // what it measures
}

var rigUnits = []rigUnit{
	{quantity.Kilonewton, "force"}, {quantity.Newton, "force"}, {quantity.NewtonMetre, "moment"},
	{quantity.Degree, "angle"}, {quantity.Unit{Name: "min", Factor: quantity.Degree.Factor / 60}, "angle"}, {quantity.Unit{Name: "mrad", Factor: 1e-3}, "angle"},
	{quantity.Millimetre, "length"},
}

// measures tells what a unit of a channel or load measures.
func measures(u quantity.Unit) string {
	i := slices.IndexFunc(rigUnits, func(r rigUnit) bool { return r.Unit == u })
	return rigUnits[i].of
}

// rigColumn is one column that is understood.
type rigColumn struct {
	name    string // empty: the author's own
	heading string
	unit    rigUnit
}

// rigReader reads rig data for an axle.
type rigReader struct {
	*reader
	study   *cases.Study
	columns []rigColumn
	refused map[string]bool // columns whose heading is wrong: their cells are not looked at
	rows    []RigRow
}

// ReadRig reads rig data for the axle of a study; name stands for the text in
// messages. The error is Mistakes.
func ReadRig(name string, text []byte, study *cases.Study) ([]RigRow, error) {
	r := &rigReader{reader: &reader{file: &File{Name: name}}, study: study}
	r.readRows(text)
	if len(r.mistakes) > 0 {
		return nil, r.mistakes.sorted()
	}
	return r.rows, nil
}

func (r *rigReader) readRows(text []byte) {
	if len(text) > largestFile {
		r.wrong(1, "", "the file is too large to be rig data", "up to 1 MiB", "")
		return
	}
	rows, count := newRows(text), 0
	r.commas = rows.Comma == ';'
	for {
		cells, err := rows.Read()
		var parse *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			if count == 0 {
				r.wrong(1, "", "there are no readings", "a line of headings and one line for each reading", "bushtune demo rig shows a whole file")
			}
			return
		case errors.As(err, &parse):
			r.wrong(min(parse.Line, countLines(text)), "", "not CSV: "+quantity.OneLine(parse.Err.Error()), "", "")
			return
		}
		line, _ := rows.FieldPos(0)
		if r.columns == nil {
			r.headings(cells, line)
			continue
		}
		r.row(cells, line)
		count++
	}
}

// headings understands the line of headings and reports what it does not.
func (r *rigReader) headings(cells []string, line int) {
	r.columns, r.refused = make([]rigColumn, len(cells)), map[string]bool{}
	seen := map[string]bool{}
	for i, cell := range cells {
		heading := strings.TrimSpace(cell)
		name, unit, _ := strings.Cut(strings.TrimSuffix(heading, "]"), "[")
		name, unit = strings.TrimSpace(name), strings.TrimSpace(unit)
		at := "column " + strconv.Itoa(i+1)
		known, u := slices.Contains(rigColumns, name), r.unitOf(name, unit)
		switch {
		case !known && name != "" && meant(name, rigColumns) != "":
			r.wrong(line, at, "there is no column "+quote(name), strings.Join(rigColumns, ", "), meant(name, rigColumns))
		case !known:
		case slices.Contains(rigMeasured, name) && u.Name == "":
			r.wrong(line, at, unitMissing(heading, unit), strings.Join(headingsOf(name), ", "), "")
			r.refused[name] = true
		case seen[name+u.Name]:
			r.wrong(line, at, "there are two columns "+quote(heading), "one", "")
		default:
			r.columns[i] = rigColumn{name, heading, u}
		}
		if known {
			seen[name], seen[name+u.Name] = true, true
		}
	}
	for _, name := range rigNeeds {
		if !seen[name] {
			r.wrong(line, "column "+name, "missing", strings.Join(headingsOf(name), ", "), "")
			r.refused[name] = true
		}
	}
}

// unitOf finds the unit of a heading; it has no name where there is none.
func (r *rigReader) unitOf(column, unit string) rigUnit {
	for _, u := range rigUnits {
		if slices.Contains(rigMeasured, column) && fitsColumn(column, u) && sameUnit(strings.ReplaceAll(unit, ".", ""), u.Name) {
			return u
		}
	}
	return rigUnit{}
}

// fitsColumn tells whether a column may have a unit: loads are forces and moments,
// values are angles, lengths and forces.
func fitsColumn(column string, u rigUnit) bool {
	if column == loadColumn {
		return u.of == "force" || u.of == "moment"
	}
	return u.of != "moment"
}

func unitMissing(heading, unit string) string {
	if unit == "" {
		return quote(heading) + " has no unit"
	}
	return "unit " + quote(unit) + " does not fit"
}

// headingsOf lists how a column may be headed.
func headingsOf(name string) []string {
	if !slices.Contains(rigMeasured, name) {
		return []string{name}
	}
	var all []string
	for _, u := range rigUnits {
		if fitsColumn(name, u) {
			all = append(all, name+" ["+u.Name+"]")
		}
	}
	return all
}

// row reads one reading; it is kept if nothing is wrong with it.
func (r *rigReader) row(cells []string, line int) {
	before := len(r.mistakes)
	for i, cell := range cells {
		if i >= len(r.columns) && strings.TrimSpace(cell) != "" {
			r.wrong(line, "column "+strconv.Itoa(i+1), "there is no heading over "+quote(strings.TrimSpace(cell)), strconv.Itoa(len(r.columns))+" columns", "")
		}
	}
	row := RigRow{Line: line}
	row.Case = r.word(cells, line, caseColumn, r.caseNames(), "case")
	row.Channel = r.word(cells, line, channelColumn, cases.ChannelNames(), "channel")
	row.Side = r.word(cells, line, sideColumn, cases.Roles(), "side")
	if row.Case != "" && row.Channel != "" && row.Side != "" {
		r.find(&row, line)
	}
	load, _ := r.measured(cells, line, loadColumn, r.loadOf(row.Case), true)
	value, _ := r.measured(cells, line, valueColumn, r.channelOf(row.Channel), true)
	sd, given := r.measured(cells, line, sdColumn, r.channelOf(row.Channel), false)
	if given && sd <= 0 {
		r.wrong(line, "column "+sdColumn, "a standard deviation is above 0", "above 0", "leave the cell empty if it is not known")
	}
	row.Size, row.Value, row.Deviation = load, value, sd
	if len(r.mistakes) == before {
		r.rows = append(r.rows, row)
	}
}

// find looks up the reading in the study.
func (r *rigReader) find(row *RigRow, line int) {
	index, err := r.study.FindChannel(row.Channel, row.Side, row.Case)
	if err != nil {
		r.wrong(line, "column "+channelColumn, row.Channel+" is not read in the case "+row.Case, "", "level pads hold the height of the contact point, floating pads its force")
	}
	row.Number = index
}

// word is the cell of a column of names; empty if that is reported.
func (r *rigReader) word(cells []string, line int, column string, known []string, what string) string {
	text := ""
	for i, c := range r.columns {
		if c.name == column && i < len(cells) {
			text = strings.TrimSpace(cells[i])
		}
	}
	switch {
	case r.refused[column]:
	case text == "":
		r.wrong(line, "column "+column, "missing", strings.Join(known, ", "), "")
	case !slices.Contains(known, text):
		r.wrong(line, "column "+column, "there is no "+what+" "+quote(text), strings.Join(known, ", "), meant(text, known))
	default:
		return text
	}
	return ""
}

// measured is the one filled cell among the columns of a name, which has to measure
// what is asked for; anything if that is empty.
func (r *rigReader) measured(cells []string, line int, column, of string, needed bool) (value float64, ok bool) {
	if r.refused[column] {
		return 0, false
	}
	filled := -1
	for i, c := range r.columns {
		if c.name != column || i >= len(cells) || strings.TrimSpace(cells[i]) == "" {
			continue
		}
		if filled >= 0 {
			r.wrong(line, "column "+c.heading, "there is a "+column+" in column "+r.columns[filled].heading+" already", "one", "")
			return 0, false
		}
		filled = i
	}
	if filled < 0 {
		if needed {
			r.wrong(line, "column "+column, "missing", "a number", "")
		}
		return 0, false
	}
	c, text := r.columns[filled], strings.TrimSpace(cells[filled])
	if of != "" && c.unit.of != of {
		r.wrong(line, "column "+c.heading, "what is asked for is "+of+", not "+c.unit.of, of+", as in "+r.fitting(column, of), "")
		return 0, false
	}
	return r.numeral(text, line, c)
}

// fitting is a heading that measures what is asked for.
func (r *rigReader) fitting(column, of string) string {
	for _, u := range rigUnits {
		if u.of == of {
			return column + " [" + u.Name + "]"
		}
	}
	return column
}

// largestReading bounds what can stand in a cell, in any unit.
const largestReading = 1e6

// numeral reads a number in the unit of its column.
func (r *rigReader) numeral(text string, line int, c rigColumn) (float64, bool) {
	v, err := strconv.ParseFloat(r.pointed(text), 64)
	switch {
	case err == nil && math.Abs(v) <= largestReading:
		return v * c.unit.Factor, true
	case err == nil && !math.IsNaN(v) && !math.IsInf(v, 0):
		r.wrong(line, "column "+c.heading, quote(text)+" is no reading of an axle", "up to "+decimal(largestReading)+" "+c.unit.Name, "")
		return 0, false
	}
	hint := ""
	if decimalComma.MatchString(text) {
		hint = "numbers take a decimal point: " + strings.Replace(text, ",", ".", 1)
	}
	r.wrong(line, "column "+c.heading, quote(text)+" is no number", "a number in "+c.unit.Name, hint)
	return 0, false
}

// caseNames lists the cases that a rig can run: all but the states of a vehicle.
func (r *rigReader) caseNames() []string {
	var all []string
	for _, c := range r.study.Cases() {
		name := strings.TrimSuffix(c.Name, cases.TurnRight)
		state := slices.ContainsFunc(r.study.States(), func(s cases.State) bool { return s.Name == name })
		if !state {
			all = append(all, c.Name)
		}
	}
	return all
}

// loadOf tells what loads a case: force or moment; empty if there is no such case.
func (r *rigReader) loadOf(name string) string {
	if name == "" {
		return ""
	}
	index, err := r.study.FindChannel("toe", cases.Roles()[0], name)
	if err != nil {
		return ""
	}
	return measures(r.study.SizeUnit(index))
}

// channelOf tells what a channel measures; empty if there is no such channel.
func (r *rigReader) channelOf(name string) string {
	for _, c := range cases.Channels() {
		if c.Name == name {
			return measures(c.Unit)
		}
	}
	return ""
}
