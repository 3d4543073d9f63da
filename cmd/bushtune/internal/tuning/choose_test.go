package tuning

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"bushtune/bushing"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/compliance"
	"bushtune/optimize"
)

func demoCatalogue(t testing.TB) *axlefile.Catalogue {
	t.Helper()
	c, err := axlefile.ParseCatalogue("demo.toml", demo.CatalogueText())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// some keeps a few parts of a catalogue, chosen by a seed, and always those named.
func some(c *axlefile.Catalogue, seed uint64, count int, always ...string) *axlefile.Catalogue {
	random := rand.New(rand.NewPCG(seed, 3))
	few := &axlefile.Catalogue{Name: c.Name, Title: c.Title}
	for _, i := range random.Perm(len(c.Parts)) {
		if len(few.Parts) < count-len(always) {
			few.Parts = append(few.Parts, c.Parts[i])
		}
	}
	for i := range c.Parts {
		if slices.Contains(always, c.Parts[i].Name) {
			few.Parts = append(few.Parts, c.Parts[i])
		}
	}
	return few
}

func everyBush(t testing.TB, f *axlefile.File, paths ...string) []axlefile.Position {
	t.Helper()
	if paths == nil {
		paths = f.Bushes()
	}
	var all []axlefile.Position
	for _, path := range paths {
		p, err := f.Position(path)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	return all
}

func chosen(t testing.TB, f *axlefile.File, c *axlefile.Catalogue, o optimize.ChoiceOptions, paths ...string) *Choice {
	t.Helper()
	r, err := Choose(context.Background(), f, c, everyBush(t, f, paths...), o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// sameOptimum is how far two costs of one optimum may lie apart, as a share: a
// millionth, the difference at which the optimiser counts costs as one.
const sameOptimum = 1e-6

// Every combination of random short lists, a measured curve and a stop among them,
// against a plain tune of the file into which the parts were written.
func TestChooseAgainstTune(t *testing.T) {
	f := demoFile(t, demo.ChooseDefault)
	whole := demoCatalogue(t)
	for seed := range uint64(4) {
		r := chosen(t, f, some(whole, seed, 3, "VO-56-D", "FL-60-C"), optimize.ChoiceOptions{Best: 9, Seed: seed})
		if r.Tuned != 9 || len(r.Best) != 9 || !r.Exhaustive {
			t.Fatalf("list %d: %d tuned, %d listed", seed, r.Tuned, len(r.Best))
		}
		var order []float64
		for i := range r.Best {
			c := &r.Best[i]
			text, err := f.EditFit(r.Positions, r.Parts(c), "a list", []float64{19, 19})
			if err != nil {
				t.Fatal(err)
			}
			one, err := Tune(context.Background(), parse(t, string(text)), optimize.Options{Seed: 9})
			if err != nil {
				t.Fatal(err)
			}
			plain := one.Result.After
			if d := math.Abs(math.Sqrt(c.Violation) - math.Sqrt(plain.Violation)); d > sameOptimum*math.Max(1, math.Sqrt(plain.Violation)) {
				t.Errorf("list %d, %s: limits missed by %v steps, a plain tune says %v", seed, names(r, c), math.Sqrt(c.Violation), math.Sqrt(plain.Violation))
			}
			if d := math.Abs(c.Aim - plain.Aim); c.Held && d > sameOptimum*math.Max(1, math.Abs(plain.Aim)) {
				t.Errorf("list %d, %s: aim %v, a plain tune says %v", seed, names(r, c), c.Aim, plain.Aim)
			}
			order = append(order, plain.Violation)
		}
		if !slices.IsSortedFunc(order, func(a, b float64) int {
			if math.Abs(a-b) <= sameOptimum*math.Max(1, a) {
				return 0
			}
			return int(math.Copysign(1, a-b))
		}) {
			t.Errorf("list %d: order of violations %v", seed, order)
		}
	}
}

func names(r *Choice, c *optimize.Chosen) string {
	var all []string
	for _, p := range r.Parts(c) {
		all = append(all, p.Name)
	}
	return strings.Join(all, " + ")
}

// A catalogue of one part is a plain tune, and with nothing to tune a plain solve.
func TestChooseFromOnePart(t *testing.T) {
	f := demoFile(t, "hatchback-link")
	one := some(demoCatalogue(t), 0, 1, "VO-56-A")
	r := chosen(t, f, one, optimize.ChoiceOptions{})
	fitted, fixed := f.Fit(r.Positions, r.Parts(&r.Best[0]))
	if !slices.Equal(fixed, r.Fixed) || len(fixed) != 2 {
		t.Errorf("fixed %v, %v", fixed, r.Fixed)
	}
	plain, err := Tune(context.Background(), fitted, optimize.Options{Seed: 2})
	if err != nil {
		t.Fatal(err)
	}
	if d := math.Abs(r.Best[0].Aim - plain.Result.After.Aim); d > sameOptimum*math.Abs(plain.Result.After.Aim) {
		t.Errorf("aim %v, a plain tune says %v", r.Best[0].Aim, plain.Result.After.Aim)
	}
	if r.Free != nil && r.worthOfFree() > sameOptimum*math.Abs(r.Best[0].Aim) {
		t.Errorf("free rates of one part are worth %v", r.worthOfFree())
	}
	f.Search = nil
	r = chosen(t, f, one, optimize.ChoiceOptions{})
	if r.Starts != 1 || len(r.Best[0].X) != 0 || r.Free != nil {
		t.Errorf("nothing to tune: %d starts, %v", r.Starts, r.Best[0].X)
	}
	for i := range r.Asked {
		now, want := r.Best[0].Values[r.Asked[i].Want.Number], r.Asked[i].Unit.Written(r.After.Value(r.Asked[i].Index))
		if math.Abs(now-want) > 1e-12*math.Abs(want) {
			t.Errorf("%s: %v, the study says %v", r.Asked[i].Name, now, want)
		}
	}
}

// worthOfFree is by how much free rates lower the aim.
func (c *Choice) worthOfFree() float64 { return c.Best[0].Aim - c.Free.After.Aim }

// What the answer shows before and after is what the optimiser saw, and free rates
// are never worse than the best parts.
func TestChoiceIsConsistent(t *testing.T) {
	for _, name := range []string{demo.ChooseDefault, "saloon-multi-link", "hatchback-angled"} {
		f := demoFile(t, name)
		r := chosen(t, f, some(demoCatalogue(t), 5, 4), optimize.ChoiceOptions{})
		best := &r.Best[0]
		for i := range r.Asked {
			a := &r.Asked[i]
			n := a.Want.Number
			for _, c := range []struct {
				what      string
				now, want float64
				tolerance float64
			}{
				{"as it stands", r.Present.Values[n], a.Unit.Written(a.Value(r.Before)), 1e-12},
				{"best", best.Values[n], a.Unit.Written(a.Value(r.After)), 1e-4}, // six digits of each parameter
			} {
				if math.Abs(c.now-c.want) > c.tolerance*math.Max(a.Want.Scale, math.Abs(c.want)) {
					t.Errorf("%s, %s, %s: %v, the study says %v", name, a.Name, c.what, c.now, c.want)
				}
			}
		}
		switch free := r.Free.After; {
		case best.Held && (free.Violation > 0 || free.Aim > best.Aim+sameOptimum*math.Max(1, math.Abs(best.Aim))),
			!best.Held && free.Violation > best.Violation*(1+sameOptimum):
			t.Errorf("%s: free rates end at %v, %v; the best parts at %v, %v", name, free.Violation, free.Aim, best.Violation, best.Aim)
		}
	}
}

// A part with which the axle cannot be solved is left out, wherever it stands.
func TestPartThatHoldsNothing(t *testing.T) {
	f := demoFile(t, "hatchback-link")
	good := some(demoCatalogue(t), 1, 2)
	want := chosen(t, f, good, optimize.ChoiceOptions{})
	loose := good.Parts[0]
	loose.Name, loose.Slots = "loose", slices.Clone(loose.Slots)
	for _, d := range bushing.DirectionNames {
		loose.Slots[compliance.Bush.FieldIndex(d)] = 0
	}
	for at := range 3 {
		few := &axlefile.Catalogue{Name: good.Name, Parts: slices.Insert(slices.Clone(good.Parts), at, loose)}
		r := chosen(t, f, few, optimize.ChoiceOptions{})
		if r.Impossible != 1 || r.Tuned != 3 || names(r, &r.Best[0]) != names(want, &want.Best[0]) {
			t.Errorf("loose part in place %d: %d impossible of %d, best %s", at, r.Impossible, r.Tuned, names(r, &r.Best[0]))
		}
	}
}

// A part on one side is judged in both turns.
func TestChooseForOneSide(t *testing.T) {
	f := demoFile(t, "hatchback-link")
	few := some(demoCatalogue(t), 1, 3)
	both := chosen(t, f, few, optimize.ChoiceOptions{}, "bush.pivot")
	left := chosen(t, f, few, optimize.ChoiceOptions{}, "bush.pivot.left")
	if len(left.Asked) != 2*len(both.Asked) {
		t.Errorf("%d wants on one side, %d on both", len(left.Asked), len(both.Asked))
	}
}

func TestRoomAndPrices(t *testing.T) {
	f := demoFile(t, demo.ChooseDefault)
	few := some(demoCatalogue(t), 0, 3, "PL-52-50", "PL-60-50", "PL-70-50")
	at := everyBush(t, f, "bush.outer")
	at[0].Outer, at[0].Length = 60, 52
	r, err := Choose(context.Background(), f, few, at, optimize.ChoiceOptions{})
	if err != nil || len(r.Offers[0]) != 2 || r.Tuned != 2 {
		t.Fatalf("%v: %d offers", err, len(r.Offers[0]))
	}
	at[0].Outer = 40
	var room *NoRoom
	if _, err := Choose(context.Background(), f, few, at, optimize.ChoiceOptions{}); !errors.As(err, &room) || !strings.Contains(err.Error(), "above 40 mm") {
		t.Errorf("no room: %v", err)
	}
	few.Parts[1].Price = 0
	if r := chosen(t, f, few, optimize.ChoiceOptions{}, "bush.outer"); r.Best[0].Price != 0 || r.Cheaper(1e9) != nil {
		t.Errorf("a part without a price: %d, %v", r.Best[0].Price, r.Cheaper(1e9))
	}
}

// Parts that differ in where a curve stands make the study anew; the order in which
// they are put in must not matter.
func TestBenchForgetsThePartBefore(t *testing.T) {
	f := demoFile(t, demo.ChooseDefault)
	c := &Choice{Catalogue: some(demoCatalogue(t), 0, 4, "PL-60-50", "VO-56-D", "FL-60-C", "VO-64-D"), Positions: everyBush(t, f)}
	if err := c.offer(); err != nil {
		t.Fatal(err)
	}
	s, err := c.shop(f)
	if err != nil {
		t.Fatal(err)
	}
	used, err := s.bench()
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(8, 8))
	for range 60 {
		options := []int{random.IntN(4), random.IntN(4)}
		if err := used.Put(options); err != nil {
			t.Fatal(err)
		}
		got, err := used.Problem.At([]float64{12, 15})
		if err != nil {
			t.Fatal(err)
		}
		fitted, _ := f.Fit(c.Positions, c.Parts(&optimize.Chosen{Options: options}))
		b, asked := bridgeOf(t, fitted)
		want, err := b.problem(asked).At([]float64{12, 15})
		if err != nil || !slices.Equal(got.Values, want.Values) {
			t.Errorf("%v: %v, on an axle of its own %v, %v", options, got.Values, want.Values, err)
		}
	}
}

// Sixty parts in two positions with two free angles; peak-MB is the most memory in
// use at any report of progress.
func BenchmarkChoose(b *testing.B) {
	axle, err := demo.Open(demo.ChooseDefault)
	if err != nil {
		b.Fatal(err)
	}
	f, err := axlefile.Parse("axle.toml", axle.Text)
	if err != nil {
		b.Fatal(err)
	}
	c := demoCatalogue(b)
	var peak atomic.Uint64
	o := optimize.ChoiceOptions{Seed: 1, Progress: func(int, int) {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		peak.Store(max(peak.Load(), m.HeapInuse))
	}}
	b.ReportAllocs()
	for b.Loop() {
		chosen(b, f, c, o)
	}
	b.ReportMetric(float64(peak.Load())/(1<<20), "peak-MB")
}
