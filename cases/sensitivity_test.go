package cases

import (
	"fmt"
	"math"
	"testing"

	"bushtune/compliance"
)

// Sensitivities are what a rate does to a number when the whole axle is solved again
// with more and with less of it, ratios and loads at rest included.
func TestSensitivitiesAreWhatRatesDo(t *testing.T) {
	loaded := vehicleWith(t, carValues)
	loaded.StaticLoad = true
	const h = 1e-4
	for name, vehicle := range map[string]Vehicle{"plain": vehicleWith(t, carValues), "loaded": loaded} {
		s := studyOf(t, toeLinkedBeam(t), vehicle)
		compared := 0
		for index := range s.numbers {
			n := &s.numbers[index]
			if n.Generic || n.state >= 0 {
				continue
			}
			for _, got := range s.Sensitivities(index) {
				slot := slotNamed(t, s, got.Element, got.Rate)
				start := s.Solver().Axle().Elements[slot.Element].Slots[slot.Index]
				at := func(share float64) float64 {
					s.Set(slot, start*(1+share))
					if err := s.Update(); err != nil {
						t.Fatal(err)
					}
					return s.Value(index)
				}
				want := (8*(at(h)-at(-h)) - (at(2*h) - at(-2*h))) / (12 * h)
				value := at(0)
				room := 1e-6*math.Abs(want) + 1e-9*math.Abs(value) + 1e-7*n.Step*n.Unit.Factor
				check(t, fmt.Sprintf("%s: %s in %s by ln %s.%s", name, n.Name, n.Case, got.Element, got.Rate), got.Value, want, room)
				compared++
			}
		}
		if compared < 100 {
			t.Errorf("%s: only %d compared", name, compared)
		}
	}
}

func slotNamed(t *testing.T, s *Study, label, field string) compliance.Slot {
	t.Helper()
	axle := s.Solver().Axle()
	for i := range axle.Elements {
		if e := &axle.Elements[i]; e.Label() == label {
			return compliance.Slot{Element: i, Index: e.Kind.FieldIndex(field)}
		}
	}
	t.Fatalf("no %s", label)
	return compliance.Slot{}
}

// A coil turns the wheel as it lets it travel: stiffer, it takes toe and travel away
// alike, and bump steer hardly changes, while its part in bump steer is large.
func TestBumpSteerHardlyDependsOnTheCoil(t *testing.T) {
	s := studyOf(t, toeLinkedBeam(t), UnknownVehicle())
	index, err := s.Find("bump_steer", "heave", "")
	if err != nil {
		t.Fatal(err)
	}
	part, sensitivity := 0.0, 0.0
	for _, p := range s.Parts(index) {
		if p.Element == "spring.coil.left" || p.Element == "spring.coil.right" {
			part += p.Value
		}
	}
	for _, r := range s.Sensitivities(index) {
		if r.Element == "spring.coil.left" || r.Element == "spring.coil.right" {
			sensitivity += r.Value
		}
	}
	if !(math.Abs(sensitivity) < 0.1*math.Abs(part)) {
		t.Errorf("the coils' part in bump steer is %g, their sensitivity %g", part, sensitivity)
	}
}
