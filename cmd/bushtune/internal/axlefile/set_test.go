package axlefile

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bushtune/compliance"
)

// setAxle is an axle with a bush of every way of writing.
const setAxle = `title = "for sets"
[wheel]
on = "arm"
centre = [0, 740, 300]
loaded_radius = 300
[body.arm]
[body.yoke]
side = "one"
[bush.pivot]
from = "vehicle"
to = "arm"
at = [430, 560, 300]
plan = 5
soft = 700
axial = 1800
stiff = 2800
torsion = 2
cone_soft = 7
cone_stiff = 9
[bush.pivot.left]
soft = 650
[bush.curved]
from = "vehicle"
to = "arm"
at = [200, 560, 300]
soft_curve = [[0, 0], [1, 500]]
stiff = 900
[bush.rubbery]
from = "vehicle"
to = "arm"
at = [300, 560, 300]
rubber = { inner_diameter = 24, outer_diameter = 56, length = 60, hardness = 55 }
[bush.one]
from = "vehicle"
to = "yoke"
side = "one"
at = [0, 0, 300]
soft = 100
axial = 100
stiff = 100
torsion = 1
cone_soft = 1
cone_stiff = 1
[link.toe]
from = "vehicle"
to = "arm"
inner = [20, 300, 240]
outer = [20, 560, 240]
inner_rate = 2000
outer_rate = 2000
`

func setFile(t testing.TB) *File {
	t.Helper()
	f, err := Parse("axle.toml", []byte(setAxle))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func textSet(name, text string) []SetText { return []SetText{{Name: name, Text: []byte(text)}} }

// TestSetMistakes reads every file of testdata/setmistakes as a set of one axle and
// holds all that is said about it against the text of the same name.
func TestSetMistakes(t *testing.T) {
	files, err := filepath.Glob("testdata/setmistakes/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatal("no files", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			_, err = setFile(t).ReadSets([][]SetText{textSet(filepath.Base(file), string(text))})
			var mistakes Mistakes
			if !errors.As(err, &mistakes) {
				t.Fatalf("no mistakes, but %v", err)
			}
			checkPlaces(t, mistakes, text)
			golden(t, strings.TrimSuffix(file, ".toml")+".txt", mistakes.Error()+"\n")
		})
	}
}

// TestMistakesOfAllSets are told at once, those of rules as they are typed too, and
// right sets are returned beside them.
func TestMistakesOfAllSets(t *testing.T) {
	sets, err := setFile(t).ReadSets([][]SetText{
		textSet("a.toml", "[bush.pivot]\nsoft = -1\n"),
		{{Name: "ratess=2", Short: true}},
		textSet("good.toml", "[bush.pivot]\nsoft = 900\n"),
		{{Name: "b.toml", Text: []byte("\n[bush.pivot]\nsoft = 3\n")}, {Name: "c.toml", Text: []byte("[bush.pivot]\naxial = 3\nsoft = 4\n")}},
		{{Name: "rates=2,worn=0.5@bush.pivot", Short: true}},
		{{Name: "rates@bush.pivot", Short: true}},
		{{Name: "rates=2@pivot", Short: true}},
		{{Name: "rates=2@", Short: true}},
		{{Name: "rates=1,5", Short: true}},
		{{Name: "rates=2,at=bush.one@bush.pivot", Short: true}},
		textSet("nowhere.toml", "[rule.r]\nrates = 2\nat = []\n"),
		textSet("less.toml", "[bush.pivot]\nsoft = 3\nside = \"left\"\n"),
		textSet("ends.toml", "[link.toe]\nto = \"arm.left\"\n"),
		textSet("more.toml", "[bush.one]\nside = \"both\"\nto = \"arm\"\n"),
		textSet("turned.toml", "title = \"the axle's own plan turns nothing then\"\n[bush.pivot]\nbase = \"vertical\"\n"),
	})
	if len(sets) != 1 || sets[0].Name != "good.toml" {
		t.Errorf("%d right sets", len(sets))
	}
	said := err.Error()
	for _, want := range []string{
		"a.toml:2: bush.pivot.soft: -1 N/mm is out of range",
		"ratess=2:1: ratess: there is no such key; allowed: hardness, polyurethane, rates, worn, swap_sides, free_play, bonded, solid, at, side; hint: did you mean rates?",
		"c.toml:3: bush.pivot.soft: the set b.toml gives this too, or gives the part in another way",
		`turned.toml:2: bush.pivot.plan: turns nothing with base = "vertical"`,
		"rates=2,worn=0.5@bush.pivot:1: worn: the rule says a second thing",
		`rates=2@:1: at: "" is no bush of this axle`,
		`rates=1,5:1: "5" is not key=value, or the key is there already; allowed: key=value[,key=value…][@bush.NAME…], as rates=1.5@bush.pivot; hint: decimals stand behind a point`,
		`rates=2,at=bush.one@bush.pivot:1: "at=bush.one" is not key=value, or the key is there already`,
		"nowhere.toml:3: rule.r.at: names no bush",
		"less.toml:3: bush.pivot.side: a set cannot take a part from a side or put one there; hint: [bush.pivot.left] changes the part on one side",
		"ends.toml:2: link.toe.to: a set cannot take a part from a side",
		"more.toml:2: bush.one.side: a set cannot take a part from a side or put one there",
		`rates@bush.pivot:1: "rates" is not key=value`,
		`rates=2@pivot:1: at: "pivot" is no bush of this axle; allowed: bush.pivot, bush.curved, bush.rubbery, bush.one`,
	} {
		if !strings.Contains(said, want) {
			t.Errorf("not said: %s\nin:\n%s", want, said)
		}
	}
}

// TestSetsThatClash cannot be joined in either order; those that do not can in both.
func TestSetsThatClash(t *testing.T) {
	six := "soft = 1\naxial = 2\nstiff = 3\ncone_soft = 0\ntorsion = 0\ncone_stiff = 0\n"
	for _, test := range []struct {
		a, b  string
		clash bool
	}{
		{"[bush.pivot]\nsoft = 3\n", "[bush.pivot]\nsoft = 4\n", true},
		{"[bush.pivot]\nsoft = 3\n", "[bush.pivot]\nsoft_curve = [[0, 0], [1, 5]]\n", true},
		{"[bush.pivot]\nsoft_gap = 3\nsoft_snubber = 5\n", "[bush.pivot]\nsoft_curve = [[0, 0], [1, 5]]\n", true},
		{"[bush.pivot]\nat = { x = 3 }\n", "[bush.pivot]\nat = [3, 560, 3]\n", true},
		{"[bush.rubbery]\nrubber.hardness = 60\n", "[bush.rubbery]\n" + six, true},
		{"[bush.pivot]\nplan = 3\n", "[bush.pivot]\nrubber = { inner_diameter = 24, outer_diameter = 56, length = 50 }\n", true},
		{"[bush.pivot]\nsoft = 3\n", "[bush.pivot]\naxial = 4\n", false},
		{"[bush.pivot]\nsoft = 3\n", "[bush.pivot.left]\nsoft = 4\n", false},
		{"[bush.pivot]\nat = { x = 3 }\n", "[bush.pivot]\nat = { y = 550 }\n", false},
		{"[bush.rubbery]\nrubber.hardness = 60\n", "[bush.rubbery]\nrubber.length = 50\n", false},
		{"[bush.pivot]\nsoft = 3\n", "[link.toe]\ninner_rate = 4\n", false},
	} {
		for _, order := range [][2]string{{test.a, test.b}, {test.b, test.a}} {
			_, err := setFile(t).ReadSets([][]SetText{{{Name: "a.toml", Text: []byte(order[0])}, {Name: "b.toml", Text: []byte(order[1])}}})
			if clash := err != nil && strings.Contains(err.Error(), "the set a.toml gives this too"); clash != test.clash || !test.clash && err != nil {
				t.Errorf("%q then %q: %v", order[0], order[1], err)
			}
		}
	}
}

// element finds one part of a set's axle.
func element(t *testing.T, f *File, label string) *compliance.Element {
	t.Helper()
	i := slices.IndexFunc(f.Axle.Elements, func(e compliance.Element) bool { return e.Label() == label })
	if i < 0 {
		t.Fatalf("no %s", label)
	}
	return &f.Axle.Elements[i]
}

// TestSetsAreLaidOver holds single slots of the axle with a set against what the texts
// say together.
func TestSetsAreLaidOver(t *testing.T) {
	six := "soft = 1\naxial = 2\nstiff = 3\ncone_soft = 0\ntorsion = 0\ncone_stiff = 0\n"
	for _, test := range []struct {
		text, label, slot string
		want              float64
	}{
		{"[bush.pivot]\naxial = 1000\n", "bush.pivot.right", "axial", 1000},
		{"[bush.pivot]\naxial = 1000\n", "bush.pivot.right", "soft", 700},
		{"[bush.pivot]\nsoft = 1000\n", "bush.pivot.right", "soft", 1000},
		{"[bush.pivot]\nsoft = 1000\n", "bush.pivot.left", "soft", 650}, // the axle's own override stands
		{"[bush.pivot.right]\nsoft = 1000\n", "bush.pivot.right", "soft", 1000},
		{"[bush.pivot.right]\nsoft = 1000\n", "bush.pivot.left", "soft", 650},
		{"[bush.pivot]\nat = { x = 5 }\n", "bush.pivot.right", "at.x", 5},
		{"[bush.pivot]\nat = { x = 5 }\n", "bush.pivot.right", "at.z", 300},
		{"[bush.rubbery]\nrubber.hardness = 60\n", "bush.rubbery.left", "rubber.hardness", 60},
		{"[bush.rubbery]\nrubber = { hardness = 60 }\n", "bush.rubbery.left", "rubber.length", 60},
		{"[bush.rubbery.left.rubber]\nhardness = 60\n", "bush.rubbery.right", "rubber.hardness", 55},
		{"[bush.rubbery]\n" + six, "bush.rubbery.left", "stiff", 3},
		{"[bush.pivot]\nrubber = { inner_diameter = 24, outer_diameter = 56, length = 50 }\n", "bush.pivot.left", "rubber.length", 50},
		{"[bush.curved]\nsoft = 400\n", "bush.curved.left", "soft", 400},
		{"[bush.pivot]\nsoft_curve = [[0, 0], [1, 500]]\n", "bush.pivot.right", "soft", 0},
		{"[link.toe]\nouter_rate = 900\n", "link.toe.left", "inner_rate", 2000},
		{"[link.toe]\nouter_rate = 900\n", "link.toe.left", "outer_rate", 900},
	} {
		sets, err := setFile(t).ReadSets([][]SetText{textSet("set.toml", test.text)})
		if err != nil {
			t.Errorf("%s: %v", test.text, err)
			continue
		}
		e := element(t, sets[0].File, test.label)
		index := e.Kind.FieldIndex(test.slot)
		if index < 0 || e.Slots[index] != test.want {
			t.Errorf("%s: %s.%s is not %v", test.text, test.label, test.slot, test.want)
		}
	}
}

// TestCurvesAndRatesReplaceEachOther looks at what a slot does not tell.
func TestCurvesAndRatesReplaceEachOther(t *testing.T) {
	sets, err := setFile(t).ReadSets([][]SetText{
		textSet("a.toml", "[bush.curved]\nsoft = 400\n"),
		textSet("b.toml", "[bush.pivot]\nsoft_curve = [[0, 0], [1, 500]]\n"),
		textSet("c.toml", "title = \"dimensions for curves\"\n[bush.curved]\nrubber = { inner_diameter = 24, outer_diameter = 56, length = 50 }\n"),
	})
	if err != nil {
		t.Fatal(err)
	}
	if element(t, sets[0].File, "bush.curved.left").Choice.Curves != nil {
		t.Error("the rate leaves the curve in place")
	}
	if element(t, sets[1].File, "bush.pivot.right").Choice.Curves == nil {
		t.Error("the curve did not come")
	}
	if e := element(t, sets[2].File, "bush.curved.left"); e.Kind != compliance.BushRubber || e.Choice.Curves != nil {
		t.Error("the dimensions did not replace the curve")
	}
	if sets[2].Title != "dimensions for curves" || sets[1].Title != "b" {
		t.Errorf("titles %q, %q", sets[2].Title, sets[1].Title)
	}
}

// TestRulesAreRead holds rules of files against the same rules as they are typed.
func TestRulesAreRead(t *testing.T) {
	for short, long := range map[string]string{
		"rates=1.5":                                     "rates = 1.5",
		"hardness=+15@bush.rubbery":                     "hardness = +15\nat = [\"bush.rubbery\"]",
		"hardness=-5@bush.rubbery@bush.pivot.left":      "hardness = -5\nat = [\"bush.rubbery\", \"bush.pivot.left\"]",
		"polyurethane=80,bonded=false,solid=true":       "polyurethane = 80\nbonded = false\nsolid = true",
		"worn=0.6,free_play=0.5,side=left@bush.pivot":   "worn = 0.6\nfree_play = 0.5\nside = \"left\"\nat = \"bush.pivot\"",
		"polyurethane=80@bush.rubbery,bonded=true":      "polyurethane = 80\nbonded = true\nat = [\"bush.rubbery\"]",
		"rates=2@bush.pivot.left,bush.one":              "rates = 2\nat = [\"bush.pivot.left\", \"bush.one\"]",
		"swap_sides=true@bush.pivot":                    "swap_sides = true\nat = [\"bush.pivot\"]",
		"rates = 2 , side = right @ bush.pivot":         "rates = 2.0\nside = \"right\"\nat = [\"bush.pivot\"]",
		"worn=0.6,free_play=0.5@bush.one@bush.rubbery ": "worn = 0.6\nfree_play = 0.5\nat = [\"bush.one\", \"bush.rubbery\"]",
	} {
		sets, err := setFile(t).ReadSets([][]SetText{{{Name: short, Short: true}}, textSet("a.toml", "[rule.r]\n"+long+"\n")})
		if err != nil {
			t.Errorf("%s: %v", short, err)
			continue
		}
		a, b := sets[0].Rules[0], sets[1].Rules[0]
		if a.Kind != b.Kind || a.Value != b.Value || a.FreePlay != b.FreePlay || a.Bonded != b.Bonded || a.Solid != b.Solid || !slices.Equal(a.Elements, b.Elements) || len(a.Elements) == 0 {
			t.Errorf("%s is read as %+v, the file as %+v", short, a, b)
		}
	}
}

func TestSplitSets(t *testing.T) {
	for asked, want := range map[string][]string{
		"a.toml":                    {"a.toml"},
		"a.toml+b.toml":             {"a.toml", "b.toml"},
		"hardness=+15":              {"hardness=+15"},
		"hardness=+15+rates=2":      {"hardness=+15", "rates=2"},
		"rates=2@bush.a+kit/b.toml": {"rates=2@bush.a", "kit/b.toml"},
	} {
		if got := SplitSets(asked); !slices.Equal(got, want) {
			t.Errorf("%q is split into %q", asked, got)
		}
	}
	for text, want := range map[string]bool{"rates=2": true, "a=b.toml": false, "firm-pivots": false, "x.TOML": false} {
		if IsShort(text) != want {
			t.Errorf("IsShort(%q) is %v", text, !want)
		}
	}
}

// FuzzReadSets wants of any text, as a file and as it is typed, either a set or
// printable mistakes on lines that exist, never a panic.
func FuzzReadSets(f *testing.F) {
	f.Add([]byte("rates=1.5@bush.pivot.left"))
	for _, pattern := range []string{"testdata/setmistakes/*.toml", "testdata/mistakes/*.toml", "../demo/sets/*.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatal("no seeds", err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	axle := setFile(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		for _, set := range [][]SetText{{{Name: "fuzz.toml", Text: text}}, {{Name: string(text), Short: true}}} {
			sets, err := axle.ReadSets([][]SetText{set})
			var mistakes Mistakes
			switch {
			case err == nil && len(sets) == 1:
			case !errors.As(err, &mistakes) || len(mistakes) == 0:
				t.Fatalf("an error without mistakes: %v", err)
			case !set[0].Short:
				checkPlaces(t, mistakes, text)
			}
		}
	})
}
