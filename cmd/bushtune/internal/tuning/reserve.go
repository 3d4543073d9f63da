package tuning

import (
	"math"

	"bushtune/cases"
	"bushtune/optimize"
)

// Limit states a want as a limit, or tells that it is none. A want that just holds may
// be off by the share of a step that counts as met.
func (a *Asked) Limit() (cases.Limit, bool) {
	slack := optimize.MetShare * a.Want.Scale * a.Unit.Factor
	l := cases.Limit{Goal: a.Goal, Low: math.Inf(-1), High: math.Inf(1), Scale: a.Want.Scale * a.Unit.Factor}
	switch a.Want.Kind {
	case optimize.AtLeast:
		l.Low = a.Inside() - slack
	case optimize.AtMost:
		l.High = a.Inside() + slack
	default:
		return l, false
	}
	return l, true
}

// Reserve is how far all rates of an axle may be off together, of every bush and of the
// bushes at the ends of links, before the first of its limits is lost.
type Reserve struct {
	cases.Leeway
	Limits  []int // which wants are limits, in the order that Leeway counts them
	Missed  int   // of those, how many do not hold as the axle is; they end no reserve
	Without bool  // nothing is wanted that could be lost, or there is no rate
}

// Least is the smaller of two reserves, each way, of one axle at two places of a range:
// a limit that is missed at one of them counts as missed.
func (r *Reserve) Least(o *Reserve) *Reserve {
	if o == nil || r.Missed > o.Missed || r.Without {
		return r
	}
	if o.Missed > r.Missed || o.Without {
		return o
	}
	least := *r
	if o.Softer.Factor > r.Softer.Factor {
		least.Softer = o.Softer
	}
	if o.Stiffer.Factor < r.Stiffer.Factor {
		least.Stiffer = o.Stiffer
	}
	return &least
}

// ReserveOf finds the reserve of an axle as its study stands.
func ReserveOf(study *cases.Study, asked []Asked) (*Reserve, error) {
	r := &Reserve{}
	var limits []cases.Limit
	for i := range asked {
		if l, is := asked[i].Limit(); is {
			limits, r.Limits = append(limits, l), append(r.Limits, i)
		}
	}
	l, err := cases.NewLeeways(study, limits)
	if err != nil {
		return nil, err
	}
	all := l.All()
	r.Missed = len(l.Failing())
	if r.Without = len(all.Elements) == 0 || r.Missed == len(limits); !r.Without {
		r.Leeway = l.Of(all)
	}
	return r, nil
}
