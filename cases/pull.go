package cases

// Pull is how far an axle whose halves differ steers where the car goes straight.
type Pull struct {
	Right, Left int     // numbers of the study: the toe of the right wheel as the outer one, and of the left wheel
	Steer       float64 // mean steer of both wheels, + to the left, in the unit inside of these numbers
}

// straight lists the toes of both wheels where the car goes straight: on the brakes
// and over bumps.
var straight = []struct{ name, caseName string }{
	{"brake_steer", "braking"}, {"total_outer_toe", "state_braking"}, {"impact_toe", "impact"}, {"bump_steer", "heave"},
}

// Pulls lists how far the axle steers straight ahead; none while its halves are
// alike. Toe-in turns the right wheel to the left and the left one to the right.
func (s *Study) Pulls() (all []Pull) {
	for _, w := range straight {
		right, err := s.Find(w.name, w.caseName, "")
		if err != nil {
			continue
		}
		if left, two := s.OtherTurn(right); two {
			all = append(all, Pull{Right: right, Left: left, Steer: (s.Value(right) - s.Value(left)) / 2})
		}
	}
	return all
}
