package axlefile_test

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"text/template"

	"bushtune/cmd/bushtune/internal/demo"
)

// soundAxles is how many axles are drawn, in turn of each layout.
const soundAxles = 320

// sound are the values of a drawn axle: well inside the usual ranges, and fitting each
// other as those of an engineer would. Common practice, no source.
type sound struct {
	Half, Radius, Toe, Camber                   float64 // mm, deg
	PivotX, PivotY, PivotZ                      float64
	Soft, Axial, Stiff, Torsion, Cone           float64
	Plan                                        float64
	SpringX, SpringY, Spring                    float64
	BeamX, BeamZ, Ends, Leg, Wall               float64
	Bar, Lateral, Trailing                      float64
	Mass, Share, Wheelbase, Height, Unsprung    float64
	FrontRate, FrontCentre, Trail, Tyre, Brakes float64
}

// draw draws one axle. layout 0 to 3: twist beam, semi-trailing arms, five links, rigid
// axle on links.
func draw(rng *rand.Rand, layout int) sound {
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	ratios := func(a, b float64) float64 { return a * math.Pow(b/a, rng.Float64()) }
	var s sound
	s.Half, s.Radius = between(660, 860), between(265, 345)
	s.Toe, s.Camber = between(-0.1, 0.3), between(-2, 0)
	s.Mass, s.Share = ratios(850, 2300), between(0.38, 0.56)
	load := s.Mass * s.Share / 2 // kg
	s.Unsprung = load * between(0.09, 0.18)
	s.Wheelbase, s.Height = 2*s.Half*between(1.55, 2), s.Half*between(0.68, 0.9)
	s.FrontRate, s.FrontCentre = s.Mass*between(0.4, 0.6), between(20, 100)
	s.Trail, s.Tyre, s.Brakes = between(18, 36), load*9.81/between(12, 18), between(0.25, 0.4)
	s.PivotX, s.PivotY, s.PivotZ = between(330, 480), s.Half-between(140, 210), s.Radius+between(-20, 50)
	size := load / 230
	s.Soft = ratios(350, 1100) * size
	s.Stiff, s.Axial = s.Soft*between(2, 5), s.Soft*between(1.2, 3)
	s.Torsion, s.Cone, s.Plan = ratios(1, 3), ratios(5, 10), between(0, 20)
	s.BeamX, s.BeamZ, s.Ends = s.PivotX*between(0.5, 0.66), s.Radius-between(0, 30), s.Half-between(190, 230)
	s.Leg, s.Wall = between(66, 82), between(4.3, 5.6)
	s.Bar, s.Lateral, s.Trailing = ratios(5, 14), ratios(5000, 14000), ratios(500, 1300)*size
	s.SpringX, s.SpringY = between(-60, 20), s.Half-between(180, 260)
	lever := 1.0
	switch layout {
	case 0:
		lever = 1 - s.SpringX/s.PivotX
	case 1:
		s.SpringX = between(80, 140)
		fromAxis := func(x, y float64) float64 { return 310*(x-s.PivotX) - 105*(y-s.PivotY) } // line through both pivots
		lever = fromAxis(s.SpringX, s.SpringY) / fromAxis(0, s.Half)
	}
	body := 2 * math.Pi * between(1.15, 1.65)
	s.Spring = (load - s.Unsprung) * body * body / 1000 / lever / lever
	return s
}

// layouts are the texts of the drawn axles but for the car.
var layouts = []string{`
[wheel]
on = "arm"
centre = [0, {{mm .Half}}, {{mm .Radius}}]
loaded_radius = {{mm .Radius}}
toe = {{.Toe}}
camber = {{.Camber}}
[hub]
camber = 0.08
toe = 0.02
[body.arm]
[bush.pivot]
from = "vehicle"
to = "arm"
at = [{{mm .PivotX}}, {{mm .PivotY}}, {{mm .PivotZ}}]
plan = {{.Plan}}
soft = {{.Soft}}
axial = {{.Axial}}
stiff = {{.Stiff}}
torsion = {{.Torsion}}
cone_soft = {{.Cone}}
cone_stiff = {{.Cone}}
max_radial_load = 9000
max_axial_load = 5000
[spring.coil]
from = "vehicle"
to = "arm"
upper = [{{add .SpringX -15}}, {{add .SpringY -10}}, {{add .Radius 255}}]
lower = [{{mm .SpringX}}, {{mm .SpringY}}, {{add .Radius 10}}]
rate = {{.Spring}}
[damper.gas]
from = "vehicle"
to = "arm"
upper = [{{add .SpringX -60}}, {{add .SpringY 10}}, {{add .Radius 380}}]
lower = [{{add .SpringX -50}}, {{add .SpringY 40}}, {{add .Radius -20}}]
gas_load = 120
[stop.bump]
from = "vehicle"
to = "arm"
upper = [{{add .SpringX -15}}, {{add .SpringY -10}}, {{add .Radius 240}}]
lower = [{{mm .SpringX}}, {{mm .SpringY}}, {{add .Radius 170}}]
rate = 60
gap = 30
[beam.cross]
from = "arm.left"
to = "arm.right"
at = [{{mm .BeamX}}, 0, {{mm .BeamZ}}]
ends_y = {{mm .Ends}}
warping = ["built-in", "built-in"]
profile = { shape = "V", leg = {{.Leg}}, radius = 27, half_angle = 29, wall = {{.Wall}} }
`, `
[wheel]
on = "arm"
centre = [0, {{mm .Half}}, {{mm .Radius}}]
loaded_radius = {{mm .Radius}}
toe = {{.Toe}}
camber = {{.Camber}}
[body.arm]
[bush.outer]
from = "vehicle"
to = "arm"
at = [{{mm .PivotX}}, {{mm .PivotY}}, {{add .Radius -20}}]
plan = 18
soft = {{mul .Soft 3}}
axial = {{mul .Soft 3}}
stiff = {{mul .Stiff 2}}
torsion = {{.Torsion}}
cone_soft = {{.Cone}}
cone_stiff = {{.Cone}}
[bush.inner]
from = "vehicle"
to = "arm"
at = [{{add .PivotX -105}}, {{add .PivotY -310}}, {{add .Radius -10}}]
plan = 18
soft = {{mul .Soft 3}}
axial = {{mul .Soft 3}}
stiff = {{mul .Stiff 2}}
torsion = {{.Torsion}}
cone_soft = {{.Cone}}
cone_stiff = {{.Cone}}
[spring.coil]
from = "vehicle"
to = "arm"
upper = [{{add .SpringX -10}}, {{add .SpringY -10}}, {{add .Radius 245}}]
lower = [{{mm .SpringX}}, {{mm .SpringY}}, {{mm .Radius}}]
rate = {{.Spring}}
[bar.roll]
from = "arm.left"
to = "arm.right"
axis = [0, 1, 0]
rate = {{.Bar}}
`, `
[wheel]
on = "carrier"
centre = [0, {{mm .Half}}, {{mm .Radius}}]
loaded_radius = {{mm .Radius}}
toe = {{.Toe}}
camber = {{.Camber}}
[body.carrier]
[body.subframe]
side = "one"
[bush.front_mount]
from = "vehicle"
to = "subframe"
at = [260, 420, {{add .Radius 20}}]
base = "vertical"
soft = 1500
axial = 1200
stiff = 3500
torsion = 8
cone_soft = 12
cone_stiff = 12
[bush.rear_mount]
from = "vehicle"
to = "subframe"
at = [-220, 400, {{add .Radius 20}}]
base = "vertical"
soft = 1500
axial = 1200
stiff = 3500
torsion = 8
cone_soft = 12
cone_stiff = 12
[link.trailing]
from = "vehicle"
to = "carrier"
inner = [{{add .PivotX 80}}, {{add .PivotY 0}}, {{add .Radius 20}}]
outer = [70, {{add .Half -70}}, {{add .Radius -40}}]
inner_rate = {{.Trailing}}
outer_rate = 6000
[link.lower]
from = "subframe"
to = "carrier"
inner = [-70, 190, {{add .Radius -95}}]
outer = [-45, {{add .Half -70}}, {{add .Radius -120}}]
inner_rate = {{.Lateral}}
outer_rate = {{.Lateral}}
[link.upper_front]
from = "subframe"
to = "carrier"
inner = [90, 400, {{add .Radius 126}}]
outer = [45, {{add .Half -80}}, {{add .Radius 160}}]
inner_rate = {{.Lateral}}
outer_rate = 10000
[link.upper_rear]
from = "subframe"
to = "carrier"
inner = [-90, 380, {{add .Radius 138}}]
outer = [-55, {{add .Half -80}}, {{add .Radius 150}}]
inner_rate = {{.Lateral}}
outer_rate = 10000
[link.toe]
from = "subframe"
to = "carrier"
inner = [120, 230, {{add .Radius -71}}]
outer = [115, {{add .Half -80}}, {{add .Radius -95}}]
inner_rate = {{.Lateral}}
outer_rate = 14000
[spring.coil]
from = "vehicle"
to = "carrier"
upper = [-30, {{add .Half -170}}, {{add .Radius 250}}]
lower = [-30, {{add .Half -130}}, {{add .Radius -60}}]
rate = {{mul .Spring 1.25}}
`, `
[wheel]
on = "axle"
centre = [0, {{mm .Half}}, {{mm .Radius}}]
loaded_radius = {{mm .Radius}}
[body.axle]
side = "one"
[link.lower]
from = "vehicle"
to = "axle"
inner = [{{add .PivotX 130}}, {{add .PivotY -20}}, {{add .Radius -68}}]
outer = [20, {{mm .PivotY}}, {{add .Radius -70}}]
inner_rate = {{.Trailing}}
outer_rate = {{.Trailing}}
[link.upper]
from = "vehicle"
to = "axle"
inner = [{{mm .PivotX}}, 380, {{add .Radius 75}}]
outer = [10, 420, {{add .Radius 120}}]
inner_rate = {{.Trailing}}
outer_rate = {{.Trailing}}
[link.panhard]
side = "one"
from = "vehicle"
to = "axle"
inner = [-110, {{mm .PivotY}}, {{add .Radius 10}}]
outer = [-110, -{{mm .PivotY}}, {{add .Radius -10}}]
inner_rate = {{.Lateral}}
outer_rate = {{.Lateral}}
[spring.coil]
from = "vehicle"
to = "axle"
upper = [-10, {{mm .SpringY}}, {{add .Radius 290}}]
lower = [-10, {{add .SpringY 10}}, {{add .Radius 10}}]
rate = {{.Spring}}
`}

// car is the car around each of them.
const car = `
[vehicle]
mass = {{.Mass}}
rear_share = {{.Share}}
wheelbase = {{mm .Wheelbase}}
cg_height = {{mm .Height}}
unsprung = {{.Unsprung}}
rear_brake_share = {{.Brakes}}
front_roll_rate = {{.FrontRate}}
front_roll_centre = {{.FrontCentre}}
trail = {{.Trail}}
tyre_rate = {{.Tyre}}
[case.kerb]
pads = "level"
right = { force = [-2000, 500, 0], at = "centre", mz = 20 }
[state.brisk]
lateral = 0.7
`

// soundText is the file of a drawn axle.
func soundText(t *testing.T, s sound, layout int) string {
	t.Helper()
	functions := template.FuncMap{
		"mm":  func(x float64) float64 { return math.Round(x) },
		"add": func(x, y float64) float64 { return math.Round(x + y) },
		"mul": func(x, y float64) float64 { return x * y },
	}
	var text bytes.Buffer
	if err := template.Must(template.New("axle").Funcs(functions).Parse(layouts[layout]+car)).Execute(&text, s); err != nil {
		t.Fatal(err)
	}
	return text.String()
}

func TestSoundAxlesAreSilent(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 9))
	for i := range soundAxles {
		layout := i % len(layouts)
		text := soundText(t, draw(rng, layout), layout)
		_, notes, err := told(text)
		if err != nil {
			t.Fatalf("axle %d, layout %d: %v\n%s", i, layout, err, text)
		}
		for _, n := range notes {
			t.Errorf("axle %d, layout %d: %s", i, layout, n.String())
		}
	}
}

func TestBuiltInAxlesAreSilent(t *testing.T) {
	texts := map[string]string{"example": exampleText(t)}
	for _, name := range demo.Names() {
		axle, err := demo.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[name] = string(axle.Text)
	}
	if len(texts) < 10 {
		t.Fatalf("%d axles", len(texts))
	}
	for name, text := range texts {
		_, notes, err := told(text)
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, n := range notes {
			t.Errorf("%s: %s", name, n.String())
		}
	}
}

// exampleText is the file with everything in it, its further possibilities left out.
func exampleText(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("testdata/example.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
