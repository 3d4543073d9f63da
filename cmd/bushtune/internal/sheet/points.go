package sheet

import (
	"math"

	"bushtune/bushing"
)

// loadPoint is one point of the load over the deflection, in written units.
type loadPoint struct{ deflection, load float64 }

// points are those at which a supplier checks one direction: even steps from the
// free shape out to its reach, towards + alone where both ways are alike. Nothing
// where the direction has no rate.
func (s *Sheet) points(d bushing.Direction) (points []loadPoint, bothWays bool) {
	law, u := &s.laws[d], unitsOf(d)
	if s.absent(d) {
		return nil, true
	}
	low, high := u.travel.Written(s.reach[d][0]), u.travel.Written(s.reach[d][1])
	bothWays = s.bothWaysAlike(d)
	if bothWays {
		low, high = 0, max(-low, high)
	}
	most := curvedSteps
	if law.Linear() {
		most = straightSteps
	}
	step := niceStep(max(-low, high), most)
	for i := int(math.Floor(low/step + 1e-9)); i <= int(math.Ceil(high/step-1e-9)); i++ {
		if i == 0 {
			continue
		}
		x := step * float64(i)
		points = append(points, loadPoint{x, u.load.Written(law.Load(x * u.travel.Factor))})
	}
	return points, bothWays
}

// The most steps to one side: a straight line needs few, a curve shows its bends.
const (
	straightSteps = 3
	curvedSteps   = 8
)

// niceStep is a step of 1, 2 or 5 in its first digit that reaches far in at most so
// many steps.
func niceStep(far float64, most int) float64 {
	power := math.Pow(10, math.Floor(math.Log10(far)))
	for _, step := range []float64{0.1, 0.2, 0.5, 1, 2, 5} {
		if far <= float64(most)*step*power*(1+1e-9) {
			return step * power
		}
	}
	return 10 * power
}
