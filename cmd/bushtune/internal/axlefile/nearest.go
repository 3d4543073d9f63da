package axlefile

import (
	"strings"

	"bushtune/bushing/quantity"
)

// nearest returns the candidate that most likely was meant by a misspelt word,
// or "" if none is near.
func nearest(word string, candidates []string) string {
	for _, c := range candidates {
		if strings.EqualFold(word, c) {
			return c
		}
	}
	if near := quantity.Nearest(word, candidates); len(near) > 0 {
		return near[0]
	}
	return ""
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
