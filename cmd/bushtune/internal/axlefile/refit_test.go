package axlefile

import (
	"slices"
	"strings"
	"testing"

	"bushtune/compliance"
)

// refitted is an axle on two bushes a side whose tables are written in many ways.
const refitted = `[wheel]
on = "arm"
centre = [0, 725, 298]
loaded_radius = 298

[body.arm]

[bush.outer]
from = "vehicle"
to = "arm"
at = [440, 540, 275]
plan = 19                       # along the swept axis
soft = 2600                     # of the old part
axial = 2500
stiff = 7000
torsion = 1.6
cone_soft = 6
cone_stiff = 7
stiff_gap = 3
stiff_snubber = 4000
bracket = 9000

[bush.outer.right]
soft = 2500
clock = 4

[bush.inner]
from = "vehicle"
to = "arm"
at = [330, 220, 285]
plan = 19
soft_curve = [
  [0, 0],                       # measured
  [1, 2600],
]
axial = 2500
stiff = 7000
torsion = 1.6
cone_soft = 6
cone_stiff = 7

[spring.coil]
from = "vehicle"
to = "arm"
upper = [120, 470, 540]
lower = [130, 480, 300]
rate = 62

[search]
bush.outer.plan = { from = 0, to = 40, with = "bush.inner.plan" }
bush.outer.axial = { from = 800, to = 6000, scale = "log" } # the part decides

[search.bush.inner.stiff]
from = 5000
to = 9000

[want.corner]
number = "lateral_force_steer"
at_least = -0.08
`

// places finds positions by their paths.
func places(t *testing.T, f *File, paths ...string) []Position {
	t.Helper()
	var all []Position
	for _, path := range paths {
		p, err := f.Position(path)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	return all
}

func parts(t *testing.T, text string) []*Part {
	t.Helper()
	c := catalogueOf(t, "shelf.toml", text)
	var all []*Part
	for i := range c.Parts {
		all = append(all, &c.Parts[i])
	}
	return all
}

func TestFitReplacesThePartOnly(t *testing.T) {
	f := parseText(t, refitted)
	fitted, fixed := f.Fit(places(t, f, "bush.outer", "bush.inner"), parts(t, twoParts))
	if got := strings.Join(fixed, " "); got != "bush.outer.axial bush.inner.stiff" {
		t.Errorf("fixed: %s", got)
	}
	if len(fitted.Search) != 1 || len(fitted.Search[0].Moves) != 4 {
		t.Fatalf("search: %+v", fitted.Search)
	}
	for label, want := range map[string]map[string]float64{
		"bush.outer.left":  {"soft": 600, "axial": 900, "stiff": 2500, "stiff_gap": 0, "stiff_snubber": 0, "soft_gap": 4, "max_radial_load": 8000, "bracket": 9000, "at.x": 440, "snubber_run": 1},
		"bush.outer.right": {"soft": 600, "bracket": 9000, "at.y": 540},
		"bush.inner.left":  {"soft": 0, "axial": 800, "stiff": 2000, "at.x": 330},
	} {
		e := elementOf(t, fitted, label)
		for name, value := range want {
			if got := slotOf(t, e, name); got != value {
				t.Errorf("%s.%s = %v, want %v", label, name, got, value)
			}
		}
	}
	left, right := elementOf(t, fitted, "bush.inner.left"), elementOf(t, fitted, "bush.inner.right")
	if left.Choice.Curves == nil || left.Choice.Curves != right.Choice.Curves {
		t.Error("the curves of both sides are not one")
	}
	if slotOf(t, elementOf(t, f, "bush.outer.left"), "soft") != 2600 {
		t.Error("the axle of the file was changed")
	}
}

// Replaced names exactly the slots that differ between two parts at a place.
func TestReplacedSlots(t *testing.T) {
	f := parseText(t, refitted)
	at := places(t, f, "bush.outer")
	some := parts(t, twoParts)
	one, _ := f.Fit(at, some[:1])
	for _, slot := range at[0].Replaced() {
		e := &one.Axle.Elements[slot.Element]
		if e.Name != "outer" || e.Slots[slot.Index] != some[0].Slots[slot.Index] {
			t.Errorf("%s %s", e.Label(), e.Kind.Fields[slot.Index].Name)
		}
	}
	if n, want := len(at[0].Replaced()), 2*(len(compliance.Bush.Fields)-countPlace()); n != want {
		t.Errorf("%d slots, want %d", n, want)
	}
}

func countPlace() (n int) {
	for _, f := range compliance.Bush.Fields {
		if ofPlace(keyName(f.Name)) {
			n++
		}
	}
	return n
}

// The edited text reads as the fitted axle; what the part does not have has become
// a comment, and nothing else changed.
func TestEditFit(t *testing.T) {
	f := parseText(t, refitted)
	text, err := f.EditFit(places(t, f, "bush.outer", "bush.inner"), parts(t, twoParts), "shelf.toml", []float64{25})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	golden(t, "testdata/refitted.txt", string(text))
	again := parseText(t, string(text))
	if got := slotOf(t, elementOf(t, again, "bush.outer.left"), "soft"); got != 600 {
		t.Errorf("soft = %v", got)
	}
	removed := strings.NewReplacer("# ", "", "#", "").Replace
	old := strings.Split(removed(string(f.source.text)), "\n")
	for _, line := range strings.Split(removed(string(text)), "\n") {
		at := slices.Index(old, line)
		if at >= 0 {
			old = slices.Delete(old, at, at+1)
		}
	}
	for _, line := range old { // only lines whose number changed are gone
		if !strings.ContainsAny(line, "=") || strings.Contains(line, "curve") {
			t.Errorf("lost: %q", line)
		}
	}
}

// A part on one side goes into the table of that side.
func TestEditFitOnOneSide(t *testing.T) {
	f := parseText(t, refitted)
	plain := parts(t, twoParts)[1:]
	at := places(t, f, "bush.inner.left")
	if !at[0].OneSided() {
		t.Error("not one-sided")
	}
	text, err := f.EditFit(at, plain, "shelf.toml", []float64{19, 2500, 7000})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	again := parseText(t, string(text))
	left, right := elementOf(t, again, "bush.inner.left"), elementOf(t, again, "bush.inner.right")
	if slotOf(t, left, "axial") != 800 || slotOf(t, right, "axial") != 2500 || left.Choice.Curves == right.Choice.Curves {
		t.Errorf("left %v, right %v", left.Slots, right.Slots)
	}
	at = places(t, f, "bush.outer.left") // the common table has a gap that part B has not
	if text, err = f.EditFit(at, plain, "shelf.toml", []float64{19, 2500, 7000}); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	again = parseText(t, string(text))
	left, right = elementOf(t, again, "bush.outer.left"), elementOf(t, again, "bush.outer.right")
	if slotOf(t, left, "stiff_gap") != 0 || slotOf(t, right, "stiff_gap") != 3 || slotOf(t, right, "stiff_snubber") != 4000 {
		t.Errorf("a gap of the common table: left %v, right %v", left.Slots, right.Slots)
	}
}

// A part on one side that gives by a curve what the search changes as a number on both:
// the search of it becomes a comment, its value on the other side is as tuned.
func TestEditFitOfACurveOnOneSide(t *testing.T) {
	text := strings.Replace(refitted, "bush.outer.axial = {", "bush.outer.soft = {", 1)
	text = strings.Replace(text, "[bush.outer.right]\nsoft = 2500\nclock = 4\n", "", 1)
	f := parseText(t, text)
	out, err := f.EditFit(places(t, f, "bush.outer.left"), parts(t, twoParts)[1:], "s", []float64{19, 1800, 7000})
	if err != nil {
		t.Fatal(err)
	}
	for _, has := range []string{"# bush.outer.soft = {", "soft = 1800", "left.soft_curve = [[0, 0], [1, 500], [3, 2500]]",
		"# stiff_gap = 3", "right.stiff_gap = 3", "right.stiff_snubber = 4000"} { // the part has no stop, the old one on the right has
		if !strings.Contains(string(out), has) {
			t.Errorf("%q is not in\n%s", has, out)
		}
	}
	both := parts(t, twoParts)
	out, err = f.EditFit(places(t, f, "bush.outer.left", "bush.outer.right"), both, "s", []float64{19, 7000})
	if err != nil || strings.Contains(string(out), "right.stiff_gap") || !strings.Contains(string(out), "left.soft_gap = 4") {
		t.Errorf("another part on each side: %v\n%s", err, out)
	}
}

func TestEditFitRefusesBraces(t *testing.T) {
	f := parseText(t, strings.Replace(refitted, "[bush.outer.right]\nsoft = 2500\nclock = 4\n", "", 1))
	at := places(t, f, "bush.outer")
	inline := strings.Replace(refitted, "[bush.outer.right]\nsoft = 2500\nclock = 4\n", "right = { soft = 2500, clock = 4 }\n", 1)
	g := parseText(t, inline)
	if _, err := g.EditFit(places(t, g, "bush.outer"), parts(t, twoParts)[:1], "s", []float64{19, 7000}); err == nil || !strings.Contains(err.Error(), "braces") {
		t.Errorf("%v", err)
	}
	if _, err := f.EditFit(at, parts(t, twoParts)[:1], "s", []float64{19, 7000}); err != nil {
		t.Error(err)
	}
}

// A bush given by its matrix becomes a plain one.
func TestFitOverAMatrix(t *testing.T) {
	rows := "[[2600,0,0,0,0,0],[0,2500,0,0,0,0],[0,0,7000,0,0,0],[0,0,0,6,0,0],[0,0,0,0,2,0],[0,0,0,0,0,7]]"
	text := strings.Replace(refitted, `soft_curve = [
  [0, 0],                       # measured
  [1, 2600],
]
axial = 2500
stiff = 7000
torsion = 1.6
cone_soft = 6
cone_stiff = 7
`, "matrix = "+rows+"\n", 1)
	text = strings.Replace(text, "[search.bush.inner.stiff]", "[search.bush.inner.matrix.33]", 1)
	text = strings.Replace(text, "from = 5000", "from = 5000.0", 1)
	f := parseText(t, text)
	at := places(t, f, "bush.inner")
	fitted, fixed := f.Fit(at, parts(t, twoParts)[:1])
	e := elementOf(t, fitted, "bush.inner.left")
	if e.Kind != compliance.Bush || slotOf(t, e, "soft") != 600 || slotOf(t, e, "at.x") != 330 || !slices.Contains(fixed, "bush.inner.matrix.33") {
		t.Errorf("%v, fixed %v", e.Slots, fixed)
	}
	if out, err := f.EditFit(at, parts(t, twoParts)[:1], "s", []float64{19, 2500}); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

func TestPositionHasRoom(t *testing.T) {
	part := Part{Outer: 56, Length: 50}
	for _, c := range []struct {
		p    Position
		part Part
		fits bool
	}{
		{Position{}, part, true}, {Position{}, Part{}, true},
		{Position{Outer: 56, Length: 50}, part, true},
		{Position{Outer: 55}, part, false}, {Position{Length: 49}, part, false},
		{Position{Length: 49}, Part{Outer: 56}, false},
	} {
		if why := c.p.Takes(&c.part); (why == "") != c.fits {
			t.Errorf("%+v takes %+v: %q", c.p, c.part, why)
		}
	}
}

func TestUnknownPosition(t *testing.T) {
	f := parseText(t, refitted)
	for path, want := range map[string]string{
		"bush.outr": "did you mean bush.outer?", "outer": "bush.outer", "spring.coil": "there are bush.outer, bush.inner", "": "there are bush.outer",
	} {
		if _, err := f.Position(path); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", path, err, want)
		}
	}
}
