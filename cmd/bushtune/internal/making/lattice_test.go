package making

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// onWorkshopSteps tells whether every free dimension stands on its step or on a limit.
func onWorkshopSteps(o *Outcome) bool {
	l := lattice{b: newBridge(o.File)}
	for k, i := range l.b.free {
		d := &o.File.Dimensions[i]
		if x := o.X[i]; x != d.From && x != d.To && math.Abs(math.Remainder(x, l.step(k))) > 1e-9 {
			return false
		}
	}
	return true
}

// TestStepsAreFound: 20 mm, 50 mm and 55 IRHD have both rates; the nearest steps to the
// search without steps do not.
func TestStepsAreFound(t *testing.T) {
	o := made(t, `[part]
inner_diameter = { from = 18, to = 26 }
outer_diameter = 50
length = { from = 40, to = 60 }
hardness = { from = 45, to = 65 }
[wanted]
soft = { at_least = 1290, at_most = 1342 }
torsion = { at_least = 1.036, at_most = 1.078 }
`)
	if !o.Reached || !o.Rounded || !onWorkshopSteps(o) {
		t.Errorf("reached %v, rounded %v: %v", o.Reached, o.Rounded, o.X)
	}
}

// tight is a problem that one part on workshop steps solves: its rates, each within a
// share of itself, wanted as targets or between limits.
func tight(t *testing.T, random *rand.Rand, f *family, within float64) string {
	truth := make([]float64, len(f.free))
	for i, l := range f.limits {
		step := 1.0
		if f.free[i] != "hardness" && f.free[i] != "void_arc" {
			step = 0.1
		}
		n := math.Floor((l[1] - l[0]) / step)
		truth[i] = l[0] + stepAt(math.Floor(random.Float64()*(n+1)), step)
	}
	text, _, _ := strings.Cut(f.text(truth, ratesOf(t, f, truth)), "[wanted]")
	text += "[wanted]\n"
	rates := ratesOf(t, f, truth)
	for i, name := range f.wanted {
		// The part stands anywhere in the band, not in its middle.
		low := rates[i] * (1 - 2*within*random.Float64())
		text += fmt.Sprintf("%s = { at_least = %.6g, at_most = %.6g }\n", name, low, low*(1+2*within))
	}
	return text
}

// looser are families with more dimensions free than rates wanted, as suppliers leave
// them.
var looser = []family{
	{"two rates", false, "outer_diameter = 50", []string{"inner_diameter", "length", "hardness"}, [][2]float64{{18, 26}, {40, 60}, {45, 65}}, []string{"soft", "torsion"}},
	{"two rates of four dimensions", false, "", []string{"inner_diameter", "outer_diameter", "length", "hardness"}, [][2]float64{{20, 26}, {46, 60}, {40, 64}, {42, 68}}, []string{"stiff", "axial"}},
	{"three rates of six dimensions", false, "", []string{"inner_diameter", "outer_diameter", "length", "hardness", "void_arc", "void_depth"},
		[][2]float64{{22, 28}, {52, 58}, {44, 60}, {45, 65}, {70, 100}, {4, 6}}, []string{"torsion", "stiff", "soft"}},
	{"three rates", false, "outer_diameter = 60\nvoid_depth = 6", []string{"inner_diameter", "length", "hardness", "void_arc"}, [][2]float64{{24, 30}, {40, 60}, {45, 65}, {70, 110}}, []string{"torsion", "stiff", "soft"}},
}

// TestTightProblemsAreSolved draws parts on workshop steps and asks for no more than
// their rates within a little. Every one has an answer on steps, and every one is found.
func TestTightProblemsAreSolved(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	for _, within := range []float64{0.02, 0.004, 0.001} {
		found, all, most := 0, 0, 0
		for _, f := range append(looser, families[0], families[1], families[3]) {
			for range 15 {
				all++
				text := tight(t, random, &f, within)
				o := made(t, text)
				most = max(most, o.Steps.Searches)
				if o.Reached && o.Rounded && onWorkshopSteps(o) {
					found++
				} else {
					t.Errorf("%s, ±%g: reached %v, rounded %v, %+v: %v\n%s", f.name, within, o.Reached, o.Rounded, o.Steps, o.X, text)
				}
			}
		}
		t.Logf("±%g: %d of %d, at most %d searches", within, found, all, most)
	}
}

// TestNoStepsWhereThereAreNone compares with every combination of steps, one by one.
func TestNoStepsWhereThereAreNone(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 14))
	f := looser[0]
	none, some := 0, 0
	for range 12 {
		truth := make([]float64, len(f.free))
		for i, l := range f.limits {
			truth[i] = l[0] + (l[1]-l[0])*random.Float64()
		}
		rates := ratesOf(t, &f, truth)
		text, _, _ := strings.Cut(f.text(nil, rates), "[wanted]")
		text += fmt.Sprintf("[wanted]\nsoft = { target = %v, within = %v }\ntorsion = { target = %v, within = %v }\n", rates[0], rates[0]*4e-4, rates[1], rates[1]*4e-4)
		file := parsePart(t, text)
		o, err := Make(context.Background(), file)
		if err != nil {
			t.Fatal(err)
		}
		exists := false
		b := newBridge(file)
		for inner := 0.0; inner <= 80 && !exists; inner++ {
			for length := 0.0; length <= 200 && !exists; length++ {
				for hardness := 45.0; hardness <= 65 && !exists; hardness++ {
					exists = b.reached([]float64{18 + inner/10, 40 + length/10, hardness})
				}
			}
		}
		if exists != (o.Reached && o.Rounded) || o.Steps.Cut {
			t.Errorf("exists %v, reached %v, rounded %v, %+v\n%s", exists, o.Reached, o.Rounded, o.Steps, text)
		}
		if exists {
			some++
		} else {
			none++
		}
	}
	t.Logf("%d with a part on steps, %d without", some, none)
	if none < 2 || some < 2 {
		t.Errorf("%d with a part on steps, %d without: the test shows one side only", some, none)
	}
}
