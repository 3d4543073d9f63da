package main

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/show"
)

// stateSizes are the largest accelerations of the built-in states in g, by which sweep
// measures them.
var stateSizes = map[string]string{"state_cornering": "0.4", "state_braking": "0.3", "state_combined": "0.3"}

// sameState is how far two ways to one state may end apart, in deg: a thousandth of
// the last digit that is printed.
const sameState = 1e-6

// figuresOfStates picks toe of the outer wheel and roll angle of every state from records,
// under one name whether they are numbers or curves at their last point.
func figuresOfStates(all []show.Record, pass func(r *show.Record) bool) map[string]float64 {
	found := map[string]float64{}
	for i := range all {
		r := &all[i]
		name := r.Number
		if name == "wheel_toe" && r.Where == "outer" {
			name = "total_outer_toe"
		}
		if (name == "total_outer_toe" || name == "roll_angle") && strings.HasPrefix(r.Case, "state_") && r.Value != nil && pass(r) {
			found[name+"@"+r.Case] = *r.Value
		}
	}
	return found
}

// TestStatesReadTheSameEverywhere: toe and roll angle of every state of every built-in
// axle are one figure in solve, in its records, in a sweep, under --at-size, in a swap,
// and before and after a tune, whose file solves and sweeps to the same again.
func TestStatesReadTheSameEverywhere(t *testing.T) {
	for _, name := range demo.Names() {
		inFolder(t, name)
		stage := func(stage, line string) func(r *show.Record) bool {
			return func(r *show.Record) bool {
				return r.Kind == "figure" && r.Stage == stage && strings.Contains(line, r.Line)
			}
		}
		compare := func(where string, got, want map[string]float64) {
			t.Helper()
			for key, w := range want {
				if g, known := got[key]; !known || math.Abs(g-w) > sameState {
					t.Errorf("%s: %s is %v in %s (known: %v), %v in solve", name, key, g, where, known, w)
				}
			}
		}
		check := func(file string) map[string]float64 {
			solved := figuresOfStates(records(t, bushtune(t, "solve --format json "+file)), stage("", ""))
			if len(solved) < 6 {
				t.Fatalf("%s: %d figures of states in %s", name, len(solved), file)
			}
			swept := map[string]float64{}
			for key := range solved {
				state := key[strings.Index(key, "@")+1:]
				to := stateSizes[strings.TrimSuffix(state, "_turn_right")]
				all := records(t, bushtune(t, "sweep --format json --points 4 --case "+state+" --to "+to+" "+file))
				for k, v := range figuresOfStates(all, func(r *show.Record) bool { return r.Kind == "curve" && r.Stage == "total" }) {
					swept[k] = v
				}
			}
			compare("a sweep of "+file, swept, solved)
			return solved
		}
		solved := check(name + ".toml")
		compare("solve --at-size", figuresOfStates(records(t, bushtune(t, "solve --at-size 4 --format json "+name+".toml")), stage("total", "lateral acceleration braking deceleration")), solved)
		same := "rates=1"
		if !strings.Contains(readText(t, name+".toml"), "[bush.") { // a rule on links
			same = "same.toml"
			writeText(t, same, "[link.upper]\n"+regexp.MustCompile(`(?m)^inner_rate.*$`).FindString(readText(t, name+".toml"))+"\n")
		}
		swapped := records(t, bushtune(t, "swap --at-size 4 --format json "+name+".toml "+same))
		compare("swap, as it is", figuresOfStates(swapped, stage("before", "")), solved)
		compare("swap, with the set", figuresOfStates(swapped, stage("after", "")), solved)
		compare("swap --at-size", figuresOfStates(swapped, stage("before", "total")), solved)
		compare("swap --at-size, with the set", figuresOfStates(swapped, stage("after", "total")), solved)
		tuned := records(t, bushtune(t, "tune --starts 0 --out tuned.toml --format json "+name+".toml"))
		compare("tune, before", figuresOfStates(tuned, stage("before", "")), solved)
		after := figuresOfStates(tuned, stage("after", ""))
		compare("solve of the tuned file", check("tuned.toml"), after)

		text := bushtune(t, "solve "+name+".toml").out
		for key, value := range solved {
			if strings.HasPrefix(key, "total_outer_toe") && !regexp.MustCompile(`total toe of the outer wheel +`+strconv.FormatFloat(value, 'f', 3, 64)+" ").MatchString(text) {
				t.Errorf("%s: %s = %.3f is not in the text", name, key, value)
			}
		}
	}
}

// TestStatesOutOfReachAreTold: a state beyond what the axle holds, and one that lifts a
// wheel, leave their numbers empty with the reason and its g; everything else is there.
func TestStatesOutOfReachAreTold(t *testing.T) {
	for name, c := range map[string]struct{ lateral, says string }{
		"van-beam-axle":   {"1.6", `no balance found beyond 1\.\d\d g|the inner wheel lifts at 1\.\d\d g lateral`},
		"hatchback-plain": {"1.4", `the inner wheel lifts at [01]\.\d\d g lateral`},
	} {
		inFolder(t, name)
		writeText(t, "fast.toml", readText(t, name+".toml")+fmt.Sprintf("\n[state.fast]\nlateral = %s\n", c.lateral))
		r := bushtune(t, "solve --loads fast.toml")
		if r.code != exitAnswer {
			t.Fatal(name, r.code, r.err)
		}
		line := regexp.MustCompile(`total toe of the outer wheel +none +deg +(` + c.says + `)`)
		if !line.MatchString(r.out) || !strings.Contains(joinLines(r.out), "has no figures") {
			t.Errorf("%s: not told in\n%s", name, r.out)
		}
		plain := bushtune(t, "solve "+name+".toml")
		for _, l := range strings.Split(plain.out, "\n") {
			if strings.HasPrefix(l, "  lateral-force steer") && !strings.Contains(joinLines(r.out), joinLines(l)) {
				t.Errorf("%s: %q is missing", name, l)
			}
		}
		for _, record := range records(t, bushtune(t, "solve --format json fast.toml")) {
			if record.Case == "fast" && record.Kind == "figure" && (record.Value != nil || record.Words == "") {
				t.Errorf("%s: %+v", name, record)
			}
		}
	}
}
