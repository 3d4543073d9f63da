package quantity

import (
	"slices"
	"strings"
)

// Nearest returns up to three of the known names that are closest to a name that
// is none of them, for a hint in an error; empty if nothing is close. Distance
// is the number of single-letter edits (Levenshtein); a name that contains the
// other counts as close.
func Nearest(name string, known []string) []string {
	type candidate struct {
		name     string
		distance int
	}
	var close []candidate
	for _, k := range known {
		d := edits(name, k)
		if name != "" && (strings.Contains(k, name) || strings.Contains(name, k)) {
			d = min(d, 1)
		}
		if d <= max(2, len(name)/3) {
			close = append(close, candidate{k, d})
		}
	}
	slices.SortStableFunc(close, func(a, b candidate) int { return a.distance - b.distance })
	var names []string
	for _, c := range close[:min(3, len(close))] {
		names = append(names, c.name)
	}
	return names
}

// edits is the Levenshtein distance, one row of the table at a time.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		corner := row[0]
		row[0] = i + 1
		for j := range b {
			change := corner
			if a[i] != b[j] {
				change++
			}
			corner = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
