package axlefile

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing/rubber"
	"bushtune/compliance"
)

// mouldedBeam is an axle whose pivots are given by their dimensions, the right
// one of a harder compound.
const mouldedBeam = `[wheel]
on = "arm"
centre = [0, 740, 300]
loaded_radius = 300
[body.arm]
[bush.pivot]
from = "vehicle"
to = "arm"
at = [430, 560, 330]
plan = 12          # outboard end forward
stiff_gap = 2
stiff_snubber = 5000
dynamic_ratio = 1.4
dynamic_frequency = 15
rubber = { inner_diameter = 30, outer_diameter = 60, length = 52, void_arc = 80, void_depth = 6 } # a kidney bush
[bush.pivot.right.rubber]
hardness = 62      # worn, harder
[spring.coil]
from = "vehicle"
to = "arm"
upper = [-30, 490, 560]
lower = [-20, 500, 320]
rate = 24
[beam.cross]
from = "arm.left"
to = "arm.right"
at = [270, 0, 310]
ends_y = 550
profile = { shape = "V", leg = 80, radius = 30, half_angle = 30, wall = 5 }
[search]
bush.pivot.rubber.length = { from = 46, to = 60 }     # of the rubber
bush.pivot.rubber.inner_diameter = { from = 28, to = 34, with = "bush.pivot.rubber.outer_diameter" }
bush.pivot.left.rubber.hardness = { from = 50, to = 65 }
[want.corner]
number = "lateral_force_steer"
target = 0
`

func TestRubberIsRead(t *testing.T) {
	f := parseText(t, mouldedBeam)
	left, right := &f.Axle.Elements[0], &f.Axle.Elements[1]
	if left.Kind != compliance.BushRubber || left.Choice.Rubber != (rubber.Choice{}) {
		t.Fatalf("%s %s, %+v", left.Label(), left.Kind.Variant, left.Choice.Rubber)
	}
	a, _ := left.Rubber()
	b, _ := right.Rubber()
	want := rubber.Bush[float64]{Inner: 30, Outer: 60, Length: 52, Hardness: 55, VoidArc: 80 * math.Pi / 180, VoidDepth: 6, TemperatureFactor: 1, AgeingFactor: 1}
	if a != want {
		t.Errorf("left %+v, want %+v", a, want)
	}
	if want.Hardness = 62; b != want {
		t.Errorf("right %+v, want %+v", b, want)
	}
	bush, _ := left.Bush()
	if bush.Gap[2] != 2 || bush.Snubber[2] != 5000 || bush.Gap[0] != 6 || bush.DynamicRatio != 1.4 || math.Abs(bush.Plan-12*math.Pi/180) > 1e-15 {
		t.Errorf("the bush is %+v", bush)
	}
}

// Compound and bond are words of the inner table.
func TestCompoundsAreRead(t *testing.T) {
	for words, want := range map[string]rubber.Choice{
		`compound = "natural", bonded = true`:                         {},
		`bonded = false, length = 51`:                                 {Free: true},
		`compound = "polyurethane", bonded = true, range_share = 0.5`: {Compound: rubber.Polyurethane},
		`compound = "polyurethane", bonded = false, range_share = 0`:  {Compound: rubber.Polyurethane, Free: true},
		`compound = "given", shear_modulus = 0.9`:                     {Compound: rubber.Given},
		`compound = "given", shear_modulus = 0.9, bulk_modulus = 1e3`: {Compound: rubber.Given},
	} {
		text := strings.Replace(mouldedBeam, "length = 52, void_arc = 80, void_depth = 6", "length = 52, hardness = 60, "+strings.Replace(words, ", length = 51", "", 1), 1)
		text, _, _ = strings.Cut(text, "[search]")
		f := parseText(t, text)
		if got := f.Axle.Elements[0].Choice.Rubber; got != want || f.Axle.Elements[1].Choice.Rubber != want {
			t.Errorf("%s: %+v, want %+v", words, got, want)
		}
	}
}

// A number in the inner table has a path like any other; one side may have its
// own; what moves along is another dimension.
func TestRubberPaths(t *testing.T) {
	f := parseText(t, mouldedBeam)
	index := func(name string) int { return compliance.BushRubber.FieldIndex("rubber." + name) }
	length, inner, hardness := f.Search[0], f.Search[1], f.Search[2]
	want := []compliance.Slot{{Element: 0, Index: index("length")}, {Element: 1, Index: index("length")}}
	if got := slotsOf(length.Moves); !slices.Equal(got, want) || length.Start != 52 || length.Unit.Name != "mm" {
		t.Errorf("%s moves %v from %g %s", length.Path, got, length.Start, length.Unit.Name)
	}
	if got := slotsOf(hardness.Moves); !slices.Equal(got, []compliance.Slot{{Element: 0, Index: index("hardness")}}) || hardness.Start != 55 || hardness.Path != "bush.pivot.left.rubber.hardness" {
		t.Errorf("%s moves %v from %g", hardness.Path, got, hardness.Start)
	}
	if len(inner.Moves) != 4 || inner.Moves[2].Slot.Index != index("outer_diameter") || inner.Moves[2].At(31) != 61 {
		t.Errorf("%s moves %+v", inner.Path, inner.Moves)
	}
	for _, path := range []string{"bush.pivot.rubber", "bush.pivot.rubber.compound", "bush.pivot.soft", "bush.pivot.rubber.lenght"} {
		if _, err := f.locate(path); err == nil {
			t.Errorf("%s is a parameter", path)
		}
	}
}

func slotsOf(moves []Move) (slots []compliance.Slot) {
	for _, m := range moves {
		slots = append(slots, m.Slot)
	}
	return slots
}

// Edit writes dimensions where they stand, comments kept, and one that is absent
// into its own table.
func TestEditOfDimensions(t *testing.T) {
	text := edited(t, parseText(t, mouldedBeam), 55.5, 32.25, 58)
	for _, line := range []string{
		"rubber = { inner_diameter = 32.25, outer_diameter = 62.25, length = 55.5, void_arc = 80, void_depth = 6 } # a kidney bush",
		"hardness = 62      # worn, harder",
		"plan = 12          # outboard end forward",
		"left.rubber.hardness = 58",
	} {
		if !strings.Contains(text, line) {
			t.Errorf("no line %q in:\n%s", line, text)
		}
	}
}

// Describe lists a bush once where both sides are alike, else by its sides.
func TestDescribeRubber(t *testing.T) {
	even := strings.Replace(mouldedBeam, "[bush.pivot.right.rubber]\nhardness = 62      # worn, harder\n", "", 1)
	for text, want := range map[string][]string{mouldedBeam: {"bush.pivot.left", "bush.pivot.right"}, even: {"bush.pivot"}} {
		d := parseText(t, text).Describe()
		var names []string
		for _, r := range d.Rubbers {
			names = append(names, r.Bush)
			if six := r.Dimensions.Rates(r.Choice); r.Rates.Soft != six.Soft || r.Rates.Torsion != six.Torsion {
				t.Errorf("%s: rates %+v, want %+v", r.Bush, r.Rates, six)
			}
		}
		if !slices.Equal(names, want) {
			t.Errorf("described %v, want %v", names, want)
		}
		if len(want) == 2 && !reflect.DeepEqual(d.Overrides, []string{"bush.pivot.right.rubber.hardness"}) {
			t.Errorf("overrides %v", d.Overrides)
		}
	}
}

// Where every corner of a search can be made so can all of its inside: random
// boxes, and that of a built-in axle, at random points.
func TestInsideOfASearchCanBeMade(t *testing.T) {
	demo, err := os.ReadFile("../demo/axles/estate-rubber.toml")
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(41, 42))
	inside(t, rng, parseText(t, string(demo)))
	inside(t, rng, parseText(t, mouldedBeam))
	boxes, sound := 400, 0
	for range boxes {
		b := randomBox(rng)
		if b.cornersSound() {
			sound++
			for range 50 {
				x := b.point(rng)
				if err := x.Check(b.choice); err != nil {
					t.Fatalf("%+v inside a box whose corners can be made: %v", x, err)
				}
			}
		}
	}
	if sound < boxes/20 || sound > boxes*19/20 {
		t.Errorf("%d of %d boxes are sound: the test is empty", sound, boxes)
	}
}

// inside tries random values of a file's search.
func inside(t *testing.T, rng *rand.Rand, f *File) {
	t.Helper()
	axle := f.Axle.Clone()
	for range 300 {
		for i := range f.Search {
			p := &f.Search[i]
			p.Apply(axle, p.From+rng.Float64()*(p.To-p.From))
		}
		if err := axle.Validate(); err != nil {
			t.Fatalf("%s: %v", f.Title, err)
		}
	}
}

// randomRange is a box of dimensions, low and high, in the order of rubber.Fields.
type randomRange struct {
	low, high []float64
	choice    rubber.Choice
}

// randomBox spans some of the dimensions of a plausible bush, with and without
// voids, an intermediate sleeve and collars, of any compound.
func randomBox(rng *rand.Rand) randomRange {
	between := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	wall, inner := between(8, 20), between(20, 50)
	b := rubber.Bush[float64]{Inner: inner, Outer: inner + 2*wall, Length: wall * between(1.3, 7), Hardness: between(40, 70),
		ShearModulus: between(0.5, 1.5), TemperatureFactor: 1, AgeingFactor: 1, RangeShare: 0.5}
	box := randomRange{choice: rubber.Choice{Compound: rubber.Compound(rng.IntN(3))}}
	if box.choice.Compound == rubber.Polyurethane {
		b.Hardness = between(60, 90)
	}
	if rng.IntN(2) == 0 {
		b.VoidArc, b.VoidDepth = between(45, 130)*math.Pi/180, wall*between(0.25, 0.7)
	}
	if rng.IntN(3) == 0 {
		b.SleeveDiameter, b.SleeveWall = inner+wall, 2
	}
	if rng.IntN(2) == 0 {
		b.StopDiameter, b.StopThick = inner+between(10, 25), between(4, 10)
	}
	slots := []float64{b.Inner, b.Outer, b.Length, b.Hardness, b.VoidArc, b.VoidDepth, b.VoidRadius, b.SleeveDiameter, b.SleeveWall,
		b.StopGap, b.StopDiameter, b.StopThick, b.ShearModulus, b.BulkModulus, b.RangeShare, b.TemperatureFactor, b.AgeingFactor}
	for _, x := range slots {
		box.low, box.high = append(box.low, x), append(box.high, x*(1+between(0, 0.5)*float64(rng.IntN(2))))
	}
	return box
}

func (r *randomRange) cornersSound() bool {
	sound := true
	rubber.Corners(r.low, r.high, func(x []float64) bool {
		b := rubber.New(x)
		sound = b.Check(r.choice) == nil
		return sound
	})
	return sound
}

func (r *randomRange) point(rng *rand.Rand) rubber.Bush[float64] {
	var x []float64
	for i, low := range r.low {
		x = append(x, low+rng.Float64()*(r.high[i]-low))
	}
	return rubber.New(x)
}

// A search over every dimension at once, all of its corners bad, is told in the
// time of a reading.
func TestManyBadCorners(t *testing.T) {
	text, _, _ := strings.Cut(mouldedBeam, "[search]")
	text = strings.Replace(text, "void_depth = 6 }", "void_depth = 6, hardness = 55 }", 1)
	text = strings.Replace(text, "hardness = 62      # worn, harder", "length = 52", 1) + "[search]\n"
	for _, f := range rubber.Fields {
		if start := map[string]float64{"inner_diameter": 30, "outer_diameter": 60, "length": 52, "void_arc": 80, "void_depth": 6,
			"hardness": 55}[f.Name]; start != 0 && f.Name != "length" {
			text += "bush.pivot.rubber." + f.Name + " = { from = " + decimal(max(f.Min, start*0.2)+0.1) + ", to = " + decimal(min(f.Max, start*5)) + " }\n"
		}
	}
	_, err := Parse("many.toml", []byte(text))
	var mistakes Mistakes
	if !errors.As(err, &mistakes) || len(mistakes) < 6 || len(mistakes) > 12 {
		t.Fatalf("%d mistakes: %v", len(mistakes), err)
	}
	for _, m := range mistakes {
		if !strings.HasPrefix(m.Key, "search.bush.pivot.rubber.") || m.Allowed == "" {
			t.Errorf("%v", m)
		}
	}
}
