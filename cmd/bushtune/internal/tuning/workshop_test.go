package tuning

import (
	"context"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/optimize"
)

const rubberAxle = "estate-rubber"

// rubberText is the axle with bushes by their dimensions before its [search].
func rubberText(t *testing.T) string {
	t.Helper()
	head, _, _ := strings.Cut(thinWall(t), "[search]")
	return head
}

// thinWall is an axle with bushes by their dimensions, as a file.
func thinWall(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/thin-wall.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func tuneText(t *testing.T, text string) *Outcome {
	t.Helper()
	o, err := Tune(context.Background(), parse(t, text), optimize.Options{Seed: 1, Starts: 3})
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// sideways is the lateral compliance of the rubber axle with other dimensions, in
// its written unit.
func sideways(t *testing.T, old, dimension string) float64 {
	t.Helper()
	text := rubberText(t)
	if !strings.Contains(text, old) {
		t.Fatalf("no %q", old)
	}
	study, err := Study(parse(t, strings.Replace(text, old, dimension, 1)))
	if err != nil {
		t.Fatal(err)
	}
	asked, err := Ask(study, []axlefile.Want{{Name: "sideways", Number: "lateral_compliance"}})
	if err != nil {
		t.Fatal(err)
	}
	return asked[0].Unit.Written(asked[0].Value(study))
}

// sameCombination is how far two tunes to the same optimum may lie apart in a number, as
// a share: what six digits of the written values leave.
const sameCombination = 2e-5

// TestBestOfTheStepsBeside writes every pair of whole hardness and whole arc beside
// the optimum into the axle file and tunes what is left from all starts: none that
// holds the limits does better than what Tune has chosen.
func TestBestOfTheStepsBeside(t *testing.T) {
	file := parse(t, thinWall(t))
	o := tuneText(t, string(mustEdit(t, file, starts(file))))
	index := func(path string) int {
		return slices.IndexFunc(o.Parameters, func(q axlefile.Parameter) bool { return strings.HasSuffix(q.Path, path) })
	}
	hardness, arc, length := index(".hardness"), index(".void_arc"), index(".length")
	pairs := 1
	for _, i := range []int{hardness, arc} {
		if math.Floor(o.X[i]) != math.Ceil(o.X[i]) {
			pairs *= 2
		}
	}
	if o.Status != optimize.Converged || !o.Rounding.Done() || len(o.Rounding.Stepped) != 3 || pairs < 2 || o.Rounding.Tried != pairs {
		t.Fatalf("%v, %+v", o.Status, o.Rounding)
	}
	best, at, held := math.Inf(-1), [2]float64{}, 0
	for _, h := range []float64{math.Floor(o.X[hardness]), math.Ceil(o.X[hardness])} {
		for _, a := range []float64{math.Floor(o.X[arc]), math.Ceil(o.X[arc])} {
			x := slices.Clone(o.X)
			x[hardness], x[arc], x[length] = h, a, o.Written[length]
			text := string(mustEdit(t, file, x))
			head, rest, _ := strings.Cut(text, "[search]")
			_, wants, _ := strings.Cut(rest, "[want.")
			r := tuneText(t, head+"[search]\nbush.pivot.plan = { from = -35, to = 35 }\n[want."+wants)
			if r.Status != optimize.Converged {
				continue
			}
			held++
			if got := r.Wants[1].After; got > best {
				best, at = got, [2]float64{h, a}
			}
		}
	}
	if held == 0 || held == 4 {
		t.Errorf("%d of 4 combinations hold the limits: the test is to tell them apart", held)
	}
	if at != [2]float64{o.Written[hardness], o.Written[arc]} || math.Abs(o.Wants[1].After-best) > sameCombination*best {
		t.Errorf("chosen %v with %v, best beside it %v with %v", o.Written, o.Wants[1].After, at, best)
	}
	for i := range o.Asked {
		now := o.Asked[i].Unit.Written(o.Asked[i].Value(o.After))
		if a := &o.Asked[i]; math.Abs(now-o.Wants[i].After) > 1e-12*math.Abs(now) || a.limit() && o.Wants[i].Miss > optimize.MetShare*a.Want.Scale {
			t.Errorf("%s is %v, told %+v", a.Name, now, o.Wants[i])
		}
	}
	if again := tuneText(t, string(mustEdit(t, file, starts(file)))); !slices.Equal(again.Written, o.Written) || !slices.Equal(again.Wants, o.Wants) {
		t.Errorf("%v, again %v", o.Written, again.Written)
	}
}

func starts(file *axlefile.File) []float64 {
	x := make([]float64, len(file.Search))
	for i := range x {
		x[i] = file.Search[i].Start
	}
	return x
}

func mustEdit(t *testing.T, file *axlefile.File, x []float64) []byte {
	t.Helper()
	text, err := file.Edit(x)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// TestLimitsBetweenSteps: where a limit from both sides lets no whole hardness
// through, all digits stay; a target there is missed by the nearer step and the
// status says so.
func TestLimitsBetweenSteps(t *testing.T) {
	const place, search = "rubber.hardness = 55", "[search]\nbush.pivot.rubber.hardness = { from = 45, to = 65 }\n[want.sideways]\nnumber = \"lateral_compliance\"\n"
	at := func(hardness string) float64 { return sideways(t, place, "rubber.hardness = "+hardness) }
	value := at("57.3")
	o := tuneText(t, rubberText(t)+search+fmt.Sprintf("at_least = %v\n[want.high]\nnumber = \"lateral_compliance\"\nat_most = %v\n", value-1e-3, value+1e-3))
	if r := &o.Rounding; !r.Refused || r.Done() || r.Tried != 2 || o.Status != optimize.Converged {
		t.Fatalf("%v, %+v", o.Status, o.Rounding)
	}
	if o.Written[0] != o.Parameters[0].Round(o.X[0]) || math.Abs(at(fmt.Sprint(o.Written[0]))-value) > 1.1e-3 {
		t.Errorf("kept %v of %v", o.Written, o.X)
	}
	o = tuneText(t, rubberText(t)+search+fmt.Sprintf("target = %v\n", value))
	if o.Written[0] != 57 || o.Result.Status != optimize.Converged || o.Status != optimize.NotReached || o.Reason != lostBySteps {
		t.Errorf("hardness %v: %v after %v, %s", o.Written, o.Status, o.Result.Status, o.Reason)
	}
	if got := o.Wants[0].After; math.Abs(got-at("57")) > 1e-9*got || o.Wants[0].Met || !o.Result.Wants[0].Met {
		t.Errorf("compliance told %v at 57 IRHD, solved %v", got, at("57"))
	}
	o = tuneText(t, rubberText(t)+search+fmt.Sprintf("target = %v\n", at("58")))
	if o.Written[0] != 58 || o.Status != optimize.Converged {
		t.Errorf("hardness %v: %v for what 58 IRHD gives", o.Written, o.Status)
	}
}

// TestLimitsThatContradict: where no limit holds, the step that misses them least.
// One limit counts at a load so small that its number is the linear one.
func TestLimitsThatContradict(t *testing.T) {
	value := sideways(t, "rubber.hardness = 55", "rubber.hardness = 57.7")
	o := tuneText(t, rubberText(t)+fmt.Sprintf(`[search]
bush.pivot.rubber.hardness = { from = 45, to = 65 }
[want.high]
number = "lateral_compliance"
at_least = %v
[want.low]
number = "lateral_compliance"
size = 0.01
at_most = %v
`, value+0.2, value-0.2))
	if o.Written[0] != 58 || o.Rounding.Tried != 2 || o.Status != optimize.NotReached || o.Wants[0].Met || o.Wants[1].Met {
		t.Errorf("%v: %v of %v, %+v", o.Status, o.Written, o.X, o.Rounding)
	}
}

// TestWhatHasNotMovedKeepsItsDigits: neither a dimension with which every want is met
// as it stands, nor one beside others that are put on steps and that no want needs.
func TestWhatHasNotMovedKeepsItsDigits(t *testing.T) {
	odd := strings.Replace(rubberText(t), "rubber.hardness = 55", "rubber.hardness = 55.4", 1)
	const search = "[search]\nbush.pivot.rubber.hardness = { from = 45, to = 65 }\n"
	o := tuneText(t, odd+search+"[want.side]\nnumber = \"lateral_compliance\"\nat_most = 10\n")
	if o.Written[0] != 55.4 || o.Rounding.Stepped != nil {
		t.Errorf("%v, %+v", o.Written, o.Rounding)
	}
	o = tuneText(t, odd+search+"bush.pivot.max_radial_load = { from = 100, to = 20000 }\n[want.side]\nnumber = \"lateral_compliance\"\nat_most = 1.2\n[want.strip]\nnumber = \"longitudinal_compliance\"\nmake = \"large\"\n")
	if at := slices.Index([]string{o.Parameters[0].Path, o.Parameters[1].Path}, "bush.pivot.max_radial_load"); o.Written[at] != 9000 || o.Written[1-at] != 56 {
		t.Errorf("%v, %+v", o.Written, o.Rounding)
	}
}

// TestWhatStandsOnSteps: dimensions of rubber alone; what has not moved keeps its
// digits, and a bound is as good as a step.
func TestWhatStandsOnSteps(t *testing.T) {
	b, _ := bridgeOf(t, parse(t, rubberText(t)+`[search]
bush.pivot.rubber.hardness = { from = 45, to = 65 }
bush.pivot.left.rubber.length = { from = 48, to = 66, with = "bush.pivot.right.rubber.length" }
bush.pivot.rubber.stop_diameter = { from = 52, to = 58, with = "bush.pivot.at.y" }
bush.pivot.at.z = { from = 300, to = 320 }
bush.pivot.plan = { from = -10, to = 10 }
wheel.centre.z = { from = 290, to = 300 }
[want.sideways]
number = "lateral_compliance"
make = "small"
`))
	ordered := map[string]float64{"bush.pivot.rubber.hardness": 1, "bush.pivot.left.rubber.length": 0.1}
	for i := range b.parameters {
		if got, want := b.step(&b.parameters[i]), ordered[b.parameters[i].Path]; got != want {
			t.Errorf("%s has step %v, want %v", b.parameters[i].Path, got, want)
		}
	}
	q := &axlefile.Parameter{From: 48.05, To: 65.98, Start: 58}
	for x, want := range map[float64][]float64{
		50.33: {50.3, 50.4}, 50.37: {50.4, 50.3}, 50.4: {50.4}, 48.05: {48.05}, 65.98: {65.98},
		48.06: {48.05, 48.1}, 65.97: {65.98, 65.9}, 48.0500000001: {48.05},
	} {
		if got := beside(q, 0.1, x); !slices.Equal(got, want) {
			t.Errorf("beside %v: %v, want %v", x, got, want)
		}
	}
	for _, name := range demo.Names() {
		if o := tuneText(t, string(mustEdit(t, demoFile(t, name), starts(demoFile(t, name))))); name != rubberAxle {
			if o.Rounding.Stepped != nil || !slices.Equal(o.Wants, o.Result.Wants) || o.Status != o.Result.Status {
				t.Errorf("%s: %+v without a dimension of rubber", name, o.Rounding)
			}
		}
	}
}

// TestNearestOfEqualSteps: where another parameter makes up for every step, the
// nearest is taken and not the last digits of a cost of nothing.
func TestNearestOfEqualSteps(t *testing.T) {
	o := tuneText(t, rubberText(t)+`[search]
bush.pivot.plan = { from = -35, to = 35 }
bush.pivot.rubber.hardness = { from = 45, to = 65 }
bush.pivot.rubber.void_arc = { from = 50, to = 120 }
[want.side]
number = "lateral_compliance"
target = 1.2
`)
	if o.Status != optimize.Converged || o.Rounding.Tried != 4 {
		t.Fatalf("%v, %+v", o.Status, o.Rounding)
	}
	for _, i := range o.Rounding.Stepped {
		if o.Written[i] != math.Round(o.X[i]) {
			t.Errorf("%s is %v beside %v", o.Parameters[i].Path, o.Written[i], o.X[i])
		}
	}
}

// TestManyDimensions: of more than six the least weighty take their nearest step.
// What a dimension weighs is found again from differences.
func TestManyDimensions(t *testing.T) {
	text := regexp.MustCompile("(?m)^rubber.void_radius.*\n").ReplaceAllString(rubberText(t), "") // round at any depth
	file := parse(t, text+`[search]
bush.pivot.rubber.hardness = { from = 50, to = 60 }
bush.pivot.rubber.inner_diameter = { from = 34, to = 38 }
bush.pivot.rubber.outer_diameter = { from = 62, to = 68 }
bush.pivot.rubber.length = { from = 54, to = 62 }
bush.pivot.rubber.void_arc = { from = 70, to = 90 }
bush.pivot.rubber.void_depth = { from = 5, to = 7 }
bush.pivot.rubber.stop_diameter = { from = 52, to = 58 }
bush.pivot.rubber.stop_thickness = { from = 5, to = 7 }
[want.sideways]
number = "lateral_compliance"
target = 1.2
[want.strip]
number = "longitudinal_compliance"
target = 1.5
`)
	b, asked := bridgeOf(t, file)
	result, err := optimize.Solve(context.Background(), b.problem(asked), optimize.Options{Starts: -1, GlobalEvaluations: -1})
	if err != nil {
		t.Fatal(err)
	}
	w := newWorkshop(b, asked, result)
	before := w.open()
	if err := w.narrow(); err != nil || len(before) <= mostOpen {
		t.Fatalf("%v, %d with two steps", err, len(before))
	}
	weight := func(i int) (sum float64) {
		var values [2][2]float64
		for k, side := range []float64{-1, 1} {
			x := slices.Clone(result.X)
			x[i] += side * 0.05 * b.step(&b.parameters[i])
			if err := b.evaluate(x, values[k][:], nil); err != nil {
				t.Fatal(err)
			}
		}
		for _, a := range asked {
			sum += math.Abs(values[1][a.Want.Number]-values[0][a.Want.Number]) / a.Want.Scale
		}
		return sum
	}
	lightest := math.Inf(1)
	for _, i := range w.open() {
		lightest = min(lightest, weight(i))
	}
	for _, i := range before {
		q := &b.parameters[i]
		if slices.Contains(w.open(), i) {
			continue
		}
		if only := w.offers[i]; len(only) != 1 || math.Abs(only[0]-result.X[i]) > rubber.WorkshopStep(q.Unit)/2 || weight(i) > lightest {
			t.Errorf("%s weighs %v and has %v beside %v; the lightest with two steps %v", q.Path, weight(i), only, result.X[i], lightest)
		}
	}
	if len(w.open()) != mostOpen || w.rounding.Nearest != len(before)-mostOpen {
		t.Errorf("%d open, %d nearest of %d", len(w.open()), w.rounding.Nearest, len(before))
	}
	if best := w.best(context.Background()); best == nil || w.rounding.Tried != 1<<mostOpen {
		t.Errorf("%d tried", w.rounding.Tried)
	}
}
