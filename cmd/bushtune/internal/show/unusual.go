package show

import (
	"fmt"
	"strings"

	"bushtune/cmd/bushtune/internal/axlefile"
)

// Noted is what is unusual in the files behind an answer.
type Noted struct{ Unusual []axlefile.Unusual }

// shortNotes is how many notes are told in short.
const shortNotes = 2

// usualNote says where usual ranges come from.
const usualNote = "Usual ranges are common practice, no source; what lies outside may well be meant."

// Short tells in a few lines that something is unusual, and where all of it is told.
func (n Noted) Short(p *Page) {
	if len(n.Unusual) == 0 {
		return
	}
	var told []string
	for i := range n.Unusual[:min(shortNotes, len(n.Unusual))] {
		told = append(told, brief(&n.Unusual[i]))
	}
	text := "check: " + unusualCount(len(n.Unusual)) + ": " + strings.Join(told, "; ") + "."
	if more := len(n.Unusual) - shortNotes; more > 0 {
		text += fmt.Sprintf(" And %d more: bushtune check tells all of an axle file.", more)
	}
	p.Prose("", text)
}

// unusualCount counts notes in words.
func unusualCount(n int) string {
	if n == 1 {
		return "1 thing looks unusual"
	}
	return fmt.Sprintf("%d things look unusual", n)
}

// brief is a note in few words, with its place.
func brief(u *axlefile.Unusual) string {
	text := u.File + ": "
	if u.Line > 0 {
		text = fmt.Sprintf("%s:%d: ", u.File, u.Line)
	}
	if u.Key != "" {
		text += u.Key + ": "
	}
	text += u.Text + ", usual: " + u.Note.Usual
	if u.Slip != "" {
		text += " (" + u.Slip + ")"
	}
	return text
}

// noted adds the notes to the records of an answer.
func (n Noted) noted(records []Record) []Record {
	for i := range n.Unusual {
		u := &n.Unusual[i]
		r := Record{Kind: "unusual", Name: u.Key, Line: u.Check, Unit: u.Unit, Words: brief(u)}
		if u.Unit != "" || u.Plain {
			r.Value = number(u.Value)
		}
		records = append(records, r)
	}
	return records
}
