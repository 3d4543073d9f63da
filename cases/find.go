package cases

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"bushtune/bushing/quantity"
)

// UnknownName is the error of a number, case or place that does not exist.
type UnknownName struct {
	What    string   // "number", "case", "place"
	Name    string   // as asked
	Of      string   // for a case or place: the number asked for
	Known   []string // what there is
	Nearest []string // the closest of them, possibly none
	Needs   []string // vehicle values without which the number or state is not offered
}

// Error says what is wrong and what would be right.
func (u *UnknownName) Error() string {
	text := fmt.Sprintf("there is no %s %q", u.What, u.Name)
	if u.Of != "" {
		text = fmt.Sprintf("%s has no %s %q", u.Of, u.What, u.Name)
	}
	switch {
	case u.Needs != nil:
		return fmt.Sprintf("the %s %q needs %s of the vehicle", u.What, u.Name, list(u.Needs))
	case u.Nearest != nil:
		return text + "; nearest: " + list(u.Nearest)
	case len(u.Known) <= 12:
		return text + "; allowed: " + list(u.Known)
	}
	return text
}

// Find returns the index of a number in Numbers. An empty caseName or where
// means the first one the number has. The error is an *UnknownName.
func (s *Study) Find(name, caseName, where string) (int, error) {
	var cases, places []string
	found := false
	for i := range s.numbers {
		n := &s.numbers[i]
		if n.Name != name {
			continue
		}
		found = true
		if caseName != "" && n.Case != caseName {
			cases = append(cases, n.Case)
			continue
		}
		if where == "" || n.Where == where {
			return i, nil
		}
		places = append(places, n.Where)
	}
	switch {
	case !found:
		return 0, s.unknown("number", name, "", s.names())
	case places == nil:
		return 0, s.unknown("case", caseName, name, cases)
	}
	return 0, s.unknown("place", where, name, places)
}

// unknown describes a name that does not exist, or not with these vehicle values.
func (s *Study) unknown(what, name, of string, known []string) error {
	u := &UnknownName{What: what, Name: name, Of: of, Known: unique(known)}
	for _, a := range s.absent {
		if a.Number == name {
			u.Needs = a.Needs
		}
	}
	u.Nearest = quantity.Nearest(name, u.Known)
	return u
}

// names lists the names of all numbers.
func (s *Study) names() []string {
	var all []string
	for i := range s.numbers {
		all = append(all, s.numbers[i].Name)
	}
	return all
}

// unique drops repeated names and keeps the order.
func unique(names []string) []string {
	var once []string
	for _, n := range names {
		if n != "" && !slices.Contains(once, n) {
			once = append(once, n)
		}
	}
	return once
}

// OtherTurn returns the same number in the turn the other way, if the axle is
// run both ways: a want that names no turn holds for both.
func (s *Study) OtherTurn(index int) (int, bool) {
	other := s.numbers[index].other
	return other, other >= 0
}

// Figure is one number ready to print.
func (s *Study) Figure(index int) Figure { return s.FigureOf(index, s.Value(index)) }

// FigureOf is a number ready to print with a value of the caller's, in internal
// units: one from before a change, or one that is wanted. Not a number stands for the
// number of a state that the axle cannot reach; the words then say how far it comes.
func (s *Study) FigureOf(index int, value float64) Figure {
	n := &s.numbers[index]
	written := n.Unit.Written(value)
	r := n.Signs.Read(written, n.Step)
	if math.IsNaN(value) {
		r = quantity.Reading{Text: noFigure, Words: s.whyLost(index)}
	}
	return Figure{
		Number: n.Name, Title: n.Title, Case: n.Case, Where: n.Where, Pads: n.Pads.String(),
		Value: written, Unit: n.Unit.Name, Text: r.Text, Words: r.Words,
	}
}

// What is written where a state has no number.
const (
	noFigure    = "none"
	notReached  = "the axle cannot hold this state"
	furthestOff = "no balance found beyond "
)

// whyLost says in few words why the number of a state has no value.
func (s *Study) whyLost(index int) string {
	var lost *LostWay
	if !errors.As(s.Lost(index), &lost) {
		return notReached
	}
	var lifted *LiftedWheel
	if errors.As(lost, &lifted) {
		return lifted.Error()
	}
	return fmt.Sprintf("%s%.2f %s", furthestOff, lost.Place, lost.Unit)
}

// Figures are all numbers that have a name of their own, ready to print.
func (s *Study) Figures() []Figure { return s.figures(false) }

// Readings are the plain readings of every wheel in every case, ready to print.
func (s *Study) Readings() []Figure { return s.figures(true) }

func (s *Study) figures(generic bool) []Figure {
	var all []Figure
	for i := range s.numbers {
		if s.numbers[i].Generic == generic {
			all = append(all, s.Figure(i))
		}
	}
	return all
}
