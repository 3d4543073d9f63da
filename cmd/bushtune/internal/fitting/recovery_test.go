package fitting

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/optimize"
)

// recovered is how far values from readings without noise may be off: the readings
// carry rounding at the condition of the stiffness.
const recovered = 1e-6

// TestRecoveryWithoutNoise: the axle behind the readings is found.
func TestRecoveryWithoutNoise(t *testing.T) {
	file, study := atTruth(t)
	o := fitted(t, file, rowsOf(t, study, wholeRig, 0, rand.New(rand.NewPCG(1, 1))), Options{})
	for j, e := range o.Estimates {
		if math.Abs(e.Value/truth[j]-1) > recovered || o.Written[j] != file.Search[j].Round(truth[j]) {
			t.Errorf("%s: %v, written %v, truth %v", file.Search[j].Path, e.Value, o.Written[j], truth[j])
		}
		for _, m := range file.Search[j].Moves {
			if got := o.After.Solver().Axle().Value(m.Slot); got != m.At(o.Written[j]) {
				t.Errorf("%s: the study stands at %v", file.Search[j].Path, got)
			}
		}
	}
	if o.Agree < 2 || len(o.Outliers()) > 0 {
		t.Errorf("%d of %d starts agree, outliers %v", o.Agree, o.Starts, o.Outliers())
	}
}

// TestRecoveryOnEveryAxle: from readings without noise in every case, what the fit
// says it has estimated is right on every built-in axle, wherever in the bounds the
// truth lies; what is exactly without effect stays as it is.
func TestRecoveryOnEveryAxle(t *testing.T) {
	random := rand.New(rand.NewPCG(10, 10))
	estimated := 0
	for _, name := range demo.Names() {
		file := fileOf(t, name, "")
		study, err := Study(file)
		if err != nil {
			t.Fatal(err)
		}
		behind := make([]float64, len(file.Search))
		for j, q := range file.Search {
			behind[j] = q.From + (0.2+0.6*random.Float64())*(q.To-q.From)
			for _, m := range q.Moves {
				study.Set(m.Slot, m.At(behind[j]))
			}
		}
		if err := study.Update(); err != nil {
			t.Fatal(err)
		}
		o := fitted(t, file, rowsOf(t, study, append(wholeRig, "heave"), 0, random), Options{})
		for j, e := range o.Estimates {
			q := &file.Search[j]
			switch {
			case e.Standing == optimize.Estimated:
				estimated++
				if math.Abs(e.Value-behind[j]) > recovered*(q.To-q.From) {
					t.Errorf("%s: %s is %v, truth %v", name, q.Path, e.Value, behind[j])
				}
			case e.Standing == optimize.NotSeen && o.Written[j] == q.Start:
			default:
				t.Errorf("%s: %s is %v", name, q.Path, e.Standing)
			}
		}
	}
	if estimated < 25 {
		t.Errorf("only %d values are told", estimated)
	}
}

// TestIntervalsCover: of 200 sets of noisy readings with fixed seeds, the 95 %
// intervals hold the truth in 179 to 198 and the 68 % intervals in 113 to 158 for
// every parameter: what a binomial distribution allows (flat prior, no bound active).
func TestIntervalsCover(t *testing.T) {
	const sets = 200
	file, study := atTruth(t)
	sure, likely := make([]int, len(truth)), make([]int, len(truth))
	for seed := range uint64(sets) {
		rows := rowsOf(t, study, wholeRig, 1, rand.New(rand.NewPCG(seed, 5)))
		f := estimate(t, file, rows)
		for j, e := range f.Estimates {
			if !e.HasInterval() {
				t.Fatalf("seed %d: %s is %v", seed, file.Search[j].Path, e.Standing)
			}
			if low, high := e.Interval(0.95); low <= truth[j] && truth[j] <= high {
				sure[j]++
			}
			if low, high := e.Interval(0.68); low <= truth[j] && truth[j] <= high {
				likely[j]++
			}
		}
	}
	for j := range truth {
		if sure[j] < 179 || sure[j] > 198 || likely[j] < 113 || likely[j] > 158 {
			t.Errorf("%s: 95 %% intervals hold the truth in %d, 68 %% intervals in %d of %d sets", file.Search[j].Path, sure[j], likely[j], sets)
		}
	}
	t.Logf("95 %%: %v, 68 %%: %v of %d", sure, likely, sets)
}

// estimate fits rows from the present values alone.
func estimate(t *testing.T, file *axlefile.File, rows []axlefile.RigRow) *optimize.Fitted {
	t.Helper()
	study, err := Study(file)
	if err != nil {
		t.Fatal(err)
	}
	b, err := newBridge(study, file.Search, rows, false)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := b.problem(file.Search, rows, false)
	f, err := optimize.Fit(context.Background(), p, optimize.FitOptions{Starts: -1})
	if err != nil {
		t.Fatal(err)
	}
	return f
}
