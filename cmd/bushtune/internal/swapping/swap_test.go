package swapping_test

import (
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/swapping"
)

// rounding is how far two figures that are computed on two ways may lie apart, as a
// share of themselves or of a step: doubles at condition numbers up to 1e6.
const rounding = 1e-9

func demoText(t testing.TB, name string) string {
	t.Helper()
	axle, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(axle.Text)
}

// thinWall is an axle with bushes by their dimensions, whose end stops bear at rest.
func thinWall(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/thin-wall.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

var (
	searchTables = regexp.MustCompile(`(?s)\[search\].*?(\n\[want|$)`)
	pivotRates   = regexp.MustCompile(`(?s)soft = [0-9]+.*?cone_stiff = [0-9.]+[^\n]*\n`)
)

// rubberPivots is the default axle with pivots by their dimensions; more stands in
// their table.
func rubberPivots(t testing.TB, rubber, more string) string {
	t.Helper()
	text := searchTables.ReplaceAllString(demoText(t, demo.Default), "$1")
	return pivotRates.ReplaceAllString(text, "rubber = { "+rubber+" }\n"+more+"\n")
}

const solid = "inner_diameter = 24, outer_diameter = 56, length = 60, hardness = 55"

// edit replaces the first of a text that must be there.
func edit(t testing.TB, text, old, new string) string {
	t.Helper()
	if !strings.Contains(text, old) {
		t.Fatalf("no %q to edit in\n%s", old, text)
	}
	return strings.Replace(text, old, new, 1)
}

func parse(t testing.TB, text string) *axlefile.File {
	t.Helper()
	file, err := axlefile.Parse("axle.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// texts are sets as they are typed: a rule, the text of a file, or several joined.
func texts(asked ...[]string) (all [][]axlefile.SetText) {
	for _, set := range asked {
		var parts []axlefile.SetText
		for _, text := range set {
			if axlefile.IsShort(text) && !strings.Contains(text, "\n") {
				parts = append(parts, axlefile.SetText{Name: text, Short: true})
			} else {
				parts = append(parts, axlefile.SetText{Name: "set.toml", Text: []byte(text)})
			}
		}
		all = append(all, parts)
	}
	return all
}

func mustSet(t testing.TB, file *axlefile.File, asked ...string) *axlefile.Set {
	t.Helper()
	sets, err := file.ReadSets(texts(asked))
	if err != nil {
		t.Fatal(err)
	}
	return sets[0]
}

func compare(t testing.TB, file *axlefile.File, asked ...[]string) *swapping.Comparison {
	t.Helper()
	sets, err := file.ReadSets(texts(asked...))
	if err != nil {
		t.Fatal(err)
	}
	c, err := swapping.Compare(file, sets)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// alike holds two columns of numbers against each other.
func alike(t *testing.T, what string, a, b func(index int) float64, c *swapping.Comparison, tolerance float64) {
	t.Helper()
	for i, n := range c.Base.Numbers() {
		x, y := a(i), b(i)
		if math.Abs(x-y) > tolerance*max(math.Abs(y), n.Step*n.Unit.Factor) {
			t.Errorf("%s: %s@%s %v, want %v", what, n.Name, n.Case, x, y)
		}
	}
}

func only(c *swapping.Column) func(int) float64 {
	return func(i int) float64 { low, _ := c.Between(i); return low }
}

func everyNumber(int) bool { return true }

// TestASetEqualToTheAxleChangesNothing repeats the axle's own parts, and applies
// rules that come to nothing: not one digit moves.
func TestASetEqualToTheAxleChangesNothing(t *testing.T) {
	compared := 0
	for _, name := range demo.Names() {
		text := demoText(t, name)
		var own []string
		for _, block := range strings.Split("\n"+text, "\n[") {
			if strings.HasPrefix(block, "bush.") || strings.HasPrefix(block, "link.") {
				own = append(own, "["+block)
			}
		}
		asked := [][]string{{strings.Join(own, "\n")}}
		if strings.Contains(text, "\n[bush.") {
			asked = append(asked, []string{"rates=1"}, []string{"swap_sides=true", "swap_sides=true"})
		}
		if len(own) == 0 {
			continue // a rigid axle on rods of another kind
		}
		compared++
		c := compare(t, parse(t, text), asked...)
		for k := range c.Columns {
			column := &c.Columns[k]
			if len(column.Parts) != 0 {
				t.Errorf("%s, set %d: parts %v", name, k+1, column.Parts)
			}
			alike(t, name, only(column), c.Base.Value, c, 0)
			if changes := c.Changes(k, everyNumber); len(changes) != 0 {
				t.Errorf("%s, set %d: changes %v", name, k+1, changes)
			}
		}
	}
	if compared < 8 {
		t.Errorf("only %d axles have parts to repeat", compared)
	}
}

// TestOrderDoesNotMatter joins sets that touch different things, and rules of every
// kind on the same bushes, in both orders.
func TestOrderDoesNotMatter(t *testing.T) {
	file := parse(t, rubberPivots(t, solid, "elastic_plan = 12"))
	link, place := "[link.toe]\ninner_rate = 900\n", "[bush.pivot]\nplan = 7\n[bush.pivot.left]\nplan = 3\n"
	for _, pair := range [][2][]string{
		{{link, place}, {place, link}},
		{{link, "hardness=+8"}, {"hardness=+8", link}},
		{{"rates=1.3", "hardness=+8", "swap_sides=true"}, {"swap_sides=true", "hardness=+8", "rates=1.3"}},
		{{"rates=1.3@bush.pivot.left", "worn=0.7"}, {"worn=0.7", "rates=1.3@bush.pivot.left"}},
		{{"polyurethane=75,bonded=true", "rates=1.3"}, {"rates=1.3", "polyurethane=75,bonded=true"}},
	} {
		c := compare(t, file, pair[0], pair[1])
		a, b := &c.Columns[0], &c.Columns[1]
		alike(t, strings.Join(pair[0], "+"), only(a), only(b), c, 0)
		if moved := only(a); moved(0) == c.Base.Value(0) {
			t.Errorf("%v moves nothing", pair[0])
		}
	}
}

// TestRatesEqualEditingByHand multiplies rates, stops and curves in the text.
func TestRatesEqualEditingByHand(t *testing.T) {
	pivot := func(rates string) string {
		return pivotRates.ReplaceAllString(searchTables.ReplaceAllString(demoText(t, demo.Default), "$1"), rates+"\n")
	}
	rest := "stiff = %s\ntorsion = %s\ncone_soft = %s\ncone_stiff = %s\n"
	fill := func(pattern string, values ...string) string {
		for _, v := range values {
			pattern = edit(t, pattern, "%s", v)
		}
		return pattern
	}
	for name, texts := range map[string][2]string{
		"plain": {fill("soft = 550\naxial = 1800\n"+rest, "2600", "1.8", "6", "8"), fill("soft = 825\naxial = 2700\n"+rest, "3900", "2.7", "9", "12")},
		"void that the load at rest closes": {
			fill("soft = 550\naxial = 1800\nsoft_gap = 0.05\nsoft_snubber = 4000\nsnubber_run = 1\n"+rest, "2600", "1.8", "6", "8"),
			fill("soft = 825\naxial = 2700\nsoft_gap = 0.05\nsoft_snubber = 6000\nsnubber_run = 1\n"+rest, "3900", "2.7", "9", "12")},
		"curve": {
			fill("soft_curve = [[0, 0], [0.1, 60], [1, 1200]]\naxial = 1800\n"+rest, "2600", "1.8", "6", "8"),
			fill("soft_curve = [[0, 0], [0.1, 90], [1, 1800]]\naxial = 2700\n"+rest, "3900", "2.7", "9", "12")},
		"bracket, which is no rubber": {
			fill("soft = 550\naxial = 1800\nbracket = 9000\n"+rest, "2600", "1.8", "6", "8"),
			fill("soft = 825\naxial = 2700\nbracket = 9000\n"+rest, "3900", "2.7", "9", "12")},
	} {
		c := compare(t, parse(t, pivot(texts[0])), []string{"rates=1.5@bush.pivot"})
		want := compare(t, parse(t, pivot(texts[1])), []string{"rates=1"})
		alike(t, name, only(&c.Columns[0]), want.Base.Value, c, rounding)
	}
}

// TestRatesOfABushByDimensions are those factors on the rates that follow.
func TestRatesOfABushByDimensions(t *testing.T) {
	for _, rubber := range []string{solid, solid + ", void_arc = 100, void_depth = 6"} {
		c := compare(t, parse(t, rubberPivots(t, rubber, "")), []string{"rates=1"}, []string{"rates=2", "worn=0.5"}, []string{"rates=1.4"})
		alike(t, "factor of one", only(&c.Columns[0]), c.Base.Value, c, rounding)
		alike(t, "there and back", only(&c.Columns[1]), c.Base.Value, c, rounding)
		if moved := only(&c.Columns[2]); moved(0) == c.Base.Value(0) {
			t.Error("rates=1.4 moves nothing")
		}
	}
}

// TestHardnessEqualsEditing changes the hardness in the text.
func TestHardnessEqualsEditing(t *testing.T) {
	harder := edit(t, solid, "55", "65")
	c := compare(t, parse(t, rubberPivots(t, solid, "")), []string{"hardness=+10"}, []string{"[bush.pivot.rubber]\nhardness = 65\n"}, []string{"hardness=10@bush.pivot.right"})
	want := compare(t, parse(t, rubberPivots(t, harder, "")), []string{"hardness=+1"})
	// the third set makes the halves differ, so that both turns are offered; numbers of the left turn come first by name
	for i, n := range c.Base.Numbers() {
		j, err := want.Base.Find(n.Name, n.Case, n.Where)
		if err != nil {
			continue // turning right
		}
		for k := range 2 {
			if got := only(&c.Columns[k])(i); math.Abs(got-want.Base.Value(j)) > rounding*math.Abs(got) {
				t.Errorf("set %d: %s@%s %v, want %v", k+1, n.Name, n.Case, got, want.Base.Value(j))
			}
		}
	}
	one, err := axlefile.Parse("axle.toml", []byte(rubberPivots(t, solid, "[bush.pivot.right]\nrubber = { hardness = 65 }\n")))
	if err != nil {
		t.Fatal(err)
	}
	edited := compare(t, one, []string{"rates=1"})
	alike(t, "one side", only(&c.Columns[2]), edited.Base.Value, c, rounding)
}

// TestARangeContainsBothItsEnds holds the range of a polyurethane against the axle at
// both ends and between. In each of the last three rows a number turns round near one of
// the inner places, so that the range fails without it (by 0.09 to 0.13 steps).
func TestARangeContainsBothItsEnds(t *testing.T) {
	const between = 40
	// leftOut is the largest share of a step by which a number may turn round between
	// the five places that are solved; over 72 axles and rules it was at most 0.021.
	const leftOut = 0.05
	for _, test := range []struct{ rubber, old, new, rule string }{
		{solid, "", "", "polyurethane=80,bonded=true"},
		{solid, "", "", "polyurethane=70,bonded=false,solid=true"},
		{solid, "", "", "polyurethane=90,bonded=true"},
		{solid + ", void_arc = 100, void_depth = 6", "", "", "polyurethane=57,bonded=true"},
		{solid, "plan = 0", "plan = 30", "polyurethane=57,bonded=true,side=left"},
		{edit(t, solid, "60", "20"), "inner_rate = 2000", "inner_rate = 200", "polyurethane=70,bonded=true,side=left"},
	} {
		rule := test.rule
		c := compare(t, parse(t, edit(t, rubberPivots(t, test.rubber, ""), test.old, test.new)), []string{rule})
		numbers := c.Base.Numbers()
		least, most := make([]float64, len(numbers)), make([]float64, len(numbers))
		for k := range between + 1 {
			share := float64(k) / between
			axle, err := swapping.Apply(c.Columns[0].Set, share)
			if err != nil {
				t.Fatal(err)
			}
			at := *c.File
			at.Axle = axle
			study := compare(t, &at).Base
			for i, n := range numbers {
				low, high := c.Columns[0].Between(i)
				v, slack := study.Value(i), leftOut*n.Step*n.Unit.Factor
				if k == 0 || k == between {
					slack = 0
				}
				if v < low-slack || v > high+slack {
					t.Errorf("%s: %s@%s is %v at share %.3f, outside %v to %v", rule, n.Name, n.Case, v, share, low, high)
				}
				if k == 0 {
					least[i], most[i] = v, v
				}
				least[i], most[i] = min(least[i], v), max(most[i], v)
			}
		}
		if !c.Columns[0].IsRange() || least[0] == most[0] {
			t.Errorf("%s is no range", rule)
		}
	}
}

// TestPolyurethaneIsThatOfTheAxleFile solves both ends with the compound in the file.
func TestPolyurethaneIsThatOfTheAxleFile(t *testing.T) {
	c := compare(t, parse(t, rubberPivots(t, solid, "")), []string{"polyurethane=80,bonded=true"})
	for _, share := range []string{"0", "1"} {
		text := rubberPivots(t, edit(t, solid, "55", "80")+`, compound = "polyurethane", bonded = true, range_share = `+share, "")
		end := compare(t, parse(t, text)).Base
		for i, n := range c.Base.Numbers() {
			low, high := c.Columns[0].Between(i)
			if v := end.Value(i); v < low || v > high {
				t.Errorf("%s@%s: %v at share %s, range %v to %v", n.Name, n.Case, v, share, low, high)
			}
		}
	}
}

// TestSwappedSides holds the exchange of sides against texts that are edited by hand.
func TestSwappedSides(t *testing.T) {
	axle := func(more string) string {
		return edit(t, searchTables.ReplaceAllString(demoText(t, demo.Default), "$1"), "max_radial_load", more+"\nmax_radial_load")
	}
	side := func(name, more string) string {
		return edit(t, axle(""), "[link.toe]", "[bush.pivot."+name+"]\n"+more+"\n[link.toe]")
	}
	for name, texts := range map[string][2]string{
		"a worn bush goes to the other side":     {side("left", "soft = 300"), side("right", "soft = 300")},
		"an elastic angle turns the other way":   {axle("elastic_plan = 15"), axle("elastic_plan = -15")},
		"voids are clocked the other way":        {axle("clock = 20"), axle("clock = -20")},
		"lift of the elastic axes stays":         {axle("elastic_lift = 15"), axle("elastic_lift = 15")},
		"the turn of the eye belongs to the car": {edit(t, axle(""), "plan = 0 ", "plan = 15 "), edit(t, axle(""), "plan = 0 ", "plan = 15 ")},
		"a forward stop acts rearward": {axle("soft_gap = 0.01\nsoft_gap_back = 9\nsoft_snubber = 5000\nsnubber_run = 0.5"),
			axle("soft_gap = 9\nsoft_gap_back = 0.01\nsoft_snubber = 5000\nsnubber_run = 0.5")},
		"a torsion curve is mirrored": {edit(t, axle("torsion_curve = [[-10, -9], [0, 0], [10, 30]]"), "torsion = 1.8\n", ""),
			edit(t, axle("torsion_curve = [[-10, -30], [0, 0], [10, 9]]"), "torsion = 1.8\n", "")},
	} {
		c := compare(t, parse(t, texts[0]), []string{"swap_sides=true"}, []string{"swap_sides=true", "swap_sides=true"})
		want := compare(t, parse(t, texts[1]))
		alike(t, name, only(&c.Columns[0]), want.Base.Value, c, rounding)
		alike(t, name+", twice", only(&c.Columns[1]), c.Base.Value, c, rounding)
	}
}

func BenchmarkSwapOf20Sets(b *testing.B) {
	file := parse(b, rubberPivots(b, solid+", void_arc = 100, void_depth = 6", ""))
	var asked [][]string
	for k := range 20 {
		switch k % 4 {
		case 0:
			asked = append(asked, []string{"hardness=+10"})
		case 1:
			asked = append(asked, []string{"polyurethane=80,bonded=true"})
		case 2:
			asked = append(asked, []string{"worn=0.6,free_play=0.5"})
		default:
			asked = append(asked, []string{"[link.toe]\ninner_rate = 3000\n", "rates=1.2"})
		}
	}
	for b.Loop() {
		compare(b, file, asked...)
	}
}
