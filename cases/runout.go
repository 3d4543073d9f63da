package cases

import (
	"cmp"
	"math"
	"slices"

	"bushtune/bushing"
	"bushtune/compliance"
)

// The kinds of RunOut.
const (
	ToeTurns    = "toe of the outer wheel turns"
	GapReached  = "gap reached"
	RateDoubled = "rate doubled"
	StopTouches = "bump stop touches"
)

// rateDoubled is how many times its rate at the design position a bush line has where
// it is told.
const rateDoubled = 2

// linesOfBush are the directions in which a void can close.
const linesOfBush = int(bushing.Stiff) + 1

// watchSteps is in how many steps at least a sweep looks for what runs out, however
// few points it reads: what opens and closes again within one is not seen.
const watchSteps = 40

// watched is one thing that may happen in a sweep: its value rises through zero
// there.
type watched struct {
	what, element, line string
	value               func() float64
}

// watch lists what may happen to the bushes and stops of the axle as it moves.
func (f *FullSize) watch() []watched {
	var all []watched
	for i := range f.study.bushes {
		b := &f.study.bushes[i]
		for l := range linesOfBush {
			all = append(all, f.watchLine(b, l)...)
		}
	}
	axle := f.study.rig.solver.Axle()
	for i := range axle.Elements {
		if e := &axle.Elements[i]; e.Kind == compliance.BumpStop {
			all = append(all, watched{StopTouches, e.Label(), "", func() float64 { return f.mover.PastGap(i, 0) }})
		}
	}
	return slices.DeleteFunc(all, func(w watched) bool { return math.IsInf(w.value(), 0) })
}

// watchLine watches one line of a bush: for its gap and, where the law is no straight
// line, for its rate.
func (f *FullSize) watchLine(b *bush, line int) []watched {
	if !f.mover.Curved(b.element) {
		return nil
	}
	name := bushing.DirectionNames[line]
	return []watched{
		{GapReached, b.label, name, func() float64 { return f.mover.PastGap(b.element, line) }},
		{RateDoubled, b.label, name, func() float64 { return f.stiffer(b, line) - rateDoubled }},
	}
}

// stiffer is the rate of a line at the present posture over that at the design
// position; 1 if it has none there.
func (f *FullSize) stiffer(b *bush, line int) float64 {
	if rest := f.study.rig.solver.Rate(b.element, line); rest != 0 {
		return f.mover.LineRate(b.element, line) / rest
	}
	return 1
}

// stiffening is, for every bush and its translational lines, how much stiffer it is at
// the present posture.
func (f *FullSize) stiffening() []float64 {
	all := make([]float64, 0, linesOfBush*len(f.study.bushes))
	for i := range f.study.bushes {
		for l := range linesOfBush {
			all = append(all, f.stiffer(&f.study.bushes[i], l))
		}
	}
	return all
}

// lookout follows what may happen in a sweep from one posture to the next.
type lookout struct {
	w      *sweeping
	list   []watched
	share  float64   // of the posture before
	slope  float64   // of the toe of the outer wheel there
	values []float64 // of the list there
	found  []RunOut
}

// newLookout starts at the present posture. A gap that is closed there already is
// found at once.
func newLookout(w *sweeping) *lookout {
	l := &lookout{w: w, list: w.f.watch()}
	l.share, l.slope, l.values = l.here()
	for i, v := range l.values {
		if v >= 0 {
			l.found = append(l.found, l.runOut(&l.list[i], w.x(w.share)))
		}
	}
	return l
}

// here reads the present posture.
func (l *lookout) here() (share, slope float64, values []float64) {
	values = make([]float64, len(l.list))
	for i := range l.list {
		values[i] = l.list[i].value()
	}
	return l.w.share, l.toeSlope(), values
}

func (l *lookout) toeSlope() float64 { return l.w.rateHere().wheels[l.w.on.Outer].along[toe] }

// goTo moves to a share in steps that are small enough to see what happens on the
// way, finds it, and ends at the share.
func (l *lookout) goTo(share float64) error {
	from := l.w.share
	steps := max(1, int(math.Ceil((share-from)/l.w.to*watchSteps-1e-9)))
	for n := 1; n <= steps; n++ {
		at := share
		if n < steps {
			at = from + (share-from)*float64(n)/float64(steps)
		}
		if err := l.step(at); err != nil {
			return err
		}
	}
	return nil
}

// step moves to a share and finds what happened since the posture before.
func (l *lookout) step(share float64) error {
	before, slopeBefore, valuesBefore := l.share, l.slope, l.values
	if err := l.w.goTo(share); err != nil {
		return err
	}
	l.share, l.slope, l.values = l.here()
	slope, values := l.slope, l.values
	away := false
	if slopeBefore*slope < 0 {
		if err := l.search(before, share, slopeBefore, slope, l.toeSlope); err != nil {
			return err
		}
		l.found = append(l.found, l.toeTurned())
		away = true
	}
	for i := range l.list {
		if !(valuesBefore[i] < 0 && values[i] >= 0) {
			continue
		}
		if err := l.search(before, share, valuesBefore[i], values[i], l.list[i].value); err != nil {
			return err
		}
		l.found = append(l.found, l.runOut(&l.list[i], l.w.x(l.w.share)))
		away = true
	}
	if away {
		return l.w.goTo(share)
	}
	return nil
}

// enough is the share of a sweep to which a place is found: half a thousandth of a
// newton in 5 kN.
const enough = 1e-7

// search moves to where a value that has different signs at two shares is zero, by
// the Illinois form of false position with a bisection every third time.
func (l *lookout) search(a, b, fa, fb float64, value func() float64) error {
	const most = 100
	for n := range most {
		if math.Abs(b-a) <= enough*l.w.to {
			break
		}
		c := (a*fb - b*fa) / (fb - fa)
		if n%3 == 2 {
			c = (a + b) / 2
		}
		if err := l.w.goTo(c); err != nil {
			return err
		}
		switch fc := value(); {
		case fc == 0:
			return nil
		case fc*fb < 0:
			a, fa, b, fb = b, fb, c, fc
		default:
			fa /= 2
			b, fb = c, fc
		}
	}
	return nil
}

// runOut is a thing that happens at a place of the sweep.
func (l *lookout) runOut(it *watched, x float64) RunOut {
	r := RunOut{What: it.what, X: x, Element: it.element, Line: it.line}
	if it.what == RateDoubled {
		r.Stiffer = it.value() + rateDoubled
	}
	return r
}

// toeTurned tells of the present posture, with the bush line that has stiffened most
// until there.
func (l *lookout) toeTurned() RunOut {
	f := l.w.f
	r := RunOut{What: ToeTurns, X: l.w.x(l.w.share)}
	most := 1 + enough
	for i, ratio := range f.stiffening() {
		if ratio > most*(1+1e-9) {
			most = ratio
			r.Element, r.Line, r.Stiffer = f.study.bushes[i/linesOfBush].label, bushing.DirectionNames[i%linesOfBush], ratio
		}
	}
	return r
}

// samePlace is the share of a sweep within which two places count as one, so that
// rounding does not order mirror images.
const samePlace = 10 * enough

// inOrder lists what was found by its place, things at one place in the order of the
// axle.
func (l *lookout) inOrder() []RunOut {
	near := samePlace * l.w.x(l.w.to)
	rank := make(map[int]float64) // of what was found: where the first thing at its place lies
	order := make([]int, len(l.found))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(l.found[a].X, l.found[b].X) })
	first := math.Inf(-1)
	for _, i := range order {
		if l.found[i].X-first > near {
			first = l.found[i].X
		}
		rank[i] = first
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(rank[a], rank[b]), cmp.Compare(a, b)) })
	sorted := make([]RunOut, len(order))
	for n, i := range order {
		sorted[n] = l.found[i]
	}
	return sorted
}
