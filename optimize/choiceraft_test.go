package optimize_test

import (
	"math"
	"math/rand/v2"
	"slices"

	"bushtune/optimize"
)

// spring is a pair of rates at right angles, in N/mm.
type spring struct{ along, across float64 }

// raft is a rigid plate in a plane, held by two springs that may be turned: the
// numbers are its turn, and its shift along and across, under a force across at an
// offset. Stiffness method, 3×3 by Cramer's rule.
type raft struct {
	springs [2]spring
	wants   []optimize.Want
}

// at is where each spring holds the plate, push where the force acts, mm.
var (
	at   = [2][2]complex128{{430, 540}, {330, 220}}
	push = [2]complex128{-20, 700}
)

func (r *raft) numbers(x []complex128) []complex128 {
	var k [3][3]complex128
	for i, s := range r.springs {
		sin, cos := sineAndCosine(x[i])
		for _, line := range [2][3]complex128{{cos, sin, complex(s.along, 0)}, {-sin, cos, complex(s.across, 0)}} {
			g := [3]complex128{line[0], line[1], at[i][0]*line[1] - at[i][1]*line[0]}
			for a := range g {
				for b := range g {
					k[a][b] += line[2] * g[a] * g[b]
				}
			}
		}
	}
	u := cramer(k, [3]complex128{0, 1000, push[0] * 1000})
	v := cramer(k, [3]complex128{1000, 0, -push[1] * 1000})
	return []complex128{u[2] * 1000, u[1] + push[0]*u[2], v[0] - push[1]*v[2]}
}

// sineAndCosine of a complex number whose imaginary part is tiny.
func sineAndCosine(x complex128) (sin, cos complex128) {
	s, c := math.Sincos(real(x))
	return complex(s, c*imag(x)), complex(c, -s*imag(x))
}

func determinant(k [3][3]complex128) complex128 {
	return k[0][0]*(k[1][1]*k[2][2]-k[1][2]*k[2][1]) - k[0][1]*(k[1][0]*k[2][2]-k[1][2]*k[2][0]) + k[0][2]*(k[1][0]*k[2][1]-k[1][1]*k[2][0])
}

func cramer(k [3][3]complex128, f [3]complex128) (u [3]complex128) {
	whole := determinant(k)
	for i := range u {
		replaced := k
		for row := range f {
			replaced[row][i] = f[row]
		}
		u[i] = determinant(replaced) / whole
	}
	return u
}

const widest = 0.7 // rad, of both angles to both sides

func (r *raft) problem() *optimize.Problem {
	p := &optimize.Problem{Wants: r.wants, Numbers: 3, Evaluate: formulas(r.numbers).evaluate}
	for range r.springs {
		p.Parameters = append(p.Parameters, optimize.Parameter{Lower: -widest, Upper: widest})
	}
	return p
}

// shelf is a list of springs with prices for each place of a raft.
type shelf struct {
	springs [2][]spring
	prices  [][]int
	wants   []optimize.Want
}

// random makes a shelf of n and m springs; the wants are all of one of three sorts.
func randomShelf(seed uint64, n, m int) *shelf {
	random := rand.New(rand.NewPCG(seed, 5))
	s := &shelf{prices: make([][]int, 2)}
	for place, count := range []int{n, m} {
		for range count {
			rate := func() float64 { return math.Round(300 * math.Exp(2.5*random.Float64())) }
			s.springs[place] = append(s.springs[place], spring{rate(), rate()})
			s.prices[place] = append(s.prices[place], 1+random.IntN(4))
		}
	}
	turn := optimize.Want{Number: 0, Kind: optimize.AtLeast, Value: -2 + 3*random.Float64(), Scale: 0.05}
	shift := optimize.Want{Number: 1, Kind: optimize.AtMost, Value: 0.3 + random.Float64(), Scale: 0.02}
	switch seed % 3 {
	case 0:
		turn.Kind, shift.Kind = optimize.Target, optimize.Target
		s.wants = []optimize.Want{turn, shift, {Number: 2, Kind: optimize.Target, Value: 1, Scale: 0.05}}
	case 1:
		s.wants = []optimize.Want{turn, {Number: 2, Kind: optimize.MakeLarge, Scale: 0.05}}
	case 2:
		s.wants = []optimize.Want{turn, shift, {Number: 2, Kind: optimize.MakeLarge, Scale: 0.05}}
	}
	return s
}

func (s *shelf) choice() *optimize.Choice {
	return &optimize.Choice{
		Options: []int{len(s.springs[0]), len(s.springs[1])}, Prices: s.prices,
		Bench: func() (*optimize.Bench, error) {
			r := &raft{wants: s.wants}
			return &optimize.Bench{Problem: r.problem(), Put: func(options []int) error {
				for place, o := range options {
					r.springs[place] = s.springs[place][o]
				}
				return nil
			}}, nil
		},
	}
}

// costs of the wants at two angles, from their definition in the package comment.
func (r *raft) costs(a, b float64) (violation, aim float64) {
	values := r.numbers([]complex128{complex(a, 0), complex(b, 0)})
	for _, w := range r.wants {
		v := real(values[w.Number])
		miss := (v - w.Value) / w.Scale
		switch {
		case w.Kind == optimize.Target:
			aim += miss * miss
		case w.Kind == optimize.MakeLarge:
			aim -= v / w.Scale
		case w.Kind == optimize.AtLeast && miss < 0, w.Kind == optimize.AtMost && miss > 0:
			violation += miss * miss
		}
	}
	return violation, aim
}

// point is one point of a grid.
type point struct{ a, b, violation, aim float64 }

func (p point) compare(q point) int {
	if p.violation > held || q.violation > held {
		if p.violation < q.violation {
			return -1
		}
		return 1
	}
	if p.aim < q.aim {
		return -1
	}
	return 1
}

// held is the violation that counts as none on the grid: limits hold to 1e-6 steps.
const held = 1e-12

// leastOnGrid is the least cost of a raft on a dense grid of angles, made finer
// around its best points again and again. It takes neither gradients nor starts.
func (r *raft) leastOnGrid() point {
	const dense, kept, levels, fine = 41, 6, 9, 4
	width := 2 * widest / (dense - 1)
	var best []point
	look := func(a, b float64) {
		a, b = min(max(a, -widest), widest), min(max(b, -widest), widest)
		p := point{a: a, b: b}
		p.violation, p.aim = r.costs(a, b)
		if len(best) < kept || p.compare(best[len(best)-1]) < 0 {
			at, _ := slices.BinarySearchFunc(best, p, point.compare)
			if best = slices.Insert(best, at, p); len(best) > kept {
				best = best[:kept]
			}
		}
	}
	for i := range dense {
		for j := range dense {
			look(-widest+float64(i)*width, -widest+float64(j)*width)
		}
	}
	for range levels {
		width /= fine
		for _, p := range slices.Clone(best) {
			for i := -fine; i <= fine; i++ {
				for j := -fine; j <= fine; j++ {
					look(p.a+float64(i)*width, p.b+float64(j)*width)
				}
			}
		}
	}
	return best[0]
}
