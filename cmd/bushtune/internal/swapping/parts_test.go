package swapping_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
)

// TestWhatASetReplaces: a curve is told as one and not as a rate of nothing, a
// hardness with its scale, the way of giving a bush where it changes.
func TestWhatASetReplaces(t *testing.T) {
	const curve = "soft_curve = [[0, 0], [1, 500], [3, 3000]]\n"
	rates := demoText(t, demo.Default)
	curved := pivotRates.ReplaceAllString(searchTables.ReplaceAllString(rates, "$1"),
		curve+"axial = 1800\nstiff = 2600\ntorsion = 1.8\ncone_soft = 8\ncone_stiff = 6\n")
	dimensions := rubberPivots(t, solid, "")
	for _, test := range []struct{ axle, set, with, without string }{
		{rates, "[bush.pivot]\n" + curve, "bush.pivot soft 550 N/mm → a curve", "bush.pivot soft N/mm"},
		{curved, "[bush.pivot]\nsoft = 900\n", "bush.pivot soft a curve → 900 N/mm", "bush.pivot soft N/mm"},
		{curved, "rates=2", "bush.pivot soft another curve", "bush.pivot soft N/mm"},
		{curved, "[bush.pivot]\nrubber = { " + solid + " }\n", "bush.pivot soft a curve → 1934 N/mm", "bush.pivot soft N/mm"},
		{rates, "[bush.pivot.left]\nsoft = 900\n", "bush.pivot.left soft N/mm 550 900 900", "bush.pivot.right soft N/mm"},
		{dimensions, "polyurethane=80,bonded=true", "bush.pivot rubber.hardness 55 IRHD → 80 Shore A", "bush.pivot rubber.hardness IRHD"},
		{dimensions, "hardness=+5", "bush.pivot rubber.hardness IRHD 55 60 60", "bush.pivot compound"},
		{rates, "[bush.pivot]\nouter = \"vehicle\"\n", "bush.pivot outer the outer sleeve is on another body", "bush.pivot soft"},
		{rates, "[bush.pivot]\nfrom = \"arm\"\nto = \"vehicle\"\nouter = \"arm\"\n", "bush.pivot from, to other bodies, or in the other order", "bush.pivot outer"},
		{rates, "[bush.pivot]\nholds_moments = true\n", "bush.pivot holds_moments false → true", "bush.pivot soft"},
		{edit(t, searchTables.ReplaceAllString(rates, "$1"), "plan = 0 ", "#"), "[bush.pivot]\nbase = \"longitudinal\"\n", "bush.pivot base lateral → longitudinal", "bush.pivot soft"},
		{rates, "[beam.cross]\nwarping = [\"free\", \"free\"]\nopens = \"up\"\n", "beam.cross warping built-in, built-in → free, free", "bush."},
		{rates, "[beam.cross]\nopens = \"up\"\n", "beam.cross opens down → up", "bush."},
		{rates, "[beam.cross]\nprofile = { shape = \"slit_tube\", radius = 40, wall = 4 }\n", "beam.cross given as V → as slit_tube", "bush."},
		{dimensions, "rates=1.5", "bush.pivot given by dimensions → by rates", "bush.pivot rubber.hardness"},
	} {
		var told []string
		for _, p := range compare(t, parse(t, test.axle), []string{test.set}).Columns[0].Parts {
			line := p.Path + " " + p.What + " " + p.Words
			if p.Words == "" {
				line = fmt.Sprint(p.Path, " ", p.What, " ", p.Unit, " ", p.Before, " ", p.Low, " ", p.High)
			}
			told = append(told, line)
		}
		if !slices.Contains(told, test.with) || slices.ContainsFunc(told, func(s string) bool { return strings.HasPrefix(s, test.without) }) {
			t.Errorf("%s: want %q and nothing that starts with %q in\n%s", test.set, test.with, test.without, strings.Join(told, "\n"))
		}
	}
}
