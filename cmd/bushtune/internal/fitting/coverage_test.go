package fitting

import (
	"context"
	"math/rand/v2"
	"testing"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// weakSearch leaves an angle free that the readings of weakRig tell to 3 deg or so.
const weakSearch = `[search]
bush.pivot.plan = { from = -60, to = 60 }
bush.pivot.soft = { from = 350, to = 1400, scale = "log" }
bush.pivot.axial = { from = 600, to = 3600, scale = "log" }
`

// weakRig reads toe and the sideways movement of both wheels in two cases, with half as
// much noise again as the built-in rig has.
func weakRig(t *testing.T, file *axlefile.File, truth []float64, random *rand.Rand) []axlefile.RigRow {
	t.Helper()
	study, err := Study(file)
	if err != nil {
		t.Fatal(err)
	}
	for j := range file.Search {
		for _, m := range file.Search[j].Moves {
			study.Set(m.Slot, m.At(truth[j]))
		}
	}
	if err := study.Update(); err != nil {
		t.Fatal(err)
	}
	var rows []axlefile.RigRow
	for _, r := range rowsOf(t, study, []string{"cornering", "braking"}, 1.5, random) {
		if r.Channel == "toe" || r.Channel == "centre_y" {
			rows = append(rows, r)
		}
	}
	return rows
}

// TestIntervalsOfWeaklyToldAnglesCover: over 500 sets with angles from 0 to 40 deg the
// 95 % intervals hold the truth in 91.8 to 97.6 %, the 99.9 % limits of a binomial
// distribution: all of them, and those that do not end at a bound, where coverage is not
// nominal. Some are two.
func TestIntervalsOfWeaklyToldAnglesCover(t *testing.T) {
	const sets, least, most = 500, 0.918, 0.976
	file := fileOf(t, "hatchback-link", weakSearch)
	var count, held, inside, insideHeld [3]int
	two := 0
	for seed := range uint64(sets) {
		random := rand.New(rand.NewPCG(seed, 77))
		truth := []float64{40 * random.Float64(), 640, 1560}
		rows := weakRig(t, file, truth, random)
		study, err := Study(file)
		if err != nil {
			t.Fatal(err)
		}
		b, err := newBridge(study, file.Search, rows, false)
		if err != nil {
			t.Fatal(err)
		}
		p, _ := b.problem(file.Search, rows, false)
		f, err := optimize.Fit(context.Background(), p, optimize.FitOptions{})
		if err != nil {
			t.Fatal(err)
		}
		for j := range f.Estimates {
			spans := f.Estimates[j].Spans(0.95)
			holds, bound := 0, false
			for _, s := range spans {
				if s.Low <= truth[j] && truth[j] <= s.High {
					holds = 1
				}
				bound = bound || s.LowBound || s.HighBound
			}
			if len(spans) > 1 {
				two++
			}
			count[j]++
			held[j] += holds
			if !bound {
				inside[j]++
				insideHeld[j] += holds
			}
		}
	}
	for j, q := range file.Search {
		whole, free := float64(held[j])/float64(count[j]), float64(insideHeld[j])/float64(inside[j])
		if whole < least || whole > most || free < least || free > most || inside[j] < sets*8/10 {
			t.Errorf("%s: %.1f %% of all, %.1f %% of %d inside the bounds hold the truth", q.Path, 100*whole, 100*free, inside[j])
		}
	}
	if two < 20 {
		t.Errorf("only %d intervals are two", two)
	}
	t.Logf("held %v of %v, inside the bounds %v of %v; two: %d", held, count, insideHeld, inside, two)
}
