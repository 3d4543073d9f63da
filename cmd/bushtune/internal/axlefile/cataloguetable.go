package axlefile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"

	"bushtune/bushing/quantity"
)

// A catalogue as a table, as it leaves a spreadsheet: one line of headings, one
// part a line. A heading is a key of a part, with or without its unit in brackets:
// "soft [N/mm]". A curve is written in one cell, deflection:load behind each other:
// "0:0 1:600 2:1500". Commas or semicolons separate cells; an empty cell is a key
// that is not given. Between semicolons a number may have a decimal comma.

// nameColumn heads the column of the parts' names.
const nameColumn = "name"

// column is one column that is understood.
type column struct {
	name string
	key  *key // nil for the name of the part
}

// sheet reads a CSV text into the tables that a TOML catalogue has, so that every
// check is the same.
func (r *reader) sheet(text []byte) *table {
	root := newTable(1)
	if len(text) > largestFile {
		r.wrong(1, "", "the file is too large to be a catalogue", "up to 1 MiB", "")
		return root
	}
	parts := &entry{line: 1, table: newTable(1)}
	root.add(stockSection, parts)
	rows := newRows(text)
	r.commas = rows.Comma == ';'
	var columns []column
	for {
		cells, err := rows.Read()
		if errors.Is(err, io.EOF) {
			return root
		}
		var parse *csv.ParseError
		if errors.As(err, &parse) {
			r.wrong(min(parse.Line, countLines(text)), "", "not CSV: "+quantity.OneLine(parse.Err.Error()), "", "")
			return root
		}
		line, _ := rows.FieldPos(0)
		if columns == nil {
			if columns = r.headings(cells, line); len(columns) == 0 {
				return root
			}
			continue
		}
		r.sheetRow(parts.table, columns, cells, line)
	}
}

// newRows reads a text without its byte-order mark, with the separator that its
// first line of headings shows.
func newRows(text []byte) *csv.Reader {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	rows := csv.NewReader(bytes.NewReader(text))
	rows.Comment, rows.FieldsPerRecord, rows.TrimLeadingSpace = '#', -1, true
	for line := range bytes.Lines(text) {
		if len(bytes.TrimSpace(line)) > 0 && line[0] != '#' {
			if bytes.Count(line, []byte(";")) > bytes.Count(line, []byte(",")) {
				rows.Comma = ';'
			}
			break
		}
	}
	return rows
}

// headings understands the line of headings and reports what it does not. Without
// a column of names there is none.
func (r *reader) headings(cells []string, line int) []column {
	keys := stockKeys()
	known := append([]string{nameColumn}, names(keys)...)
	columns := make([]column, len(cells))
	seen := map[string]bool{}
	for i, cell := range cells {
		name, unit, hasUnit := strings.Cut(strings.TrimSuffix(strings.TrimSpace(cell), "]"), "[")
		name = strings.TrimSpace(name)
		k := find(keys, name)
		at := "column " + strconv.Itoa(i+1)
		switch {
		case name == "" && !hasUnit: // a column without a heading is the author's own
		case k == nil && name != nameColumn:
			hint := meant(name, known)
			if hint == "" {
				hint = "a column of your own has no heading"
			}
			r.wrong(line, at, "there is no column "+quote(name), strings.Join(known, ", "), hint)
		case seen[name]:
			r.wrong(line, at, "there are two columns "+quote(name), "one", "")
		case hasUnit && !sameUnit(unit, columnUnit(k)):
			r.wrong(line, at, quote(name)+" is given in "+quote(strings.TrimSpace(unit)), columnUnit(k), "")
			columns[i] = column{name, k}
		default:
			columns[i] = column{name, k}
		}
		seen[name] = true
	}
	if !seen[nameColumn] {
		r.wrong(line, "column "+nameColumn, "missing", nameColumn, "the name or number of the part")
		return columns[:0]
	}
	return columns
}

// columnUnit is the unit of a column, in words.
func columnUnit(k *key) string {
	switch {
	case k == nil || k.form == word:
		return ""
	case k.form == curve:
		deflection, load := curveUnits(k.name)
		return deflection.Name + ":" + load.Name
	}
	return k.fields[0].Unit.Name
}

// sameUnit compares units without their points and spaces.
func sameUnit(a, b string) bool {
	plain := strings.NewReplacer("·", "", "*", "", " ", "", "°", "deg").Replace
	return plain(a) == plain(b)
}

// sheetRow turns one row into the table of a part.
func (r *reader) sheetRow(parts *table, columns []column, cells []string, line int) {
	t := newTable(line)
	name := ""
	for i, cell := range cells {
		cell = strings.TrimSpace(cell)
		switch {
		case cell == "":
		case i >= len(columns):
			r.wrong(line, "column "+strconv.Itoa(i+1), "there is no heading over "+quote(cell), strconv.Itoa(len(columns))+" columns", "")
		case columns[i].key != nil:
			t.add(columns[i].name, r.cell(columns[i], cell, line))
		case columns[i].name == nameColumn:
			name = cell
		}
	}
	switch {
	case name == "":
		r.wrong(line, "column "+nameColumn, "missing", "the name or number of the part", "")
	case parts.entries[name] != nil:
		r.wrong(line, stockSection+"."+name, "there are two parts of this name", "a name of its own for each", "the other stands in line "+strconv.Itoa(parts.entries[name].line))
	default:
		parts.add(name, &entry{line: line, table: t})
	}
}

// decimalComma is a number as it is written in many countries.
var decimalComma = regexp.MustCompile(`^[+-]?\d+,\d+$`)

// pointed is a number with a decimal point for the comma that a spreadsheet writes
// where semicolons separate cells.
func (r *reader) pointed(text string) string {
	if r.commas && decimalComma.MatchString(text) {
		return strings.Replace(text, ",", ".", 1)
	}
	return text
}

// cell turns one cell into a value.
func (r *reader) cell(c column, text string, line int) *entry {
	switch {
	case c.key.form == curve:
		return r.curveCell(text, line)
	case c.key.form == number && r.commas:
		return numberCell(r.pointed(text), line)
	case c.key.form == number && decimalComma.MatchString(text):
		point := strings.Replace(text, ",", ".", 1)
		r.wrong(line, "column "+c.name, quote(text)+" is no number", allowedRange(c.key.fields[0]), "numbers take a decimal point: "+point)
		return numberCell(point, line)
	case c.key.form == number:
		return numberCell(text, line)
	}
	return &entry{line: line, value: text}
}

// numberCell is a number, or the text that stands in its place.
func numberCell(text string, line int) *entry {
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		return &entry{line: line, value: v}
	}
	return &entry{line: line, value: text}
}

// curveCell is an array of points, or the text that stands in its place.
func (r *reader) curveCell(text string, line int) *entry {
	e := &entry{line: line, array: true}
	for _, point := range strings.Fields(text) {
		deflection, load, ok := strings.Cut(point, ":")
		if !ok {
			return &entry{line: line, value: text}
		}
		e.items = append(e.items, &entry{line: line, array: true, items: []*entry{numberCell(r.pointed(deflection), line), numberCell(r.pointed(load), line)}})
	}
	return e
}
