package axlefile

import (
	"strings"
	"unicode/utf8"
)

// nearest returns the candidate that most likely was meant by a misspelt word,
// or "" if none is near: at most two edits, or a third of a long word's letters.
func nearest(word string, candidates []string) string {
	limit := max(2, utf8.RuneCountInString(word)/3)
	if utf8.RuneCountInString(word) <= 3 {
		limit = 1
	}
	best := ""
	for _, c := range candidates {
		if strings.EqualFold(word, c) {
			return c
		}
		if d := edits(strings.ToLower(word), strings.ToLower(c)); d <= limit {
			best, limit = c, d-1
		}
	}
	return best
}

// edits is the number of letters to insert, delete, replace or swap with their
// neighbour to turn a into b (optimal string alignment).
func edits(a, b string) int {
	s, t := []rune(a), []rune(b)
	before, last, row := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := range s {
		row[0] = i + 1
		for j := range t {
			cost := 1
			if s[i] == t[j] {
				cost = 0
			}
			row[j+1] = min(last[j]+cost, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(t)]
}

// meant words the hint for a misspelt word; empty if nothing is near.
func meant(word string, candidates []string) string {
	near := nearest(word, candidates)
	switch {
	case near == "":
		return ""
	case strings.EqualFold(near, word):
		return "upper and lower case differ: write " + near
	}
	return "did you mean " + near + "?"
}
