package optimize

import (
	"context"
	"slices"
	"sync"
	"sync/atomic"
)

// crew shares the combinations among workers and gathers what they find.
type crew struct {
	ctx     context.Context
	choice  *Choice
	o       ChoiceOptions
	workers []*worker

	lock       sync.Mutex
	ranking    *ranking
	tuned      int
	impossible int
	failure    error // of the first job, by order, with a combination that cannot be evaluated
	failed     int   // its order
	of         int   // how many are to be tuned, for progress
}

func newCrew(ctx context.Context, c *Choice, o ChoiceOptions) (*crew, error) {
	k := &crew{ctx: ctx, choice: c, o: o, ranking: newRanking(o.Best)}
	for range o.Processors {
		w, err := newWorker(c, o)
		if err != nil {
			return nil, err
		}
		k.workers = append(k.workers, w)
	}
	return k, nil
}

// run lets the workers do the jobs 0 to count−1, each by whoever is free.
func (k *crew) run(count int, job func(w *worker, number int)) {
	var next atomic.Int64
	var group sync.WaitGroup
	for _, w := range k.workers {
		group.Go(func() {
			for k.ctx.Err() == nil {
				number := int(next.Add(1)) - 1
				if number >= count {
					return
				}
				job(w, number)
			}
		})
	}
	group.Wait()
}

// chain is how many combinations that follow each other, most of them different in
// the last place only, one worker tunes, each also from the end of the one before.
// A fixed length keeps the starts, and so the result, the same on any number of
// processors.
const chain = 20

// everyOne tunes all combinations, chain by chain, the last place moving fastest.
func (k *crew) everyOne(all int) {
	k.of = all
	k.run((all+chain-1)/chain, func(w *worker, number int) {
		f := found{ranking: newRanking(k.o.Best), order: number}
		var near []float64
		for at := number * chain; at < min((number+1)*chain, all) && k.ctx.Err() == nil; at++ {
			c, end, err := w.tune(k.ctx, k.choice.combination(at), near)
			if f.take(c, err); err == nil {
				near = end
			}
		}
		k.gather(&f)
	})
}

// found is what one job found.
type found struct {
	ranking    *ranking
	order      int // of the job among all
	tuned      int
	impossible int
	failure    error // the first
}

// take notes one combination, or why it cannot be.
func (f *found) take(c *Chosen, err error) {
	f.tuned++
	if err == nil {
		f.ranking.add(c)
		return
	}
	f.impossible++
	if f.failure == nil {
		f.failure = err
	}
}

// combination is number at in the order in which the last place moves fastest.
func (c *Choice) combination(at int) []int {
	options := make([]int, len(c.Options))
	for place := len(options) - 1; place >= 0; place-- {
		options[place] = at % c.Options[place]
		at /= c.Options[place]
	}
	return options
}

// gather takes over what one job found.
func (k *crew) gather(f *found) {
	k.lock.Lock()
	defer k.lock.Unlock()
	k.ranking.merge(f.ranking)
	k.tuned += f.tuned
	k.impossible += f.impossible
	if f.failure != nil && (k.failure == nil || f.order < k.failed) {
		k.failure, k.failed = f.failure, f.order
	}
	if k.o.Progress != nil {
		k.o.Progress(k.tuned, k.of)
	}
}

// polish tunes the best combinations, and the best of every price, again from more
// starts.
func (k *crew) polish() {
	var known []Chosen
	for _, c := range append(slices.Clone(k.ranking.best), k.ranking.byPrice()...) {
		if !slices.ContainsFunc(known, func(o Chosen) bool { return slices.Equal(o.Options, c.Options) }) {
			known = append(known, c)
		}
	}
	k.run(len(known), func(w *worker, i int) { known[i] = w.again(k.ctx, &known[i]) })
	k.ranking = newRanking(k.o.Best)
	for i := range known {
		k.ranking.add(&known[i])
	}
}

func (k *crew) result() *ChoiceResult {
	r := &ChoiceResult{
		Best: k.ranking.best, Prices: k.ranking.byPrice(),
		Tuned: k.tuned, Impossible: k.impossible, Starts: k.starts(),
	}
	for _, w := range k.workers {
		r.Count.Values += w.model.count.Values
		r.Count.Gradients += w.model.count.Gradients
	}
	return r
}

// starts is from how many points a combination is tuned.
func (k *crew) starts() int {
	if len(k.workers[0].model.box.free) == 0 {
		return 1
	}
	return mostStarts
}
