package axlefile

import (
	"slices"
	"strings"
	"testing"

	"bushtune/compliance"
)

// A bush given by its dimensions becomes a plain one, with what belongs to its place.
func TestFitOverDimensions(t *testing.T) {
	text := strings.Replace(refitted, `soft_curve = [
  [0, 0],                       # measured
  [1, 2600],
]
axial = 2500
stiff = 7000
torsion = 1.6
cone_soft = 6
cone_stiff = 7
`, "bracket = 8000\nrubber = { inner_diameter = 24, outer_diameter = 56, length = 50, hardness = 55, compound = \"natural\", bonded = true }\n", 1)
	text = strings.Replace(text, "[search.bush.inner.stiff]\nfrom = 5000\nto = 9000\n", "bush.inner.rubber.hardness = { from = 45, to = 65 }\n", 1)
	f := parseText(t, text)
	at := places(t, f, "bush.inner")
	some := parts(t, twoParts)
	fitted, fixed := f.Fit(at, some[:1])
	e := elementOf(t, fitted, "bush.inner.left")
	if e.Kind != compliance.Bush || slotOf(t, e, "soft") != 600 || slotOf(t, e, "bracket") != 8000 || !slices.Contains(fixed, "bush.inner.rubber.hardness") {
		t.Errorf("%v, fixed %v", e.Slots, fixed)
	}
	out, err := f.EditFit(at, some[:1], "s", []float64{19, 2500})
	if err != nil || !strings.Contains(string(out), "# rubber = {") {
		t.Errorf("%v\n%s", err, out)
	}
}
