package optimize

import (
	"cmp"
	"maps"
	"math"
	"slices"
)

// compare orders two combinations: limits held first, then the smaller violation,
// the smaller aim, the lower price, the earlier options. Costs are compared as
// coarse does it, so that the order is a total one.
func (c *Chosen) compare(d *Chosen) int {
	return cmp.Or(
		cmp.Compare(unheld(c), unheld(d)),
		cmp.Compare(coarse(c.Violation), coarse(d.Violation)),
		cmp.Compare(coarse(c.Aim), coarse(d.Aim)),
		cmp.Compare(c.Price, d.Price),
		slices.Compare(c.Options, d.Options),
	)
}

// AsGood tells whether a state is no worse than a combination, in what decides between
// combinations; nothing need be changed for it.
func (s *State) AsGood(c *Chosen) bool {
	return (&Chosen{Aim: s.Aim, Violation: s.Violation, Held: s.Held}).compare(c) <= 0
}

func unheld(c *Chosen) int {
	if c.Held {
		return 0
	}
	return 1
}

// coarse rounds a cost to a millionth of itself, or to costTolerance if that is
// more: what rounding and the stopping rule leave between two runs to the same
// optimum must not decide between two combinations.
func coarse(cost float64) float64 {
	grain := costTolerance
	for math.Abs(cost) > grain/costTolerance {
		grain *= 10
	}
	return math.Round(cost/grain) * grain
}

// Above is by how much c costs more than best; infinite if it misses limits that
// best holds.
func (c *Chosen) Above(best *Chosen) float64 {
	switch {
	case c.Held && best.Held:
		return c.Aim - best.Aim
	case best.Held:
		return math.Inf(1)
	}
	return math.Sqrt(c.Violation) - math.Sqrt(best.Violation)
}

// ranking keeps the best combinations, and the best of every price. What it holds
// at the end does not depend on the order in which they are added.
type ranking struct {
	room   int
	best   []Chosen
	prices map[int]Chosen
}

func newRanking(room int) *ranking { return &ranking{room: room, prices: map[int]Chosen{}} }

// add takes a combination in where it belongs.
func (r *ranking) add(c *Chosen) {
	r.addBest(c)
	r.addPrice(c)
}

func (r *ranking) addBest(c *Chosen) {
	at, _ := slices.BinarySearchFunc(r.best, c, func(a Chosen, b *Chosen) int { return a.compare(b) })
	if at == r.room {
		return
	}
	if len(r.best) == r.room {
		r.best = r.best[:r.room-1]
	}
	r.best = slices.Insert(r.best, at, *c)
}

func (r *ranking) addPrice(c *Chosen) {
	if held, there := r.prices[c.Price]; !there || c.compare(&held) < 0 {
		r.prices[c.Price] = *c
	}
}

// merge adds all that another ranking holds.
func (r *ranking) merge(other *ranking) {
	for i := range other.best {
		r.addBest(&other.best[i])
	}
	for _, c := range other.prices {
		r.addPrice(&c)
	}
}

// byPrice lists the best of every price, the lowest price first.
func (r *ranking) byPrice() []Chosen {
	var all []Chosen
	for _, price := range slices.Sorted(maps.Keys(r.prices)) {
		all = append(all, r.prices[price])
	}
	return all
}
