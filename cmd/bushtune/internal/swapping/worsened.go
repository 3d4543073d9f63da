package swapping

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/compliance"
)

// HarmKind is what got worse. The order is that of the harm.
type HarmKind int

// The kinds of harm. OverLimit is listed whether it got worse or was so before.
const (
	NoFurther HarmKind = iota // the axle cannot be followed as far over its travel
	OverLimit                 // of a bush
	Pulling                   // to one side where the car goes straight
	Number                    // of the study
	AtSize                    // of a want under a load of full size
	OnTravel                  // a curve over the travel
	Carrying                  // load, travel or strain of a bush
)

// kindNames are the words for records, in order.
var kindNames = [...]string{"no further", "over its limit", "pull", "number", "number", "over the travel", "bush"}

// String is the word for records.
func (k HarmKind) String() string { return kindNames[k] }

// Harm is one thing that got worse, or a limit that is exceeded.
type Harm struct {
	Kind          HarmKind
	Index         int     // of the number in the study: Number, AtSize, and Pulling that of the right wheel
	Asked         int     // of AtSize: which want; of a bush: which of its limits
	Before, After float64 // in Unit; not a number where the axle cannot hold the load
	Unit          string
	Step          float64 // that can be noticed, in Unit
	Steps         float64 // by how many of them it is worse; 0: it is not
	Broken        bool    // a limit of the axle file on it was met and is no longer

	Want   string  // of the axle file, that judges; empty: what is usual
	Inside bool    // a limit of the axle file on it still holds
	What   string  // of a bush: "radial load"; of a curve its name
	Name   string  // of a bush, or the wheel of a curve; empty: both wheels alike
	In     string  // case, state or motion
	X      float64 // of a curve or of a bush over the travel: where, in mm
	Travel bool    // In is a motion
	Limit  float64 // in Unit; 0: none
	Rest   float64 // of a wheel rate: at the design position, after
}

// Noticeable steps where a number of the study has none: common practice, no source.
const (
	shareStep  = 0.05 // of a limit
	loadShare  = 0.1  // of a bush load without a limit
	loadStep   = 100  // N, of that at least
	travelStep = 1    // mm by which the axle can be followed less far
)

// Worsened lists what got worse from one axle to another, given at one or more places
// of a range, by a noticeable step or more, and every limit of a bush that is exceeded:
// first where the axle cannot be followed, then exceeded limits, then the rest by
// noticeable steps. What is worse is judged by the wants of the axle file, else by
// what is usual.
func Worsened(before *Standing, afters []*Standing, asked []tuning.Asked) []Harm {
	var all []Harm
	for _, after := range afters {
		w := worsening{before: before, after: after, asked: asked}
		w.numbers()
		w.sized()
		w.pulls()
		w.travels()
		w.bushes()
		for _, h := range w.harms {
			all = keepWorse(all, h)
		}
	}
	inOrder(all)
	return all
}

// inOrder puts the most harmful first.
func inOrder(all []Harm) {
	quantity.GreatestFirst(all, func(h Harm) float64 { return h.weight() })
	slices.SortStableFunc(all, func(a, b Harm) int { return cmp.Compare(a.class(), b.class()) })
}

// WithLimits adds limits of bushes that are exceeded under more loads to what got
// worse: each limit is listed once, where most of it is used.
func WithLimits(all, more []Harm) []Harm {
	all = slices.Clone(all)
	for _, h := range more {
		all = keepWorse(all, h)
	}
	inOrder(all)
	return all
}

// WorsenedBetween is Worsened of two studies as they stand.
func WorsenedBetween(before, after *cases.Study, asked []tuning.Asked) ([]Harm, error) {
	was, err := Stand(before, asked)
	if err != nil {
		return nil, err
	}
	now, err := Stand(after, asked)
	if err != nil {
		return nil, err
	}
	return Worsened(was, []*Standing{now}, asked), nil
}

// class sorts harm that no number of steps outweighs before the rest.
func (h *Harm) class() HarmKind { return min(h.Kind, Number) }

// weight orders harm of one class: exceeded limits by their share, the rest by steps.
func (h *Harm) weight() float64 {
	if h.Kind == OverLimit {
		return h.After / h.Limit
	}
	return h.Steps
}

// keepWorse adds a harm, or puts it in the place of the same harm elsewhere, in another
// motion or at another place of a range, where it is worse.
func keepWorse(all []Harm, h Harm) []Harm {
	at := slices.IndexFunc(all, func(o Harm) bool { return o.same(&h) })
	switch {
	case at < 0:
		return append(all, h)
	case h.Kind < all[at].Kind, h.Kind == all[at].Kind && h.weight() > all[at].weight():
		all[at] = h
	}
	return all
}

// ofBush tells whether a harm is a use of a bush.
func (h *Harm) ofBush() bool { return h.Kind == OverLimit || h.Kind == Carrying }

// same tells whether two harms are about the same thing.
func (h *Harm) same(o *Harm) bool {
	if h.ofBush() {
		return o.ofBush() && o.Name == h.Name && o.Asked == h.Asked
	}
	return o.Kind == h.Kind && o.Index == h.Index && o.Asked == h.Asked && o.What == h.What && o.Name == h.Name && o.In == h.In
}

// worsening compares two axles.
type worsening struct {
	before, after *Standing
	asked         []tuning.Asked
	harms         []Harm
}

// add keeps a harm of at least one step, or that breaks a limit.
func (w *worsening) add(h Harm) {
	if h.Steps >= 1 || h.Broken {
		w.harms = append(w.harms, h)
	}
}

// numbers compares every number that has a name of its own, and every wanted one.
func (w *worsening) numbers() {
	numbers := w.after.study.Numbers()
	for i := range numbers {
		n := &numbers[i]
		ch := &Change{Index: i, Before: n.Unit.Written(w.before.values[i]), Low: n.Unit.Written(w.after.values[i])}
		ch.High = ch.Low
		h := Harm{Kind: Number, Index: i, Before: ch.Before, After: ch.Low, Unit: n.Unit.Name, In: n.Case, Step: n.Step, Steps: ch.steps(n.Step)}
		if w.worse(ch, n.Name, &h) {
			w.add(h)
		}
	}
}

// worse judges a change of a number: by the wants of the axle file on it, and where
// they leave it open, by what is usual.
func (w *worsening) worse(ch *Change, name string, h *Harm) bool {
	judged, worse := false, false
	for i := range w.asked {
		a := &w.asked[i]
		if a.Index != ch.Index || a.Goal.Size != 0 {
			continue
		}
		switch byWant(a, ch) {
		case Worse, Depends:
			h.Want, h.Inside, h.Broken = a.Name, false, h.Broken || crosses(a, ch)
			worse = true
		case Better:
			judged = true
		case Kept:
			if !worse {
				h.Want, h.Inside = a.Name, true
			}
		}
	}
	return worse || !judged && verdict(cases.UsualCost(name), 0, ch) == Worse
}

// sized compares what is wanted under loads of full size.
func (w *worsening) sized() {
	numbers := w.after.study.Numbers()
	for k := range w.asked {
		a := &w.asked[k]
		if a.Goal.Size == 0 {
			continue
		}
		ch := &Change{Index: a.Index, Before: a.Unit.Written(w.before.sized[k]), Low: a.Unit.Written(w.after.sized[k])}
		ch.High, ch.Lost = ch.Low, math.IsNaN(ch.Low)
		h := Harm{Kind: AtSize, Index: a.Index, Asked: k, Before: ch.Before, After: ch.Low, Unit: a.Unit.Name, Want: a.Name,
			In: numbers[a.Index].Case, Step: numbers[a.Index].Step, Steps: math.Abs(ch.Low-ch.Before) / numbers[a.Index].Step, Broken: crosses(a, ch)}
		if byWant(a, ch) == Worse {
			if ch.Lost {
				h.Steps = math.Inf(1)
			}
			w.add(h)
		}
	}
}

// pulls compares how far the axle steers where the car goes straight.
func (w *worsening) pulls() {
	numbers := w.after.study.Numbers()
	for i, now := range w.after.pulls {
		n := &numbers[now.Right]
		was := 0.0
		if i < len(w.before.pulls) {
			was = w.before.pulls[i].Steer
		}
		h := Harm{Kind: Pulling, Index: now.Right, Before: n.Unit.Written(was), After: n.Unit.Written(now.Steer), Unit: n.Unit.Name, In: n.Case, Step: n.Step}
		h.Steps = (math.Abs(h.After) - math.Abs(h.Before)) / n.Step
		w.add(h)
	}
}

// travels compares every motion: how far it goes, and the curves as far as both go.
func (w *worsening) travels() {
	for i, now := range w.after.travels {
		was := w.before.travels[i]
		w.farthest(was, now)
		for k := range now.Series {
			s := &now.Series[k]
			if before := seriesLike(was, s); before != nil {
				w.curve(now, before, s)
			}
		}
	}
}

// farthest compares how far a motion could be followed.
func (w *worsening) farthest(was, now *cases.OverTravel) {
	wasFrom, wasTo := reached(was)
	from, to := reached(now)
	motion := now.Motion.String()
	if worse := from - wasFrom; worse >= travelStep {
		w.add(Harm{Kind: NoFurther, Index: -1, In: motion, Travel: true, What: "down", Before: wasFrom, After: from, Unit: quantity.Millimetre.Name, Step: travelStep, Steps: worse / travelStep})
	}
	if worse := wasTo - to; worse >= travelStep {
		w.add(Harm{Kind: NoFurther, Index: -1, In: motion, Travel: true, What: "up", Before: wasTo, After: to, Unit: quantity.Millimetre.Name, Step: travelStep, Steps: worse / travelStep})
	}
}

// seriesLike finds the same curve of another axle.
func seriesLike(t *cases.OverTravel, s *cases.Series) *cases.Series {
	for i := range t.Series {
		if o := &t.Series[i]; o.Number == s.Number && o.Where == s.Where {
			return o
		}
	}
	return nil
}

// curve compares a curve where it got worse most: at the heights at which both were
// read, and what it costs anywhere with the most that it cost before. A wheel is looked
// at while it is the outer one, in roll, and once for both where they are alike.
func (w *worsening) curve(t *cases.OverTravel, was, now *cases.Series) {
	restBefore, rest := valueAt(was, 0), valueAt(now, 0)
	costBefore, cost := cases.TravelCost(was.Number, t.Motion, restBefore), cases.TravelCost(now.Number, t.Motion, rest)
	twins := !w.after.bothTurns()
	if cost == nil || twins && t.Motion == cases.Heave && now.Where == cases.WheelNames[1-t.Outer] {
		return
	}
	worst := Harm{Kind: OnTravel, Index: -1, What: now.Number, In: now.Case, Travel: true, Unit: now.Unit, Step: now.Step, Rest: rest}
	if t.Motion != cases.Heave || !twins {
		worst.Name = now.Where
	}
	if t.Motion != cases.Heave && twins && now.Where != "" {
		worst.Name = "outer"
	}
	outer := func(x float64) bool { // the wheel is the outer one there
		return t.Motion == cases.Heave || now.Where == "" || x > 0 == (now.Where == cases.WheelNames[t.Outer])
	}
	most := math.Inf(-1) // cost anywhere, before
	for _, p := range was.Points {
		if outer(p.X) {
			most = max(most, costBefore(p.Value))
		}
	}
	for _, p := range now.Points {
		if !outer(p.X) {
			continue
		}
		steps := (cost(p.Value) - most) / now.Step
		if before, both := pointAt(was, p.X); both {
			steps = max(steps, (cost(p.Value)-costBefore(before))/now.Step)
		}
		if quantity.Exceeds(steps, worst.Steps) {
			worst.Steps, worst.X, worst.Before, worst.After = steps, p.X, valueAt(was, p.X), p.Value
		}
	}
	w.add(worst)
}

// pointAt is a curve at one of its points.
func pointAt(s *cases.Series, x float64) (value float64, there bool) {
	at := slices.IndexFunc(s.Points, func(p cases.Point) bool { return p.X == x })
	if at < 0 {
		return 0, false
	}
	return s.Points[at].Value, true
}

// bushes compares the largest loads, travels and strains of every bush: by load cases,
// and in each motion.
func (w *worsening) bushes() {
	was := w.before.carried()
	for k, uses := range w.after.carried() {
		for i := range uses {
			u := &uses[i]
			at := slices.IndexFunc(was[k], func(o cases.LimitUse) bool { return o.Element == u.Element && o.Kind == u.Kind })
			before := math.NaN() // not told of the bush as it was
			if at >= 0 {
				before = was[k][at].Value
			}
			w.carry(u, before, k > 0)
		}
	}
}

// carry compares one largest use with what it was.
func (w *worsening) carry(u *cases.LimitUse, before float64, travel bool) {
	h := Harm{Kind: Carrying, Index: -1, Asked: u.Kind, Name: u.Element, What: u.What, In: u.In, X: u.X, Travel: travel,
		Before: before, After: u.Value, Unit: u.Unit, Limit: u.Limit, Step: UseStep(u.Unit)}
	switch {
	case math.IsNaN(before), !travel && u.Limit <= 0:
	case u.Limit > 0:
		h.Steps = max(0, (u.Value-before)/u.Limit/shareStep)
	case u.Unit == quantity.Newton.Name:
		h.Steps = max(0, (u.Value-before)/max(loadStep, loadShare*before))
	}
	if u.Over() {
		h.Kind = OverLimit
	}
	if h.Steps >= 1 || h.Kind == OverLimit {
		w.harms = keepWorse(w.harms, h)
	}
}

// UseStep is how finely a use of a bush is told in its unit.
func UseStep(unit string) float64 {
	if unit == quantity.Newton.Name {
		return 10
	}
	return 0.1
}

// Sideless takes the side off a name.
func Sideless(element string) (name, side string) {
	for _, side := range []string{compliance.Left.String(), compliance.Right.String()} {
		if name, cut := strings.CutSuffix(element, "."+side); cut {
			return name, side
		}
	}
	return element, ""
}
