package bushing

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// radiochemical are the data RPN 14 of Fritsch & Carlson, SIAM J. Numer. Anal.
// 17 (1980), table of section 5, moved so that they start at zero.
var radiochemical = [][2]float64{
	{0, 0}, {0.10, 2.76429e-5}, {0.20, 4.37498e-2}, {0.71, 0.169183}, {1.21, 0.469428},
	{2.01, 0.943740}, {4.01, 0.998636}, {7.01, 0.999919}, {12.01, 0.999994},
}

// akima are the data of Akima, J. ACM 17 (1970), used there too: flat, then steep.
var akima = [][2]float64{{0, 0}, {2, 0}, {3, 0}, {5, 0}, {6, 0}, {8, 0}, {9, 0.5}, {11, 5}, {12, 40}, {14, 50}, {15, 75}}

// Fritsch & Carlson: between points the curve never falls and stays between the
// loads of its interval; where the points are flat it is flat; the tangents of
// an interval, over its secant, lie in the circle of radius three.
func TestTableIsMonotone(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	sets := [][][2]float64{radiochemical, akima}
	for range 20 {
		var set [][2]float64
		x, y := 0.0, 0.0
		for range 3 + rng.IntN(8) {
			set = append(set, [2]float64{x, y})
			x += 0.05 + rng.ExpFloat64()
			y += math.Pow(rng.Float64(), 6) * 1e4
		}
		sets = append(sets, set)
	}
	for n, set := range sets {
		table, err := NewTable(set)
		if err != nil {
			t.Fatal(err)
		}
		for i := 1; i < len(table.x); i++ {
			checkInterval(t, n, table, i)
		}
	}
}

func checkInterval(t *testing.T, set int, table *Table, i int) {
	t.Helper()
	const grain = 1e-12 // rounding of a cubic, as a share of the interval or of the last tangent
	low, high := table.y[i-1], table.y[i]
	secant := (high - low) / (table.x[i] - table.x[i-1])
	if math.Hypot(table.slope[i-1], table.slope[i]) > monotoneRadius*secant*(1+grain) {
		t.Errorf("set %d, interval %d: tangents %g and %g over a secant of %g", set, i, table.slope[i-1], table.slope[i], secant)
	}
	for k := range 101 {
		x := table.x[i-1] + (table.x[i]-table.x[i-1])*float64(k)/100
		p := tableAt(table, x)
		if p.slope < -grain*max(secant, table.slope[len(table.slope)-1]) || p.load < low-grain*(high-low) || p.load > high+grain*(high-low) {
			t.Fatalf("set %d, interval %d: at %g load %g (%g … %g), slope %g", set, i, x, p.load, low, high, p.slope)
		}
	}
}

// A cubic through three-point tangents repeats a parabola where no tangent is
// shortened: from the second interval on, and in the slope at the end.
func TestTableRepeatsAParabola(t *testing.T) {
	table, err := NewTable([][2]float64{{0, 0}, {1, 1}, {1.5, 2.25}, {2.2, 4.84}, {3, 9}})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{1.5, 1.7, 2.2, 2.5, 2.99, 3} {
		if p := tableAt(table, x); math.Abs(p.load-x*x) > 1e-13*x*x || math.Abs(p.slope-2*x) > 1e-12*x {
			t.Errorf("at %g: load %.15g, slope %.15g of a parabola", x, p.load, p.slope)
		}
	}
	if p := tableAt(table, 5.0); math.Abs(p.load-(9+2*6)) > 1e-11 {
		t.Errorf("beyond the end %g, want the tangent's 21", p.load)
	}
}

// Points on one side describe an odd function; straight points a straight line.
func TestTableOneSided(t *testing.T) {
	for _, set := range [][][2]float64{radiochemical, akima, radiochemical[1:]} {
		table, err := NewTable(set)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []float64{0.05, 0.15, 0.5, 1.9, 8.4, 14} {
			plus, minus := tableAt(table, x), tableAt(table, -x)
			if math.Abs(plus.load+minus.load) > 1e-14*plus.load || math.Abs(plus.slope-minus.slope) > 1e-14*plus.slope || math.Abs(plus.energy-minus.energy) > 1e-12*plus.energy {
				t.Errorf("at ±%g: %v and %v", x, plus, minus)
			}
		}
	}
	straight, err := NewTable([][2]float64{{1, 300}, {4, 1200}})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range deflections {
		if p := tableAt(straight, x); math.Abs(p.load-300*x) > 1e-12*math.Abs(300*x) {
			t.Errorf("straight table carries %g at %g", p.load, x)
		}
	}
	if straight.Rate() != 300 {
		t.Errorf("rate %g", straight.Rate())
	}
}

// What is no curve is refused, naming the point.
func TestTableMistakes(t *testing.T) {
	for _, c := range []struct {
		points [][2]float64
		at     int
	}{
		{[][2]float64{{0, 0}, {1, 500}, {1, 600}}, 3},
		{[][2]float64{{0, 0}, {2, 500}, {1, 600}}, 3},
		{[][2]float64{{0, 0}, {1, 500}, {2, 499}}, 3},
		{[][2]float64{{0, 10}, {1, 500}}, 1},
		{[][2]float64{{-3, -10}, {-1, -5}}, 2},
		{[][2]float64{{-3, 10}, {1, 50}}, 1},
		{[][2]float64{{-3, -100}, {1, -50}, {4, 3}}, 2},
		{[][2]float64{{0.5, -3}, {1, 50}}, 1},
		{[][2]float64{{0, 0}, {math.NaN(), 50}}, 2},
	} {
		_, err := NewTable(c.points)
		var wrong *PointError
		if !errors.As(err, &wrong) || wrong.Point != c.at {
			t.Errorf("%v: %v, want a mistake at point %d", c.points, err, c.at)
		}
	}
	if _, err := NewTable([][2]float64{{1, 2}}); err == nil {
		t.Error("one point is no curve")
	}
}

// A table without a point at zero passes through it all the same.
func TestTablePassesThroughZero(t *testing.T) {
	table, err := NewTable([][2]float64{{-2, -500}, {1, 700}})
	if err != nil {
		t.Fatal(err)
	}
	if p := tableAt(table, 0.0); p.load != 0 || p.energy != 0 || p.slope <= 0 {
		t.Errorf("at zero: %v", p)
	}
	law := Law[float64]{Table: table}
	for _, c := range []struct {
		e       float64
		outside bool
	}{{-2.1, true}, {-2, false}, {0, false}, {1, false}, {1.0001, true}} {
		if law.Outside(c.e) != c.outside {
			t.Errorf("outside at %g: %v", c.e, !c.outside)
		}
	}
	if (&Law[float64]{Rate: 5}).Outside(1e9) {
		t.Error("a straight line has no outside")
	}
}
