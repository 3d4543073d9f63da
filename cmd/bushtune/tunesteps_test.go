package main

import (
	"math"
	"regexp"
	"strconv"
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
	for _, key := range []string{"rubber.hardness", "rubber.void_arc", "rubber.length"} {
		name := "bush.pivot." + key
		line := regexp.MustCompile(regexp.QuoteMeta(key) + ` = ([\d.]+)\b`).FindStringSubmatch(written)
		if line == nil || line[1] != asCell(values[name]) || !strings.Contains(answer, name+" ") || !strings.Contains(answer, " "+line[1]+" ") {
			t.Errorf("%s: %v in records, %q in the file:\n%s", name, values[name], line, written)
		}
	}
	arc, full := values["bush.pivot.rubber.void_arc"], values["full bush.pivot.rubber.void_arc"]
	if full == arc || arc != math.Round(full) {
		t.Errorf("%v deg in full digits, %v in steps", full, arc)
	}
	told := regexp.MustCompile(`Told of the best in full digits: .*bush\.pivot\.rubber\.void_arc ([\d.]+) deg`).FindStringSubmatch(answer)
	cost := regexp.MustCompile(`In steps of 0\.1 mm, 1 deg and 1 point of hardness, which costs (nothing that can be seen|\d\.\d\d mm/kN of longitudinal compliance)\.`)
	if said == "" || !strings.Contains(answer, said) || told == nil || !printsAs(told[1], full) || !cost.MatchString(answer) {
		t.Errorf("%q, %q are not said in\n%s", said, told, r.out)
	}
	solved := strings.Join(strings.Fields(bushtune(t, "solve new.toml").out), " ")
	for _, number := range []string{"lateral compliance at the wheel centre", "longitudinal compliance"} {
		after := regexp.MustCompile(regexp.QuoteMeta(number) + ` [\d.]+ ([\d.]+) mm/kN`).FindStringSubmatch(answer)
		if after == nil || !strings.Contains(solved, number+" "+after[1]+" mm/kN") {
			t.Errorf("%s: tune says %q, solve another", number, after)
		}
	}
}

// printsAs tells whether a printed number is a value, rounded.
func printsAs(text string, value float64) bool {
	printed, err := strconv.ParseFloat(text, 64)
	return err == nil && math.Abs(printed-value) <= 5e-4*math.Abs(value)
}

// TestStepsThatMissATarget: a target that only full digits meet is not called met,
// nor is the exit code that of success.
func TestStepsThatMissATarget(t *testing.T) {
	head, _, _ := strings.Cut(readText(t, "testdata/thin-wall.toml"), "[search]")
	inFolder(t)
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
