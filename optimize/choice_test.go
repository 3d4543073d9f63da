package optimize_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"bushtune/optimize"
)

// What the grid leaves between its best point and the optimum, in steps: a corner
// of two curved limits is met to the last cell only.
const gridTolerance = 0.02

func choose(t testing.TB, c *optimize.Choice, o optimize.ChoiceOptions) *optimize.ChoiceResult {
	t.Helper()
	r, err := optimize.Choose(context.Background(), c, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// shelvesCompared are held against a dense grid; on the last eight, starts twice as
// far apart miss an optimum.
func shelvesCompared() []uint64 {
	var seeds []uint64
	for seed := range uint64(32) {
		seeds = append(seeds, seed)
	}
	return append(seeds, 66, 159, 350, 356, 400, 443, 525, 536)
}

// Every combination of many small random shelves against a dense grid: the tuned
// cost is never above the grid's, which is never far above the tuned one, and the
// order is that of the grid.
func TestChoiceAgainstBruteForce(t *testing.T) {
	compared, unmet := 0, 0
	for _, seed := range shelvesCompared() {
		s := randomShelf(seed, 3, 4)
		r := choose(t, s.choice(), optimize.ChoiceOptions{Best: 12})
		if len(r.Best) != 12 || r.Tuned != 12 || !r.Exhaustive {
			t.Fatalf("shelf %d: %d listed, %d tuned", seed, len(r.Best), r.Tuned)
		}
		for rank, c := range r.Best {
			one := &raft{springs: [2]spring{s.springs[0][c.Options[0]], s.springs[1][c.Options[1]]}, wants: s.wants}
			g := one.leastOnGrid()
			compared++
			if !c.Held {
				unmet++
				tuned, grid := math.Sqrt(c.Violation), math.Sqrt(g.violation)
				if tuned > grid+1e-6 || grid > tuned+gridTolerance {
					t.Errorf("shelf %d, %v: limits missed by %g steps, on the grid by %g", seed, c.Options, tuned, grid)
				}
				continue
			}
			if g.violation > held {
				continue // the grid found no point that holds: the tune did
			}
			if c.Aim > g.aim+1e-6 || g.aim > c.Aim+gridTolerance {
				t.Errorf("shelf %d, place %d, %v: aim %.9g, on the grid %.9g", seed, rank+1, c.Options, c.Aim, g.aim)
			}
		}
	}
	if compared != 480 || unmet == 0 || unmet == compared {
		t.Errorf("%d combinations compared, of which %d miss a limit: too one-sided", compared, unmet)
	}
}

// The order of the best, and the best of every price, are those of all combinations
// sorted.
func TestBestAreTheBest(t *testing.T) {
	for seed := range uint64(6) {
		s := randomShelf(seed, 7, 9)
		every := choose(t, s.choice(), optimize.ChoiceOptions{Best: 63})
		few := choose(t, s.choice(), optimize.ChoiceOptions{Best: 4})
		if !reflect.DeepEqual(few.Best, every.Best[:4]) {
			t.Errorf("shelf %d: the best four are not the first four of all", seed)
		}
		lowest := map[int]optimize.Chosen{}
		for i, c := range every.Best {
			if c.Price != s.prices[0][c.Options[0]]+s.prices[1][c.Options[1]] {
				t.Errorf("shelf %d: price %d of %v", seed, c.Price, c.Options)
			}
			if _, there := lowest[c.Price]; !there {
				lowest[c.Price] = c
			}
			if i > 0 && every.Best[i-1].Held == c.Held && every.Best[i-1].Violation > c.Violation*(1+1e-5)+1e-5 {
				t.Errorf("shelf %d: order at %d", seed, i)
			}
		}
		if len(few.Prices) != len(lowest) {
			t.Fatalf("shelf %d: %d prices, want %d", seed, len(few.Prices), len(lowest))
		}
		for i, c := range few.Prices {
			if !reflect.DeepEqual(c, lowest[c.Price]) || i > 0 && few.Prices[i-1].Price >= c.Price {
				t.Errorf("shelf %d: best of price %d is %v, want %v", seed, c.Price, c.Options, lowest[c.Price].Options)
			}
		}
	}
}

// The same bytes on any number of processors, exhaustive or not.
func TestChoiceOnAnyNumberOfProcessors(t *testing.T) {
	for _, most := range []int{0, 25} {
		s := randomShelf(2, 11, 8)
		one := choose(t, s.choice(), optimize.ChoiceOptions{Processors: 1, Exhaustive: most})
		for _, many := range []int{2, 3, 7} {
			if r := choose(t, s.choice(), optimize.ChoiceOptions{Processors: many, Exhaustive: most}); !reflect.DeepEqual(one, r) {
				t.Errorf("at most %d: %d processors give another result than one", most, many)
			}
		}
	}
}

// A list of one option each is a plain tune.
func TestChoiceOfOneIsATune(t *testing.T) {
	for seed := range uint64(12) {
		s := randomShelf(seed, 1, 1)
		r := choose(t, s.choice(), optimize.ChoiceOptions{})
		one := &raft{springs: [2]spring{s.springs[0][0], s.springs[1][0]}, wants: s.wants}
		plain := solve(t, one.problem(), optimize.Options{Seed: 4})
		c := r.Best[0]
		if len(r.Best) != 1 || r.Cheaper(1e9) != nil {
			t.Errorf("shelf %d: %d best, cheaper %v", seed, len(r.Best), r.Cheaper(1e9))
		}
		if d := math.Abs(c.Aim - plain.After.Aim); d > 1e-6*math.Max(1, math.Abs(plain.After.Aim)) {
			t.Errorf("shelf %d: aim %.9g, the tune says %.9g", seed, c.Aim, plain.After.Aim)
		}
		if d := math.Abs(c.Violation - plain.After.Violation); d > 1e-6*math.Max(1, plain.After.Violation) {
			t.Errorf("shelf %d: violation %.9g, the tune says %.9g", seed, c.Violation, plain.After.Violation)
		}
	}
}

// A parameter that changes nothing keeps its present value: a round spring may be
// turned at will.
func TestIdleParametersRest(t *testing.T) {
	s := randomShelf(0, 3, 3)
	for i := range s.springs[1] {
		s.springs[1][i].across = s.springs[1][i].along
	}
	for _, c := range choose(t, s.choice(), optimize.ChoiceOptions{}).Best {
		if c.X[1] != 0 || c.X[0] == 0 {
			t.Errorf("%v: angles %v", c.Options, c.X)
		}
	}
}

// Equal options stand in the order of their prices, then of the list.
func TestTiesAreOrdered(t *testing.T) {
	s := randomShelf(0, 1, 1)
	same := s.springs[0][0]
	s.springs[0] = []spring{same, same, same, same}
	s.prices[0] = []int{3, 2, 2, 3}
	r := choose(t, s.choice(), optimize.ChoiceOptions{})
	var order []int
	for _, c := range r.Best {
		order = append(order, c.Options[0])
	}
	if !slices.Equal(order, []int{1, 2, 0, 3}) {
		t.Errorf("order %v", order)
	}
}

// listed is a choice of one place without parameters: option i has aim aims[i] and
// shortfall short[i], in steps.
func listed(aims, short []float64, prices ...int) *optimize.Choice {
	return &optimize.Choice{Options: []int{len(aims)}, Prices: [][]int{prices}, Bench: func() (*optimize.Bench, error) {
		at := 0
		values := func([]complex128) []complex128 { return []complex128{complex(aims[at], 0), complex(short[at], 0)} }
		p := &optimize.Problem{Numbers: 2, Evaluate: formulas(values).evaluate,
			Wants: []optimize.Want{{Kind: optimize.MakeSmall, Scale: 1}, {Number: 1, Kind: optimize.AtMost, Scale: 1}}}
		return &optimize.Bench{Problem: p, Put: func(o []int) error {
			if at = o[0]; math.IsInf(aims[at], 1) {
				return errOutside
			}
			return nil
		}}, nil
	}}
}

func TestCheaperCostsLittle(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		name        string
		choice      *optimize.Choice
		step        float64
		best, saves int // −1: nothing
	}{
		{"a step more for two classes less", listed([]float64{1, 1.9, 1.5}, []float64{0, 0, 0}, 4, 2, 3), 1, 0, 1},
		{"only the next class is near enough", listed([]float64{1, 1.9, 1.5}, []float64{0, 0, 0}, 4, 2, 3), 0.6, 0, 2},
		{"none is near enough", listed([]float64{1, 1.9, 1.5}, []float64{0, 0, 0}, 4, 2, 3), 0.1, 0, -1},
		{"the best is the cheapest", listed([]float64{1, 1.9}, []float64{0, 0}, 1, 2), 1, 0, -1},
		{"a cheaper one that misses a limit is none", listed([]float64{1, 0}, []float64{0, 0.3}, 4, 2), 1, 0, -1},
		{"where the best misses a limit, so may the cheaper", listed([]float64{1, 9}, []float64{2, 2.5}, 4, 2), 1, 0, 1},
		{"but not by much more", listed([]float64{1, 0}, []float64{2, 3.5}, 4, 2), 1, 0, -1},
		{"what cannot be is no choice", listed([]float64{inf, 1, 0}, []float64{0, 0, 0}, 1, 1, 2), 1, 2, 1},
	} {
		r := choose(t, c.choice, optimize.ChoiceOptions{})
		saves := -1
		if cheaper := r.Cheaper(c.step); cheaper != nil {
			saves = cheaper.Options[0]
		}
		if r.Best[0].Options[0] != c.best || saves != c.saves {
			t.Errorf("%s: best %d, cheaper %d", c.name, r.Best[0].Options[0], saves)
		}
	}
}

// Beyond the limit the choice is called heuristic and tunes no more than allowed.
// On these shelves it finds the best nevertheless.
func TestExchangeIsCalledHeuristic(t *testing.T) {
	for seed := range uint64(6) {
		s := randomShelf(seed, 14, 14)
		every := choose(t, s.choice(), optimize.ChoiceOptions{})
		some := choose(t, s.choice(), optimize.ChoiceOptions{Exhaustive: 195})
		if some.Exhaustive || some.Tuned > 195 || some.Combinations != 196 {
			t.Errorf("shelf %d: exhaustive %v, %d tuned of %g", seed, some.Exhaustive, some.Tuned, some.Combinations)
		}
		if !reflect.DeepEqual(some.Best[0].Options, every.Best[0].Options) {
			t.Errorf("shelf %d: %v found, %v is best", seed, some.Best[0].Options, every.Best[0].Options)
		}
		few := choose(t, s.choice(), optimize.ChoiceOptions{Exhaustive: 30})
		if few.Tuned > 30 || len(few.Best) != 10 {
			t.Errorf("shelf %d: %d tuned where 30 are allowed, %d listed", seed, few.Tuned, len(few.Best))
		}
	}
}

// halves is a choice of four places without parameters, two on the left and the same
// two on the right: options cost what chance says, and more where left and right
// differ, so that both halves must change together.
func halves(seed uint64, options int) (c *optimize.Choice, least float64) {
	random := rand.New(rand.NewPCG(seed, 1))
	cost := make([][2]float64, options)
	best := [2]float64{1, 1}
	for i := range cost {
		cost[i] = [2]float64{random.Float64(), random.Float64()}
		best = [2]float64{min(best[0], cost[i][0]), min(best[1], cost[i][1])}
	}
	return &optimize.Choice{Options: []int{options, options, options, options}, Bench: func() (*optimize.Bench, error) {
		aim := 0.0
		values := func([]complex128) []complex128 { return []complex128{complex(aim, 0)} }
		return &optimize.Bench{
			Problem: &optimize.Problem{Numbers: 1, Evaluate: formulas(values).evaluate, Wants: []optimize.Want{{Kind: optimize.MakeSmall, Scale: 1}}},
			Put: func(o []int) error {
				aim = cost[o[0]][0] + cost[o[1]][1] + cost[o[2]][0] + cost[o[3]][1]
				for place := range 2 {
					if o[place] != o[place+2] {
						aim += 0.2
					}
				}
				return nil
			},
		}, nil
	}}, best[0] + best[1] + best[0] + best[1]
}

// Two halves that should be alike: with 8000 of 2 560 000 combinations the exchange
// finds the best, known in closed form, on nearly every list.
func TestExchangeOfBothHalves(t *testing.T) {
	found := 0
	for seed := range uint64(10) {
		c, least := halves(seed, 40)
		some := choose(t, c, optimize.ChoiceOptions{Exhaustive: 8000})
		if some.Best[0].Aim < least-1e-12 || some.Exhaustive || some.Tuned > 8000 || some.Combinations != 2560000 {
			t.Errorf("list %d: %v after %d, the least aim is %v", seed, some.Best[0], some.Tuned, least)
		}
		if some.Best[0].Aim < least+1e-12 {
			found++
		}
	}
	if found < 9 {
		t.Errorf("the best is found on %d of ten lists", found)
	}
}

func TestChoiceThatIsWrong(t *testing.T) {
	inf := math.Inf(1)
	ok := listed([]float64{1, 2}, []float64{0, 0}, 1, 1)
	broken := errors.New("no bench")
	for name, c := range map[string]*optimize.Choice{
		"no bench":        {Options: []int{1}},
		"no place":        {Bench: ok.Bench},
		"no options":      {Options: []int{2, 0}, Bench: ok.Bench},
		"prices missing":  {Options: []int{2, 2}, Prices: [][]int{{1, 2}}, Bench: ok.Bench},
		"price missing":   {Options: []int{2}, Prices: [][]int{{1}}, Bench: ok.Bench},
		"bench fails":     {Options: []int{2}, Bench: func() (*optimize.Bench, error) { return nil, broken }},
		"problem wrong":   {Options: []int{2}, Bench: func() (*optimize.Bench, error) { return &optimize.Bench{Problem: &optimize.Problem{}}, nil }},
		"nothing is left": listed([]float64{inf, inf}, []float64{0, 0}, 1, 1),
	} {
		if _, err := optimize.Choose(context.Background(), c, optimize.ChoiceOptions{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	_, err := optimize.Choose(context.Background(), listed([]float64{inf}, []float64{0}, 1), optimize.ChoiceOptions{})
	if !errors.Is(err, optimize.ErrNoChoice) || !errors.Is(err, errOutside) {
		t.Errorf("nothing is left: %v", err)
	}
}

func TestChoiceStops(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	s := randomShelf(1, 30, 30)
	r, err := optimize.Choose(ctx, s.choice(), optimize.ChoiceOptions{Progress: func(done, of int) {
		if of != 900 {
			t.Errorf("progress of %d", of)
		}
		if done >= 100 {
			stop()
		}
	}})
	if err != nil || !r.Stopped || r.Exhaustive || r.Tuned >= 900 || len(r.Best) == 0 {
		t.Errorf("%v, %+v", err, r)
	}
}

// Sixty options in each of two places and two free angles.
func BenchmarkChoice(b *testing.B) {
	for _, n := range []int{15, 60} {
		b.Run(fmt.Sprintf("%dx%d", n, n), func(b *testing.B) {
			s := randomShelf(2, n, n)
			b.ReportAllocs()
			for b.Loop() {
				choose(b, s.choice(), optimize.ChoiceOptions{})
			}
		})
	}
}
