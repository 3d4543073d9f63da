package tuning

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/optimize"
)

// slopeTolerance is how far a slope may lie from a Richardson difference, as a
// share of the largest slope of the same number: what the project promises. Wide
// steps and three extrapolations leave about 1e-11.
const slopeTolerance = 1e-8

func demoFile(t *testing.T, name string) *axlefile.File {
	t.Helper()
	axle, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return parse(t, string(axle.Text))
}

func parse(t *testing.T, text string) *axlefile.File {
	t.Helper()
	file, err := axlefile.Parse("test.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return file
}

func bridgeOf(t *testing.T, file *axlefile.File) (*bridge, []Asked) {
	t.Helper()
	study, err := searched(file)
	if err != nil {
		t.Fatal(err)
	}
	asked, err := Ask(study, file.Wants)
	if err != nil {
		t.Fatal(err)
	}
	b, err := newBridge(study, file.Search, asked)
	if err != nil {
		t.Fatal(err)
	}
	return b, asked
}

// balanceNoise is the share of a number at full size by which two solves differ: the
// mover ends within 1e-9 of the loads.
const balanceNoise = 1e-8

// TestSlopesAgainstDifferences holds the Jacobian in written units, tied slots
// included, against Richardson differences at a random point of every demo axle.
func TestSlopesAgainstDifferences(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, name := range demo.Names() {
		b, _ := bridgeOf(t, demoFile(t, name))
		x := make([]float64, len(b.parameters))
		for i, q := range b.parameters {
			x[i] = q.From + (q.To-q.From)*(0.2+0.6*random.Float64())
		}
		values, m := make([]float64, len(b.numbers)), len(b.numbers)
		jacobian := mat.NewDense(m, len(x), nil)
		if err := b.evaluate(x, values, jacobian); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		at := func(j int, step float64) []float64 {
			moved := append([]float64(nil), x...)
			moved[j] += step
			out := make([]float64, m)
			if err := b.evaluate(moved, out, nil); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			return out
		}
		for k := range m {
			largest := 0.0
			for j, q := range b.parameters {
				largest = math.Max(largest, math.Abs(jacobian.At(k, j)*(q.To-q.From)))
			}
			for j, q := range b.parameters {
				width := q.To - q.From
				want := richardson(func(share float64) float64 { return at(j, share*width)[k] })
				room := slopeTolerance * largest
				if b.study.AtSize(b.goals[k]) {
					room += balanceNoise * math.Abs(values[k]) / 0.005
				}
				if got := jacobian.At(k, j) * width; math.Abs(got-want) > room {
					t.Errorf("%s: slope of number %d by %s over its range is %v, differences say %v", name, k, q.Path, got, want)
				}
			}
		}
	}
}

// richardson is the slope of f at zero from differences over steps of 0.04, 0.02,
// 0.01 and 0.005, extrapolated three times.
func richardson(f func(float64) float64) float64 {
	var row [4]float64
	for level := range row {
		step := 0.04 / math.Pow(2, float64(level))
		next := [4]float64{(f(step) - f(-step)) / (2 * step)}
		for order := range level {
			next[order+1] = next[order] + (next[order]-row[order])/(math.Pow(4, float64(order+1))-1)
		}
		row = next
	}
	return row[3]
}

// TestWantsHoldInBothTurns: a want on an axle whose halves differ is asked twice,
// unless it names its case.
func TestWantsHoldInBothTurns(t *testing.T) {
	const named = `
[want.one_way]
number = "lateral_force_steer"
case = "cornering_turn_right"
at_least = -1
`
	axle, err := demo.Open("van-beam-axle")
	if err != nil {
		t.Fatal(err)
	}
	file := parse(t, string(axle.Text)+named)
	b, asked := bridgeOf(t, file)
	count := map[string]int{}
	turned := map[string]bool{}
	for _, a := range asked {
		count[a.Name]++
		turned[a.Name] = turned[a.Name] || strings.HasSuffix(b.study.Numbers()[a.Index].Case, cases.TurnRight)
	}
	if count["corner"] != 2 || !turned["corner"] || count["one_way"] != 1 {
		t.Errorf("wants by name %v", count)
	}
	for _, name := range []string{"hatchback-link", "saloon-multi-link"} {
		symmetric := demoFile(t, name)
		if _, asked := bridgeOf(t, symmetric); len(asked) != len(symmetric.Wants) {
			t.Errorf("%s: %d wants became %d", name, len(symmetric.Wants), len(asked))
		}
	}
}

// TestSearchOfOneSide: a search that can make the halves differ asks every want
// in both turns; what it finds is read in both turns before and after. A part in
// the middle counts too, and a tie that moves both sides alike does not.
func TestSearchOfOneSide(t *testing.T) {
	axle, err := demo.Open("hatchback-link")
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(axle.Text), "[search]")
	const corner = `
[want.corner]
number = "lateral_force_steer"
at_least = 0.01
`
	for search, turns := range map[string]int{
		"bush.pivot.left.plan = { from = -10, to = 30 }":                                   2,
		"bush.pivot.right.soft = { from = 300, to = 2000, scale = \"log\" }":               2,
		"beam.cross.at.y = { from = -5, to = 5 }":                                          2,
		"bush.pivot.plan = { from = -10, to = 30 }":                                        1,
		"bush.pivot.left.plan = { from = -10, to = 30, with = \"bush.pivot.right.plan\" }": 1,
	} {
		file := parse(t, head+"[search]\n"+search+"\n"+corner)
		o, err := Tune(context.Background(), file, optimize.Options{})
		if err != nil {
			t.Fatalf("%s: %v", search, err)
		}
		if len(o.Asked) != turns {
			t.Errorf("%s: the want is asked in %d turns, want %d", search, len(o.Asked), turns)
		}
		for _, a := range o.Asked {
			if o.Before.Value(a.Index) == 0 || o.After.Value(a.Index) == 0 {
				t.Errorf("%s: %s is not read", search, a.Name)
			}
		}
		if turns == 2 {
			left, right := o.After.Value(o.Asked[0].Index), o.After.Value(o.Asked[1].Index)
			if before := o.Before.Value(o.Asked[0].Index); left == right || math.Abs(before-o.Before.Value(o.Asked[1].Index)) > 1e-9*math.Abs(before) {
				t.Errorf("%s: turns differ before, or agree after: %v and %v", search, left, right)
			}
		}
	}
}

// TestScaleOfAWant: the number's own step unless the file says per.
func TestScaleOfAWant(t *testing.T) {
	axle, err := demo.Open("hatchback-link")
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(axle.Text), "[want.")
	file := parse(t, head+`[want.plain]
number = "lateral_force_steer"
at_least = 0.01
[want.fine]
number = "lateral_force_steer"
target = 0.01
per = 0.002
weight = 3
[want.soft]
number = "longitudinal_compliance"
make = "small"
`)
	b, asked := bridgeOf(t, file)
	want := []optimize.Want{
		{Name: "plain", Number: 0, Kind: optimize.AtLeast, Value: 0.01, Scale: 0.01, Weight: 1},
		{Name: "fine", Number: 0, Kind: optimize.Target, Value: 0.01, Scale: 0.002, Weight: 3},
		{Name: "soft", Number: 1, Kind: optimize.MakeSmall, Scale: 0.1, Weight: 1},
	}
	for i, a := range asked {
		if a.Want != want[i] {
			t.Errorf("want %+v, got %+v", want[i], a.Want)
		}
	}
	if len(b.numbers) != 2 {
		t.Errorf("%d numbers are computed for two", len(b.numbers))
	}
}

// TestFreeMotionOnTheWay: where an axle cannot be solved the optimiser is told,
// and goes elsewhere.
func TestFreeMotionOnTheWay(t *testing.T) {
	file := parse(t, `[wheel]
on = "arm"
centre = [0, 740, 300]
loaded_radius = 300
[body.arm]
[bush.pivot]
from = "vehicle"
to = "arm"
at = [430, 560, 330]
soft = 600
axial = 600
stiff = 900
torsion = 20
cone_soft = 20
cone_stiff = 20
[search]
bush.pivot.soft = { from = 0, to = 1200 }
[want.soft]
number = "longitudinal_compliance"
target = 35
`)
	b, _ := bridgeOf(t, file)
	if err := b.evaluate([]float64{0}, make([]float64, 1), nil); err == nil || !strings.Contains(err.Error(), "can move without load") {
		t.Errorf("no rate along the car: %v", err)
	}
	o, err := Tune(context.Background(), file, optimize.Options{})
	if err != nil || o.Status != optimize.Converged {
		t.Fatalf("%v, %v", err, o)
	}
	if got := o.After.Value(o.Asked[0].Index) / o.Asked[0].Unit.Factor; math.Abs(got-35) > 1e-4 {
		t.Errorf("longitudinal compliance %v", got)
	}
}

// TestOutcomeStandsAtTheWrittenValues: After is the axle as the new file has it,
// Before the one of the file.
func TestOutcomeStandsAtTheWrittenValues(t *testing.T) {
	file := demoFile(t, "hatchback-link")
	o, err := Tune(context.Background(), file, optimize.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range o.Parameters {
		q := &o.Parameters[i]
		if o.Written[i] < q.From || o.Written[i] > q.To || o.Written[i] != q.Round(o.X[i]) {
			t.Errorf("%s: written %v, found %v", q.Path, o.Written[i], o.X[i])
		}
		for _, m := range q.Moves {
			if got := o.After.Solver().Axle().Value(m.Slot); got != m.At(o.Written[i]) {
				t.Errorf("%s: the study after stands at %v", q.Path, got)
			}
			if got, want := o.Before.Solver().Axle().Value(m.Slot), file.Axle.Value(m.Slot); got != want {
				t.Errorf("%s: the study before stands at %v, the file at %v", q.Path, got, want)
			}
		}
	}
	for i, a := range o.Asked {
		if after := a.Unit.Written(o.After.Value(a.Index)); math.Abs(after-o.Wants[i].After) > 1e-4*a.Want.Scale+1e-5*math.Abs(after) {
			t.Errorf("%s: %v at the written values, %v at the found ones", a.Name, after, o.Wants[i].After)
		}
	}
}

// full are wants under loads of full size, of each kind.
const full = `
[want.limit]
number = "total_outer_toe"
case = "state_cornering"
size = 0.6
at_least = -0.1
[want.even]
number = "lateral_force_steer"
size = 4
straight = true
target = 0
[want.strip]
number = "longitudinal_compliance"
size = 3
at_most = 10
`

// withGap is the hatchback whose fore-aft voids close, with other wants.
func withGap(t *testing.T, wants string) *axlefile.File {
	axle, err := demo.Open("hatchback-link")
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(axle.Text), "[want.")
	head = strings.Replace(head, "[bush.pivot]\n", "[bush.pivot]\nsoft_gap = 0.5\nsoft_snubber = 4000\nsnubber_run = 0.8\n", 1)
	return parse(t, head+wants)
}

// TestWantsAtFullSize: the slopes of numbers under loads of full size hold against
// differences in written units, and the search meets what is wanted.
func TestWantsAtFullSize(t *testing.T) {
	file := withGap(t, full)
	b, _ := bridgeOf(t, file)
	x := make([]float64, len(b.parameters))
	for i, q := range b.parameters {
		x[i] = q.From + 0.4*(q.To-q.From)
	}
	values, jacobian := make([]float64, len(b.goals)), mat.NewDense(len(b.goals), len(x), nil)
	if err := b.evaluate(x, values, jacobian); err != nil {
		t.Fatal(err)
	}
	at := func(j int, step float64) []float64 {
		moved, out := append([]float64(nil), x...), make([]float64, len(values))
		moved[j] += step
		if err := b.evaluate(moved, out, nil); err != nil {
			t.Fatal(err)
		}
		return out
	}
	for j, q := range b.parameters {
		width := q.To - q.From
		up, down, up2, down2 := at(j, 1e-3*width), at(j, -1e-3*width), at(j, 2e-3*width), at(j, -2e-3*width)
		for k := range values {
			want := (8*(up[k]-down[k]) - (up2[k] - down2[k])) / 12e-3
			if got := jacobian.At(k, j) * width; math.Abs(got-want) > slopeTolerance*(math.Abs(want)+math.Abs(values[k]))+balanceNoise*math.Abs(values[k])/1e-3 {
				t.Errorf("slope of value %d by %s over its range is %v, differences say %v", k, q.Path, got, want)
			}
		}
	}
	o, err := Tune(context.Background(), file, optimize.Options{Starts: -1, GlobalEvaluations: -1})
	if err != nil || o.Status != optimize.Converged {
		t.Fatalf("%v, %v, %s", err, o.Status, o.Reason)
	}
	limit, even := &o.Asked[0], &o.Asked[1]
	if got := limit.Unit.Written(limit.Value(o.After)); got < -0.1-1e-4 {
		t.Errorf("toe at 0.6 g %v", got)
	}
	if was, is := math.Abs(even.Value(o.Before)), math.Abs(even.Value(o.After)); is > was {
		t.Errorf("straightness was %v, is %v", was, is)
	}
}

// TestLoadThatCannotBeHeld: the optimiser is told, and goes elsewhere.
func TestLoadThatCannotBeHeld(t *testing.T) {
	b, asked := bridgeOf(t, withGap(t, `
[want.huge]
number = "lateral_force_steer"
size = 90000
target = 0
`))
	x := make([]float64, len(b.parameters))
	for i, q := range b.parameters {
		x[i] = q.Start
	}
	var lost *cases.LostWay
	if err := b.evaluate(x, make([]float64, 1), nil); !errors.As(err, &lost) {
		t.Errorf("a load of 90 MN: %v", err)
	}
	if !math.IsNaN(asked[0].Value(b.study)) {
		t.Error("there is a value under a load that cannot be held")
	}
}
