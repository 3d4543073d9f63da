package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/show"
)

// equalTo is how far two figures that are computed on two ways may lie apart, of
// themselves or of one unit: rounding at condition numbers up to 1e6.
const equalTo = 1e-9

func close(a, b float64) bool { return math.Abs(a-b) <= equalTo*math.Max(1, math.Abs(b)) }

func records(t *testing.T, r ran) []show.Record {
	t.Helper()
	var all []show.Record
	if err := json.Unmarshal([]byte(r.out), &all); err != nil {
		t.Fatalf("%v; %s", err, r.err)
	}
	return all
}

// TestJSONAndCSVSayTheSame turns every object of the JSON into a row.
func TestJSONAndCSVSayTheSame(t *testing.T) {
	inFolder(t, "hatchback-link")
	writeText(t, "mistakes.toml", mistakes)
	for _, line := range []string{"solve --matrix --loads --readings", "tune --demo hatchback-plain", "tune --demo van-beam-axle", "travel --points 3", "sweep --points 3", "solve --at-size 3", "fit", "fit --without-outliers", "choose --demo hatchback-angled --best 2", "check hatchback-link.toml", "check mistakes.toml",
		"rubber", "rubber --demo spring-pad", "rubber --demo urethane-bush"} {
		rows, err := csv.NewReader(strings.NewReader(bushtune(t, line+" --format csv").out)).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		var objects []map[string]any
		if err := json.Unmarshal([]byte(bushtune(t, line+" --format json").out), &objects); err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		if len(rows) != len(objects)+1 || len(objects) < 3 {
			t.Fatalf("%s: %d rows, %d objects", line, len(rows), len(objects))
		}
		for i, object := range objects {
			if len(object) != len(rows[0]) {
				t.Fatalf("%s: object %d has %d keys, the header %d", line, i, len(object), len(rows[0]))
			}
			for j, key := range rows[0] {
				if want := asCell(object[key]); rows[i+1][j] != want {
					t.Errorf("%s: row %d %s is %q, the JSON says %q", line, i+1, key, rows[i+1][j], want)
				}
			}
		}
	}
}

// asCell writes a JSON value as the CSV does.
func asCell(v any) string {
	switch x := v.(type) {
	case string:
		return x
	case float64:
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return ""
}

// TestEveryFigureIsComplete: a record of a number carries all that a person
// would need beside it.
func TestEveryFigureIsComplete(t *testing.T) {
	for _, name := range demo.Names() {
		for _, command := range []string{"solve", "tune"} {
			stages := map[string]int{}
			for _, r := range records(t, bushtune(t, command+" --format json --demo "+name)) {
				if r.StaticLoad != "included" && r.StaticLoad != "not included" {
					t.Errorf("%s %s: %+v does not tell about the static load", command, name, r)
				}
				if r.Kind != "figure" {
					continue
				}
				stages[r.Stage]++
				if r.Number == "" || r.Case == "" || r.Value == nil || r.Pads != "level" && r.Pads != "floating" {
					t.Errorf("%s %s: incomplete %+v", command, name, r)
				}
			}
			if command == "solve" && stages[""] < 40 || command == "tune" && (stages["before"] < 40 || stages["before"] != stages["after"]) {
				t.Errorf("%s %s: figures by stage %v", command, name, stages)
			}
		}
	}
}

// TestPartsSumToTheirNumber adds the records of every number that has parts.
func TestPartsSumToTheirNumber(t *testing.T) {
	for _, name := range demo.Names() {
		all := records(t, bushtune(t, "solve --format json --demo "+name+" --parts lateral_force_steer --parts longitudinal_compliance --parts brake_steer --parts lateral_compliance@cornering:patch --parts total_outer_toe"))
		value, sum := map[string]float64{}, map[string]float64{}
		for _, r := range all {
			key := r.Number + "@" + r.Case + ":" + r.Where
			switch r.Kind {
			case "figure":
				value[key] = *r.Value
			case "part":
				sum[key] += *r.Value
			}
		}
		if len(sum) != 5 {
			t.Errorf("%s: parts of %d numbers", name, len(sum))
		}
		for key, s := range sum {
			if !close(s, value[key]) {
				t.Errorf("%s: the parts of %s sum to %v, it is %v", name, key, s, value[key])
			}
		}
	}
}

// TestPartsAreNoRounding: no part is told that is rounding of nothing, and so is there on
// one processor and not on another.
func TestPartsAreNoRounding(t *testing.T) {
	for _, name := range demo.Names() {
		file, err := axlefile.Parse(name, []byte(builtInText(t, name)))
		if err != nil {
			t.Fatal(err)
		}
		study, err := cases.NewStudy(file.Axle, file.Vehicle, file.Cases, file.States)
		if err != nil {
			t.Fatal(err)
		}
		for i, n := range study.Numbers() {
			parts, largest := study.Parts(i), 0.0
			for _, p := range parts {
				largest = max(largest, math.Abs(p.Value))
			}
			for _, p := range parts {
				if math.Abs(p.Value) < 1e-13*largest {
					t.Errorf("%s: %s in %s: %s %s has the part %v, the largest is %v", name, n.Name, n.Case, p.Element, p.Line, p.Value, largest)
				}
			}
		}
	}
}

// TestMatrixIsSymmetricInOneUnit turns the written units back: mm per 100 N·m
// against deg per kN are the same entry in rad per N.
func TestMatrixIsSymmetricInOneUnit(t *testing.T) {
	entries := map[[2]string]float64{}
	for _, r := range records(t, bushtune(t, "solve --matrix --format json")) {
		if r.Kind != "matrix" {
			continue
		}
		factor := 1.0
		if strings.HasPrefix(r.Unit, "deg") {
			factor = math.Pi / 180
		}
		if strings.HasSuffix(r.Unit, "/kN") {
			factor *= 100 // per 100 kN, so that 100 N·m = 100 000 N·mm compares
		}
		entries[[2]string{r.Name, r.Line}] = *r.Value * factor
	}
	if len(entries) != 144 {
		t.Fatalf("%d entries", len(entries))
	}
	for at, v := range entries {
		if w := entries[[2]string{at[1], at[0]}]; math.Abs(v-w) > 1e-9*math.Max(1, math.Abs(v)) {
			t.Errorf("%v is %v, mirrored %v", at, v, w)
		}
	}
}

// TestSameBytesOnAnyNumberOfProcessors tunes with one and with two.
func TestSameBytesOnAnyNumberOfProcessors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for _, name := range []string{"hatchback-link", "estate-bar", "van-beam-axle"} {
		var answers []string
		for _, n := range []int{1, 2, 2} {
			runtime.GOMAXPROCS(n)
			answers = append(answers, bushtune(t, "tune --format json --seed 7 --demo "+name).out)
		}
		if answers[0] != answers[1] || answers[1] != answers[2] || len(answers[0]) < 1000 {
			t.Errorf("%s: answers differ", name)
		}
	}
}

func TestReadingsAreAllThere(t *testing.T) {
	short, long := records(t, bushtune(t, "solve --format json")), records(t, bushtune(t, "solve --format json --readings"))
	isReading := func(r show.Record) bool { return strings.HasPrefix(r.Number, "left_wheel_toe") }
	if slices.ContainsFunc(short, isReading) || !slices.ContainsFunc(long, isReading) {
		t.Errorf("readings: %d records without, %d with", len(short), len(long))
	}
}

// TestKindsAreDocumented: every kind and every name of a column stands in the
// README.
func TestKindsAreDocumented(t *testing.T) {
	text := readme(t)
	inFolder(t, "hatchback-link")
	writeText(t, "own.toml", strings.Split(free, "[bush.pivot]")[0]+held+"[bush.pivot.right]\nsoft = 500\n[case.kerb]\npads = \"level\"\nleft = { force = [-1, 0, 0] }\n")
	bushtune(t, "demo rig --out rig.csv")
	writeText(t, "shifted.csv", shiftedRig(t, readText(t, "rig.csv")))
	words := map[string]bool{}
	for _, line := range []string{"solve --matrix --loads", "travel --points 3", "sweep --points 3", "tune --demo hatchback-link", "tune --demo hatchback-plain", "choose --demo hatchback-angled --best 2",
		"fit", "fit hatchback-link.toml shifted.csv --without-outliers", "swap --demo hatchback-link firm-pivots", "rubber", "solve --at-size 4"} {
		for _, r := range records(t, bushtune(t, line+" --format json")) {
			words[r.Kind] = true
		}
	}
	var remarks []show.Remark
	if err := json.Unmarshal([]byte(bushtune(t, "check hatchback-link.toml own.toml --format json").out), &remarks); err != nil {
		t.Fatal(err)
	}
	for _, r := range remarks {
		words[r.Kind] = true
	}
	for _, name := range append(show.Record{}.Header(), show.Remark{}.Header()...) {
		words[name] = true
	}
	if len(words) < 33 {
		t.Errorf("only %d words", len(words))
	}
	for word := range words {
		if !strings.Contains(text, "`"+word+"`") {
			t.Errorf("README does not explain `%s`", word)
		}
	}
}
