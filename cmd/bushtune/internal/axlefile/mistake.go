package axlefile

import (
	"fmt"
	"slices"
	"strings"
)

// Mistake is one thing that is wrong in an axle file.
type Mistake struct {
	File    string
	Line    int    // from 1
	Key     string // dotted path of the key or table; empty for a grammar error
	Wrong   string // what is wrong
	Allowed string // what may stand there; may be empty
	Hint    string // the nearest right key or a way out; may be empty
}

// String is the one line that a person reads: "rear.toml:12: bush.pivot.soft: …".
func (m Mistake) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d: ", m.File, m.Line)
	if m.Key != "" {
		b.WriteString(m.Key + ": ")
	}
	b.WriteString(m.Wrong)
	if m.Allowed != "" {
		b.WriteString("; allowed: " + m.Allowed)
	}
	if m.Hint != "" {
		b.WriteString("; hint: " + m.Hint)
	}
	return b.String()
}

// How many letters of a mistake repeat what stands in the file.
const (
	longestKey  = 120
	longestText = 400
)

// brief cuts what repeats a long text of the file.
func (m Mistake) brief() Mistake {
	m.Key, m.Wrong, m.Hint = cut(m.Key, longestKey), cut(m.Wrong, longestText), cut(m.Hint, longestText)
	return m
}

// cut takes the middle out of a text that is longer than so many letters.
func cut(s string, longest int) string {
	letters := []rune(s)
	if len(letters) <= longest {
		return s
	}
	return string(letters[:longest/2]) + " … " + string(letters[len(letters)-longest/2:])
}

// Mistakes are all mistakes of one file, sorted by line.
type Mistakes []Mistake

// Error lists one mistake per line.
func (m Mistakes) Error() string {
	lines := make([]string, len(m))
	for i := range m {
		lines[i] = m[i].String()
	}
	return strings.Join(lines, "\n")
}

// mostMistakes is how many are told at once; a file with more is of another kind.
const mostMistakes = 200

// sorted shortens mistakes, orders them by line, keeps the order of discovery within a line
// drops what was said twice, and counts what goes beyond mostMistakes.
func (m Mistakes) sorted() Mistakes {
	for i := range m {
		m[i] = m[i].brief()
	}
	slices.SortStableFunc(m, func(a, b Mistake) int { return a.Line - b.Line })
	seen := map[Mistake]bool{}
	m = slices.DeleteFunc(m, func(x Mistake) bool {
		again := seen[x]
		seen[x] = true
		return again
	})
	if more := len(m) - mostMistakes; more > 0 {
		m = append(m[:mostMistakes:mostMistakes], Mistake{File: m[0].File, Line: m[mostMistakes].Line,
			Wrong: fmt.Sprintf("%d more mistakes from here on", more), Hint: "mend the first ones and check again"})
	}
	return m
}
