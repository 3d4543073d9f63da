package cases

import (
	"errors"
	"math"
	"strings"
	"testing"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// goalOf is a goal on a number by name.
func goalOf(t testing.TB, s *Study, name, caseName string, size float64, straight bool) Goal {
	t.Helper()
	index, err := s.Find(name, caseName, "")
	if err != nil {
		t.Fatal(err)
	}
	return Goal{Number: index, Size: size, Straight: straight}
}

// goalAxles are the axles on which goals are tried: plain, curved under a load at
// rest, closing voids, and halves that differ with links, hubs and wheel angles.
func goalAxles(t testing.TB) map[string]*Study {
	loaded := vehicleWith(t, carValues)
	loaded.StaticLoad = true
	sprung := vehicleWith(t, carValues)
	sprung.TyreInSeries = true
	return map[string]*Study{
		"twist beam": studyOf(t, twistBeam(t), vehicleWith(t, carValues)), "curved": curvedStudy(t, 5, nil),
		"stopped": studyOf(t, stoppedBeam(t), sprung), "linked and loaded": studyOf(t, linkedBeam(t), loaded),
		"moulded": rubberStudy(t, nil),
	}
}

const g = quantity.StandardGravity

// goalsOf are goals of every kind on one axle.
func goalsOf(t testing.TB, s *Study) []Goal {
	return []Goal{
		goalOf(t, s, "total_outer_toe", "state_cornering", 0.6*g, false),
		goalOf(t, s, "lateral_force_steer", "", 4000, true),
		goalOf(t, s, "lateral_force_steer", "", 4000, false),
		goalOf(t, s, "lateral_force_steer", "", 2000, false),
		goalOf(t, s, "longitudinal_compliance", "", 3000, false),
		goalOf(t, s, "anti_lift_angle", "", 2000, false),
		goalOf(t, s, "roll_angle", "state_combined", 0.5*g, false),
		goalOf(t, s, "roll_steer", "", 1500, false),
		goalOf(t, s, "bump_steer", "", 0, false),
		goalOf(t, s, "outer_wheel_toe", "aligning", 3e5, true),
		goalOf(t, s, "total_outer_toe", "state_combined", 0, false),
		goalOf(t, s, "inner_wheel_camber", "state_braking", 0, false),
	}
}

// goalTolerance is what is left of differences of the whole way, from the slot
// to the equilibrium: the balance of the mover, 1e-9, over the step.
const goalTolerance = 1e-6

// Every goal by every slot: exact slopes against Richardson differences of the
// whole way, equilibrium included.
func TestSlopesOfGoalsAgreeWithDifferences(t *testing.T) {
	for name, s := range goalAxles(t) {
		f, slots, goals := fullSize(t, s), movable(s), goalsOf(t, s)
		values, slopes := make([]float64, len(goals)), make([][]float64, len(goals))
		for k := range slopes {
			slopes[k] = make([]float64, len(slots))
		}
		if err := f.Goals(goals, values, slots, slopes); err != nil {
			t.Fatal(name, err)
		}
		for k, goal := range goals { // a goal without a size is the number of the study
			if goal.Size == 0 {
				n, row := &s.numbers[goal.Number], [][]float64{make([]float64, len(slots))}
				s.Gradient([]int{goal.Number}, slots, row)
				for j, v := range row[0] {
					check(t, name+": slope of "+n.Name, v, slopes[k][j], goalTolerance*(math.Abs(v)+1e-3*n.Step*n.Unit.Factor))
				}
				check(t, name+": "+n.Name, s.Value(goal.Number), values[k], goalTolerance*math.Abs(values[k]))
			}
		}
		for j := range slots {
			if testing.Short() && j%7 != 0 {
				continue
			}
			slot, value := slots[j], s.Solver().Axle().Value(slots[j])
			field := s.Solver().Axle().Field(slot)
			step := 4e-3 * max(1, math.Abs(value))
			switch {
			case field.Name == "hub_camber" || field.Name == "hub_toe":
				step = 1e-8
			case field.Unit.Factor < 1:
				step = 4e-3
			}
			want := extrapolated(step, func(x float64) []float64 {
				s.Set(slot, value+x)
				if err := s.Update(); err != nil {
					t.Fatal(name, err)
				}
				out := make([]float64, len(goals))
				if err := f.Goals(goals, out, nil, nil); err != nil {
					t.Fatal(name, err)
				}
				return out
			})
			for k := range goals {
				n := &s.numbers[goals[k].Number]
				room := goalTolerance*math.Abs(want[k]) + 1e-9*(math.Abs(values[k])+n.Step*n.Unit.Factor)/step
				if math.Abs(slopes[k][j]-want[k]) > room {
					t.Errorf("%s: %s in %s at %g by %s of element %d: %.10g, differences %.10g, off %.2g of the room", name, n.Name, n.Case, goals[k].Size, field.Name, slot.Element, slopes[k][j], want[k], math.Abs(slopes[k][j]-want[k])/room)
				}
			}
		}
	}
}

// A goal is the point of the sweep of its case: the secant of a number per load,
// what a state does, and for straightness the secant less the linear number.
func TestGoalsAreThePointsOfSweeps(t *testing.T) {
	for name, s := range goalAxles(t) {
		for _, goal := range goalsOf(t, s) {
			if goal.Size == 0 {
				continue
			}
			n := &s.numbers[goal.Number]
			r := swept(t, s, Sweep{Case: n.Case, To: goal.Size, Points: 3})
			place, series := n.Where, r.Secants
			if n.state >= 0 {
				series = r.Totals
			}
			number := n.Name
			if number == "outer_wheel_toe" || number == "total_outer_toe" {
				number, place = "wheel_toe", "outer"
			}
			c := find(series, number, n.Case, place)
			if c == nil {
				t.Fatalf("%s: no curve of %s in %s", name, n.Name, n.Case)
			}
			want := c.Points[2].Value * n.Unit.Factor
			if goal.Straight {
				want -= s.Value(goal.Number)
			}
			value := make([]float64, 1)
			if err := fullSize(t, s).Goals([]Goal{goal}, value, nil, nil); err != nil {
				t.Fatal(err)
			}
			check(t, name+": "+n.Name+" in "+n.Case, value[0], want, goalTolerance*(math.Abs(want)+n.Step*n.Unit.Factor))
		}
	}
}

// What makes no sense is refused with its reason, and a load that cannot be held
// tells how far it came.
func TestGoalsWithoutAValue(t *testing.T) {
	s := studyOf(t, twistBeam(t), vehicleWith(t, carValues))
	for _, c := range []struct {
		goal Goal
		says string
	}{
		{goalOf(t, s, "steer_neutral_point", "", 1000, false), "two cases"},
		{goalOf(t, s, "lateral_force_steer", "", 0, true), "needs a size"},
		{goalOf(t, s, "total_outer_toe", "state_cornering", 0.4*g, true), "in proportion"},
	} {
		if err := fullSize(t, s).Goals([]Goal{c.goal}, []float64{0}, nil, nil); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v, want %q", c.goal, err, c.says)
		}
	}
	var lost *LostWay
	var balance *compliance.LostBalance
	err := fullSize(t, s).Goals([]Goal{goalOf(t, s, "lateral_force_steer", "", 1e9, false)}, []float64{0}, nil, nil)
	if !errors.As(err, &lost) || !errors.As(err, &balance) || lost.Place < 0 || lost.Place >= 1e9 {
		t.Errorf("a load of 1 GN: %v", err)
	}
}
