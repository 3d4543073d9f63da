package main

import (
	"regexp"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
)

var handling = regexp.MustCompile("understeer|oversteer")

// straight are the cases in which a car goes straight ahead: braking, an impact, both
// wheels up (ISO 8855 and SAE J670 define understeer and oversteer by steady turns; from
// memory).
var straight = map[string]bool{"braking": true, "braking_single": true, "braking_inboard": true, "impact": true, "impact_single": true, "heave": true, "state_braking": true, "state_creeping": true}

// TestNoHandlingWhereTheCarGoesStraight: no record and no line about a case without a
// turn has a word of handling, of a state of the author's own neither; in a turn it has.
func TestNoHandlingWhereTheCarGoesStraight(t *testing.T) {
	inFolder(t, demo.Names()...)
	turns := 0
	for _, name := range demo.Names() {
		text := readText(t, name+".toml") + "\n[state.state_creeping]\nbraking = 0.1\n"
		writeText(t, name+".toml", text)
		for _, command := range []string{"solve " + name + ".toml", "sweep --case state_braking --points 3 " + name + ".toml"} {
			for _, r := range records(t, bushtune(t, command+" --format json")) {
				said := handling.MatchString(r.Words)
				if straight[r.Case] && said {
					t.Errorf("%s: %s of %s is said to be %q", command, r.Number, r.Case, r.Words)
				}
				if r.Case == "state_cornering" && said {
					turns++
				}
			}
		}
		if out := bushtune(t, "sweep --case state_braking --points 3 "+name+".toml").out; handling.MatchString(out) {
			t.Errorf("a sweep of braking has a word of handling:\n%s", out)
		}
	}
	if turns < len(demo.Names()) {
		t.Errorf("only %d numbers in turns have a word of handling", turns)
	}
}

// TestBushThatNothingHoldsAlongItsAxis is told by check and solve in words, where the
// axle comes free by it in the error: rubber that is not bonded and has no collar, or a
// rate that is forgotten; no built-in axle has one.
func TestBushThatNothingHoldsAlongItsAxis(t *testing.T) {
	inFolder(t, "estate-rubber", "hatchback-plain")
	rubber, _, _ := strings.Cut(readText(t, "estate-rubber.toml"), "[search]")
	free := strings.Replace(rubber, `rubber.compound = "natural"`, "rubber.compound = \"natural\"\nrubber.bonded = false", 1)
	without := func(text, key string) string {
		return regexp.MustCompile(`(?m)^`+key+` =.*\n`).ReplaceAllString(text, "")
	}
	plain, _, _ := strings.Cut(readText(t, "hatchback-plain.toml"), "[search]")
	noVoids := without(without(without(free, "rubber.void_arc"), "rubber.void_depth"), "rubber.void_radius")
	noCollar := without(without(noVoids, "rubber.stop_diameter"), "rubber.stop_thickness")
	strut := "\n[link.sideways]\nfrom = \"vehicle\"\nto = \"arm\"\ninner = [400, 100, 300]\nouter = [400, 550, 300]\ninner_rate = 2000\nouter_rate = 2000\nrod_rate = 40000\n"
	for _, c := range []struct{ text, want string }{
		{noCollar, "nothing holds bush.pivot along its axis: not bonded, no collar"},
		{noCollar + strut, "nothing holds bush.pivot along its axis: not bonded, no collar"},
		{strings.Replace(noVoids, "rubber.stop_thickness", "rubber.stop_gap = 2\nrubber.stop_thickness", 1), "nothing holds bush.pivot along its axis until a collar is reached at 2 mm: not bonded"},
		{noVoids, ""}, // the collars touch
		{without(plain, "axial"), "nothing holds bush.pivot along its axis: its axial rate is 0"},
		{without(plain, "axial") + strut, "nothing holds bush.pivot along its axis: its axial rate is 0"},
		{without(plain, "axial") + "\n[bush.pivot.left]\naxial = 900\n", "nothing holds bush.pivot.right along its axis: its axial rate is 0"},
	} {
		writeText(t, "axle.toml", c.text)
		free := c.want != "" && !strings.Contains(c.text, "link.sideways") && !strings.Contains(c.text, "pivot.left")
		for _, command := range []string{"check", "solve"} {
			r := bushtune(t, command+" axle.toml")
			said := strings.Join(strings.Fields(r.out+r.err), " ")
			if free != (r.code != 0) || c.want == "" && strings.Contains(said, "nothing holds") || !strings.Contains(said, c.want) {
				t.Errorf("%s does not say %q:\n%s%s", command, c.want, r.out, r.err)
			}
			if strings.Count(said, "along its axis") > 1 {
				t.Errorf("%s says it twice:\n%s", command, r.out)
			}
		}
	}
	for _, name := range demo.Names() {
		if r := bushtune(t, "solve --demo "+name); strings.Contains(r.out, "along its axis") {
			t.Errorf("%s: a sound axle is remarked on", name)
		}
	}
}
