package axlefile_test

import (
	"fmt"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
)

// withBeams is a built-in axle whose cross-member gives way to other lines.
func withBeams(t *testing.T, beams string) string {
	t.Helper()
	built, err := demo.Open("hatchback-plain")
	if err != nil {
		t.Fatal(err)
	}
	text, _, _ := strings.Cut(string(built.Text), "[search]")
	before, rest, found := strings.Cut(text, "[beam.cross]")
	_, after, more := strings.Cut(rest, "\n[")
	if !found || !more {
		t.Fatal("no cross-member")
	}
	return before + beams + "\n[" + after
}

// pieces cuts the cross-member of hatchback-plain in two, four or more, each of which lies
// on one side and has its mirror image on the other, from the middle outwards.
func pieces(count int) string {
	var text strings.Builder
	for n := 1; n < count; n++ {
		fmt.Fprintf(&text, "[body.n%d]\nside = \"one\"\n", n)
	}
	for n := range count {
		from, to, ends := fmt.Sprintf("n%d", n), fmt.Sprintf("n%d", n+1), [2]string{"continuous", "continuous"}
		if n == 0 {
			from, ends[0] = "arm.left", "built-in"
		}
		if n == count-1 {
			to, ends[1] = "arm.right", "built-in"
		}
		at := func(n int) float64 { return 530 - 1060*float64(n)/float64(count) }
		fmt.Fprintf(&text, "[beam.piece%d]\nside = \"one\"\nfrom = %q\nto = %q\nstart = [255, %g, 272]\nend = [255, %g, 272]\nopens = \"down\"\nwarping = [%q, %q]\nprofile = { shape = \"V\", leg = 72, radius = 26, half_angle = 28, wall = 5 }\n",
			n, from, to, at(n), at(n+1), ends[0], ends[1])
	}
	return text.String()
}

// TestSoundBeamsAreSilent: a cross-member in pieces is no part that a side lacks, and a
// section may be drawn where it lies in the car.
func TestSoundBeamsAreSilent(t *testing.T) {
	const inCar = "[beam.cross]\nfrom = \"arm.left\"\nto = \"arm.right\"\nat = %s\nends_y = 530\nwarping = [\"built-in\", \"built-in\"]\n" +
		"[beam.cross.profile]\nnodes = [[215, 235], [255, 315], [295, 235]]\nwalls = [[0, 1, 5], [1, 2, 5]]\n"
	for name, beams := range map[string]string{
		"two pieces": pieces(2), "three pieces": pieces(3), "eight pieces": pieces(8), "drawn in the car": fmt.Sprintf(inCar, "[0, 0, 0]"),
	} {
		if checks, notes, err := told(withBeams(t, beams)); err != nil || len(notes) > 0 {
			t.Errorf("%s: %v %v: %+v", name, err, checks, notes)
		}
	}
	checks, _, err := told(withBeams(t, fmt.Sprintf(inCar, "[255, 0, 272]")))
	if err != nil || !strings.Contains(strings.Join(checks, " "), "beam.centroid") {
		t.Errorf("drawn in the car about a line elsewhere: %v %v", checks, err)
	}
	one := strings.Replace(pieces(3), "[beam.piece2]", "[beam.other]", 1)
	one = strings.Replace(one, "start = [255, -176.", "start = [355, -176.", 1)
	if checks, _, err := told(withBeams(t, one)); err != nil || !strings.Contains(strings.Join(checks, " "), "one_sided") {
		t.Errorf("a piece without its mirror image: %v %v", checks, err)
	}
}
