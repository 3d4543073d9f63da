package sheet

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// lineWidth is the most columns of a line of prose.
const lineWidth = 100

// document is Markdown in the making: headings, paragraphs, lists and tables whose
// columns are padded so that they read as plain text too.
type document struct{ text strings.Builder }

func (d *document) String() string { return d.text.String() }

// heading starts a section; level 1 is the title of a page.
func (d *document) heading(level int, text string) {
	d.blank()
	d.text.WriteString(strings.Repeat("#", level) + " " + text + "\n")
}

// rule separates pages.
func (d *document) rule() {
	d.blank()
	d.text.WriteString("---\n")
}

// blank separates what follows from what stands already.
func (d *document) blank() {
	if d.text.Len() > 0 {
		d.text.WriteString("\n")
	}
}

// prose writes a paragraph, wrapped. Nothing for no words.
func (d *document) prose(text string) {
	if text == "" {
		return
	}
	d.blank()
	for _, line := range wrapped(text, lineWidth) {
		d.text.WriteString(line + "\n")
	}
}

// items writes a list.
func (d *document) items(texts ...string) {
	d.blank()
	for _, text := range texts {
		for i, line := range wrapped(text, lineWidth-2) {
			if i == 0 {
				d.text.WriteString("- " + line + "\n")
				continue
			}
			d.text.WriteString("  " + line + "\n")
		}
	}
}

// startsBlock matches the words that at the start of a line make a list, a heading
// or a quotation.
var startsBlock = regexp.MustCompile(`^([-+*]|#+|>.*|[0-9]+[.)])$`)

// literal keeps Markdown from reading signs in a text that a person wrote.
func literal(text string) string {
	return strings.NewReplacer("<", `\<`, "*", `\*`, "[", `\[`, "`", "\\`").Replace(text)
}

// wrapped breaks a text at spaces. A line never starts with a sign that Markdown
// takes for a list or heading.
func wrapped(text string, width int) []string {
	var lines []string
	current := ""
	for _, word := range strings.Fields(text) {
		switch {
		case current == "":
			current = word
		case utf8.RuneCountInString(current)+1+utf8.RuneCountInString(word) <= width || startsBlock.MatchString(word):
			current += " " + word
		default:
			lines = append(lines, current)
			current = word
		}
	}
	return append(lines, current)
}

// column is one column of a table; numbers stand to the right.
type column struct {
	name  string
	right bool
}

// words and numbers make columns.
func words(name string) column   { return column{name, false} }
func numbers(name string) column { return column{name, true} }

// table is rows under named columns.
type table struct {
	columns []column
	rows    [][]string
}

func newTable(columns ...column) *table { return &table{columns: columns} }

// add adds a row, one cell a column.
func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// escaped keeps a cell from ending early.
func escaped(cell string) string { return strings.ReplaceAll(cell, "|", `\|`) }

// table writes a table with all cells padded; nothing for one without rows.
func (d *document) table(t *table) {
	if len(t.rows) == 0 {
		return
	}
	width := make([]int, len(t.columns))
	head := make([]string, len(t.columns))
	for i, c := range t.columns {
		head[i], width[i] = c.name, max(3, utf8.RuneCountInString(escaped(c.name)))
	}
	for _, row := range t.rows {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(escaped(cell)))
		}
	}
	d.blank()
	d.row(t, head, width)
	for i, c := range t.columns {
		d.text.WriteString("|" + map[bool]string{false: ":" + strings.Repeat("-", width[i]+1), true: strings.Repeat("-", width[i]+1) + ":"}[c.right])
	}
	d.text.WriteString("|\n")
	for _, row := range t.rows {
		d.row(t, row, width)
	}
}

// row writes one row of a table.
func (d *document) row(t *table, cells []string, width []int) {
	for i, cell := range cells {
		cell = escaped(cell)
		pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
		if t.columns[i].right {
			cell, pad = pad+cell, ""
		}
		d.text.WriteString("| " + cell + pad + " ")
	}
	d.text.WriteString("|\n")
}
