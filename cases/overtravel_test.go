package cases

import (
	"errors"
	"math"
	"testing"

	"bushtune/compliance"
)

// stoppedWheels is the plain twist beam with bump stops that are met at 33 mm, between
// two of the heights at which an axle is looked at.
func stoppedWheels(t testing.TB) *compliance.Axle {
	axle := twistBeam(t)
	stop := values{"upper.x": 0, "upper.y": 740, "upper.z": 600, "lower.x": 0, "lower.y": 740, "lower.z": 300, "rate": 150, "gap": 33, "run": 5}
	axle.Elements = append(axle.Elements, bothSides(t, compliance.BumpStop, "bump", stop)...)
	return axle
}

// The largest values that are seen over a travel are those of a travel at every
// quarter of a millimetre: loads of bushes with voids, and wheel rates where a stop is
// met.
func TestOverTravelMissesNoPeak(t *testing.T) {
	for name, axle := range map[string]*compliance.Axle{"plain": twistBeam(t), "voids": stoppedBeam(t), "stops": stoppedWheels(t), "link": toeLinkedBeam(t)} {
		s := studyOf(t, axle, UnknownVehicle())
		travels, err := s.OverTravels()
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range travels {
			fine := travelled(t, s, Travel{Mode: o.Motion, From: o.From, To: o.To, Points: int((o.To-o.From)*4) + 1}).Series
			if len(o.Lost) > 0 {
				t.Fatalf("%s: %v", name, o.Lost)
			}
			for i := range o.Series {
				seen := &o.Series[i]
				caseName := seen.Case
				if seen.Number == "wheel_rate" {
					caseName = [...]string{Heave: "heave", RollBody: "roll"}[o.Motion]
				}
				all := find(fine, seen.Number, caseName, seen.Where)
				most, found := largest(all.Points), largest(seen.Points)
				if math.Abs(most-found) > 0.01*most+all.Step/10 {
					t.Errorf("%s, %s %s of %s: the largest is %g, %g was seen", name, o.Motion, seen.Number, seen.Where, most, found)
				}
			}
		}
	}
}

func largest(points []Point) (most float64) {
	for _, p := range points {
		most = max(most, math.Abs(p.Value))
	}
	return most
}

// Between two heights the wheel rate is another one only where a stop is met, and
// there it is read at close heights.
func TestOverTravelLooksCloserWhereAStopIsMet(t *testing.T) {
	travels, err := studyOf(t, stoppedWheels(t), UnknownVehicle()).OverTravels()
	if err != nil {
		t.Fatal(err)
	}
	p := pointsOf(t, travels[0].Series, "wheel_rate", "heave", "")
	for i := 1; i < len(p); i++ {
		if differ([]float64{p[i-1].Value}, []float64{p[i].Value}) && p[i].X-p[i-1].X > travelFine {
			t.Errorf("from %g to %g mm the wheel rate goes from %g to %g N/mm", p[i-1].X, p[i].X, p[i-1].Value, p[i].Value)
		}
		if p[i].X <= p[i-1].X {
			t.Errorf("%g mm stands after %g mm", p[i].X, p[i-1].X)
		}
	}
	if p[0].X != -TravelSpan || p[len(p)-1].X != TravelSpan {
		t.Errorf("from %g to %g mm", p[0].X, p[len(p)-1].X)
	}
}

// An axle that cannot be followed to the end is told with the place, and what was
// seen until there is kept.
func TestOverTravelKeepsWhatItSaw(t *testing.T) {
	s := studyOf(t, toeLinkedBeam(t), UnknownVehicle())
	o := &OverTravel{Motion: RollBody, From: 0, To: 1000}
	if err := fullSize(t, s).overTravel(o); err != nil {
		t.Fatal(err)
	}
	_, err := fullSize(t, s).Travel(Travel{Mode: RollBody, From: 0, To: 1000, Points: 101})
	var way *LostWay
	if !errors.As(err, &way) {
		t.Fatalf("error %v", err)
	}
	if len(o.Lost) != 1 || math.Abs(o.Lost[0].Place-way.Place) > TravelStep {
		t.Fatalf("lost %v, a travel %v", o.Lost, way)
	}
	p := pointsOf(t, o.Series, "wheel_toe", "roll", "right")
	if last := p[len(p)-1].X; last > o.Lost[0].Place || last < o.Lost[0].Place-2*TravelStep {
		t.Errorf("seen up to %g mm, lost at %g mm", last, o.Lost[0].Place)
	}
}

// An axle whose left bush gives way more fore and aft turns to the left on the
// brakes, its mirror image as much to the right, and one whose halves are alike has no
// pull. Rigid body on two bushes whose lateral places are ±b: force F at each wheel
// turns it by F·(1/k_left − 1/k_right)/2b.
func TestPullOfUnlikeBushes(t *testing.T) {
	axle := rigidBody(t, 3000, 500, 550, 0, 300)
	if all := studyOf(t, axle, UnknownVehicle()).Pulls(); all != nil {
		t.Errorf("alike, yet %+v", all)
	}
	soften := func(side compliance.Side) float64 {
		unlike := axle.Clone()
		for i := range unlike.Elements {
			if e := &unlike.Elements[i]; e.Kind == compliance.Bush && e.Side == side {
				e.Slots[e.Kind.FieldIndex("soft")] *= 0.5
			}
		}
		s := studyOf(t, unlike, UnknownVehicle())
		for _, p := range s.Pulls() {
			if s.Numbers()[p.Right].Name == "brake_steer" {
				return p.Steer
			}
		}
		t.Fatal("no brake steer")
		return 0
	}
	left, right := soften(compliance.Left), soften(compliance.Right)
	check(t, "pull of the softer left bush, rad/N", left, (1/250.0-1/500.0)/1100, 1e-3*left)
	check(t, "mirrored", right, -left, 1e-9*left)
}
