package show

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

func fileOf(t *testing.T, name string, edit func(text string) string) *axlefile.File {
	t.Helper()
	axle, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	text := string(axle.Text)
	if edit != nil {
		text = edit(text)
	}
	file, err := axlefile.Parse(name+".toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return file
}

func viewOf(t *testing.T, file *axlefile.File) *view {
	t.Helper()
	study, err := tuning.Study(file)
	if err != nil {
		t.Fatal(err)
	}
	asked, err := tuning.Ask(study, file.Wants)
	if err != nil {
		t.Fatal(err)
	}
	return newView(study, asked)
}

func find(t *testing.T, v *view, name, caseName, where string) int {
	t.Helper()
	index, err := v.study.Find(name, caseName, where)
	if err != nil {
		t.Fatal(err)
	}
	return index
}

// TestEveryNumberStandsInOneGroup: named numbers once, plain readings only in the
// author's own cases and where they are wanted.
func TestEveryNumberStandsInOneGroup(t *testing.T) {
	const more = `
[case.kerb]
title = "one wheel at a kerb"
pads = "level"
left = { at = "centre", force = [-500, 200, 0] }
[want.reading]
number = "left_wheel_toe"
case = "driving"
at_least = -9
`
	for _, name := range demo.Names() {
		v := viewOf(t, fileOf(t, name, func(s string) string { return s + more }))
		seen := map[int]int{}
		for _, g := range v.groups() {
			for _, index := range g.indices {
				seen[index]++
			}
		}
		for i := range v.numbers {
			n := &v.numbers[i]
			want := 1
			switch {
			case n.Name == "left_wheel_toe" && strings.HasPrefix(n.Case, "driving"):
			case strings.HasPrefix(n.Case, comparison) && n.Name != steer:
				want = 0
			case n.Generic && (n.Case != "kerb" || byItsSide(n)):
				want = 0
			}
			if seen[i] != want {
				t.Errorf("%s: %s stands in %d groups, want %d", name, v.reference(i), seen[i], want)
			}
		}
	}
}

// TestCaptionsTellNumbersApart: no two numbers with a name of their own share a
// caption.
func TestCaptionsTellNumbersApart(t *testing.T) {
	for _, name := range demo.Names() {
		v := viewOf(t, fileOf(t, name, nil))
		first := map[string]int{}
		for i := range v.numbers {
			if v.numbers[i].Generic {
				continue
			}
			c := v.caption(i)
			if j, taken := first[c]; taken {
				t.Errorf("%s: %s and %s are both called %q", name, v.reference(i), v.reference(j), c)
			}
			first[c] = i
		}
	}
}

func TestCausesJoinSidesAndKeepTheSum(t *testing.T) {
	parts := []cases.NumberPart{
		{Element: "bush.pivot.left", Side: "left", Line: "soft", Value: -2},
		{Element: "beam.cross", Line: "shear", Value: 0.5},
		{Element: "bush.pivot.right", Side: "right", Line: "soft", Value: 1.5},
		{Element: "bush.pivot.left", Side: "left", Line: "axial", Value: 0.25},
	}
	all := causes(parts)
	want := []cause{{"bush.pivot", "soft", -2, 1.5, 0}, {"beam.cross", "shear", 0, 0, 0.5}, {"bush.pivot", "axial", 0.25, 0, 0}}
	if len(all) != len(want) {
		t.Fatalf("%v", all)
	}
	sum := 0.0
	for i := range all {
		if all[i] != want[i] {
			t.Errorf("cause %d is %v, want %v", i, all[i], want[i])
		}
		sum += all[i].sum()
	}
	if sum != 0.25 {
		t.Errorf("sum %v", sum)
	}
}

func TestVerdicts(t *testing.T) {
	v := viewOf(t, fileOf(t, "hatchback-link", nil))
	index := find(t, v, steer, "", "")
	for _, test := range []struct {
		kind        optimize.Kind
		value, want float64
		says        string
	}{
		{optimize.AtLeast, -0.03, 0.02, "short by 0.050"},
		{optimize.AtLeast, 0.03, 0.02, "met"},
		{optimize.AtLeast, 0.0199999, 0.02, "met"}, // a hundred-thousandth of a step
		{optimize.AtLeast, 0.0197, 0.02, "short by 0.0003"},
		{optimize.AtMost, 0.03, 0.02, "over by 0.010"},
		{optimize.Target, 0.03, 0.02, "over by 0.010"},
		{optimize.Target, 0.01, 0.02, "short by 0.010"},
		{optimize.Target, 0.02, 0.02, "met"},
	} {
		a := tuning.Asked{Index: index, Unit: v.numbers[index].Unit, Want: optimize.Want{Kind: test.kind, Value: test.want, Scale: 0.01}}
		if got := v.verdict(&a, a.Want.Outcome(test.value, test.value)).text; got != test.says {
			t.Errorf("%v %v of %v: %q, want %q", test.value, test.kind, test.want, got, test.says)
		}
	}
}

// TestPriceOfOneTarget: what a bound would gain is in the unit of the one number
// that is asked for, and true: the tune is repeated with the bound moved.
func TestPriceOfOneTarget(t *testing.T) {
	tune := func(to string) *Tuned {
		file := fileOf(t, "hatchback-plain", func(s string) string {
			head, _, _ := strings.Cut(s, "[search]")
			return head + "[search]\nbush.pivot.soft = { from = 350, to = " + to + ", scale = \"log\" }\n[want.corner]\nnumber = \"lateral_force_steer\"\ntarget = 0.0\n"
		})
		o, err := tuning.Tune(context.Background(), file, optimize.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return &Tuned{Outcome: o}
	}
	short, long := tune("1400"), tune("1401")
	s := short.sides()
	priced, factor := s.priced()
	if priced == nil || len(s.Bounds) != 1 {
		t.Fatalf("priced in %v, bounds %v", priced, s.Bounds)
	}
	index := priced.Index
	unit := s.after.numbers[index].Unit
	gained := unit.Written(long.After.Value(index) - short.After.Value(index))
	if promised := math.Abs(s.Bounds[0].Price * factor); math.Abs(promised-gained) > 0.01*gained {
		t.Errorf("1 N/mm further out gains %v, the price says %v", gained, promised)
	}
}

// TestNothingIsSaidOfWhatIsNotThere: an axle of which the vehicle is not known.
func TestNothingIsSaidOfWhatIsNotThere(t *testing.T) {
	file := fileOf(t, "hatchback-link", func(s string) string {
		head, rest, _ := strings.Cut(s, "[vehicle]")
		_, rest, _ = strings.Cut(rest, "[search]")
		return strings.Replace(head+"[search]"+rest, "number = \"total_outer_toe\"\ncase = \"state_cornering\"", "number = \"lateral_force_steer\"", 1)
	})
	o, err := tuning.Tune(context.Background(), file, optimize.Options{})
	if err != nil {
		t.Fatal(err)
	}
	solved, tuned := &Page{}, &Page{}
	(&Solved{Study: o.Before, Asked: o.Asked}).Text(solved)
	(&Tuned{Outcome: o}).Text(tuned)
	for _, text := range []string{solved.String(), tuned.String()} {
		if !strings.Contains(text, "static load: not included") || strings.Contains(text, "VEHICLE STATE") || strings.Contains(text, "NaN") {
			t.Errorf("the vehicle is not known, and yet:\n%s", text)
		}
	}
	for _, text := range []string{solved.String(), tuned.String()} {
		if !strings.Contains(text, "NOT OFFERED") || strings.Count(text, "total toe of the outer wheel") != 1 || !strings.Contains(text, "needs mass") {
			t.Errorf("what is not offered is not said once:\n%s", text)
		}
	}
}

// TestHeadlineAgreesWithTheStatus: no want is called met in the first line while
// the exit code says that one is not.
func TestHeadlineAgreesWithTheStatus(t *testing.T) {
	tune := func(limit float64) *Tuned {
		o, err := tuning.Tune(context.Background(), fileOf(t, "hatchback-link", func(s string) string {
			head, _, _ := strings.Cut(s, "[search]")
			return head + fmt.Sprintf("[search]\nbush.pivot.plan = { from = -10, to = 10 }\n[want.corner]\nnumber = \"lateral_force_steer\"\nat_least = %v\n", limit)
		}), optimize.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return &Tuned{Outcome: o}
	}
	far := tune(1)
	best := far.Asked[0].Unit.Written(far.After.Value(far.Asked[0].Index))
	for _, test := range []struct {
		above float64
		says  string
	}{
		{0.1, "NOT REACHED, the closest is shown: lateral-force steer, outer wheel is short by 0.100 deg/kN."},
		{0.0003, "NOT REACHED, the closest is shown: lateral-force steer, outer wheel is short by 0.0003 deg/kN."},
		{0.00001, "NOT REACHED, but by less than can be noticed."},
		{-0.00001, "TUNED: every want with a number is met."},
	} {
		tuned := tune(best + test.above)
		if got := tuned.sides().summary(); got != test.says || strings.HasPrefix(got, "TUNED") != (tuned.Status.Err() == nil) {
			t.Errorf("%v above the best: %v, %q; want %q", test.above, tuned.Status, got, test.says)
		}
	}
}

// TestLoadsOfAnAxleOfLinks: no table stands without rows.
func TestLoadsOfAnAxleOfLinks(t *testing.T) {
	page := &Page{}
	viewOf(t, fileOf(t, "van-beam-axle", nil)).loadTable(page)
	if text := page.String(); !strings.Contains(text, "has no bush") || strings.Contains(text, "radial") {
		t.Error(text)
	}
}

// TestOtherEndsAreComparedOnlyWhereLimitsHold: an end that misses limits may well
// do better in what is to be made large, so it is not called worse or better.
func TestOtherEndsAreComparedOnlyWhereLimitsHold(t *testing.T) {
	o, err := tuning.Tune(context.Background(), fileOf(t, "hatchback-link", nil), optimize.Options{})
	if err != nil {
		t.Fatal(err)
	}
	best := o.Agreement.Ends[0]
	at := func(aim, violation float64) optimize.End {
		return optimize.End{X: best.X, Aim: best.Aim + aim, Violation: violation, Starts: 1}
	}
	o.Agreement.Ends = []optimize.End{best, at(2, 0), at(-3, 0.25)}
	page := &Page{}
	tuned := &Tuned{Outcome: o}
	tuned.sides().otherEnds(page)
	for _, row := range [][]string{{"limits missed by", "steps", "0", "0", "0.5"}, {"worse by", "steps", "0", "2"}} {
		found := false
		for line := range strings.Lines(page.String()) {
			found = found || strings.Join(strings.Fields(line), " ") == strings.Join(row, " ")
		}
		if !found {
			t.Errorf("no row %v in\n%s", row, page)
		}
	}
	ends := map[string]float64{}
	for _, r := range tuned.records() {
		if r.Kind == "end" && r.Unit == "steps" {
			ends[r.Line+": "+r.Name] = *r.Value
		}
	}
	if len(ends) != 2 || math.Abs(ends["1 start, end 1: worse by"]-2) > 1e-12 || ends["1 start, end 2: limits missed by"] != 0.5 {
		t.Errorf("records of the ends: %v", ends)
	}
}

// TestWantsAtFullSizeAreShown: beside the number for small loads, with their size,
// in tables and records; a load that cannot be held is said to be one.
func TestWantsAtFullSizeAreShown(t *testing.T) {
	file := fileOf(t, "hatchback-link", func(s string) string {
		head, _, _ := strings.Cut(s, "[want.")
		return head + `[want.limit]
number = "total_outer_toe"
case = "state_cornering"
size = 0.6
at_least = 5
[want.even]
number = "lateral_force_steer"
size = 4
straight = true
target = 0
[want.huge]
number = "lateral_compliance"
size = 90000
target = 0
`
	})
	study, err := tuning.Study(file)
	if err != nil {
		t.Fatal(err)
	}
	asked, err := tuning.Ask(study, file.Wants)
	if err != nil {
		t.Fatal(err)
	}
	page, solved := &Page{}, &Solved{Study: study, Asked: asked}
	solved.Text(page)
	for _, words := range []string{"    scaled to 0.6 g", "    off the straight line at 4 kN", "    at 90000 kN", "the axle cannot hold this load", "short by "} {
		if !strings.Contains(page.String(), words) {
			t.Errorf("%q is not said in\n%s", words, page)
		}
	}
	found := map[string]Record{}
	for _, r := range solved.records() {
		if r.Kind == "figure" && r.Name != "" {
			found[r.Name] = r
		}
	}
	for i, want := range []struct {
		name, unit string
		size       float64
	}{{"limit", "g", 0.6}, {"even", "kN", 4}, {"huge", "kN", 90000}} {
		r := found[want.name]
		if r.X == nil || math.Abs(*r.X-want.size) > 1e-12*want.size || r.XUnit != want.unit {
			t.Errorf("%s stands at %v %s", want.name, r.X, r.XUnit)
			continue
		}
		if now := asked[i].Unit.Written(asked[i].Value(study)); (r.Value == nil) != math.IsNaN(now) || r.Value != nil && *r.Value != now {
			t.Errorf("%s is recorded as %v, want %v", want.name, r.Value, now)
		}
	}
}

// What rounding leaves between two costs is no difference.
func TestWorseIsToldFromRounding(t *testing.T) {
	for _, c := range []struct{ aim, best, want float64 }{{2, 2, 0}, {2 + 1e-9, 2, 0}, {2 - 1e-22, 2, 0}, {2.5, 2, 0.5}, {2 + 1e-5, 2, 1e-5}} {
		if got := worse(c.aim, c.best); got < 0 || got-c.want > 1e-12 || c.want-got > 1e-12 {
			t.Errorf("%g against %g is worse by %g, want %g", c.aim, c.best, got, c.want)
		}
	}
}
