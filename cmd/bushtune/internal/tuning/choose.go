package tuning

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"bushtune/bushing"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/compliance"
	"bushtune/optimize"
)

// Choice is a finished choice of parts: the best combinations, and the axle before
// and with the best.
type Choice struct {
	*optimize.ChoiceResult
	Catalogue *axlefile.Catalogue
	Positions []axlefile.Position
	Offers    [][]*axlefile.Part // that have room, for each position; Chosen.Options count in them

	Before, After *cases.Study
	Asked         []Asked
	Parameters    []axlefile.Parameter // tuned in every combination
	Fixed         []string             // parameters of [search] that the parts fix
	Written       []float64            // of each parameter with the best parts, as the new file holds it
	Present       optimize.State       // of the axle as it stands; values that are no numbers where it cannot hold a load
	Stays         bool                 // no combination is better than the axle as it stands

	FreeRates []axlefile.Parameter // rates that are free where no part is chosen, after Parameters
	Free      *optimize.Result     // of that tune; nil if it could not be made
	FreeX     []float64            // its end in the digits that are told
	FreeAt    optimize.State       // of the axle at these
}

// NoRoom tells that no part of the catalogue has room in a position.
type NoRoom struct {
	Position string
	Part     string // one that was refused, with the reason
	Why      string
}

func (e *NoRoom) Error() string {
	return fmt.Sprintf("no part of the catalogue has room at %s; %s is refused because %s", e.Position, e.Part, e.Why)
}

// Parts are the parts of one combination.
func (c *Choice) Parts(chosen *optimize.Chosen) []*axlefile.Part {
	parts := make([]*axlefile.Part, len(c.Positions))
	for place, option := range chosen.Options {
		parts[place] = c.Offers[place][option]
	}
	return parts
}

// Choose finds the parts of a catalogue that suit the positions of an axle best,
// each combination tuned by what [search] of the file leaves free.
func Choose(ctx context.Context, file *axlefile.File, catalogue *axlefile.Catalogue, positions []axlefile.Position, o optimize.ChoiceOptions) (*Choice, error) {
	c := &Choice{Catalogue: catalogue, Positions: positions}
	if err := c.offer(); err != nil {
		return nil, err
	}
	s, err := c.shop(file)
	if err != nil {
		return nil, err
	}
	c.ChoiceResult, err = optimize.Choose(ctx, &optimize.Choice{Options: c.counts(), Prices: c.prices(), Bench: s.bench}, o)
	if err != nil || c.Stopped {
		return c, err
	}
	c.Stays = c.Present.AsGood(&c.Best[0])
	if err := c.fitBest(s); err != nil {
		return nil, err
	}
	c.free(ctx, s, o.Seed)
	return c, nil
}

// offer lists the parts that have room in each position.
func (c *Choice) offer() error {
	for i := range c.Positions {
		p := &c.Positions[i]
		var offers []*axlefile.Part
		refused := &NoRoom{Position: p.Path}
		for j := range c.Catalogue.Parts {
			part := &c.Catalogue.Parts[j]
			if why := p.Takes(part); why == "" {
				offers = append(offers, part)
			} else {
				refused.Part, refused.Why = part.Name, why
			}
		}
		if len(offers) == 0 {
			return refused
		}
		c.Offers = append(c.Offers, offers)
	}
	return nil
}

func (c *Choice) counts() []int {
	counts := make([]int, len(c.Offers))
	for i, offers := range c.Offers {
		counts[i] = len(offers)
	}
	return counts
}

// prices are the price classes of the offers; nil unless every one has a class, so
// that a part without one does not look cheap.
func (c *Choice) prices() [][]int {
	prices := make([][]int, len(c.Offers))
	for i, offers := range c.Offers {
		for _, part := range offers {
			if part.Price == 0 {
				return nil
			}
			prices[i] = append(prices[i], part.Price)
		}
	}
	return prices
}

// shop is what every bench is made from.
type shop struct {
	*Choice
	file  *axlefile.File // with its own bushes
	first []*axlefile.Part
	base  *axlefile.File // with the first parts
	both  bool           // every want is asked in both turns
}

// shop finds out in which turns the wants are asked, and how the axle stands.
func (c *Choice) shop(file *axlefile.File) (*shop, error) {
	s := &shop{Choice: c, file: file}
	own, err := Study(file)
	if err != nil {
		return nil, err
	}
	with, err := s.begin()
	if err != nil {
		return nil, err
	}
	for i := range c.Positions {
		s.both = s.both || c.Positions[i].OneSided()
	}
	s.both = s.both || !own.Symmetric() || !with.Symmetric() || !staysEven(file) || !staysEven(s.base)
	if c.Before, err = s.study(file); err != nil {
		return nil, err
	}
	if c.Asked, err = Ask(c.Before, file.Wants); err != nil {
		return nil, err
	}
	b, err := newBridge(c.Before, nil, c.Asked)
	if err != nil {
		return nil, err
	}
	c.Present, err = presentState(b.problem(c.Asked))
	return s, err
}

// presentState is how the axle as it stands fares. One that cannot hold a load that is
// wanted has no values, and anything is better.
func presentState(p *optimize.Problem) (optimize.State, error) {
	state, err := p.At(nil)
	var lost *cases.LostWay
	if !errors.As(err, &lost) {
		return state, err
	}
	state = optimize.State{Values: make([]float64, p.Numbers), Violation: math.Inf(1), Aim: math.Inf(1)}
	for i := range state.Values {
		state.Values[i] = math.NaN()
	}
	return state, nil
}

// begin puts in the first parts with which the axle can be solved: which of them
// cannot be used must not depend on their order. The error is that of the very first.
func (s *shop) begin() (with *cases.Study, err error) {
	for k := range slices.Max(s.counts()) {
		parts := make([]*axlefile.Part, len(s.Positions))
		for i, offers := range s.Offers {
			parts[i] = offers[min(k, len(offers)-1)]
		}
		base, fixed := s.file.Fit(s.Positions, parts)
		study, failure := Study(base)
		if failure == nil {
			s.first, s.base, s.Fixed, s.Parameters = parts, base, fixed, base.Search
			return study, nil
		}
		if err == nil {
			err = failure
		}
	}
	return nil, err
}

// study makes the study of a file in the turns in which wants are asked.
func (s *shop) study(file *axlefile.File) (*cases.Study, error) {
	if s.both {
		return cases.NewStudyBothTurns(file.Axle, file.Vehicle, file.Cases, file.States)
	}
	return Study(file)
}

// bench is a bridge into which parts can be put.
type bench struct {
	*bridge
	shop   *shop
	slots  [][]compliance.Slot // that a part replaces, for each position
	curves []*bushing.Curves   // with which the study was made
	count  int                 // of the study's numbers
}

// bench makes the work place of one processor.
func (s *shop) bench() (*optimize.Bench, error) {
	study, err := s.study(s.base)
	if err != nil {
		return nil, err
	}
	asked := slices.Clone(s.Asked)
	bridge, err := newBridge(study, s.Parameters, asked)
	if err != nil {
		return nil, err
	}
	b := &bench{bridge: bridge, shop: s, count: len(study.Numbers())}
	for i := range s.Positions {
		b.slots = append(b.slots, s.Positions[i].Replaced())
		b.curves = append(b.curves, s.first[i].Curves)
	}
	return &optimize.Bench{Problem: b.problem(asked), Put: b.put}, nil
}

// put puts parts into the axle. Curves are no slots: where they change, the study
// is made anew.
func (b *bench) put(options []int) error {
	parts := b.shop.Parts(&optimize.Chosen{Options: options})
	for i, part := range parts {
		if part.Curves != b.curves[i] {
			return b.rebuild(parts)
		}
	}
	for i, part := range parts {
		for _, slot := range b.slots[i] {
			b.study.Set(slot, part.Slots[slot.Index])
		}
	}
	return nil
}

var errOtherNumbers = errors.New("with these parts the axle has other numbers")

// rebuild makes the study anew with parts in their positions.
func (b *bench) rebuild(parts []*axlefile.Part) error {
	for i := range b.curves {
		b.curves[i] = nil
	}
	fitted, _ := b.shop.file.Fit(b.shop.Positions, parts)
	study, err := b.shop.study(fitted)
	if err != nil {
		return err
	}
	if len(study.Numbers()) != b.count {
		return errOtherNumbers
	}
	if b.full != nil {
		if b.full, err = cases.NewFullSize(study); err != nil {
			return err
		}
	}
	b.study = study
	for i, part := range parts {
		b.curves[i] = part.Curves
	}
	return nil
}

// fitBest makes the study of the axle with the best parts, its parameters rounded
// as the new file holds them.
func (c *Choice) fitBest(s *shop) error {
	best := &c.Best[0]
	fitted, _ := s.file.Fit(c.Positions, c.Parts(best))
	c.Written = make([]float64, len(c.Parameters))
	for i := range fitted.Search {
		c.Written[i] = fitted.Search[i].Round(best.X[i])
		fitted.Search[i].Apply(fitted.Axle, c.Written[i])
	}
	var err error
	c.After, err = s.study(fitted)
	return err
}

// freeStarts is from how many points the tune with free rates starts besides the
// best combination, which is a point of it and so never better.
const freeStarts = 6

// free tunes rates and parameters together, the rates inside the span of the parts
// that have room. It starts from the best combination.
func (c *Choice) free(ctx context.Context, s *shop, seed uint64) {
	parts := c.Parts(&c.Best[0])
	fitted, _ := s.file.Fit(c.Positions, parts)
	search := slices.Clone(fitted.Search)
	for i := range search {
		search[i].Start = min(max(c.Best[0].X[i], search[i].From), search[i].To)
	}
	for i := range c.Positions {
		c.FreeRates = append(c.FreeRates, c.span(i, parts[i])...)
	}
	study, err := s.study(fitted)
	if err != nil {
		return
	}
	asked := slices.Clone(c.Asked)
	b, err := newBridge(study, append(search, c.FreeRates...), asked)
	if err != nil || len(b.parameters) == 0 {
		return
	}
	free, err := optimize.Solve(ctx, b.problem(asked), optimize.Options{Seed: seed, Starts: freeStarts})
	if err != nil {
		return
	}
	for i := range b.parameters {
		c.FreeX = append(c.FreeX, told(&b.parameters[i], free.X[i]))
	}
	if c.FreeAt, err = b.problem(asked).At(c.FreeX); err == nil {
		c.Free = free
	}
}

// span makes a parameter of every rate in which the parts for a position differ,
// from the least to the largest that a part has. A rate that the present part gives
// by a curve stays as it is, and parts with a curve in its place do not count.
func (c *Choice) span(place int, present *axlefile.Part) []axlefile.Parameter {
	p := &c.Positions[place]
	var all []axlefile.Parameter
	for d, name := range bushing.DirectionNames {
		index := compliance.Bush.FieldIndex(name)
		unit := compliance.Bush.Fields[index].Unit
		q := axlefile.Parameter{Path: p.Path + "." + name, Unit: unit, From: math.Inf(1), To: math.Inf(-1), Start: unit.Written(present.Slots[index])}
		for _, part := range c.Offers[place] {
			if part.Curves == nil || part.Curves.Tables[d] == nil {
				q.From, q.To = min(q.From, unit.Written(part.Slots[index])), max(q.To, unit.Written(part.Slots[index]))
			}
		}
		if present.Curves != nil && present.Curves.Tables[d] != nil || !(q.From < q.To) {
			continue
		}
		q.Log = q.From > 0
		for _, slot := range p.Replaced() {
			if slot.Index == index {
				q.Moves = append(q.Moves, axlefile.Move{Slot: slot, Gain: unit.Factor})
			}
		}
		all = append(all, q)
	}
	return all
}

// toldDigits are the digits in which free rates are told.
const toldDigits = 4

// told is a value of a parameter in the digits in which it is told, inside its bounds.
func told(q *axlefile.Parameter, x float64) float64 {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', toldDigits-1, 64), 64)
	if err != nil || rounded < q.From || rounded > q.To {
		return x
	}
	return rounded
}

// FreeMeets tells whether every want with a number is met with the free rates as they
// are told.
func (c *Choice) FreeMeets() bool {
	for i := range c.Asked {
		w := &c.Asked[i].Want
		made := w.Kind == optimize.MakeLarge || w.Kind == optimize.MakeSmall
		if !made && !(w.Margin(c.FreeAt.Values[w.Number]) >= -optimize.MetShare*w.Scale) {
			return false
		}
	}
	return true
}
