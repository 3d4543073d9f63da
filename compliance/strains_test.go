package compliance

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Strains from the ports are those from the displacements of the bodies.
func TestStrainsAgreeWithDisplacements(t *testing.T) {
	for name, axle := range testAxles(t) {
		rng := rand.New(rand.NewPCG(7, 8)) // for each axle: a map has no order
		s := newSolver(t, axle)
		pair := randomPair(s, rng)
		e := make([]float64, s.Lines())
		s.Strains(pair.A, e)
		var load, strain [maxLines]float64
		for i := range s.axle.Elements {
			s.LineLoads(i, pair.UA, &load, &strain)
			for l := range s.LineCount(i) {
				got, want := e[s.FirstLine(i)+l], strain[l]
				if !near(got, want, rounding, math.Abs(want)+1e-3) {
					t.Errorf("%s: strain of line %d of %s is %.12g, from the displacements %.12g", name, l, s.axle.Elements[i].Label(), got, want)
				}
			}
		}
	}
}
