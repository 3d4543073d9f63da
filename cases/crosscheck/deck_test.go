package crosscheck

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"bushtune/bushing/finiteelement"
	"bushtune/cases"
)

// TestDeckSteps: one step a case, and a pad equation a wheel on level pads only.
func TestDeckSteps(t *testing.T) {
	a := Axles()[0]
	for _, pads := range []cases.Pads{cases.Level, cases.Floating} {
		text := string(AxleDeck(a, Primary, liveDensity, cases.BuiltIn(), pads))
		steps := 0
		for _, c := range cases.BuiltIn() {
			if c.Pads == pads {
				steps++
			}
		}
		if got := strings.Count(text, "*STEP"); got != steps {
			t.Errorf("%s pads: %d steps for %d cases", pads, got, steps)
		}
		want := 2
		if pads == cases.Floating {
			want = 0
		}
		if got := strings.Count(text, "*EQUATION\n3\n"); got != want {
			t.Errorf("%s pads: %d pad equations, want %d", pads, got, want)
		}
	}
}

// TestDeckNumbers: the solver reads a whole number where it wants a real one as
// something else, so every factor of an equation has a decimal point.
func TestDeckNumbers(t *testing.T) {
	text := string(AxleDeck(Axles()[3], BuiltIn, liveDensity, cases.BuiltIn(), cases.Level))
	term := regexp.MustCompile(`^(\d+,[123],-?\d\.\d+e[+-]\d\d,?)+$`)
	lines := strings.Split(text, "\n")
	found := 0
	for i, line := range lines {
		if line == "*EQUATION" {
			found++
			if !term.MatchString(lines[i+2]) || strings.Count(lines[i+2], "e") > 4 {
				t.Fatalf("equation %q", lines[i+2])
			}
		}
	}
	if found == 0 {
		t.Error("no equations found")
	}
}

// TestSpringsAndBodies holds the solver itself against a hand-made 6×6: one rigid
// arm on a bush turned by plan and lift and on its spring. The movement that the
// solver finds must give back the loads.
func TestSpringsAndBodies(t *testing.T) {
	a := Axles()[0]
	a.Bush.Plan, a.Bush.Lift = 25*degree, 10*degree
	arm := a.armNodes()[0]
	out := &deck{}
	out.nodes(poseNodes(a.WheelCentre, a.WheelCentre.mirrored()), arm)
	out.rigidTies(0, a.WheelCentre, pointTies(arm))
	out.bush(a.Bush, 0)
	out.spring(seatNode, 2, a.SpringRate, "")
	for i := range 6 {
		out.step([]nodalForce{{centreNode + i/3, i % 3, 1000}})
	}
	finiteelement.Live(t)
	steps, err := Solve(out.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	k := armStiffness(a)
	for column, step := range steps {
		for row := range k {
			load, size := 0.0, 1e-3
			for i, u := range step[0] {
				load += k[row][i] * u
				size += math.Abs(k[row][i] * u)
			}
			want := 0.0
			if row == column {
				want = 1000
			}
			if math.Abs(load-want) > 1e-5*size { // seven digits are printed
				t.Errorf("load %d, row %d: stiffness times movement %g, want %g", column, row, load, want)
			}
		}
	}
}

// armStiffness is the 6×6 of the left bush and spring about the wheel centre:
// Σ rate·g·gᵀ over unit forces and moments g.
func armStiffness(a Axle) (k [6][6]float64) {
	b := a.Bush
	s, n := b.axes()
	third := cross(s, n)
	add := func(rate float64, g [6]float64) {
		for i := range g {
			for j := range g {
				k[i][j] += rate * g[i] * g[j]
			}
		}
	}
	force := func(direction, at Point) [6]float64 {
		r := Point{at[0] - a.WheelCentre[0], at[1] - a.WheelCentre[1], at[2] - a.WheelCentre[2]}
		m := cross(r, direction)
		return [6]float64{direction[0], direction[1], direction[2], m[0], m[1], m[2]}
	}
	for i, direction := range []Point{s, n, third} {
		add([]float64{b.Soft, b.Axial, b.Stiff}[i], force(direction, a.Pivot))
		add([]float64{b.ConeSoft, b.Torsion, b.ConeStiff}[i], [6]float64{3: direction[0], 4: direction[1], 5: direction[2]})
	}
	add(a.SpringRate, force(Point{0, 0, 1}, a.SpringSeat))
	return k
}
