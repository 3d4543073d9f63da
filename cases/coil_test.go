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

// A coil that is loaded at rest is loose once it is longer than its free length. Here both
// coils stand straight above the wheels, so that at rest each carries the load of its wheel
// less what hangs on it, and is free when it is longer by that over its rate: by hand. Then
// it is told, once for each coil; a coil whose load is not known is not.
func TestTravelBeyondTheFreeLengthOfACoil(t *testing.T) {
	const rate = 20.0 // of rigidBody
	vehicle := vehicleWith(t, carValues)
	vehicle.StaticLoad = true
	told := func(v Vehicle, from float64) (text string, extension float64) {
		full := fullSize(t, studyOf(t, rigidBody(t, 3000, 1000, 500, 0, 300), v))
		asked := Travel{Mode: Heave, From: from, To: 0, Points: 2}
		r, err := full.Travel(asked)
		if err != nil {
			t.Fatal(err)
		}
		terms, err := full.travelTerms(&asked)
		if err == nil {
			err = full.Reset()
		}
		if err == nil {
			err = full.moveTo(terms, from)
		}
		if err != nil {
			t.Fatal(err)
		}
		now, design := full.mover.SpringLength(1)
		return strings.Join(r.Warnings, "\n"), now - design
	}
	free := (vehicle.WheelLoad() - vehicle.Unsprung*9806.65) / rate
	some, none := 0, 0
	for from := -40.0; from >= -320; from -= 20 {
		text, extension := told(vehicle, from)
		switch count := strings.Count(text, "loose by then"); {
		case extension > free && count == 2:
			some++
		case extension < free && count == 0:
			none++
		default:
			t.Errorf("%g mm: coils %.3f mm longer, loose from %.3f: %q", from, extension, free, text)
		}
	}
	if some < 3 || none < 3 {
		t.Errorf("loose at free %.1f mm: %d loose, %d not", free, some, none)
	}
	if text, _ := told(UnknownVehicle(), -320); strings.Contains(text, "loose") {
		t.Errorf("a coil of unknown load: %q", text)
	}
}
