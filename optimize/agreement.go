package optimize

import (
	"math"
	"sort"
)

// Agreement compares the ends of all starts.
type Agreement struct {
	Starts     int // starts tried
	Failed     int // of these, could not be evaluated
	SameCost   int // ended with the best violation and aim
	SamePoint  int // of these, ended at X
	CostSpread float64
	// PointSpread is, per parameter in the caller's unit, the width of the ends
	// with the best cost: wide means that the wants do not settle it.
	PointSpread []float64
	Ends        []End // distinct, best first; the first is the result
}

// End is a point where starts ended.
type End struct {
	X         []float64
	Aim       float64
	Violation float64
	Starts    int // how many starts ended here
}

// samePoint is the distance, in ranges, within which two ends count as one.
const samePoint = 1e-4

// agreement summarises the finishes; best is one of them.
func (m *model) agreement(finishes []finish, best finish) Agreement {
	a := Agreement{Starts: len(finishes)}
	low, high := clone(best.at.x), clone(best.at.x)
	for _, f := range finishes {
		if f.at == nil {
			a.Failed++
			continue
		}
		if !sameCost(f.violation, best.violation, costTolerance) {
			continue
		}
		a.CostSpread = math.Max(a.CostSpread, math.Abs(f.at.aim-best.at.aim))
		if !sameCost(f.at.aim, best.at.aim, costTolerance) {
			continue
		}
		a.SameCost++
		if near(f.at, best.at) {
			a.SamePoint++
		}
		for i, x := range f.at.x {
			low[i], high[i] = math.Min(low[i], x), math.Max(high[i], x)
		}
	}
	a.PointSpread = high
	addScaled(a.PointSpread, -1, low)
	a.Ends = distinct(finishes, best)
	return a
}

// distinct lists the different ends: the best, then by violation and aim.
func distinct(finishes []finish, best finish) []End {
	groups := []finish{best}
	counts := []int{0}
	for _, f := range finishes {
		if f.at == nil {
			continue
		}
		k := 0
		for k < len(groups) && !near(f.at, groups[k].at) {
			k++
		}
		if k == len(groups) {
			groups, counts = append(groups, f), append(counts, 0)
		}
		counts[k]++
	}
	ends := make([]End, len(groups))
	for k, f := range groups {
		ends[k] = End{X: clone(f.at.x), Aim: f.at.aim, Violation: f.violation, Starts: counts[k]}
	}
	rest := ends[1:]
	sort.SliceStable(rest, func(i, j int) bool {
		if a, b := rest[i].Violation, rest[j].Violation; exceeds(a, b) || exceeds(b, a) {
			return a < b
		}
		return exceeds(rest[j].Aim, rest[i].Aim)
	})
	return ends
}

func near(a, b *evaluation) bool {
	for i := range a.z {
		if math.Abs(a.z[i]-b.z[i]) > samePoint {
			return false
		}
	}
	return true
}
