package quantity

import "testing"

// TestNearest wants the name first that a person meant.
func TestNearest(t *testing.T) {
	known := []string{"at", "plan", "lift", "clock", "lean_forward", "soft", "stiff", "soft_axis", "cone_soft", "cone_stiff", "cone_soft_curve",
		"soft_snubber", "axial_snubber", "snubber_run", "max_radial_load", "loaded_radius"}
	for name, want := range map[string]string{
		"plna": "plan", "Soft": "soft", "lean": "lean_forward", "con_esoft": "cone_soft", "cone_sfot": "cone_soft",
		"\u0441one_soft": "cone_soft", "s\u03bfft": "soft", "soft_snubber_run": "snubber_run", "radial_load": "max_radial_load", "plane": "plan",
		"frobnicate": "", "zzzzzz": "", "": "",
	} {
		got := ""
		if near := Nearest(name, known); near != nil {
			got = near[0]
		}
		if got != want {
			t.Errorf("nearest to %q: %q, want %q", name, got, want)
		}
	}
}

// Known distances: kitten to sitting is three edits (Levenshtein 1966); an exchange
// of neighbours is one, and no letter is moved twice (optimal string alignment: CA
// to ABC is three).
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "abc", 3}, {"abc", "", 3}, {"same", "same", 0}, {"form", "from", 1}, {"CA", "ABC", 3}} {
		if got := slips([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("%q to %q: %d slips, want %d", c.a, c.b, got, c.want)
		}
	}
}
