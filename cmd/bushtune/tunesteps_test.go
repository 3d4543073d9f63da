package main

import (
	"strings"
	"testing"
)

// TestStepsInAnswerAndFile: what MOVED, the records and the new file say of a
// dimension is the same, and the exit code is that of the values on steps.
func TestStepsInAnswerAndFile(t *testing.T) {
	inFolder(t, "estate-rubber")
	r := bushtune(t, "tune estate-rubber.toml --out new.toml")
	if r.code != exitAnswer {
		t.Fatal(r.code, r.err)
	}
	answer, written := strings.Join(strings.Fields(r.out), " "), readText(t, "new.toml")
	values := map[string]float64{}
	said := ""
	for _, record := range records(t, bushtune(t, "tune estate-rubber.toml --format json")) {
		switch {
		case record.Kind == "parameter" && record.Line == "value" && record.Stage == "after":
			values[record.Name] = *record.Value
		case record.Kind == "parameter" && record.Line == "value in full digits":
			values["full "+record.Name] = *record.Value
		case record.Kind == "search" && record.Line == "steps":
			said = record.Words
		}
	}
	for name, line := range map[string]string{
		"bush.pivot.rubber.hardness": "rubber.hardness = 61 ",
		"bush.pivot.rubber.void_arc": "rubber.void_arc = 122 ",
		"bush.pivot.rubber.length":   "rubber.length = 48\n",
	} {
		_, number, _ := strings.Cut(strings.TrimSpace(line), " = ")
		if !strings.Contains(written, line) || number != asCell(values[name]) || !strings.Contains(answer, name+" ") || !strings.Contains(answer, " "+number+" ") {
			t.Errorf("%s: %v in records, file:\n%s", name, values[name], written)
		}
	}
	if values["full bush.pivot.rubber.hardness"] == values["bush.pivot.rubber.hardness"] {
		t.Error("no value in full digits")
	}
	for _, words := range []string{said, "In steps of 0.1 mm, 1 deg and 1 point of hardness, which costs 0.02 mm/kN of longitudinal compliance.", "Told of the best in full digits: bush.pivot.plan 35 deg, bush.pivot.rubber.hardness 60.44 IRHD"} {
		if words == "" || !strings.Contains(answer, words) {
			t.Errorf("%q is not said in\n%s", words, r.out)
		}
	}
	solved := bushtune(t, "solve new.toml")
	for _, number := range []string{"0.74", "1.23"} {
		if !strings.Contains(answer, " "+number+" ") || !strings.Contains(solved.out, " "+number+" ") {
			t.Errorf("%s is not in both answers", number)
		}
	}
}

// TestStepsThatMissATarget: a target that only full digits meet is not called met,
// nor is the exit code that of success.
func TestStepsThatMissATarget(t *testing.T) {
	inFolder(t, "estate-rubber")
	head, _, _ := strings.Cut(readText(t, "estate-rubber.toml"), "[search]")
	writeText(t, "target.toml", head+`[search]
bush.pivot.rubber.hardness = { from = 45, to = 65 }
[want.sideways]
number = "lateral_compliance"
target = 1.2
per = 0.001
`)
	r := bushtune(t, "tune target.toml --out new.toml")
	answer := strings.Join(strings.Fields(r.out), " ")
	if r.code != exitNotReached || !strings.Contains(answer, "NOT REACHED, the closest is shown") || !strings.Contains(answer, "What stopped it: the steps of a workshop") || !strings.Contains(answer, "which moves lateral compliance at the wheel centre 0.01 mm/kN away from its target") {
		t.Errorf("code %d:\n%s", r.code, r.out)
	}
	if whole := "rubber.hardness = 56 "; !strings.Contains(readText(t, "new.toml"), whole) {
		t.Errorf("no %q in\n%s", whole, readText(t, "new.toml"))
	}
}
