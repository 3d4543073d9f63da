package quantity

import (
	"cmp"
	"math"
	"slices"
)

// sameShare is the share of the larger by which two computed numbers may differ and
// still be one: far more than rounding leaves of an axle's answers, far less than is
// ever printed. Processors that multiply and add in one rounding, and those that do
// not, then choose alike among mirror images.
const sameShare = 1e-7

// Exceeds tells whether a is more than b by more than rounding; among numbers that are
// one the first that is asked stays.
func Exceeds(a, b float64) bool {
	if math.IsInf(b, 0) || math.IsInf(a, 0) {
		return a > b
	}
	return a-b > sameShare*max(math.Abs(a), math.Abs(b))
}

// GreatestFirst orders a list by a size; those whose sizes are one by rounding keep
// the order in which they stand.
func GreatestFirst[T any](list []T, size func(T) float64) {
	type placed struct {
		item        T
		size, group float64
		at          int
	}
	all := make([]placed, len(list))
	for i, item := range list {
		all[i] = placed{item: item, size: size(item), at: i}
	}
	slices.SortStableFunc(all, func(a, b placed) int { return cmp.Compare(b.size, a.size) })
	for i := range all {
		all[i].group = all[i].size
		if i > 0 && !Exceeds(all[i-1].group, all[i].size) {
			all[i].group = all[i-1].group
		}
	}
	slices.SortStableFunc(all, func(a, b placed) int {
		return cmp.Or(cmp.Compare(b.group, a.group), cmp.Compare(a.at, b.at))
	})
	for i := range all {
		list[i] = all[i].item
	}
}
