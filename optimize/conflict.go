package optimize

import (
	"cmp"
	"context"
	"slices"
)

// Conflict is a smallest set of wants that cannot be met together: without any one of
// them the others can. It is found by local searches from several starts, so it tells
// what these could not find, and proves nothing.
type Conflict struct {
	Wants []int // indices into Problem.Wants, ascending; one alone cannot be met at all
	// Alone is, for each of them, the value that its number comes to with the others
	// met and nothing else asked: how far it could go.
	Alone []float64
}

// Conflict looks for the wants that keep a result from being reached; nil where
// everything is met, or where no set could be made out. It is the deletion filter for
// an irreducible infeasible subset (Chinneck, Feasibility and Infeasibility in
// Optimization, 2008, ch. 6; from memory): one want after the other, the easily met
// ones first, is left out for good if the rest cannot be met without it either.
func (r *Result) Conflict(ctx context.Context, p *Problem, o Options) *Conflict {
	if r.Status != NotReached && r.Status != AtCorner {
		return nil
	}
	c := &conflicting{problem: p, result: r, o: o.withDefaults(len(p.Parameters)), without: map[int][]float64{}}
	set := c.demanded()
	for _, i := range slices.Clone(set) {
		rest := slices.DeleteFunc(slices.Clone(set), func(k int) bool { return k == i })
		if x := c.meet(ctx, rest); x != nil {
			c.without[i] = x
		} else {
			set = rest
		}
	}
	if len(set) == 0 || ctx.Err() != nil || c.meet(ctx, set) != nil {
		return nil
	}
	slices.Sort(set)
	found := &Conflict{Wants: set}
	for _, i := range set {
		value, ok := c.alone(ctx, i, set)
		if !ok {
			return nil
		}
		found.Alone = append(found.Alone, value)
	}
	return found
}

// conflicting is a search for a conflict.
type conflicting struct {
	problem *Problem
	result  *Result
	o       Options
	without map[int][]float64 // parameters that meet all others, by the want left out
}

// demanded lists the wants with something to meet: limits, and targets where only
// they are missed. The ones met most easily come first.
func (c *conflicting) demanded() []int {
	var all []int
	limitsHold := c.result.After.Violation == 0
	for i, w := range c.problem.Wants {
		if w.Kind.isLimit() || w.Kind == Target && limitsHold {
			all = append(all, i)
		}
	}
	easy := func(i int) float64 {
		w, o := &c.problem.Wants[i], &c.result.Wants[i]
		if !o.Met {
			return 0
		}
		return -w.sign() * (w.Value - o.After) / w.Scale
	}
	slices.SortStableFunc(all, func(i, k int) int { return cmp.Compare(coarse(easy(k)), coarse(easy(i))) })
	return all
}

// limits are the wants of a set as limits: a target as two, a share of its step apart.
func (c *conflicting) limits(set []int) (all []Want) {
	for _, i := range set {
		w := c.problem.Wants[i]
		if w.Kind != Target {
			all = append(all, w)
			continue
		}
		low, high := w, w
		low.Kind, low.Value = AtLeast, w.Value-MetShare*w.Scale
		high.Kind, high.Value = AtMost, w.Value+MetShare*w.Scale
		all = append(all, low, high)
	}
	return all
}

// meet looks for parameters that meet a set of wants: from where the result ended,
// from those that met other sets, from where it began and from points spread over the
// bounds. Nil if none was found.
func (c *conflicting) meet(ctx context.Context, set []int) []float64 {
	if len(set) == 0 {
		return c.result.X
	}
	p := *c.problem
	p.Wants = c.limits(set)
	m := newModel(&p)
	for _, z := range c.starts(m) {
		start, err := m.gradients(z)
		if err != nil {
			continue
		}
		if f := m.nearest(ctx, start, c.o.Iterations); f.unmet == nil {
			return f.at.x
		}
	}
	return nil
}

func (c *conflicting) starts(m *model) [][]float64 {
	starts := [][]float64{m.box.coordinates(c.result.X)}
	for i := range c.problem.Wants {
		if x, ok := c.without[i]; ok {
			starts = append(starts, m.box.coordinates(x))
		}
	}
	starts = append(starts, m.box.coordinates(c.result.Start))
	return append(starts, lowDiscrepancy(len(m.box.free), c.o.Starts, c.o.Seed)...)
}

// alone is how far the number of a want goes with the others of the set met.
func (c *conflicting) alone(ctx context.Context, i int, set []int) (float64, bool) {
	others := slices.DeleteFunc(slices.Clone(set), func(k int) bool { return k == i })
	w := c.problem.Wants[i]
	up := w.sign() > 0
	if w.Kind == Target {
		up = c.result.Wants[i].After < w.Value
	}
	if w.Kind = MakeSmall; up {
		w.Kind = MakeLarge
	}
	w.Value, w.Weight = 0, 0
	p := *c.problem
	p.Wants = append(c.limits(others), w)
	p.Parameters = slices.Clone(p.Parameters)
	for k := range p.Parameters {
		p.Parameters[k].Start = c.without[i][k]
	}
	o := Options{Seed: c.o.Seed, Starts: c.o.Starts, Iterations: c.o.Iterations, GlobalEvaluations: -1}
	if o.Starts == 0 {
		o.Starts = -1
	}
	r, err := Solve(ctx, &p, o)
	if err != nil || r.After.Violation > 0 {
		return 0, false
	}
	return r.After.Values[w.Number], true
}
