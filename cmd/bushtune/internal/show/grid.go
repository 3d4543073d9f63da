package show

import (
	"strings"
	"unicode/utf8"
)

// align is how the cells of a column stand under each other.
type align int

const (
	left  align = iota
	right       // the last signs
	point       // the decimal points
)

// column is one column of a grid.
type column struct {
	align align
	gives bool // its cells are wrapped where the page is too narrow
	tight bool // one space before it instead of two
	width int  // cells of more signs are wrapped; 0: none are; found by fit
}

// cell is one text of a grid.
type cell struct {
	text string
	tone tone
}

// words is a plain cell.
func words(s string) cell { return cell{text: s} }

// row holds cells, or one text across all columns.
type row struct {
	cells  []cell
	across bool
}

// grid is a table whose columns keep their places under all its headings.
type grid struct {
	columns []column
	rows    []row
}

// add appends one row of plain cells.
func (g *grid) add(texts ...string) {
	cells := make([]cell, len(texts))
	for i, s := range texts {
		cells[i] = words(s)
	}
	g.addCells(cells...)
}

// addCells appends one row.
func (g *grid) addCells(cells ...cell) { g.rows = append(g.rows, row{cells: cells}) }

// heading appends a line across all columns, after an empty one.
func (g *grid) heading(s string) {
	if len(g.rows) > 0 {
		g.across("", plain)
	}
	for i, line := range wrap(s, pageWidth-2) {
		if i > 0 {
			line = "  " + line
		}
		g.across(line, strong)
	}
}

// across appends a line across all columns.
func (g *grid) across(s string, t tone) {
	g.rows = append(g.rows, row{cells: []cell{{s, t}}, across: true})
}

// extent is the room a column needs: before and behind the decimal point where
// cells are set by it, else all before.
type extent struct{ before, behind, word int }

func (e extent) total() int { return max(e.before+e.behind, e.word) }

// split cuts a number before its decimal point.
func split(s string) (before, behind string) {
	if i := strings.IndexByte(s, '.'); i >= 0 {
		return s[:i], s[i:]
	}
	return s, ""
}

// wrapped breaks the cells of a row into lines.
func (g *grid) wrapped(r row) [][]cell {
	var lines [][]cell
	for c, x := range r.cells {
		parts := []string{x.text}
		if w := g.columns[c].width; w > 0 && utf8.RuneCountInString(x.text) > w {
			parts = wrap(x.text, w-2) // what follows is indented by two more
		}
		for i, part := range parts {
			if i == len(lines) {
				lines = append(lines, make([]cell, len(r.cells)))
			}
			if i > 0 {
				part = "  " + part
			}
			lines[i][c] = cell{part, x.tone}
		}
	}
	return lines
}

// write lays the grid out on a page.
func (g *grid) write(p *Page) {
	g.fit()
	lines, extents := g.measured()
	for _, r := range lines {
		if r.across {
			p.line(r.cells[0].text, r.cells[0].tone)
			continue
		}
		p.text.WriteString(g.laid(p, r.cells, extents) + "\n")
	}
}

// narrowest is the least width to which a column gives way.
const narrowest = 20

// fit narrows the column that gives way until the grid fits the page.
func (g *grid) fit() {
	_, extents := g.measured()
	total := 0
	for c, e := range extents {
		if e.total() > 0 {
			total += e.total() + 2
		}
		if g.columns[c].tight {
			total--
		}
	}
	for c := range g.columns {
		if over := total - 2 - pageWidth; g.columns[c].gives && over > 0 {
			g.columns[c].width = max(narrowest, extents[c].total()-over)
		}
	}
}

// measured returns the rows with wrapped cells, and the room of each column.
func (g *grid) measured() (lines []row, extents []extent) {
	extents = make([]extent, len(g.columns))
	for _, r := range g.rows {
		if r.across {
			lines = append(lines, r)
			continue
		}
		for _, cells := range g.wrapped(r) {
			g.measure(cells, extents)
			lines = append(lines, row{cells: cells})
		}
	}
	return lines, extents
}

// measure widens the extents for one line. A word over a column of numbers may
// use the room on both sides of the point.
func (g *grid) measure(line []cell, extents []extent) {
	for c, x := range line {
		e := &extents[c]
		n := utf8.RuneCountInString(x.text)
		if g.columns[c].align != point {
			e.before = max(e.before, n)
			continue
		}
		if !isNumber(x.text) {
			e.word = max(e.word, n)
			continue
		}
		before, behind := split(x.text)
		e.before = max(e.before, len(before))
		e.behind = max(e.behind, len(behind))
	}
}

// isNumber tells a number from a word over a column of numbers.
func isNumber(s string) bool {
	return s != "" && strings.Trim(s, "+-.0123456789") == ""
}

// laid sets one line, without spaces at its end.
func (g *grid) laid(p *Page, line []cell, extents []extent) string {
	var b strings.Builder
	spaces := 0 // kept back until something follows
	for c, x := range line {
		room := extents[c].total()
		if room == 0 {
			continue
		}
		if c > 0 && !g.columns[c].tight {
			spaces++
		}
		n := utf8.RuneCountInString(x.text)
		before := g.lead(x.text, c, extents[c])
		if x.text != "" {
			b.WriteString(strings.Repeat(" ", spaces+before) + p.set(x.text, x.tone))
			spaces = room - before - n
		} else {
			spaces += room
		}
		spaces++
	}
	return b.String()
}

// lead is how many spaces stand before a text in its column.
func (g *grid) lead(s string, c int, e extent) int {
	n := utf8.RuneCountInString(s)
	switch {
	case g.columns[c].align == left:
		return 0
	case g.columns[c].align == point && isNumber(s):
		before, _ := split(s)
		return e.total() - e.behind - len(before)
	}
	return e.total() - n
}
