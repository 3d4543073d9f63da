package cases

import (
	"errors"
	"math"
	"strings"
	"testing"

	"bushtune/compliance"
)

// coiled is the twist beam with a solid length on both coils.
func coiled(t testing.TB, solid float64) *Study {
	axle := twistBeam(t)
	for i := range axle.Elements {
		if e := &axle.Elements[i]; e.Kind == compliance.Spring {
			e.Slots[e.Kind.FieldIndex("solid_length")] = solid
		}
	}
	return studyOf(t, axle, UnknownVehicle())
}

// A travel goes as far as the coil does and says which coil ends it: up to the
// place the length, from the poses of both seats, is above the solid one, and there
// it is that length.
func TestTravelEndsAtTheSolidCoil(t *testing.T) {
	free := fullSize(t, coiled(t, 0))
	terms, err := free.travelTerms(&Travel{Mode: Heave, From: -1, To: 1, Points: 2})
	if err != nil {
		t.Fatal(err)
	}
	coil := 2
	lengthAt := func(x float64) float64 {
		if err := free.Reset(); err != nil {
			t.Fatal(err)
		}
		if err := free.moveTo(terms, x); err != nil {
			t.Fatal(err)
		}
		now, _ := free.mover.SpringLength(coil)
		return now
	}
	const solid = 190.0
	low, high := 0.0, 120.0
	for high-low > 1e-6 {
		if middle := (low + high) / 2; lengthAt(middle) > solid {
			low = middle
		} else {
			high = middle
		}
	}
	full := fullSize(t, coiled(t, solid))
	for _, points := range []int{5, 25} {
		_, err := full.Travel(Travel{Mode: Heave, From: -80, To: 120, Points: points})
		var way *LostWay
		var lost *compliance.LostBalance
		if !errors.As(err, &way) || !errors.As(err, &lost) || lost.Solid == "" || !strings.Contains(err.Error(), "spring.coil.left is pressed to its solid length") {
			t.Fatalf("want the solid coil, got %v", err)
		}
		if step := 200 / float64(points-1); way.Place > low+1e-6 || way.Place < low-step/400 {
			t.Errorf("%d points: ends at %.4f mm, the coil is solid at %.4f", points, way.Place, low)
		}
	}
	if _, err := full.Travel(Travel{Mode: Heave, From: -80, To: math.Floor(low), Points: 9}); err != nil {
		t.Errorf("up to there: %v", err)
	}
	axle := twistBeam(t)
	axle.Elements[coil].Slots[axle.Elements[coil].Kind.FieldIndex("solid_length")] = 400
	if _, err := compliance.NewSolver(axle); err == nil || !strings.Contains(err.Error(), "solid at rest") {
		t.Errorf("a coil that is solid at rest: %v", err)
	}
}

// Without the key nothing is watched, but a coil that becomes implausibly short, and
// a rate below zero, are told with their places.
func TestTravelThroughACollapsedCoil(t *testing.T) {
	full := fullSize(t, coiled(t, 0))
	r, err := full.Travel(Travel{Mode: Heave, From: -300, To: 300, Points: 61})
	if err != nil {
		t.Fatal(err)
	}
	told := strings.Join(r.Warnings, "\n")
	negative := false
	for _, s := range r.Series {
		for _, p := range s.Points {
			negative = negative || s.Number == "wheel_rate" && p.Value < 0
		}
	}
	if !negative {
		t.Fatal("the test wants a wheel rate below zero")
	}
	if !strings.Contains(told, "so the spring drives the wheel on") || !strings.Contains(told, "spring.coil.left: ") || !strings.Contains(told, "many coils are solid by then") {
		t.Errorf("told: %s", told)
	}
	calm, err := full.Travel(Travel{Mode: Heave, From: -80, To: 80, Points: 5})
	if err != nil || strings.Contains(strings.Join(calm.Warnings, ""), "coil") {
		t.Errorf("a usual travel: %v %v", calm.Warnings, err)
	}
}
