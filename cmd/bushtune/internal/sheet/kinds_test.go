package sheet

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Whatever a bush is, its page is whole: curves, stops, ellipses, brackets, bushes
// turned every way, rubber of every compound.
func TestPageOfEveryKindOfBush(t *testing.T) {
	rates := func(keys string) string { return fmt.Sprintf(plainAxle, plainRates+keys) }
	rubberBush := func(keys string) string {
		return fmt.Sprintf(plainAxle, "base = \"lateral\"\nplan = 30\nrubber = { inner_diameter = 24, outer_diameter = 56, length = 50, "+keys+" }")
	}
	curved := strings.Replace(plainRates, "soft = 600\n", "soft_curve = [[-3, -4000], [-1, -700], [1, 600], [2, 1500], [4, 9000]]\n", 1)
	for name, c := range map[string]struct{ text, says string }{
		"curve":            {fmt.Sprintf(plainAxle, curved+"base = \"lateral\""), "a measured curve"},
		"ellipse":          {rates("soft_gap = 3\nsoft_snubber = 3000\nstiff_gap = 2\nstiff_snubber = 5000\nradial = \"elliptical\""), "along an ellipse"},
		"one way":          {rates("axial_gap = 2\naxial_gap_back = 3\naxial_snubber = 900"), "stop at +2 and -3 mm"},
		"bracket":          {rates("bracket = 4000"), "A bracket of 4000 N/mm"},
		"askew":            {rates("elastic_plan = 12"), "stands askew"},
		"tightened":        {rates("tightened_at = 5\nholds_moments = true") + "\n[vehicle]\nmass = 1200\nrear_share = 0.4\nunsprung = 80\nstatic_load = true\n", "tightened 5 deg"},
		"exceeded":         {rates("max_radial_load = 5") + "\n[case.kerb]\ntitle = \"kerb\"\npads = \"level\"\nright = { force = [-3000, 0, 0] }\n", "exceeded"},
		"natural":          {rubberBush("hardness = 60, compound = \"natural\", bonded = true"), "Bonded to both sleeves"},
		"polyurethane":     {rubberBush("hardness = 80, compound = \"polyurethane\", range_share = 0.5, bonded = true"), "which a polyurethane is not"},
		"free":             {rubberBush("hardness = 60, compound = \"natural\", bonded = false"), "friction alone"},
		"given":            {rubberBush("shear_modulus = 0.9, compound = \"given\", bonded = true, ageing_factor = 1.2"), "1.2 for ageing"},
		"sleeve and stops": {rubberBush("sleeve_diameter = 42, sleeve_wall = 2, stop_gap = 1, stop_diameter = 60, stop_thickness = 8, compound = \"natural\", bonded = true"), "intermediate sleeve"},
	} {
		t.Run(name, func(t *testing.T) {
			pages := sheetsOf(t, c.text)
			text := markdown(t, pages)
			if n := len(markdownTables(t, text)); n < 8 {
				t.Errorf("%d tables", n)
			}
			flat := strings.ToLower(strings.Join(strings.Fields(text), " "))
			if !strings.Contains(flat, strings.ToLower(c.says)) {
				t.Errorf("the page does not say %q", c.says)
			}
			if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") || strings.Contains(text, "%!") {
				t.Errorf("no number: %s", text)
			}
			for _, r := range pages.Rows() {
				if r.Section == "limit" && (r.Value == nil) != (r.Words == "") || r.Section == "rate" && *r.Value == 0 && (r.Low != nil || r.Words == "") {
					t.Errorf("nothing said, or said of nothing: %+v", r)
				}
				for _, x := range []*float64{r.Value, r.Low, r.High, r.X} {
					if x != nil && (math.IsNaN(*x) || math.IsInf(*x, 0)) {
						t.Errorf("no number: %+v", r)
					}
				}
			}
		})
	}
}
