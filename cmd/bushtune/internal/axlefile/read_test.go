package axlefile

import (
	"math"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/compliance"
)

func readTwistBeam(t *testing.T) *File {
	t.Helper()
	f, err := Read("testdata/twistbeam.toml")
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// elementOf finds an element by its label.
func elementOf(t *testing.T, f *File, label string) *compliance.Element {
	t.Helper()
	for i := range f.Axle.Elements {
		if f.Axle.Elements[i].Label() == label {
			return &f.Axle.Elements[i]
		}
	}
	t.Fatalf("no element %s", label)
	return nil
}

// slotOf reads a slot by its field name, in internal units.
func slotOf(t *testing.T, e *compliance.Element, name string) float64 {
	t.Helper()
	i := e.Kind.FieldIndex(name)
	if i < 0 {
		t.Fatalf("%s has no field %s", e.Label(), name)
	}
	return e.Slots[i]
}

func TestUnitsAreConvertedOnce(t *testing.T) {
	f := readTwistBeam(t)
	pivot := elementOf(t, f, "bush.pivot.left")
	for name, want := range map[string]float64{
		"at.x": 430, "plan": 10 * math.Pi / 180, "soft": 600, "torsion": 2.1e3 * 180 / math.Pi,
	} {
		if got := slotOf(t, pivot, name); math.Abs(got-want) > 1e-15*math.Abs(want) {
			t.Errorf("%s = %v, want %v", name, got, want)
		}
	}
	wheel := f.Axle.Wheels[0].Slots
	if want := -1.3 * math.Pi / 180; wheel[5] != want {
		t.Errorf("camber = %v, want %v", wheel[5], want)
	}
	if want := 0.2 * math.Pi / 180 / 1e6; math.Abs(wheel[6]-want) > 1e-15*want {
		t.Errorf("hub camber = %v rad/(N·mm), want %v", wheel[6], want)
	}
}

func TestBothSidesAndOneOverride(t *testing.T) {
	f := readTwistBeam(t)
	left, right := elementOf(t, f, "bush.pivot.left"), elementOf(t, f, "bush.pivot.right")
	if l, r := slotOf(t, left, "soft"), slotOf(t, right, "soft"); l != 600 || r != 550 {
		t.Errorf("soft = %v left, %v right, want 600, 550", l, r)
	}
	if l, r := slotOf(t, left, "stiff"), slotOf(t, right, "stiff"); l != r {
		t.Errorf("stiff differs: %v left, %v right", l, r)
	}
	if left.To != 0 || right.To != 1 || left.From != compliance.Vehicle {
		t.Errorf("left joins %d and %d, right ends at %d", left.From, left.To, right.To)
	}
	cross := elementOf(t, f, "beam.cross")
	if cross.Kind.Variant != "V" || cross.Side != compliance.Centre || cross.From != 0 || cross.To != 1 {
		t.Errorf("cross-member: %+v", cross)
	}
}

func TestWhatReadsCanBeSolved(t *testing.T) {
	if _, err := compliance.NewSolver(readTwistBeam(t).Axle); err != nil {
		t.Fatal(err)
	}
}

// body replaces a piece of the twist beam, which must occur in it.
func withChange(t *testing.T, old, new string) string {
	t.Helper()
	text := string(readTwistBeam(t).source.text)
	if !strings.Contains(text, old) {
		t.Fatalf("the test file does not hold %q", old)
	}
	return strings.Replace(text, old, new, 1)
}

func parseText(t *testing.T, text string) *File {
	t.Helper()
	f, err := Parse("test.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestWaysOfWriting(t *testing.T) {
	for name, text := range map[string]string{
		"dotted keys":    withChange(t, "at = [430, 560, 330]   # centre of the rubber", "at.x = 430\nat.y = 560\nat.z = 330"),
		"inline point":   withChange(t, "[430, 560, 330]", "{ x = 430, y = 560, z = 330 }"),
		"crlf":           strings.ReplaceAll(withChange(t, "plan", "plan"), "\n", "\r\n"),
		"byte-order":     "\xef\xbb\xbf" + withChange(t, "plan", "plan"),
		"profile header": withChange(t, `profile = { shape = "V", leg = 80, radius = 30, half_angle = 30, wall = 5 }`, "[beam.cross.profile]\nshape = \"V\"\nleg = 80\nradius = 30\nhalf_angle = 30\nwall = 5.0"),
		"inline element": withChange(t, "[spring.coil]\nfrom = \"vehicle\"\nto = \"arm\"\nupper = [-30, 490, 560]\nlower = [-20, 500, 320]\nrate = 24",
			"[spring]\ncoil = { from = \"vehicle\", to = \"arm\", upper = [-30, 490, 560], lower = [-20, 500, 320], rate = 24 }"),
	} {
		t.Run(name, func(t *testing.T) {
			want, got := readTwistBeam(t).Axle, parseText(t, text).Axle
			for i := range want.Elements {
				if !slices.Equal(got.Elements[i].Slots, want.Elements[i].Slots) {
					t.Errorf("%s: %v, want %v", want.Elements[i].Label(), got.Elements[i].Slots, want.Elements[i].Slots)
				}
			}
		})
	}
}

func TestOneSidedAndCentralParts(t *testing.T) {
	f := parseText(t, `
[wheel]
on = "axle"
centre = [0, 740, 300]
loaded_radius = 300
[body.axle]
side = "one"
[bush.front]
from = "vehicle"
to = "axle"
at = [400, 500, 300]
base = "longitudinal"
outer = "vehicle"
holds_moments = true
soft = 500
[bush.odd]
side = "right"
from = "axle"
to = "vehicle"
outer = "axle"
at = [0, 400, 300]
base = "explicit"
axis = [0, 1, 1]
soft_axis = [1, 0, 0]
[link.panhard]
side = "one"
from = "vehicle"
to = "axle"
inner = [-100, -500, 320]
outer = [-100, 520, 320]
inner_rate = 9000
outer_rate = 9000
`)
	front, odd, rod := elementOf(t, f, "bush.front.right"), elementOf(t, f, "bush.odd.right"), elementOf(t, f, "link.panhard")
	if c := front.Choice; c.Base != bushing.Longitudinal || !c.OuterIsFrom || !c.HoldsMoments {
		t.Errorf("front: %+v", c)
	}
	if !odd.Choice.OuterIsFrom || odd.From != 0 || odd.To != compliance.Vehicle {
		t.Errorf("odd: %+v", odd)
	}
	if rod.Side != compliance.Centre || len(f.Axle.Elements) != 4 || len(f.Axle.Bodies) != 1 {
		t.Errorf("%d elements, %d bodies, rod on side %v", len(f.Axle.Elements), len(f.Axle.Bodies), rod.Side)
	}
	if f.Axle.Wheels[0].Body != 0 || f.Axle.Wheels[1].Body != 0 {
		t.Errorf("wheels on %d and %d", f.Axle.Wheels[0].Body, f.Axle.Wheels[1].Body)
	}
	if f.Axle.Static != nil {
		t.Error("a static load without a vehicle")
	}
}

// TestDrawnProfile holds the drawing of a V by hand against the shape V.
func TestDrawnProfile(t *testing.T) {
	shape := `profile = { shape = "V", leg = 80, radius = 30, half_angle = 30, wall = 5 }`
	text := withChange(t, shape, `profile = { nodes = [[65.98076211353316, -54.282032302755094], [25.98076211353316, 15], [-25.98076211353316, 15], [-65.98076211353316, -54.282032302755094]],
  walls = [[0, 1, 5], [1, 2, 5, 120], [2, 3, 5]] }`)
	text = strings.Replace(text, "opens = \"down\"\n", "", 1)
	text = strings.Replace(text, "beam.cross.profile.wall = { from = 3, to = 8 }\n", "", 1)
	drawn, err := compliance.NewSolver(parseText(t, text).Axle)
	if err != nil {
		t.Fatal(err)
	}
	shaped, err := compliance.NewSolver(readTwistBeam(t).Axle)
	if err != nil {
		t.Fatal(err)
	}
	for name, axle := range map[string]*compliance.Axle{"drawn": drawn.Axle(), "shaped": shaped.Axle()} {
		for i := range axle.Elements {
			if e := &axle.Elements[i]; e.Kind.Table == "beam" {
				if _, ok := compliance.NewDrawnSection(e); !ok {
					t.Errorf("%s: the beam has no outline, so no stress", name)
				}
			}
		}
	}
	const rounding = 1e-9 // the nodes are written to 16 digits
	for i, want := range shaped.Compliance() {
		if got := drawn.Compliance()[i]; math.Abs(got-want) > rounding*math.Max(1e-6, math.Abs(want)) {
			t.Errorf("C[%d] = %v, want %v", i, got, want)
		}
	}
}

func TestMatrixBush(t *testing.T) {
	f := parseText(t, withChange(t, "[vehicle]", `[bush.stay]
from = "vehicle"
to = "arm"
at = [300, 500, 330]
matrix = [
  [500, 0, 10, 0, 0, 0],
  [0, 600, 0, 0, 0, 0],
  [10, 0, 700, 0, 0, 0],
  [0, 0, 0, 40, 0, 0],
  [0, 0, 0, 0, 50, 3],
  [0, 0, 0, 0, 3, 60],
]
[vehicle]`))
	stay := elementOf(t, f, "bush.stay.left")
	for name, want := range map[string]float64{"matrix.11": 500, "matrix.13": 10, "matrix.55": 50e3, "matrix.56": 3e3} {
		if got := slotOf(t, stay, name); got != want {
			t.Errorf("%s = %v, want %v", name, got, want)
		}
	}
}

func TestStaticLoadIsTakenWhenGiven(t *testing.T) {
	if s := readTwistBeam(t).Axle.Static; s == nil || math.Abs(s.WheelLoad[0]-1200*0.4*9.80665/2) > 1e-9 {
		t.Errorf("static load %+v", s)
	}
	off := parseText(t, withChange(t, "cg_height = 540", "static_load = false"))
	if off.Axle.Static != nil || off.Vehicle.StaticLoad {
		t.Error("static_load = false is not heard")
	}
}
