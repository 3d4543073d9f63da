package swapping

import (
	"slices"
	"strings"

	"bushtune/cases"
)

// warn keeps the footnotes of a set as its study stands that are not told yet, each
// matter once.
func (c *Column) warn(study *cases.Study, told []string) {
	for _, w := range study.Warnings() {
		if strings.HasPrefix(w, "the two halves") { // told by the numbers themselves
			continue
		}
		if !slices.ContainsFunc(slices.Concat(told, c.Warnings), func(o string) bool { return matter(o) == matter(w) }) {
			c.Warnings = append(c.Warnings, w)
		}
	}
}

// matter is what a footnote is about: its words before the first figure.
func matter(note string) string {
	if i := strings.IndexAny(note, "0123456789"); i >= 0 {
		return note[:i]
	}
	return note
}
