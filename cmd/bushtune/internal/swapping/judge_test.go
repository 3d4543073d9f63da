package swapping_test

import (
	"fmt"
	"strings"
	"testing"

	"bushtune/bushing/quantity"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/swapping"
)

// change finds the change of one number by a set; its steps are 0 if there is none.
func change(t *testing.T, c *swapping.Comparison, number, caseName string) swapping.Change {
	t.Helper()
	index, err := c.Base.Find(number, caseName, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, ch := range c.Changes(0, everyNumber) {
		if ch.Index == index {
			return ch
		}
	}
	return swapping.Change{}
}

// TestVerdicts judges one firmer set by wants and by what is usual: it cuts the
// longitudinal compliance from 1.90 to 1.18 mm/kN.
func TestVerdicts(t *testing.T) {
	plain := demoText(t, demo.Default)
	plain = plain[:strings.Index(plain, "[want.corner]")]
	firm := []string{"[bush.pivot]\nsoft = 900\n"}
	for _, test := range []struct {
		want    string
		verdict swapping.Verdict
	}{
		{"", swapping.Worse}, // usual: soft over a strip
		{"make = \"large\"", swapping.Worse},
		{"make = \"small\"", swapping.Better},
		{"at_least = 1", swapping.Kept},
		{"at_least = 1.5", swapping.Worse},
		{"at_most = 1.5", swapping.Better},
		{"at_most = 3", swapping.Kept},
		{"target = 1", swapping.Better},
		{"target = 2", swapping.Worse},
		{"at_most = 3\n[want.second]\nnumber = \"longitudinal_compliance\"\nat_least = 1.8", swapping.Worse}, // the stricter one
	} {
		text := plain
		if test.want != "" {
			text += "[want.strip]\nnumber = \"longitudinal_compliance\"\n" + test.want + "\n"
		}
		ch := change(t, compare(t, parse(t, text), firm), "longitudinal_compliance", "impact")
		if ch.Verdict != test.verdict || (ch.Want == "") != (test.want == "") {
			t.Errorf("want %q: %q by %q, want %q", test.want, ch.Verdict, ch.Want, test.verdict)
		}
	}
}

// TestAWorseIsNeverHidden crosses a limit by less than a step.
func TestAWorseIsNeverHidden(t *testing.T) {
	plain := demoText(t, demo.Default)
	base := compare(t, parse(t, plain), []string{"rates=1.02"})
	if ch := change(t, base, "brake_recession", "braking"); ch.Steps != 0 {
		t.Fatalf("2 %% more rate changes the brake recession by %v steps", ch.Steps)
	}
	limited := compare(t, parse(t, plain+"[want.brake]\nnumber = \"brake_recession\"\nat_least = 1.9\n"), []string{"rates=1.02"})
	if ch := change(t, limited, "brake_recession", "braking"); ch.Verdict != swapping.Worse || ch.Steps >= 1 || ch.Want != "brake" {
		t.Errorf("a limit that is lost is told as %+v", ch)
	}
}

// TestChangesAreOrdered by their size in steps.
func TestChangesAreOrdered(t *testing.T) {
	c := compare(t, parse(t, demoText(t, demo.Default)), []string{"rates=1.6"})
	changes := c.Changes(0, everyNumber)
	for i := 1; i < len(changes); i++ {
		if quantity.Exceeds(changes[i].Steps, changes[i-1].Steps) {
			t.Errorf("change %d is larger than the one before", i)
		}
	}
	if len(changes) < 5 {
		t.Errorf("only %d changes", len(changes))
	}
}

// TestDepends: a soft polyurethane may be softer or stiffer than natural rubber of 55
// IRHD (0.55 to 1.04 against 0.81 MPa), so what is better at one end is worse at the
// other; a hard one is worse over a strip at both.
func TestDepends(t *testing.T) {
	file := parse(t, rubberPivots(t, solid, ""))
	for rule, verdict := range map[string]swapping.Verdict{
		"polyurethane=60,bonded=true": swapping.Depends, "polyurethane=80,bonded=true": swapping.Worse,
	} {
		ch := change(t, compare(t, file, []string{rule}), "longitudinal_compliance", "impact")
		if ch.Verdict != verdict || ch.Low >= ch.High || ch.Steps < 1 || (ch.Low < ch.Before && ch.Before < ch.High) != (verdict == swapping.Depends) {
			t.Errorf("%s: %+v, want %q", rule, ch, verdict)
		}
	}
}

// TestARangeAroundWhatIsWanted: both ends miss a target by more than before, but the
// target itself lies between, so it depends; likewise a number that had best be nothing.
func TestARangeAroundWhatIsWanted(t *testing.T) {
	text := rubberPivots(t, solid, "")
	text = text[:strings.Index(text, "[want.corner]")]
	const rule = "polyurethane=60,bonded=true"
	plain := compare(t, parse(t, text), []string{rule})
	strip := change(t, plain, "longitudinal_compliance", "impact")
	target := strip.Before * 1.03
	if strip.Low >= 0.95*target || strip.High <= 1.05*target {
		t.Fatalf("%+v does not lie around %v", strip, target)
	}
	wanted := compare(t, parse(t, fmt.Sprintf("%s[want.strip]\nnumber = \"longitudinal_compliance\"\ntarget = %v\n", text, target)), []string{rule})
	if ch := change(t, wanted, "longitudinal_compliance", "impact"); ch.Verdict != swapping.Depends || ch.Want != "strip" {
		t.Errorf("around a target: %+v", ch)
	}
	found := false
	uneven := compare(t, parse(t, demoText(t, "estate-rubber")), []string{"polyurethane=57,bonded=true,side=left"})
	for _, ch := range uneven.Changes(0, everyNumber) {
		if n := uneven.Base.Numbers()[ch.Index]; n.Name == "impact_toe" && ch.Low < 0 && ch.High > 0 {
			if found = true; ch.Verdict != swapping.Depends && ch.Verdict != swapping.Better {
				t.Errorf("%s@%s: %+v holds nothing at all, which is best", n.Name, n.Case, ch)
			}
		}
	}
	if !found {
		t.Error("no impact toe goes through nothing")
	}
}
