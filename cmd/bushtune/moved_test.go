package main

import (
	"math"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/show"
)

// key names a curve and a place on it.
func key(r *show.Record) string { return r.Number + "@" + r.Case + ":" + r.Where + " " + r.Unit }

// TestTravelAtRestIsTheLinearAnswer: at no travel every number that solve has too
// is the same, whatever way the pads move.
func TestTravelAtRestIsTheLinearAnswer(t *testing.T) {
	for _, name := range demo.Names() {
		linear := map[string]float64{}
		for _, r := range records(t, bushtune(t, "solve --format json --demo "+name)) {
			if r.Kind == "figure" {
				linear[key(&r)] = *r.Value
			}
		}
		compared := 0
		for _, r := range records(t, bushtune(t, "travel --format json --from -20 --to 20 --points 3 --demo "+name)) {
			if want, known := linear[key(&r)]; known && r.Kind == "curve" && *r.X == 0 {
				compared++
				if math.Abs(*r.Value-want) > smallLoad*math.Max(1, math.Abs(want)) {
					t.Errorf("%s, %s: %s is %v at rest, solve says %v", name, r.Name, key(&r), *r.Value, want)
				}
			}
		}
		if compared < 20 {
			t.Errorf("%s: only %d numbers compared", name, compared)
		}
	}
}

// smallLoad is how far the limit of small loads may differ from the linear answer,
// of a number or of one unit: both are solved to far less.
const smallLoad = 1e-6

// TestPadsGoWhereTheyAreAsked reads the height of the contact points in a travel.
func TestPadsGoWhereTheyAreAsked(t *testing.T) {
	want := map[string][2]float64{"together": {1, 1}, "roll": {-1, 1}, "one": {0, 1}} // left, right over the outer, right one
	count := 0
	for _, r := range records(t, bushtune(t, "travel --format json --motion together --motion roll --motion one --points 5")) {
		if r.Kind != "curve" || r.Number != "patch_z" {
			continue
		}
		side := 0
		if r.Where == "right" {
			side = 1
		}
		count++
		if math.Abs(*r.Value-want[r.Name][side]**r.X) > 1e-6 { // mm: the balance of the pads
			t.Errorf("%s: the %s contact point is at %v for %v", r.Name, r.Where, *r.Value, *r.X)
		}
	}
	if count != 3*2*5 {
		t.Errorf("%d heights found", count)
	}
}

// TestConstantAxleLoadIsKept adds the pads' changes of force.
func TestConstantAxleLoadIsKept(t *testing.T) {
	sum, largest := map[float64]float64{}, 0.0
	for _, r := range records(t, bushtune(t, "travel --format json --motion roll-at-load --points 5")) {
		if r.Kind == "curve" && r.Number == "pad_load" {
			sum[*r.X] += *r.Value
			largest = max(largest, math.Abs(*r.Value))
		}
	}
	if len(sum) != 5 || largest < 100 {
		t.Fatalf("pads: %v", sum)
	}
	for x, s := range sum {
		if math.Abs(s) > 1e-6*largest {
			t.Errorf("at %v mm the axle load changes by %v N of %v N", x, s, largest)
		}
	}
}

// TestCausesSumToTheToe adds the causes of the toe of the outer wheel.
func TestCausesSumToTheToe(t *testing.T) {
	for _, name := range demo.Names() {
		sum, whole := map[float64]float64{}, map[float64]float64{}
		for _, r := range records(t, bushtune(t, "sweep --format json --points 6 --to 0.8 --demo "+name)) {
			switch {
			case r.Kind != "curve" || r.Stage != "cause":
			case r.Number == "outer_wheel_toe":
				whole[*r.X] = *r.Value
			default:
				sum[*r.X] += *r.Value
			}
		}
		if len(whole) != 6 || len(sum) != 6 {
			t.Fatalf("%s: %d points of the toe, %d of causes", name, len(whole), len(sum))
		}
		for x, s := range sum {
			if !close(s, whole[x]) {
				t.Errorf("%s: at %v g the causes sum to %v, the toe is %v", name, x, s, whole[x])
			}
		}
	}
}

// TestEveryCurveHasItsDefinition: each number of a curve is defined in records and
// each heading of text carries its pads or stands for bushes and stresses.
func TestEveryCurveHasItsDefinition(t *testing.T) {
	for _, line := range []string{"travel --points 3", "sweep --points 3", "sweep --case cornering --points 3", "solve --at-size 2"} {
		defined, used := map[string]bool{}, map[string]bool{}
		for _, r := range records(t, bushtune(t, line+" --format json")) {
			if r.Kind == "definition" {
				defined[r.Number] = true
			}
			if r.Kind == "curve" && r.Stage != "secant" && r.Stage != "tangent" {
				used[r.Number] = true
				if r.X == nil || r.XUnit == "" || r.Value == nil || r.StaticLoad == "" {
					t.Fatalf("%s: incomplete %+v", line, r)
				}
			}
		}
		for number := range used {
			if !defined[number] {
				t.Errorf("%s: %s has no definition", line, number)
			}
		}
		if !strings.Contains(bushtune(t, line).out, "\nDEFINITIONS\n") || len(defined) < 10 {
			t.Errorf("%s: %d definitions", line, len(defined))
		}
	}
}

// TestALostTravelNamesThePlace: what was reached is written with the reason at its
// head, the message has the place, in words what moves there, and the exit code tells.
func TestALostTravelNamesThePlace(t *testing.T) {
	inFolder(t, "hatchback-plain", "hatchback-angled")
	for _, name := range []string{"hatchback-plain", "hatchback-angled"} { // a coil that leans rearward loses its leverage
		writeText(t, name+"-rearward.toml", strings.Replace(readText(t, name+".toml"), "upper = [-10, 470, 545]", "upper = [-40, 470, 545]", 1))
	}
	for line, cause := range map[string]string{
		"travel --demo saloon-semi-trailing --from -300 --to 500":  "spring.coil.left is pressed to its solid length",
		"sweep --case roll --to 100 hatchback-plain-rearward.toml": "sideways, out of balance",
		"sweep --case heave hatchback-angled-rearward.toml":        "arm.left turns about z", // and arm.right as much: the first on every processor
	} {
		r := bushtune(t, line)
		if r.code != exitFailed || !strings.Contains(r.out, "\nSTOPPED BEFORE THE END") || !strings.Contains(r.err, "no further than") || !strings.Contains(r.err, cause) {
			t.Errorf("%s: code %d, %q, wrote %d signs", line, r.code, r.err, len(r.out))
		}
	}
}
