package show

import (
	"slices"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/cmd/bushtune/internal/tuning"
)

func demoView(t *testing.T) *view {
	t.Helper()
	axle, err := demo.Open(demo.Default)
	if err != nil {
		t.Fatal(err)
	}
	file, err := axlefile.Parse("axle.toml", axle.Text)
	if err != nil {
		t.Fatal(err)
	}
	study, err := tuning.Study(file)
	if err != nil {
		t.Fatal(err)
	}
	return newView(study, nil)
}

// TestSentences holds what is said of changes of every shape.
func TestSentences(t *testing.T) {
	v := demoView(t)
	for _, test := range []struct {
		number, caseName, where string
		before, low, high       float64
		steps                   float64
		want                    string
	}{
		{"brake_steer", "braking", "", 0.02, -0.03, -0.03, 5,
			"Under braking the wheels now toe out, the other way round: less steady (0.020 → -0.030 deg/kN, 5 steps)."},
		{"longitudinal_compliance", "impact", "", 2, 1.2, 1.2, 8,
			"Over a strip the wheel moves back 40 % less: harsher (2.00 → 1.20 mm/kN, 8 steps)."},
		{"longitudinal_compliance", "impact", "", 1, 2.4, 2.4, 14,
			"Over a strip the wheel moves back 2.4 times as much: softer (1.00 → 2.40 mm/kN, 14 steps)."},
		{"lateral_force_steer", "cornering", "", -0.1, -0.09, -0.065, 3.5,
			"Under a side force the outer wheel toes out 10 to 35 % less: less oversteer (-0.100 → -0.090 to -0.065 deg/kN, up to 3.5 steps)."},
		{"lateral_force_steer", "cornering", "", -0.1, -0.12, -0.09, 2,
			"Under a side force the outer wheel toes out 10 % less to 20 % more (-0.100 → -0.120 to -0.090 deg/kN, up to 2 steps)."},
		{"lateral_force_steer", "cornering", "", -0.05, -0.02, 0.01, 6,
			"Under a side force the outer wheel toes out at one end of the range, toes in at the other (-0.050 → -0.020 to 0.010 deg/kN, up to 6 steps)."},
		{"lateral_force_steer", "cornering", "", -0.05, 0.01, 0.03, 8,
			"Under a side force the outer wheel now toes in, the other way round: understeer instead of oversteer (-0.050 → 0.010 to 0.030 deg/kN, up to 8 steps)."},
		{"bump_steer", "heave", "", 0, 0.4, 0.4, 2,
			"Over a bump under both wheels the wheel now toes in (0.00 → 0.40 deg/m, 2 steps)."},
		{"bump_steer", "heave", "", 0.4, 0, 0, 2,
			"Over a bump under both wheels the wheel no longer toes in (0.40 → 0.00 deg/m, 2 steps)."},
		{"wheel_rate", "heave", "", 20, 21, 21, 2,
			"Over a bump under both wheels the wheel rate is 5 % higher: harder springing (20.00 → 21.00 N/mm, 2 steps)."},
		{"lateral_compliance", "cornering", "patch", 0.8, 0.6, 0.6, 2,
			"Under a side force the outer wheel at the contact point gives way inward 25 % less: more precise (0.80 → 0.60 mm/kN, 2 steps)."},
		{"brake_steer", "braking", "", 0.001, 0.03, 0.03, 2.9,
			"Under braking the wheels toe in more: steadier (0.001 → 0.030 deg/kN, 2.9 steps)."},
		{"brake_steer", "braking", "", -0.009, -0.03, -0.002, 2.1,
			"Under braking the wheels toe out less or more (-0.009 → -0.030 to -0.002 deg/kN, up to 2.1 steps)."},
		{"brake_steer", "braking", "", 0.0001, -0.0001, -0.0001, 0.02,
			"Under braking the wheels as before, to the digits that are printed (0.000 → 0.000 deg/kN, less than a step)."},
		{"track_change", "heave", "", 10.9, 12.2, 12.2, 1.3,
			"Over a bump under both wheels the track grows 12 % more (10.9 → 12.2 mm/m, 1.3 steps)."},
		{"aligning_steer", "aligning", "", -0.02, -0.05, -0.05, 3,
			"Under the tyres' aligning torque the axle steers against the torque 2.5 times as much: more understeer (-0.020 → -0.050 deg/(100 N·m), 3 steps)."},
		{"total_outer_toe", "state_cornering", "", -0.06, 0.03, 0.03, 9,
			"Cornering at 0.4 g the outer wheel now toes in, the other way round: understeer instead of oversteer (-0.060 → 0.030 deg, 9 steps)."},
		{"brake_steer", "braking", "", 0.0202, 0.0198, 0.0198, 0.04,
			"Under braking the wheels toe in 2 % less: less steady (0.020 → 0.020 deg/kN, less than a step)."},
	} {
		index, err := v.study.Find(test.number, test.caseName, test.where)
		if err != nil {
			t.Fatal(err)
		}
		ch := swapping.Change{Index: index, Before: test.before, Low: test.low, High: test.high, Steps: test.steps}
		if got := v.sentence(&ch, false); got != test.want {
			t.Errorf("got:  %s\nwant: %s", got, test.want)
		}
	}
}

// TestEverySentenceReads: every named number of the demo has a sentence that starts
// with a capital, ends with a stop and names no verb twice.
func TestEverySentenceReads(t *testing.T) {
	v := demoView(t)
	for i := range v.numbers {
		if v.numbers[i].Generic {
			continue
		}
		for _, after := range []float64{-2, -0.5, 0.5, 2} {
			s := v.sentence(&swapping.Change{Index: i, Before: 1, Low: after, High: after, Steps: 3}, false)
			if s[0] < 'A' || s[0] > 'Z' || !strings.HasSuffix(s, ".") || strings.Contains(s, "  ") || strings.Contains(s, "is is") {
				t.Errorf("%s@%s: %q", v.numbers[i].Name, v.numbers[i].Case, s)
			}
		}
	}
}

// TestSideBySideFitsThePage with any number of sets and with ranges.
func TestSideBySideFitsThePage(t *testing.T) {
	axle, _ := demo.Open("estate-rubber")
	file, err := axlefile.Parse("axle.toml", axle.Text)
	if err != nil {
		t.Fatal(err)
	}
	var asked [][]axlefile.SetText
	for _, rule := range []string{"rates=1.5", "polyurethane=80,bonded=true", "hardness=+10", "rates=0.5", "rates=2", "polyurethane=90,bonded=true,side=left"} {
		asked = append(asked, []axlefile.SetText{{Name: rule, Short: true}})
		sets, err := file.ReadSets(asked)
		if err != nil {
			t.Fatal(err)
		}
		comparison, err := swapping.Compare(file, sets)
		if err != nil {
			t.Fatal(err)
		}
		p := &Page{}
		(&Swapped{Title: "t", Source: "s", Comparison: comparison}).Text(p)
		for k := range asked {
			if !strings.Contains(p.String(), "WHAT CHANGES with "+setName(k)+":") {
				t.Errorf("%d sets: nothing is said of %s", len(asked), setName(k))
			}
		}
		for _, line := range strings.Split(p.String(), "\n") {
			if n := len([]rune(line)); n > pageWidth {
				t.Errorf("%d sets: %d signs: %s", len(asked), n, line)
			}
		}
	}
}

// TestSentencesSayTheSign holds the verbs of every named number against its sign
// words in the tables.
func TestSentencesSayTheSign(t *testing.T) {
	verbs := map[string]string{
		"toe-in": "toe in, toes in", "toe-out": "toe out, toes out", "toe-in: understeer": "toes in, toe in", "toe-out: oversteer": "toes out, toe out",
		"with the force: understeer": "steers with the force", "against the force: oversteer": "steers against the force",
		"with the torque: oversteer": "steers with the torque", "against the torque": "steers against the torque",
		"top outward": "leans top outward", "top inward": "leans top inward", "rearward": "moves back", "forward": "moves forward",
		"inward": "gives way inward", "outward": "gives way outward", "top forward": "turns its top forward", "top rearward": "turns its top rearward",
		"above ground": "lies above ground", "below ground": "lies below ground", "body held down": "is held down", "body lifted": "is lifted",
		"body leans outward": "leans outward", "body leans inward": "leans inward", "larger": "grows", "smaller": "shrinks",
		"behind the wheel axis": "lies behind the wheel axis", "ahead of the wheel axis": "lies ahead of the wheel axis",
	}
	v := demoView(t)
	for i := range v.numbers {
		n := &v.numbers[i]
		if n.Generic || n.Signs.Plus == "" {
			continue
		}
		for _, sign := range []float64{1, -1} {
			word := n.Signs.Plus
			if sign < 0 {
				word = n.Signs.Minus
			}
			s := v.sentence(&swapping.Change{Index: i, Before: -30 * sign, Low: 30 * sign, High: 30 * sign, Steps: 3}, true)
			if !slices.ContainsFunc(strings.Split(verbs[word], ", "), func(verb string) bool { return verb != "" && strings.Contains(s, " now "+verb+",") }) {
				t.Errorf("%s@%s: %q is said as %q", n.Name, n.Case, word, s)
			}
			// what a named sign means stands behind the colon
			if _, meant, two := strings.Cut(word, ": "); two && n.Name != "total_outer_toe" && !strings.Contains(s, ": "+meant+" instead of") {
				t.Errorf("%s@%s: %q means %q", n.Name, n.Case, word, s)
			}
		}
	}
}

// TestHarsherSaysWhere: where only one end of a range is stiffer over a strip, the
// caution says so.
func TestHarsherSaysWhere(t *testing.T) {
	axle, err := demo.Open("estate-rubber")
	if err != nil {
		t.Fatal(err)
	}
	file, err := axlefile.Parse("axle.toml", axle.Text)
	if err != nil {
		t.Fatal(err)
	}
	for rule, want := range map[string]string{
		"polyurethane=60,bonded=true": "Harsher ride at the stiff end of the range:", "polyurethane=80,bonded=true": "Harsher ride:", "rates=0.5": "",
	} {
		sets, err := file.ReadSets([][]axlefile.SetText{{{Name: rule, Short: true}}})
		if err != nil {
			t.Fatal(err)
		}
		comparison, err := swapping.Compare(file, sets)
		if err != nil {
			t.Fatal(err)
		}
		p := &Page{}
		(&Swapped{Comparison: comparison}).Text(p)
		if text := p.String(); !strings.Contains(text, want) || want == "" && strings.Contains(text, "Harsher") {
			t.Errorf("%s: %q is not said", rule, want)
		}
	}
}
