package cases

import (
	"fmt"
	"slices"

	"bushtune/bushing/quantity"
)

// LimitUse is the largest value of a load, travel or strain of one bush, over all
// load cases and states or over a travel, beside its limit.
type LimitUse struct {
	Usage
	Element string  // with its side
	Kind    int     // radial load, axial load, radial travel, axial travel, compression, shear
	In      string  // the case, state or motion in which it is the largest
	X       float64 // of a travel: where, in mm
}

// Share is the value as a share of the limit; 0 where none is given.
func (u *LimitUse) Share() float64 {
	if u.Limit <= 0 {
		return 0
	}
	return u.Value / u.Limit
}

// LargestUses keeps of several uses of one limit, or of one load without a limit,
// the largest, in the order of their first appearance.
func LargestUses(all []LimitUse) (largest []LimitUse) {
	for _, u := range all {
		at := slices.IndexFunc(largest, func(o LimitUse) bool { return o.Element == u.Element && o.Kind == u.Kind })
		switch {
		case at < 0:
			largest = append(largest, u)
		case quantity.Exceeds(u.Value, largest[at].Value):
			largest[at] = u
		}
	}
	return largest
}

// LimitUses lists for every limit of every bush the case or state that uses most of it.
func (s *Study) LimitUses() []LimitUse {
	return slices.DeleteFunc(s.Uses(), func(u LimitUse) bool { return u.Limit <= 0 })
}

// Uses lists every load, travel and strain of every bush, with or without a limit, where
// it is the largest of all cases and states.
func (s *Study) Uses() []LimitUse {
	var all []LimitUse
	for _, b := range s.BushLoads() {
		usages := s.Usages(&b)
		for kind, u := range append(usages[:], s.WorstStrains(&b)...) {
			all = append(all, LimitUse{Usage: u, Element: b.Element, Kind: kind, In: b.Case})
		}
	}
	return LargestUses(all)
}

// limitWarnings name each limit of each bush that is exceeded, in the case that
// exceeds it most.
func (s *Study) limitWarnings() []string {
	var all []string
	for _, u := range s.LimitUses() {
		if u.Over() {
			all = append(all, fmt.Sprintf("%s: %s %.4g %s in %s, the limit is %.4g %s", u.Element, u.What, u.Value, u.Unit, u.In, u.Limit, u.Unit))
		}
	}
	return all
}
