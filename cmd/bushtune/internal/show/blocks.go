package show

import "unicode/utf8"

// stack is one column of a table that may be too wide for the page.
type stack struct {
	align align
	cells []cell
}

// blocks is a table whose columns are set in as many blocks below each other as
// the page needs, each with the labels of the rows.
type blocks struct {
	labels  []string
	columns [][]stack // each entry keeps its columns together
}

// add appends columns.
func (b *blocks) add(columns ...stack) {
	for _, c := range columns {
		b.columns = append(b.columns, []stack{c})
	}
}

// addTogether appends columns that no page break may part.
func (b *blocks) addTogether(columns ...stack) { b.columns = append(b.columns, columns) }

// write lays the blocks out on a page.
func (b *blocks) write(p *Page) {
	for start := 0; start < len(b.columns); {
		end, room := start, pageWidth-b.indent()
		for end < len(b.columns) {
			room -= widthOf(b.columns[end])
			if room < 0 && end > start {
				break
			}
			end++
		}
		if start > 0 {
			p.blank()
		}
		b.block(p, b.columns[start:end])
		start = end
	}
}

// indent is the width of the labels with what stands before them.
func (b *blocks) indent() int {
	widest := 0
	for _, l := range b.labels {
		widest = max(widest, 2+utf8.RuneCountInString(l))
	}
	return widest
}

// widthOf is the room that columns take, with the space before each.
func widthOf(columns []stack) (sum int) {
	for _, c := range columns {
		var e extent
		for _, x := range c.cells {
			n := utf8.RuneCountInString(x.text)
			before, behind := split(x.text)
			switch {
			case c.align != point:
				e.before = max(e.before, n)
			case !isNumber(x.text):
				e.word = max(e.word, n)
			default:
				e.before, e.behind = max(e.before, len(before)), max(e.behind, len(behind))
			}
		}
		sum += e.total() + 2
	}
	return sum
}

// block writes some of the columns.
func (b *blocks) block(p *Page, columns [][]stack) {
	g := grid{columns: []column{{}}}
	rows := make([][]cell, len(b.labels))
	for i, l := range b.labels {
		rows[i] = []cell{words("  " + l)}
	}
	for _, together := range columns {
		for _, c := range together {
			g.columns = append(g.columns, column{align: c.align})
			for i := range rows {
				rows[i] = append(rows[i], c.cells[i])
			}
		}
	}
	for _, r := range rows {
		if blank(r) {
			continue
		}
		g.addCells(r...)
	}
	g.write(p)
}

// blank tells whether a row holds nothing but spaces.
func blank(r []cell) bool {
	for _, x := range r {
		if x.text != "" && x.text != "  " {
			return false
		}
	}
	return true
}
