package optimize

import "slices"

// The choice among more combinations than can all be tuned: local search by
// exchange. From a start, the options of one place after the other are all tried
// with the other places as they are, and the best is kept, until no place changes
// (coordinate search; Aarts & Lenstra, Local Search in Combinatorial Optimization,
// 1997). Then the options of the best combinations are recombined. Nothing proves
// that a better combination does not exist.

// exchangeStarts is from how many combinations the exchange begins, if there is
// room for them: spread evenly over all combinations.
const exchangeStarts = 30

// exchanged is a combination met by the exchange; chosen is nil if it cannot be
// evaluated.
type exchanged struct {
	chosen *Chosen
	end    []float64 // coordinates
}

// exchanger remembers the combinations met.
type exchanger struct {
	*crew
	met  map[string]*exchanged
	room int // how many may still be tuned
}

// exchange searches among all combinations and tunes at most room of them.
func (k *crew) exchange(room int) {
	k.of = room
	x := &exchanger{crew: k, met: map[string]*exchanged{}, room: room}
	for _, z := range lowDiscrepancy(len(k.choice.Options), exchangeStarts, k.o.Seed) {
		options := make([]int, len(z))
		for place, n := range k.choice.Options {
			options[place] = min(int(z[place]*float64(n)), n-1)
		}
		x.descend(options)
	}
	for again := true; again && len(k.ranking.best) > 0; {
		before := keyOf(k.ranking.best[0].Options)
		x.tryAll(product(k.recombined()), x.met[before])
		x.descend(slices.Clone(k.ranking.best[0].Options))
		again = keyOf(k.ranking.best[0].Options) != before
	}
}

// mostRecombined is how many combinations of the options of the best are tried.
const mostRecombined = 1000

// recombined lists for each place the options that occur in the best combinations,
// of as many of these as have no more than mostRecombined combinations: an exchange
// in two places at once, as of both halves of an axle, is found so.
func (k *crew) recombined() [][]int {
	places := make([][]int, len(k.choice.Options))
	for i := range k.ranking.best {
		wider := make([][]int, len(places))
		count := 1
		for place, option := range k.ranking.best[i].Options {
			wider[place] = slices.Clone(places[place])
			if !slices.Contains(wider[place], option) {
				wider[place] = append(wider[place], option)
			}
			count *= len(wider[place])
		}
		if count > mostRecombined {
			break
		}
		places = wider
	}
	return places
}

// product lists all combinations of the options of each place.
func product(places [][]int) [][]int {
	all := [][]int{nil}
	for _, options := range places {
		var longer [][]int
		for _, start := range all {
			for _, option := range options {
				longer = append(longer, append(slices.Clone(start), option))
			}
		}
		all = longer
	}
	return all
}

// descend exchanges from one combination until no place changes.
func (x *exchanger) descend(options []int) {
	best := x.tryAll([][]int{options}, nil)
	for changed := true; changed && x.room > 0 && x.ctx.Err() == nil; {
		changed = false
		for place := range options {
			if next := x.tryAll(x.beside(options, place), best); next != best {
				best, changed = next, true
				copy(options, best.chosen.Options)
			}
		}
	}
}

// beside lists the combinations that differ in one place.
func (x *exchanger) beside(options []int, place int) [][]int {
	var all [][]int
	for option := range x.choice.Options[place] {
		if option != options[place] {
			other := append([]int(nil), options...)
			other[place] = option
			all = append(all, other)
		}
	}
	return all
}

// tryAll tunes those of the combinations that are new, as far as there is room, and
// returns the best of them and the one before, which may be nil.
func (x *exchanger) tryAll(all [][]int, before *exchanged) *exchanged {
	var fresh [][]int
	for _, options := range all {
		if x.met[keyOf(options)] == nil && len(fresh) < x.room {
			fresh = append(fresh, options)
		}
	}
	x.room -= len(fresh)
	for i, e := range x.tuneAll(fresh, before) {
		x.met[keyOf(fresh[i])] = e
	}
	best := before
	for _, options := range all {
		e := x.met[keyOf(options)]
		if e != nil && e.chosen != nil && (best == nil || best.chosen == nil || e.chosen.compare(best.chosen) < 0) {
			best = e
		}
	}
	return best
}

// tuneAll tunes combinations, each from the end of the one before among others.
func (x *exchanger) tuneAll(fresh [][]int, before *exchanged) []*exchanged {
	var near []float64
	if before != nil {
		near = before.end
	}
	done := make([]*exchanged, len(fresh))
	order := len(x.met)
	x.run(len(fresh), func(w *worker, i int) {
		c, end, err := w.tune(x.ctx, fresh[i], near)
		done[i] = &exchanged{c, end}
		f := found{ranking: newRanking(x.o.Best), order: order + i}
		f.take(c, err)
		x.gather(&f)
	})
	return done
}

// keyOf makes a combination a key of a map.
func keyOf(options []int) string {
	key := make([]byte, 0, 2*len(options))
	for _, o := range options {
		key = append(key, byte(o>>16), byte(o>>8), byte(o))
	}
	return string(key)
}
