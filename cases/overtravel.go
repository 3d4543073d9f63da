package cases

import (
	"math"

	"bushtune/bushing/quantity"

	"bushtune/compliance"
)

// How an axle is looked at over its travel: common practice, no source. Between
// two heights at which a bush line or the wheel has another rate, heights are
// halved until they are finest apart, so that a void that closes or a stop that is
// met shows where it does.
const (
	TravelSpan  = 80.0 // mm of bump and of rebound, and of roll
	TravelStep  = 20.0 // mm between heights
	travelFine  = 1.25 // mm
	anotherRate = 0.4  // share of the larger rate by which two heights differ
)

// OverTravel is what was seen of an axle in one motion, from as far down to as far
// up as it could be followed.
type OverTravel struct {
	Motion   Mode
	Outer    int      // the wheel in bump where the travel is positive
	Series   []Series // wheel rate of the motion, toe and camber to the ground of both wheels, bushes beside their limits
	From, To float64  // mm asked for
	Lost     []*LostWay
}

// OverTravels looks at the axle over its whole travel: both wheels together, and in
// roll, which for an axle whose halves are alike is half a roll. An axle that cannot be
// followed to the ends is told in Lost; the error is that of NewFullSize.
func (s *Study) OverTravels() ([]*OverTravel, error) {
	full, err := NewFullSize(s)
	if err != nil {
		return nil, err
	}
	heave := &OverTravel{Motion: Heave, From: -TravelSpan, To: TravelSpan}
	roll := &OverTravel{Motion: RollBody, From: -TravelSpan, To: TravelSpan}
	if s.turns == 1 {
		roll.From = 0
	}
	for _, o := range []*OverTravel{heave, roll} {
		if err := full.overTravel(o); err != nil {
			return nil, err
		}
	}
	return []*OverTravel{heave, roll}, nil
}

// overWalk is an OverTravel on its way.
type overWalk struct {
	*FullSize
	terms *travelTerms
	c     *curves
	rate  int     // number of the study
	at    float64 // mm
}

// overTravel goes from the design position down, then up.
func (f *FullSize) overTravel(o *OverTravel) error {
	t := Travel{Mode: o.Motion, From: o.From, To: o.To, Points: 2}
	terms, err := f.travelTerms(&t)
	if err != nil {
		return err
	}
	w := &overWalk{FullSize: f, terms: terms, c: newCurves(Quantity{"travel of the outer pad", "mm"}, 2*int(TravelSpan/TravelStep)+1)}
	rated := map[Mode]string{Heave: "heave", RollBody: "roll"}[o.Motion]
	if w.rate, err = f.study.Find("wheel_rate", rated, ""); err != nil {
		return err
	}
	if o.From < 0 {
		o.note(w.outward(-TravelStep, o.From))
	}
	w.c.reverse()
	o.note(w.outward(0, 0))
	o.note(w.outward(TravelStep, o.To))
	o.Outer, o.Series = terms.outer, w.c.series
	return nil
}

// note keeps why an axle could be followed no further.
func (o *OverTravel) note(lost *LostWay) {
	if lost != nil {
		o.Lost = append(o.Lost, lost)
	}
}

// outward walks from the design position to the end of one side, and reads at
// every height but the design position itself; with no step, only there.
func (w *overWalk) outward(step, end float64) *LostWay {
	w.at, w.terms.previous = 0, 0
	if err := w.Reset(); err != nil {
		return w.lostWay(0, err)
	}
	if lost := w.goTo(0); lost != nil {
		return lost
	}
	if step == 0 {
		w.read()
		return nil
	}
	rates := w.rates()
	for i := 1; math.Abs(step)*float64(i) <= math.Abs(end)*(1+1e-12); i++ {
		lost, next := w.onTo(step*float64(i), rates)
		if lost != nil {
			return lost
		}
		rates = next
	}
	return nil
}

// onTo goes to a height and reads there; before that, where rates have become other
// ones on the way, at heights between.
func (w *overWalk) onTo(x float64, before []float64) (lost *LostWay, rates []float64) {
	from := w.at
	if lost := w.goTo(x); lost != nil {
		return lost, nil
	}
	rates = w.rates()
	if math.Abs(x-from) > travelFine && differ(before, rates) {
		middle := (from + x) / 2
		w.at = from
		lost, halfway := w.onTo(middle, before)
		if lost == nil {
			lost, rates = w.onTo(x, halfway)
		}
		return lost, rates
	}
	w.read()
	return nil, rates
}

// goTo moves the pads. Where the way is lost, the place of the last height is kept.
func (w *overWalk) goTo(x float64) *LostWay {
	if err := w.moveTo(w.terms, x); err != nil {
		place := w.at
		var balance *compliance.LostBalance
		if isLost(err, &balance) {
			place += balance.Fraction * (x - place)
		}
		return w.lostWay(place, err)
	}
	w.at = x
	return nil
}

func (w *overWalk) lostWay(place float64, cause error) *LostWay {
	return &LostWay{What: "travel " + w.terms.mode.String(), Place: place, Unit: "mm", Cause: cause}
}

// rates are the stiffening of every bush line and the wheel rate.
func (w *overWalk) rates() []float64 { return append(w.stiffening(), w.Tangent(w.rate)) }

// differ tells whether any rate has become another one.
func differ(a, b []float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > anotherRate*max(math.Abs(a[i]), math.Abs(b[i])) {
			return true
		}
	}
	return false
}

// read reads everything at one height.
func (w *overWalk) read() {
	motion := w.terms.mode.String()
	n := &w.study.numbers[w.rate]
	rate := seriesOf(&n.Number)
	rate.Case = motion
	w.c.add(&rate, w.at, n.Unit.Written(w.Tangent(w.rate)))
	for wheel := range w.moved {
		s := seriesOfReading(&genericReadings[toe], TheLoad, WheelNames[wheel], motion, Level)
		w.c.add(&s, w.at, genericReadings[toe].unit(TheLoad).Written(w.moved[wheel].along[toe]))
	}
	w.readAxle(motion, Level, w.terms.outer, w.at, w.c)
	for i := range w.study.bushes {
		b := w.bushMoved(&w.study.bushes[i], motion)
		w.readUsages(&b, w.at, w.c)
	}
}

// Uses lists the largest load, travel and strain of every bush over the travel, with
// or without a limit.
func (o *OverTravel) Uses() (all []LimitUse) {
	for i := range o.Series {
		s := &o.Series[i]
		kind := UsageKind(s.Number)
		if kind < 0 {
			continue
		}
		u := LimitUse{Usage: Usage{What: s.Title[len("bush "):], Unit: s.Unit, Limit: s.Limit}, Element: s.Where, Kind: kind, In: s.Case}
		for _, p := range s.Points {
			if quantity.Exceeds(p.Value, u.Value) {
				u.Value, u.X = p.Value, p.X
			}
		}
		all = append(all, u)
	}
	return all
}

// UsageKind is the kind of a LimitUse that a series of this number shows, −1: none.
func UsageKind(number string) int {
	for n, name := range usageNumbers {
		if number == name {
			return n
		}
	}
	for n, word := range strainWords {
		if number == "bush_"+word {
			return len(usageNumbers) + n
		}
	}
	return -1
}
