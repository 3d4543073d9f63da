package optimize

import (
	"context"
	"math"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Halton (1960): the radical inverses in bases 2 and 3.
func TestRadicalInverse(t *testing.T) {
	for base, want := range map[int][]float64{
		2: {0.5, 0.25, 0.75, 0.125, 0.625},
		3: {1.0 / 3, 2.0 / 3, 1.0 / 9, 4.0 / 9, 7.0 / 9},
	} {
		for k, w := range want {
			if got := radicalInverse(k+1, base); math.Abs(got-w) > 1e-15 {
				t.Errorf("base %d, %d: %v, want %v", base, k+1, got, w)
			}
		}
	}
	if got := primes(6); !reflect.DeepEqual(got, []int{2, 3, 5, 7, 11, 13}) {
		t.Errorf("primes %v", got)
	}
}

// Every eighth of every axis holds some of 64 points: random points would leave
// gaps in one of five axes about once in a thousand seeds, here never.
func TestStartsFillTheBox(t *testing.T) {
	const axes, cells = 5, 8
	for seed := range uint64(20) {
		var seen [axes][cells]bool
		for _, z := range lowDiscrepancy(axes, 64, seed) {
			for i, v := range z {
				if v < 0 || v >= 1 {
					t.Fatalf("coordinate %v outside the box", v)
				}
				seen[i][int(v*cells)] = true
			}
		}
		for i := range seen {
			for c, ok := range seen[i] {
				if !ok {
					t.Errorf("seed %d: axis %d, cell %d is empty", seed, i, c)
				}
			}
		}
	}
}

// Rastrigin's function has 11² minima in this box: the global start ends in the
// basin of the best one, or of a neighbour, where a descent from the corner
// cannot.
func TestGlobalStart(t *testing.T) {
	p := &Problem{Numbers: 1, Wants: []Want{{Kind: MakeSmall, Scale: 1}},
		Evaluate: func(x, values []float64, _ *mat.Dense) error {
			values[0] = 0
			for _, v := range x {
				values[0] += 10 + v*v - 10*math.Cos(2*math.Pi*v)
			}
			return nil
		}}
	for range 2 {
		p.Parameters = append(p.Parameters, Parameter{Lower: -5.12, Upper: 5.12, Start: 5})
	}
	best := 0
	for seed := range uint64(10) {
		m := newModel(p)
		z := m.globalStart(context.Background(), 600, seed)
		if again := newModel(p).globalStart(context.Background(), 600, seed); !reflect.DeepEqual(z, again) {
			t.Errorf("seed %d: %v, then %v", seed, z, again)
		}
		e, err := m.values(z)
		if err != nil {
			t.Fatal(err)
		}
		if m.count.Values > 600+1 {
			t.Errorf("%d evaluations", m.count.Values)
		}
		if e.aim < 2.5 { // the best minimum is 0, its neighbours 1 and 2, the worst 50
			best++
		}
	}
	if best < 7 {
		t.Errorf("%d of 10 seeds came near the best minimum", best)
	}
}

// The order of ranks is the order of the two stages.
func TestRankOrdersViolationFirst(t *testing.T) {
	p := &Problem{Numbers: 2, Parameters: []Parameter{{Upper: 1}},
		Wants:    []Want{{Kind: MakeSmall, Scale: 1e-300}, {Number: 1, Kind: AtLeast, Scale: 1}},
		Evaluate: func(x, values []float64, _ *mat.Dense) error { values[0], values[1] = 1, x[0]-0.5; return nil }}
	m := newModel(p)
	huge, small, large := m.rank([]float64{0.6}), m.rank([]float64{0.4}), m.rank([]float64{0.1})
	if !(huge < small && small < large && large < impossible) {
		t.Errorf("ranks %g, %g, %g", huge, small, large)
	}
}

func TestBox(t *testing.T) {
	b := newBox([]Parameter{{Lower: -3, Upper: 7}, {Lower: 5, Upper: 5}, {Lower: 0.1, Upper: 1e6, Scale: Log}})
	if !reflect.DeepEqual(b.free, []int{0, 2}) {
		t.Fatalf("free %v", b.free)
	}
	if got := b.point([]float64{0, 1}); !reflect.DeepEqual(got, []float64{-3, 5, 1e6}) {
		t.Errorf("corner %v", got)
	}
	const h = 1e-6 // central differences: error h² against 1e-8
	for _, z := range [][]float64{{0.1, 0.9}, {0.77, 0.23}} {
		x := b.point(z)
		for k, v := range b.coordinates(x) {
			if math.Abs(v-z[k]) > 1e-14 {
				t.Errorf("coordinate %v came back as %v", z[k], v)
			}
			p := b.parameters[b.free[k]]
			slope := (p.at(z[k]+h) - p.at(z[k]-h)) / (2 * h)
			if got := b.slope(k, x[b.free[k]]); math.Abs(got/slope-1) > 1e-8 {
				t.Errorf("slope %v, differences %v", got, slope)
			}
		}
	}
}

// Damped BFGS keeps the matrix definite whatever the curvature, and meets the
// secant equation where the curvature is positive.
func TestDampedBFGS(t *testing.T) {
	for _, c := range []struct {
		name   string
		y      []float64
		secant bool
	}{
		{"positive", []float64{2, 0.5}, true}, {"negative", []float64{-3, 1}, false},
		{"none", []float64{0, 0}, false}, {"small", []float64{0.01, 0}, false},
	} {
		h, s := square(2, 1), []float64{1, 0.3}
		dampedBFGS(h, s, c.y)
		if _, ok := inverseFactor(h); !ok {
			t.Errorf("%s: %v is not definite", c.name, h)
		}
		hs := multiply(h, s)
		if met := math.Hypot(hs[0]-c.y[0], hs[1]-c.y[1]) < 1e-12; met != c.secant {
			t.Errorf("%s: h·s = %v, y = %v", c.name, hs, c.y)
		}
	}
}

// A sketch chooses from where to start and nothing else: with one that is asked instead
// of the numbers themselves fewer of these are found, and a search ends where the
// numbers have their best, not where the sketch has it.
func TestASketchOnlyChoosesStarts(t *testing.T) {
	count := 0
	wave := func(off float64, counted bool) Evaluator {
		return func(x, values []float64, jacobian *mat.Dense) error {
			if counted {
				count++
			}
			values[0] = math.Sin(9*(x[0]-off)) - (x[0]-off-0.55)*(x[0]-off-0.55)
			if jacobian != nil {
				jacobian.Set(0, 0, 9*math.Cos(9*(x[0]-off))-2*(x[0]-off-0.55))
			}
			return nil
		}
	}
	p := &Problem{Numbers: 1, Parameters: []Parameter{{Upper: 1, Start: 0.05}}, Wants: []Want{{Kind: MakeLarge, Scale: 1}}, Evaluate: wave(0, true)}
	o := Options{Seed: 1, Starts: -1}
	plain, err := Solve(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	asked := count
	count, p.Sketch = 0, wave(0.03, false)
	sketched, err := Solve(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(sketched.X[0]-plain.X[0]) > 1e-6 {
		t.Errorf("with a sketch the search ends at %v, without at %v", sketched.X, plain.X)
	}
	if count > asked/2 {
		t.Errorf("%d evaluations with a sketch, %d without", count, asked)
	}
}
