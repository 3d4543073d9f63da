package tuning

import (
	"math"
	"slices"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/optimize"
)

// TestChooseAgainstGrid: on the built-in axle no point of a dense grid of both angles,
// made finer around its best point again and again, is better than what the choice
// says of a combination, in violation first, then in aim; every combination of random
// lists. The grid takes values alone: neither slopes nor starts.
func TestChooseAgainstGrid(t *testing.T) {
	f := demoFile(t, demo.ChooseDefault)
	for seed := range uint64(3) {
		c := &Choice{Catalogue: some(demoCatalogue(t), 20+seed, 4), Positions: everyBush(t, f)}
		r := chosen(t, f, c.Catalogue, optimize.ChoiceOptions{Best: 16, Seed: seed})
		if err := c.offer(); err != nil {
			t.Fatal(err)
		}
		s, err := c.shop(f)
		if err != nil {
			t.Fatal(err)
		}
		b, err := s.bench()
		if err != nil {
			t.Fatal(err)
		}
		best := math.Inf(1) // violation of the best combination by the grid
		for i := range r.Best {
			if err := b.Put(r.Best[i].Options); err != nil {
				t.Fatal(err)
			}
			g := leastOnGrid(t, b.Problem)
			best = min(best, g.Violation)
			if worse(r.Best[i].Violation, r.Best[i].Aim, g) {
				t.Errorf("list %d, %s: violation %v, aim %v; the grid has %v, %v", seed, names(r, &r.Best[i]),
					r.Best[i].Violation, r.Best[i].Aim, g.Violation, g.Aim)
			}
		}
		if r.Best[0].Violation > best*(1+sameOptimum)+gridHeld {
			t.Errorf("list %d: the best has violation %v, the grid finds %v", seed, r.Best[0].Violation, best)
		}
	}
}

// gridHeld is the violation that counts as none: limits hold to 1e-6 steps.
const gridHeld = 1e-12

// worse tells whether costs are worse than those of a state, by more than counts as one.
func worse(violation, aim float64, than optimize.State) bool {
	if violation > gridHeld || than.Violation > gridHeld {
		return violation > than.Violation*(1+sameOptimum)+gridHeld
	}
	return aim > than.Aim+sameOptimum*math.Max(1, math.Abs(than.Aim))
}

// leastOnGrid is the best state of a problem of two parameters on a grid.
func leastOnGrid(t *testing.T, p *optimize.Problem) (best optimize.State) {
	t.Helper()
	const dense, levels, fine = 25, 7, 3
	x, at := make([]float64, 2), []float64{0.5, 0.5}
	best.Violation = math.Inf(1)
	look := func(a, b float64) bool {
		for j, share := range []float64{a, b} {
			q := p.Parameters[j]
			x[j] = q.Lower + min(max(share, 0), 1)*(q.Upper-q.Lower)
		}
		now, err := p.At(x)
		if err != nil {
			t.Fatal(err)
		}
		if now.Violation < best.Violation && best.Violation > gridHeld || now.Violation <= gridHeld && now.Aim < best.Aim {
			best = now
			best.Values = slices.Clone(now.Values)
			return true
		}
		return false
	}
	width := 1 / float64(dense-1)
	for i := range dense {
		for j := range dense {
			if a, b := float64(i)*width, float64(j)*width; look(a, b) {
				at = []float64{a, b}
			}
		}
	}
	for range levels {
		width /= fine
		centre := slices.Clone(at)
		for i := -fine; i <= fine; i++ {
			for j := -fine; j <= fine; j++ {
				if a, b := centre[0]+float64(i)*width, centre[1]+float64(j)*width; look(a, b) {
					at = []float64{a, b}
				}
			}
		}
	}
	return best
}
