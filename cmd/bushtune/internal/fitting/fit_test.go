package fitting

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/optimize"
)

// wholeRig is a rig that tells every parameter of the default axle: a reading of
// every channel of both wheels in cases that load it in every way.
var wholeRig = []string{"cornering", "braking", "impact", "aligning", "roll", "braking_single"}

// rowsOf are readings of a study in some cases at one and two units of load, each
// with noise of its channel times share.
func rowsOf(t testing.TB, study *cases.Study, names []string, share float64, random *rand.Rand) []axlefile.RigRow {
	t.Helper()
	var rows []axlefile.RigRow
	for _, name := range names {
		for _, channel := range []string{"toe", "camber", "centre_x", "centre_y"} {
			for _, side := range cases.WheelNames {
				index, err := study.FindChannel(channel, side, name)
				if err != nil {
					t.Fatal(err)
				}
				for _, load := range []float64{-1, 1, 2} {
					r := axlefile.RigRow{Line: len(rows) + 2, Case: name, Channel: channel, Side: side, Number: index, Size: load * 1e3}
					if name == "aligning" {
						r.Size *= 1e2
					}
					linear, _ := study.Reading(index, r.Size)
					noise := share * channelNoise[channel] * channelOf(channel).Unit.Factor
					r.Value = study.Value(index)*linear + noise*random.NormFloat64()
					rows = append(rows, r)
				}
			}
		}
	}
	return rows
}

// atTruth is the study of the default axle with what a fit should find.
func atTruth(t testing.TB) (*axlefile.File, *cases.Study) {
	t.Helper()
	file, study := demoFile(t)
	for j := range file.Search {
		for _, m := range file.Search[j].Moves {
			study.Set(m.Slot, m.At(truth[j]))
		}
	}
	if err := study.Update(); err != nil {
		t.Fatal(err)
	}
	return file, study
}

func fitted(t *testing.T, file *axlefile.File, rows []axlefile.RigRow, o Options) *Outcome {
	t.Helper()
	out, err := Fit(context.Background(), file, rows, o)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestSlopesAgainstDifferences holds the Jacobian of the readings, linear and at full
// size, against central differences.
func TestSlopesAgainstDifferences(t *testing.T) {
	const tolerance = 1e-7 // of fourth-order differences over steps of a thousandth of the range
	file, study := atTruth(t)
	rows := rowsOf(t, study, []string{"cornering", "aligning"}, 0, rand.New(rand.NewPCG(1, 1)))
	for _, atSize := range []bool{false, true} {
		b, err := newBridge(study, file.Search, rows, atSize)
		if err != nil {
			t.Fatal(err)
		}
		x := slices.Clone(truth)
		jacobian := mat.NewDense(len(rows), len(x), nil)
		values := make([]float64, len(rows))
		if err := b.evaluate(x, values, jacobian); err != nil {
			t.Fatal(err)
		}
		at := func(j int, step float64) []float64 {
			moved, out := slices.Clone(x), make([]float64, len(rows))
			moved[j] += step
			if err := b.evaluate(moved, out, nil); err != nil {
				t.Fatal(err)
			}
			return out
		}
		for j, q := range file.Search {
			h := 1e-3 * (q.To - q.From)
			up, down, up2, down2 := at(j, h), at(j, -h), at(j, 2*h), at(j, -2*h)
			for i := range rows {
				want := (8*(up[i]-down[i]) - (up2[i] - down2[i])) / 12
				if got := jacobian.At(i, j) * h; math.Abs(got-want) > tolerance*(math.Abs(want)+math.Abs(values[i])) {
					t.Errorf("at size %v: slope of row %d by %s over a step %v, differences say %v", atSize, i, q.Path, got, want)
				}
			}
		}
	}
}

// TestAtSizeFindsWhatLinearMisses: readings of an axle whose voids close are fitted
// at full size; the linear axle does not explain them.
func TestAtSizeFindsWhatLinearMisses(t *testing.T) {
	axle, err := demo.Open(demo.Default)
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(axle.Text), "[search]")
	text := strings.Replace(head, "[bush.pivot]\n", "[bush.pivot]\nsoft_gap = 1.0\nsoft_snubber = 4000\nsnubber_run = 0.8\n", 1) +
		"[search]\nbush.pivot.soft = { from = 300, to = 1200, scale = \"log\" }\nbush.pivot.soft_gap = { from = 0.2, to = 3 }\n"
	file, err := axlefile.Parse("axle.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	study, err := Study(file)
	if err != nil {
		t.Fatal(err)
	}
	var rows []axlefile.RigRow
	for k := range 8 {
		index, err := study.FindChannel("centre_x", "left", "impact")
		if err != nil {
			t.Fatal(err)
		}
		rows = append(rows, axlefile.RigRow{Line: k + 2, Case: "impact", Channel: "centre_x", Side: "left", Number: index, Size: 400 * float64(k+1)})
	}
	b, err := newBridge(study, file.Search, rows, true)
	if err != nil {
		t.Fatal(err)
	}
	want, values := []float64{480, 1.4}, make([]float64, len(rows))
	if err := b.evaluate(want, values, nil); err != nil {
		t.Fatal(err)
	}
	for i := range rows {
		rows[i].Value = values[i]
	}
	o := fitted(t, file, rows, Options{AtSize: true})
	for j, e := range o.Estimates {
		if math.Abs(e.Value/want[j]-1) > recovered {
			t.Errorf("%s: %v, want %v", file.Search[j].Path, e.Value, want[j])
		}
	}
	if linear := fitted(t, file, rows, Options{}); linear.Channels[0].After < 100*o.Channels[0].After || linear.Estimates[1].Standing != optimize.NotSeen {
		t.Errorf("linear: %+v, gap %v", linear.Channels[0], linear.Estimates[1].Standing)
	}
}

// TestNotSeenStaysAsItIs: a strip tells the fore-aft rate; what it does not tell is
// named and keeps its value in the file.
func TestNotSeenStaysAsItIs(t *testing.T) {
	file, study := atTruth(t)
	file.Search = append(file.Search, searchOf(t, "bush.pivot.max_axial_load = { from = 100, to = 9000 }")...)
	o := fitted(t, file, rowsOf(t, study, []string{"impact"}, 1, rand.New(rand.NewPCG(3, 3))), Options{})
	idle := len(file.Search) - 1
	if e := o.Estimates[idle]; e.Standing != optimize.NotSeen || o.Written[idle] != file.Search[idle].Start {
		t.Errorf("a limit: %v, %v", e.Standing, o.Written[idle])
	}
	if e := o.Estimates[1]; e.Standing == optimize.NotSeen {
		t.Errorf("the fore-aft rate: %v", e.Standing)
	}
	unseen := 0
	for j, e := range o.Estimates {
		if e.Standing == optimize.NotSeen {
			unseen++
			if o.Written[j] != file.Search[j].Start {
				t.Errorf("%s is not seen, yet moved to %v", file.Search[j].Path, o.Written[j])
			}
		}
	}
	if unseen != len(o.Unseen) || unseen < 2 {
		t.Errorf("%d not seen, directions %v", unseen, o.Unseen)
	}
	if len(o.Tests) == 0 || o.Tests[0].After[o.Tests[0].Shrinks] > o.Tests[0].Before[o.Tests[0].Shrinks]/2 {
		t.Errorf("tests that would tell more: %+v", o.Tests)
	}
}

// searchOf reads further parameters of the default axle.
func searchOf(t testing.TB, lines string) []axlefile.Parameter {
	t.Helper()
	return fileOf(t, demo.Default, "[search]\n"+lines+"\n").Search
}

// fileOf is a built-in axle, with other tables from [search] on if they are given.
func fileOf(t testing.TB, name, instead string) *axlefile.File {
	t.Helper()
	axle, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	text := string(axle.Text)
	if head, _, _ := strings.Cut(text, "[search]"); instead != "" {
		text = head + instead
	}
	file, err := axlefile.Parse("axle.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// TestSuggestedTestHolds: with the first suggested reading added, the standard
// error of the parameter that it is for falls as foretold, up to the scatter that
// the new readings show.
func TestSuggestedTestHolds(t *testing.T) {
	const asForetold = 0.3
	file, study := atTruth(t)
	random := rand.New(rand.NewPCG(8, 8))
	rows := rowsOf(t, study, []string{"cornering", "braking", "impact", "aligning"}, 1, random)
	o := fitted(t, file, rows, Options{})
	test := o.Tests[0]
	index, err := study.FindChannel(test.Channel, test.Side, test.Case)
	if err != nil {
		t.Fatal(err)
	}
	size := test.Load * test.Unit.Factor
	linear, _ := study.Reading(index, size)
	noise := channelNoise[test.Channel] * channelOf(test.Channel).Unit.Factor
	more := append(slices.Clone(rows), axlefile.RigRow{Line: 999, Case: test.Case, Channel: test.Channel, Side: test.Side, Number: index,
		Size: size, Value: study.Value(index)*linear + noise*random.NormFloat64()})
	after := fitted(t, file, more, Options{}).Estimates[test.Shrinks].Error
	if test.Measured || test.After[test.Shrinks] > test.Before[test.Shrinks]/2 {
		t.Errorf("the first test tells little: %+v", test)
	}
	if math.Abs(after/test.After[test.Shrinks]-1) > asForetold {
		t.Errorf("error foretold %v, is %v (before %v)", test.After[test.Shrinks], after, test.Before[test.Shrinks])
	}
}

// TestBuiltInRig: the false reading is found by its line, and without it the axle
// behind the readings lies within the 95 % intervals.
func TestBuiltInRig(t *testing.T) {
	file, study := demoFile(t)
	text, _ := demo.Rig(demo.Default)
	rows, err := axlefile.ReadRig("rig.csv", text, study)
	if err != nil {
		t.Fatal(err)
	}
	line := falseRow + strings.Count(rigHead, "\n")
	o := fitted(t, file, rows, Options{})
	if worst := o.Outliers(); len(worst) != 1 || rows[worst[0]].Line != line {
		t.Errorf("outliers %v, the false reading is in line %d", worst, line)
	}
	clean, err := FitWithoutOutliers(context.Background(), file, rows, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(clean.LeftOut) != 1 || clean.LeftOut[0].Line != line || len(clean.Rows) != len(rows)-1 {
		t.Errorf("left out %+v", clean.LeftOut)
	}
	for j := range clean.Estimates {
		if low, high := clean.Estimates[j].Interval(0.95); truth[j] < low || truth[j] > high {
			t.Errorf("%s: %v to %v, truth %v", file.Search[j].Path, low, high, truth[j])
		}
	}
	// Thirty readings of toe: three standard deviations of a standard deviation.
	if d := clean.Deviation(0); math.Abs(d/(channelNoise["toe"]*channelOf("toe").Unit.Factor)-1) > 0.4 || d > o.Deviation(0)/2 {
		t.Errorf("scatter of toe %v, with the false reading %v", d, o.Deviation(0))
	}
}

// TestPriorsFromTolerances: where the data tell nothing the tolerance does.
func TestPriorsFromTolerances(t *testing.T) {
	file, study := atTruth(t)
	for j := range file.Search {
		file.Search[j].Tolerance = 1e-3 // in deg and mm
		if file.Search[j].Log {
			file.Search[j].Tolerance = 10 // percent
		}
	}
	idle := searchOf(t, "bush.pivot.max_axial_load = { from = 100, to = 9000, tolerance = 500 }")
	file.Search = append(file.Search, idle...)
	rows := rowsOf(t, study, []string{"impact"}, 1, rand.New(rand.NewPCG(3, 3)))
	o := fitted(t, file, rows, Options{Priors: true})
	for j, e := range o.Estimates {
		if !e.HasInterval() {
			t.Errorf("%s: %v", file.Search[j].Path, e.Standing)
		}
	}
	q, e := &file.Search[2], &o.Estimates[2]
	if low, high := e.Interval(0.95); low < q.Start*0.88 || high > q.Start*1.13 {
		t.Errorf("axial rate within %v to %v, tolerance ±10 %% of %v", low, high, q.Start)
	}
	if plan := o.Estimates[0]; math.Abs(plan.Value) > 1e-4 || math.Abs(plan.Error*twoDeviations/1e-3-1) > 0.01 {
		t.Errorf("plan known to 0.001 deg: %v ± %v", plan.Value, plan.Error)
	}
	last := &o.Estimates[len(o.Estimates)-1]
	if low, high := last.Interval(0.95); last.Standing != optimize.FromPrior || math.Abs(high-low-1000) > 1 {
		t.Errorf("a tolerance alone: %v to %v, %v", low, high, last.Standing)
	}
}

// TestSideOfRow: outer and inner are the sides that the case has them on.
func TestSideOfRow(t *testing.T) {
	_, study := demoFile(t)
	for _, c := range []struct{ side, name, want string }{
		{"outer", "cornering", "right"}, {"inner", "cornering", "left"}, {"outer", "cornering_turn_right", "left"}, {"left", "cornering", "left"},
	} {
		if got := sideOf(&axlefile.RigRow{Case: c.name, Side: c.side}, study); got != c.want {
			t.Errorf("%s wheel in %s is the %s one, want %s", c.side, c.name, got, c.want)
		}
	}
}

// TestGivenDeviations: rows with a standard deviation share one factor, which is
// found; those without have one for each channel.
func TestGivenDeviations(t *testing.T) {
	file, study := atTruth(t)
	rows := rowsOf(t, study, wholeRig, 3, rand.New(rand.NewPCG(4, 4)))
	for i := range rows {
		if rows[i].Channel != "toe" {
			rows[i].Deviation = channelNoise[rows[i].Channel] * channelOf(rows[i].Channel).Unit.Factor
		}
	}
	o := fitted(t, file, rows, Options{})
	if len(o.Groups) != 2 || len(o.Factors) != 2 {
		t.Fatalf("groups %v", o.Groups)
	}
	for g, name := range o.Groups {
		want := 3.0 // times what is given
		if name == "toe" {
			want = 3 * channelNoise["toe"] / channelOf("toe").Step
		}
		if math.Abs(o.Factors[g]/want-1) > 0.25 { // of some 36 readings: three standard deviations of a standard deviation
			t.Errorf("group %q: factor %v, want %v", name, o.Factors[g], want)
		}
	}
	if d := o.Deviation(0); math.Abs(d/(3*channelNoise["toe"]*channelOf("toe").Unit.Factor)-1) > 0.25 {
		t.Errorf("deviation of a reading of toe %v", d)
	}
}

// twelve are the parameters of the benchmark.
const twelve = `bush.pivot.plan = { from = -35, to = 35 }
bush.pivot.soft = { from = 350, to = 1400, scale = "log" }
bush.pivot.axial = { from = 600, to = 2500, scale = "log" }
bush.pivot.stiff = { from = 1500, to = 5000, scale = "log" }
bush.pivot.torsion = { from = 0.5, to = 5, scale = "log" }
bush.pivot.cone_soft = { from = 2, to = 20, scale = "log" }
bush.pivot.cone_stiff = { from = 2, to = 20, scale = "log" }
link.toe.inner.x = { from = -120, to = 160 }
link.toe.inner.z = { from = 200, to = 300 }
link.toe.inner_rate = { from = 800, to = 6000, scale = "log" }
link.toe.outer_rate = { from = 800, to = 6000, scale = "log" }
spring.coil.rate = { from = 10, to = 40, scale = "log" }`

// BenchmarkTwelveParameters fits twelve parameters to 500 readings; aim: 1 s.
func BenchmarkTwelveParameters(b *testing.B) {
	file, study := demoFile(b)
	file.Search = searchOf(b, twelve)
	random := rand.New(rand.NewPCG(1, 12))
	rows := rowsOf(b, study, []string{"cornering", "cornering_floating", "braking", "impact", "aligning", "roll", "heave", "braking_single", "impact_single", "cornering_single", "cornering_opposed", "driving", "braking_inboard"}, 1, random)
	for len(rows) < 500 {
		rows = append(rows, rows[random.IntN(len(rows))])
	}
	rows = rows[:500]
	for b.Loop() {
		o, err := Fit(context.Background(), file, rows, Options{})
		if err != nil || o.Status != optimize.FitConverged {
			b.Fatal(fmt.Sprint(err, o.Status))
		}
	}
}
