// Package show writes answers: text tables that a person reads without a manual,
// and records for programs. Every number is rounded and worded by the package
// cases; this package only arranges.
package show

import (
	"strings"
	"unicode/utf8"

	"bushtune/bushing/quantity"
)

// pageWidth is the most columns that a line of text takes.
const pageWidth = 100

// tone is how a text is set on a terminal. It repeats what the words say.
type tone int

const (
	plain tone = iota
	strong
	good
	bad
)

// Page collects the text of one answer.
type Page struct {
	Colour bool // set tones by terminal codes
	text   strings.Builder
}

// String is the text so far.
func (p *Page) String() string { return p.text.String() }

// line writes one line in a tone.
func (p *Page) line(s string, t tone) {
	p.text.WriteString(p.set(s, t) + "\n")
}

// Prose writes a paragraph, wrapped, with following lines indented by two more.
func (p *Page) Prose(indent, s string) {
	for i, part := range wrap(s, pageWidth-len(indent)-2) {
		if i > 0 {
			part = "  " + part
		}
		p.line(indent+part, plain)
	}
}

// Heading writes a line that stands out.
func (p *Page) Heading(s string) { p.line(s, strong) }

// wrappedHeading writes a heading on as many lines as it needs.
func (p *Page) wrappedHeading(s string) {
	for i, part := range wrap(s, pageWidth-2) {
		if i > 0 {
			part = "  " + part
		}
		p.line(part, strong)
	}
}

// lost says at the head of a table why it ends early; nothing if it does not.
func (p *Page) lost(why string) {
	if why != "" {
		p.line("STOPPED BEFORE THE END; what follows holds up to there.", bad)
		p.Prose("  ", why)
	}
}

// lostNotes is the note for programs why a table ends early; none if it does not.
func lostNotes(why string) []string {
	if why == "" {
		return nil
	}
	return []string{"stopped before the end: " + why}
}

// blank separates two parts of the page.
func (p *Page) blank() { p.text.WriteString("\n") }

// set surrounds a text with the codes of its tone; signs that a terminal would
// obey are written as their numbers.
func (p *Page) set(s string, t tone) string {
	s = quantity.Printable(s)
	codes := [...]string{plain: "", strong: "\x1b[1m", good: "\x1b[32m", bad: "\x1b[31m"}
	if !p.Colour || t == plain || s == "" {
		return s
	}
	return codes[t] + s + "\x1b[0m"
}

// wrap breaks a text at spaces into lines of at most width signs. Leading spaces
// stay; a word that is longer keeps a line of its own.
func wrap(s string, width int) []string {
	indent := s[:len(s)-len(strings.TrimLeft(s, " "))]
	var lines []string
	current := ""
	for _, word := range strings.Fields(s) {
		switch {
		case current == "":
			current = indent + word
		case utf8.RuneCountInString(current)+1+utf8.RuneCountInString(word) <= width:
			current += " " + word
		default:
			lines = append(lines, current)
			current = indent + word
		}
	}
	return append(lines, current)
}
