package optimize

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
)

// Choice asks for the best combinations of options: every place takes one of its
// own options, and the parameters of a problem are tuned inside each combination.
//
// # What is exact and what is not
//
// Up to ChoiceOptions.Exhaustive combinations, every one is tuned: none is left
// out, so no bound has to be trusted. Beyond, places are exchanged one by one from
// several starts, which is a heuristic, and ChoiceResult.Exhaustive says so. The
// tune inside a combination is that of Solve from Starts starts: a local method. The
// combinations listed, the best and those of Prices, are tuned again from as many
// starts as Solve takes.
type Choice struct {
	Options []int   // how many options each place has, at least one
	Prices  [][]int // [place][option]; nil: nothing has a price. A combination costs the sum.

	// Bench makes the work place of one processor, which no other uses.
	Bench func() (*Bench, error)
}

// Bench is a problem into which a combination can be put. Its parameters and
// wants are the same for all combinations.
type Bench struct {
	Problem *Problem
	Put     func(options []int) error // the error says that this combination cannot be
}

// ChoiceOptions steers Choose. In every field 0 means the default.
type ChoiceOptions struct {
	Best       int    // how many combinations are listed
	Exhaustive int    // up to how many combinations every one is tuned, beyond how many are at most
	Processors int    // that work at the same time; the result does not depend on it
	Iterations int    // per stage and start
	Seed       uint64 // of the points looked at inside a combination, and of the exchange
	Progress   func(done, of int)
}

const (
	defaultBest       = 10
	defaultExhaustive = 20000
)

func (o ChoiceOptions) withDefaults() ChoiceOptions {
	o.Best = defaulted(o.Best, defaultBest)
	o.Exhaustive = defaulted(o.Exhaustive, defaultExhaustive)
	o.Processors = defaulted(o.Processors, runtime.GOMAXPROCS(0))
	o.Iterations = defaulted(o.Iterations, defaultIterations)
	return o
}

// Chosen is one combination, tuned.
type Chosen struct {
	Options        []int     // of each place
	Price          int       // sum of the prices of its options
	X              []float64 // parameters
	Values         []float64 // numbers
	Violation, Aim float64   // costs as the package comment defines
	Held           bool      // every limit holds
	Settled        bool      // the first-order conditions hold
}

// ChoiceResult is the outcome of Choose.
type ChoiceResult struct {
	Best   []Chosen // the best first; of equal costs the cheaper, then the earlier options
	Prices []Chosen // the best of every price that occurs, the lowest price first

	Combinations float64 // how many there are
	Tuned        int     // how many were tuned
	Impossible   int     // of those, how many could not be evaluated
	Exhaustive   bool    // every combination was tuned; else the choice is heuristic
	Stopped      bool    // the context ended before all was done
	Starts       int     // of the tune inside a combination, at most
	Count        Count   // of all combinations together
}

// Cheaper returns the combination of the lowest price that costs at most step
// more than the best, or nil if that is the best itself. Where the best holds all
// limits, so must the cheaper one, and step counts in the aim; else in √violation,
// in scales.
func (r *ChoiceResult) Cheaper(step float64) *Chosen {
	if len(r.Best) == 0 {
		return nil
	}
	best := &r.Best[0]
	for i := range r.Prices {
		c := &r.Prices[i]
		if c.Price >= best.Price {
			return nil
		}
		if c.Above(best) <= step {
			return c
		}
	}
	return nil
}

// ErrNoChoice tells that not one combination could be evaluated.
var ErrNoChoice = errors.New("optimize: no combination can be evaluated")

// Choose tunes the parameters in combination after combination and lists the best.
// The error is for a choice that is wrong, or ErrNoChoice. If ctx ends, the best so
// far are returned as Stopped. Otherwise the same choice and seed give the same
// result to the last bit on any number of processors.
func Choose(ctx context.Context, c *Choice, o ChoiceOptions) (*ChoiceResult, error) {
	if err := c.validate(); err != nil {
		return nil, err
	}
	o = o.withDefaults()
	crew, err := newCrew(ctx, c, o)
	if err != nil {
		return nil, err
	}
	all := c.combinations()
	exhaustive := all <= float64(o.Exhaustive)
	if exhaustive {
		crew.everyOne(int(all))
	} else {
		crew.exchange(o.Exhaustive)
	}
	crew.polish()
	result := crew.result()
	result.Combinations, result.Stopped = all, ctx.Err() != nil
	result.Exhaustive = exhaustive && !result.Stopped
	if len(result.Best) == 0 && !result.Stopped {
		return nil, fmt.Errorf("%w: %w", ErrNoChoice, crew.failure)
	}
	return result, nil
}

// combinations is how many there are; a float64, because the product of many
// places is more than an int holds.
func (c *Choice) combinations() float64 {
	all := 1.0
	for _, n := range c.Options {
		all *= float64(n)
	}
	return all
}

func (c *Choice) validate() error {
	switch {
	case c.Bench == nil:
		return errors.New("optimize: no Bench function")
	case len(c.Options) == 0:
		return errors.New("optimize: no place to choose for")
	case slices.Min(c.Options) < 1:
		return errors.New("optimize: a place has no options")
	case c.Prices == nil:
		return nil
	case len(c.Prices) != len(c.Options):
		return fmt.Errorf("optimize: prices of %d places, there are %d", len(c.Prices), len(c.Options))
	}
	for place, prices := range c.Prices {
		if len(prices) != c.Options[place] {
			return fmt.Errorf("optimize: place %d has %d options and %d prices", place, c.Options[place], len(prices))
		}
	}
	return nil
}

// price is the sum of the prices of a combination.
func (c *Choice) price(options []int) (sum int) {
	for place, prices := range c.Prices {
		sum += prices[options[place]]
	}
	return sum
}

// At is the state of a problem at the parameters x, which lie within the bounds;
// a problem without parameters has one state. The error is that of Evaluate.
func (p *Problem) At(x []float64) (State, error) {
	m := newModel(p)
	e, err := m.values(m.box.coordinates(x))
	if err != nil {
		return State{}, err
	}
	f := finish{}
	f.settle(m, e)
	return State{Values: e.values, Aim: e.aim, Violation: f.violation, Held: f.unmet == nil}, nil
}
