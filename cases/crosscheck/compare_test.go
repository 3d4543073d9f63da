package crosscheck

import (
	"math"
	"testing"
)

// TestCompare: a figure may miss by a share of itself or of the largest like
// figure, and toe is not measured by other rotations.
func TestCompare(t *testing.T) {
	want := Answer{
		Poses: [2]Pose{{100, 1, 0, 0.1, 0.001, 0}, {}},
		ToeIn: [2]float64{0.01, -0.002},
	}
	for _, c := range []struct {
		name   string
		change func(*Answer)
		misses int
	}{
		{"nothing", func(*Answer) {}, 0},
		{"large figure by 2.9 %", func(a *Answer) { a.Poses[0][0] *= 1.029 }, 0},
		{"large figure by 3.1 %", func(a *Answer) { a.Poses[0][0] *= 0.969 }, 1},
		{"small figure by 0.4 of 100", func(a *Answer) { a.Poses[0][1] += 0.4 }, 0},
		{"zero by 0.6 of 100", func(a *Answer) { a.Poses[1][2] -= 0.6 }, 1},
		{"rotation by a displacement's measure", func(a *Answer) { a.Poses[1][3] = 0.0006 }, 1},
		{"toe by 3.1 % of itself", func(a *Answer) { a.ToeIn[1] *= 1.031 }, 1},
		{"not a number", func(a *Answer) { a.ToeIn[0] = math.NaN() }, 1},
	} {
		got := want
		c.change(&got)
		if misses := Compare(got, want, relativeTolerance, caseTolerance); len(misses) != c.misses {
			t.Errorf("%s: %d misses %v, want %d", c.name, len(misses), misses, c.misses)
		}
	}
}
