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

// sorted orders mistakes by line, keeps the order of discovery within a line
// and drops what was said twice.
func (m Mistakes) sorted() Mistakes {
	slices.SortStableFunc(m, func(a, b Mistake) int { return a.Line - b.Line })
	seen := map[Mistake]bool{}
	return slices.DeleteFunc(m, func(x Mistake) bool {
		again := seen[x]
		seen[x] = true
		return again
	})
}
