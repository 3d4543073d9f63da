package sheet

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/compliance"
)

// plainAxle is a rigid axle on two bushes; %s stands for what the bush is given.
const plainAxle = `title = "test"
[wheel]
on = "axle"
centre = [0, 750, 300]
loaded_radius = 300
[body.axle]
side = "one"
[bush.pivot]
from = "vehicle"
to = "axle"
at = [430, 600, 300]
%s
[spring.coil]
from = "vehicle"
to = "axle"
upper = [0, 500, 600]
lower = [0, 500, 300]
rate = 20
`

const plainRates = `soft = 600
axial = 900
stiff = 3000
cone_soft = 5
torsion = 2
cone_stiff = 6
`

// sheetsOf makes the sheets of an axle file.
func sheetsOf(t testing.TB, text string) Pages {
	t.Helper()
	f, err := axlefile.Parse("test.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return pagesOf(t, f)
}

func pagesOf(t testing.TB, f *axlefile.File) Pages {
	t.Helper()
	study, err := tuning.Study(f)
	if err != nil {
		t.Fatal(err)
	}
	asked, err := tuning.Ask(study, f.Wants)
	if err != nil {
		t.Fatal(err)
	}
	all, without, err := Sheets(t.Context(), &Axle{Title: f.Title, Source: "a test", File: f, Study: study, Asked: asked, Class: 1, Mould: 2})
	if err != nil || len(without) > 0 {
		t.Fatal(err, without)
	}
	return all
}

// sheetOf makes the one sheet of the rigid axle whose bush is given more keys.
func sheetOf(t testing.TB, keys string) *Sheet {
	t.Helper()
	return sheetsOf(t, fmt.Sprintf(plainAxle, plainRates+keys))[0]
}

func demoPages(t testing.TB, name string) Pages {
	t.Helper()
	axle, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return sheetsOf(t, string(axle.Text))
}

// Where a cross bush's axis points, said by hand from what plan, lift and lean mean
// in the axle file.
func TestPointingSaysWhatTheFileMeans(t *testing.T) {
	for _, c := range []struct {
		keys        string
		soft, axial string
	}{
		{`base = "lateral"`, "forward", "outboard"},
		{"base = \"lateral\"\nplan = 15", "forward, turned 15.0 deg inboard in plan view", "outboard, turned 15.0 deg forward in plan view"},
		{"base = \"lateral\"\nplan = -30\nlift = 8", "forward, turned 30.0 deg outboard in plan view", "outboard, turned 30.0 deg rearward in plan view, 8.0 deg up"},
		{"base = \"lateral\"\nclock = 90", "down", "outboard"},
		{"base = \"longitudinal\"", "outboard", "forward"},
		{"base = \"longitudinal\"\nplan = 20", "outboard, turned 20.0 deg forward in plan view", "forward, turned 20.0 deg inboard in plan view"},
		{"base = \"longitudinal\"\nlift = 5", "outboard", "forward, 5.0 deg up"},
		{"base = \"vertical\"", "forward", "up"},
		{"base = \"vertical\"\nlean_forward = 10", "forward, 10.0 deg down", "up, leaning 10.0 deg forward"},
		{"base = \"vertical\"\nlean_outboard = 4", "forward", "up, 4.0 deg outboard"},
		{"base = \"explicit\"\naxis = [0, -1, 0]\nsoft_axis = [0, 0, 1]", "up", "inboard"},
	} {
		s := sheetOf(t, c.keys)
		sleeve, _ := s.axes()
		if got := pointing(sleeve[0], compliance.Left); got != c.soft {
			t.Errorf("%q: soft points %q, want %q", c.keys, got, c.soft)
		}
		if got := pointing(sleeve[1], compliance.Left); got != c.axial {
			t.Errorf("%q: axial points %q, want %q", c.keys, got, c.axial)
		}
	}
}

// The words alone rebuild the direction.
func TestPointingCanBeReadBack(t *testing.T) {
	unit := map[string]vec{"forward": {1, 0, 0}, "rearward": {-1, 0, 0}, "outboard": {0, 1, 0}, "inboard": {0, -1, 0}, "up": {0, 0, 1}, "down": {0, 0, -1}}
	turn := regexp.MustCompile(`(?:(turned|leaning) )?([0-9.]+) deg (\w+)`)
	for i := range 400 {
		v := vec{math.Sin(float64(3 * i)), math.Cos(float64(7*i + 1)), math.Sin(float64(11*i + 2))}.Unit()
		text := pointing(v, compliance.Left)
		main := unit[strings.SplitN(text, ",", 2)[0]]
		level, out := main, vec{}
		for _, m := range turn.FindAllStringSubmatch(text, -1) {
			deg, _ := strconv.ParseFloat(m[2], 64)
			sin, cos := math.Sincos(deg * quantity.Degree.Factor)
			if m[1] != "" {
				level = main.Scale(cos).Add(unit[m[3]].Scale(sin))
			} else {
				out = unit[m[3]].Scale(sin)
			}
		}
		got := level.Scale(math.Sqrt(1 - out.Dot(out))).Add(out)
		if got.Sub(v).Norm() > 0.0025 { // a tenth of a degree, twice
			t.Errorf("%v is told as %q, which is %v", v, text, got)
		}
	}
}

// Someone who stands to the left of a car and looks at it has its front at the left:
// the void that looks forward lies at nine o'clock. From the front the left of the
// car is at the right; from above, with forward up, left is at the left.
func TestClockAngles(t *testing.T) {
	x, y, z := vec{1, 0, 0}, vec{0, 1, 0}, vec{0, 0, 1}
	for _, c := range []struct {
		axis, radial vec
		want         float64
	}{
		{y, x, 270}, {y, z, 0}, {y, z.Scale(-1), 180}, {x, y, 90}, {x, z, 0}, {z, x, 0}, {z, y, 270}, {y.Scale(-1), x, 90},
		{y, vec{1, 0, 1}.Unit(), 315},
	} {
		if got := clockAngle(c.axis, c.radial); got != c.want {
			t.Errorf("axis %v, radial %v: %g deg, want %g", c.axis, c.radial, got, c.want)
		}
	}
}

// The clock angle of the right bush runs the other way round: seen from its own
// outboard end the mirrored radial lies at the opposite of the angle.
func TestClockAngleOfTheMirrorImage(t *testing.T) {
	for _, keys := range []string{"base = \"lateral\"\nplan = 20\nclock = 30", "base = \"longitudinal\"\nlift = 7\nclock = -50"} {
		s := sheetOf(t, keys)
		sleeve, _ := s.axes()
		left, right := clockAngle(sleeve[1], sleeve[0]), clockAngle(mirrored(sleeve[1]), mirrored(sleeve[0]))
		if off := math.Mod(left+right+0.05, 360); off > 0.2 {
			t.Errorf("%q: left at %g deg, right at %g deg, want opposite", keys, left, right)
		}
	}
}

// A bush whose mirror image is itself, turned, serves both sides; one with differing
// ways along all three axes, or askew in two ways with one of them, does not.
func TestOneForBothSides(t *testing.T) {
	stop := func(name string) string {
		return fmt.Sprintf("%s_gap = 1\n%s_gap_back = 2\n%s_snubber = 3000\n", name, name, name)
	}
	for keys, want := range map[string]bool{
		"plan = 24\nlift = 5\nclock = 40":                       true,
		"elastic_plan = 10":                                     true,
		"elastic_lift = 10":                                     true,
		"elastic_plan = 10\nelastic_lift = 5":                   true, // straight rates are the same inside out
		"elastic_plan = 10\nelastic_lift = 5\n" + stop("axial"): false,
		stop("axial"):                                           true,
		stop("axial") + stop("soft"):                            true,
		stop("axial") + stop("soft") + stop("stiff"):            false,
		"elastic_plan = 10\n" + stop("axial"):                   true, // mirrored across the stiff radial
		"elastic_plan = 10\n" + stop("stiff"):                   false,
	} {
		s := sheetOf(t, "base = \"lateral\"\n"+keys)
		if got := s.oneForBothSides(); got != want {
			t.Errorf("%q: one part for both sides %v, want %v", keys, got, want)
		}
		if got := mirrorIsATurn(s); got != want {
			t.Errorf("%q: among turns of half a revolution and none, one gives the mirror image: %v, want %v", keys, got, want)
		}
	}
}

// mirrorIsATurn looks for a rotation that lays a bush on its mirror image, by the
// loads that both put up against a set of deflections.
func mirrorIsATurn(s *Sheet) bool {
	sleeve, _ := s.axes()
	for _, about := range []int{-1, 0, 1, 2} { // none, or half a turn about a sleeve axis
		same := true
		for _, e := range []vec{{1.7, 0.4, -0.9}, {-1.3, 2.6, 0.7}, {2.9, -2.2, -2.4}, {-0.3, -1.9, 2.8}, {2, 2, 2}, {-2.5, 0.1, -2.5}} {
			image := func(v vec) vec { return v.Sub(sleeve[1].Scale(2 * v.Dot(sleeve[1]))) } // across the axis: any mirror will do
			turned := func(v vec) vec {
				if about < 0 {
					return v
				}
				return sleeve[about].Scale(2 * v.Dot(sleeve[about])).Sub(v)
			}
			want := image(force(s, image(e)))
			got := turned(force(s, turned(e)))
			same = same && got.Sub(want).Norm() < 1e-9*want.Norm()
		}
		if same {
			return true
		}
	}
	return false
}

// force is what the rubber puts up against a deflection in vehicle axes.
func force(s *Sheet, e vec) (f vec) {
	_, elastic := s.axes()
	for d, way := range elastic {
		f = f.Add(way.Scale(s.laws[bushing.Direction(d)].Load(e.Dot(way))))
	}
	return f
}

// A pair that is alike has one sheet; a bush that one side overrides has one a side,
// and the vectors of the right one are mirrored.
func TestSidesThatDifferHaveSheetsOfTheirOwn(t *testing.T) {
	text := fmt.Sprintf(plainAxle, plainRates+"base = \"lateral\"\nplan = 20")
	if pages := sheetsOf(t, text); len(pages) != 1 || pages[0].Name() != "pivot" || pages[0].perAxle() != 2 {
		t.Errorf("pages %v of an even axle", pages)
	}
	pages := sheetsOf(t, strings.Replace(text, "[spring.coil]", "[bush.pivot.right]\nsoft = 500\n[spring.coil]", 1))
	if len(pages) != 2 || pages[0].Name() != "pivot.left" || pages[1].Name() != "pivot.right" {
		t.Fatalf("%d pages of an uneven axle", len(pages))
	}
	for i, want := range []string{"(0.342, 0.940, 0.000)", "(0.342, -0.940, 0.000)"} {
		d := &document{}
		pages[i].orientationPart(d)
		if !strings.Contains(d.String(), want) {
			t.Errorf("%s: the axis should be %s\n%s", pages[i].Name(), want, d.String())
		}
	}
	if r := pages[1].rate(bushing.Soft); r != 500 {
		t.Errorf("the right bush has %g N/mm", r)
	}
}
