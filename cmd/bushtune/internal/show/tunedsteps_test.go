package show

import (
	"context"
	"os"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// TestStepsAreSaid: the steps, a bound between them, what was only put on the nearest
// step, what rounding costs, and that there are none.
func TestStepsAreSaid(t *testing.T) {
	thinWall, err := os.ReadFile("../../testdata/thin-wall.toml")
	if err != nil {
		t.Fatal(err)
	}
	tune := func(text string) *sides {
		o, err := tuning.Tune(context.Background(), fileOf(t, "estate-rubber", func(string) string {
			head, _, _ := strings.Cut(string(thinWall), "[search]")
			return head + "[search]\n" + text
		}), optimize.Options{Starts: 1})
		if err != nil {
			t.Fatal(err)
		}
		return (&Tuned{Outcome: o}).sides()
	}
	const (
		soft  = "bush.pivot.rubber.hardness = { from = 47.5, to = 65 }\n[want.strip]\nnumber = \"longitudinal_compliance\"\nmake = \"large\"\n"
		held  = "bush.pivot.rubber.hardness = { from = 45, to = 65 }\n[want.strip]\nnumber = \"longitudinal_compliance\"\nmake = \"large\"\n[want.side]\nnumber = \"lateral_compliance\"\nat_most = 1.2\n"
		steps = "steps of 0.1 mm, 1 deg and 1 point of hardness"
	)
	for text, want := range map[string]string{
		soft: "In " + steps + " or on a bound, which costs nothing that can be seen.",
		held: "In " + steps + ", which costs 0.01 mm/kN of longitudinal compliance.",
	} {
		if got := tune(text).stepsSentence(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	s := tune(held)
	if full := s.inFullDigits(); full != "Told of the best in full digits: bush.pivot.rubber.hardness 55.84 IRHD." || s.Written[0] != 56 {
		t.Errorf("%v: %s", s.Written, full)
	}
	if got := s.reason(); got != "Every limit holds. In full digits no small change of the values does better; of the 2 combinations of steps beside them none does better than this one." {
		t.Error(got)
	}
	s.Rounding.Stepped, s.Rounding.Nearest = make([]int, 8), 2
	if got := s.stepsSentence(); !strings.HasSuffix(got, " Of these 8 dimensions the 2 that matter least were only put on the nearest step.") {
		t.Error(got)
	}
	s.Rounding.Refused = true
	if got := s.stepsSentence(); got != "Not rounded: beside these values no "+steps+" keep every limit that is met here." || s.inFullDigits() != "" {
		t.Error(got)
	}
	s.Rounding = tuning.Rounding{}
	for _, r := range s.records() {
		if r.Line == "steps" || r.Line == "value in full digits" || s.stepsSentence() != "" {
			t.Errorf("steps are told of an axle without: %+v", r)
		}
	}
}

// TestPlacesOnSteps: a parameter that leaves its bound for the sake of round
// dimensions is not said to be on it.
func TestPlacesOnSteps(t *testing.T) {
	o, err := tuning.Tune(context.Background(), fileOf(t, "estate-rubber", nil), optimize.Options{Starts: 1})
	if err != nil {
		t.Fatal(err)
	}
	s := (&Tuned{Outcome: o}).sides()
	bounds := 0
	for i, q := range s.Parameters {
		on := s.Written[i] == q.From || s.Written[i] == q.To
		if strings.Contains(s.place(i), "bound") != on {
			t.Errorf("%s at %v: %q", q.Path, s.Written[i], s.place(i))
		}
		if s.X[i] == q.To && !on {
			bounds++
		}
	}
	if bounds != 1 {
		t.Errorf("%d parameters have left their bound: the test is to see one", bounds)
	}
}
