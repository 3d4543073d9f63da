package optimize

import (
	"cmp"
	"math"
	"slices"
)

// tied is the share of the larger by which two computed numbers may differ and still
// be one, so that rounding, which is another one on other processors, does not choose
// among them: the first one stays.
const tied = 1e-7

// exceeds tells whether a is more than b by more than rounding.
func exceeds(a, b float64) bool {
	if math.IsInf(b, 0) || math.IsInf(a, 0) {
		return a > b
	}
	return a-b > tied*max(math.Abs(a), math.Abs(b))
}

// greatestFirst orders places of a list by the size of what is there; those that are
// one by rounding keep their order.
func greatestFirst(places []int, size func(int) float64) {
	slices.SortStableFunc(places, func(a, b int) int { return cmp.Compare(size(b), size(a)) })
	for from := 0; from < len(places); {
		to := from + 1
		for to < len(places) && !exceeds(size(places[from]), size(places[to])) {
			to++
		}
		slices.Sort(places[from:to])
		from = to
	}
}
