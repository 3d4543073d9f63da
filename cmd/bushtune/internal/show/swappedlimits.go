package show

import (
	"fmt"
	"math"
	"strings"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/swapping"
)

// limitsAtSize lists the limits of bushes that a set exceeds under loads of full size,
// anywhere in its range, each where most of it is used.
func (s *Swapped) limitsAtSize(set int) (all []swapping.Harm) {
	if len(s.Full.Sets) == 0 {
		return nil
	}
	for _, place := range s.Full.Sets[set] {
		for k := range place {
			for _, h := range overLimits(&place[k]) {
				h.Before = math.NaN() // the axle as it is cannot hold the load, or has no such strain
				if base := &s.Full.Base[k]; base.Answer != nil {
					if was := lastLike(base.Answer.Totals, h.What, h.Name); was != nil {
						h.Before = mostOf(was)
					}
				}
				all = append(all, h)
			}
		}
	}
	return all
}

// limitNotes are the limits that the axle as it is exceeds at full size.
func (f *FullSets) limitNotes() (all []string) {
	for k := range f.Base {
		for _, h := range overLimits(&f.Base[k]) {
			all = append(all, fmt.Sprintf("as it is, %s: %s, %s %.4g %s, the limit is %.4g %s", f.Base[k].Title, h.Name, h.What, h.After, h.Unit, h.Limit, h.Unit))
		}
	}
	return all
}

// overLimits lists the limits that are exceeded in a case at full size.
func overLimits(c *CaseAtSize) (all []swapping.Harm) {
	if c.Answer == nil {
		return nil
	}
	for i := range c.Answer.Totals {
		t := &c.Answer.Totals[i]
		kind := cases.UsageKind(t.Number)
		most := mostOf(t)
		if kind < 0 || t.Limit <= 0 || most <= t.Limit {
			continue
		}
		all = append(all, swapping.Harm{Kind: swapping.OverLimit, Index: -1, Asked: kind, Name: t.Where, What: strings.TrimPrefix(t.Title, "bush "),
			In: c.Name, After: most, Unit: t.Unit, Step: swapping.UseStep(t.Unit), Limit: t.Limit})
	}
	return all
}

// mostOf is the largest value of a curve.
func mostOf(s *cases.Series) (most float64) {
	for _, p := range s.Points {
		most = max(most, p.Value)
	}
	return most
}

// lastLike finds the curve of one limit of one bush.
func lastLike(all []cases.Series, what, element string) *cases.Series {
	for i := range all {
		if all[i].Where == element && all[i].Title == "bush "+what {
			return &all[i]
		}
	}
	return nil
}

// titles are those of the cases at full size, events among them.
func (f *FullSets) titles() map[string]string {
	all := map[string]string{}
	for k := range f.Base {
		all[f.Base[k].Name] = f.Base[k].Title
	}
	return all
}
