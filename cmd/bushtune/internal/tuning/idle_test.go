package tuning

import (
	"context"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/optimize"
)

// TestIdleParametersStay: what changes none of the wanted numbers keeps its
// present value and is named; the others end where they end without it.
func TestIdleParametersStay(t *testing.T) {
	axle, err := demo.Open("hatchback-link")
	if err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut(string(axle.Text), "[search]")
	_, wants, _ := strings.Cut(rest, "[want.")
	const (
		idle   = "bush.pivot.max_radial_load = { from = 100, to = 20000 }\nbush.pivot.max_axial_load = { from = 100, to = 20000 }\n"
		turned = "bush.pivot.clock = { from = -90, to = 90 }\n"
	)
	tuned := func(search string) *Outcome {
		o, err := Tune(context.Background(), parse(t, head+"[search]\n"+search+"[want."+wants), optimize.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	alone, with := tuned(turned), tuned(turned+idle)
	named := map[string]bool{}
	for _, w := range with.Warnings {
		if w.Kind == optimize.NoEffect {
			named[with.Parameters[w.Parameters[0]].Path] = true
		}
	}
	for i, q := range with.Parameters {
		switch {
		case named[q.Path] && with.Written[i] != q.Start:
			t.Errorf("%s changes nothing, yet moved from %v to %v", q.Path, q.Start, with.Written[i])
		case q.Path == "bush.pivot.clock" && with.Written[i] != alone.Written[0]:
			t.Errorf("%s ends at %v beside idle parameters, at %v alone", q.Path, with.Written[i], alone.Written[0])
		}
	}
	if !named["bush.pivot.max_radial_load"] || named["bush.pivot.clock"] || len(with.Agreement.Ends) != len(alone.Agreement.Ends) {
		t.Errorf("named %v; %d ends with idle parameters, %d without", named, len(with.Agreement.Ends), len(alone.Agreement.Ends))
	}
	only := tuned(idle[:strings.Index(idle, "\n")+1])
	if only.Written[0] != only.Parameters[0].Start {
		t.Errorf("an idle parameter alone moved to %v", only.Written[0])
	}
}
