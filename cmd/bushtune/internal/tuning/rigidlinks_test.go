package tuning

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
)

// fiveLinks are the places of links, inner and outer, at which the figure of the test
// below was found.
var fiveLinks = map[string][2]string{
	"trailing":    {"480, 560, 330", "70, 700, 270"},
	"upper_front": {"90, 400, 436", "45, 690, 470"},
	"upper_rear":  {"-90, 380, 448", "-55, 690, 460"},
	"toe":         {"120, 230, 239", "115, 690, 215"},
}

// rigidLinks is the built-in five-link axle with stiff links and mounts, without the
// compliance of its hubs and without a load at rest: the wheels follow the geometry.
func rigidLinks(t *testing.T) *cases.FullSize {
	t.Helper()
	axle, err := demo.Open("saloon-multi-link")
	if err != nil {
		t.Fatal(err)
	}
	text, _, _ := strings.Cut(string(axle.Text), "[search]")
	times := func(keys string, factor float64) {
		text = regexp.MustCompile(`(?m)^(`+keys+`)( *= *)([0-9.]+)`).ReplaceAllStringFunc(text, func(line string) string {
			key, value, _ := strings.Cut(line, "=")
			rate, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
			if err != nil {
				t.Fatal(err)
			}
			return key + "= " + strconv.FormatFloat(rate*factor, 'g', -1, 64)
		})
	}
	times("inner_rate|outer_rate", 3e3)
	times("soft|axial|stiff|torsion|cone_soft|cone_stiff", 1e4)
	for link, at := range fiveLinks {
		place := regexp.MustCompile(`(?s)(\[link\.` + link + `\].*?inner = )\[[^\]]*\](.*?outer = )\[[^\]]*\]`)
		if !place.MatchString(text) {
			t.Fatalf("no %s link", link)
		}
		text = place.ReplaceAllString(text, "${1}["+at[0]+"]${2}["+at[1]+"]")
	}
	text = regexp.MustCompile(`(?s)\[hub\].*?\n\[`).ReplaceAllString(text, "[")
	text = strings.ReplaceAll(text, "static_load = true", "static_load = false")
	file, err := axlefile.Parse("rigid.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	study, err := Study(file)
	if err != nil {
		t.Fatal(err)
	}
	full, err := cases.NewFullSize(study)
	if err != nil {
		t.Fatal(err)
	}
	return full
}

// TestRollCentreOfRigidLinksIsThatOfThePath: of an axle whose wheels are guided each for
// itself the roll centre lies at half the track times the slope of the path of a contact
// centre, whichever way the other wheel goes. At 80 mm of rebound that is 234.7 mm.
func TestRollCentreOfRigidLinksIsThatOfThePath(t *testing.T) {
	full := rigidLinks(t)
	const step, tolerance = 1.0, 0.05 // mm; of the path, differences over ±1 mm leave 0.01
	for _, height := range []float64{-80, -40, 0, 40, 80} {
		r, err := full.Travel(cases.Travel{Mode: cases.Heave, From: height - step, To: height + step, Points: 3})
		if err != nil {
			t.Fatal(err)
		}
		read := func(number, of string, point int) float64 {
			for _, s := range r.Series {
				if s.Number == number && (of == "" || s.Where == of) {
					return s.Points[point].Value
				}
			}
			t.Fatalf("no %s %s", number, of)
			return 0
		}
		// The wheels stand at 770 mm, their contact centres by the camber of −1 deg and a radius of 310 mm farther out.
		track := 2*(770+310*math.Sin(math.Pi/180)) + read("track", "", 1)
		path := track / 2 * (read("patch_y", "left", 2) - read("patch_y", "left", 0)) / (2 * step)
		for _, number := range []string{"roll_centre_kinematic", "roll_centre_force"} {
			if told := read(number, "", 1); math.Abs(told-path) > tolerance {
				t.Errorf("%+g mm: %s %.3f mm, the path has %.3f", height, number, told, path)
			}
		}
		if height == -80 && math.Abs(path-234.7) > 0.1 {
			t.Errorf("at 80 mm of rebound the path has %.3f mm", path)
		}
	}
}
