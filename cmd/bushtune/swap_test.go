package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
)

// TestSwapExitCodes runs command lines that fail, and some that do not.
func TestSwapExitCodes(t *testing.T) {
	inFolder(t, "hatchback-link")
	writeText(t, "set.toml", "[bush.pivot]\nsoft = 800\n")
	writeText(t, "wrong.toml", "[bush.pivot]\nsofft = 800\n")
	writeText(t, "mistakes.toml", mistakes)
	writeText(t, "loose.toml", "[bush.pivot]\nsoft = 0\naxial = 0\nstiff = 0\n")
	writeText(t, "one.toml", "[bush.pivot]\nside = \"left\"\n")
	writeText(t, "kit+more.toml", "[bush.pivot]\nsoft = 800\n")
	for _, test := range []struct {
		line string
		code int
		says string
	}{
		{"swap hatchback-link.toml set.toml", exitAnswer, ""},
		{"swap hatchback-link.toml kit+more.toml", exitAnswer, ""},
		{"swap hatchback-link.toml kit+more.toml+rates=2", exitAnswer, ""},
		{"swap hatchback-link.toml rates=2+kit+more.toml", exitAnswer, ""},
		{"swap hatchback-link.toml kit+more.toml+set.toml", exitBadInput, "the set kit+more.toml gives this too"},
		{"swap hatchback-link.toml rates=2+", exitBadInput, "a SET is empty"},
		{"swap hatchback-link.toml one.toml", exitBadInput, "one.toml:2: bush.pivot.side: a set cannot take a part from a side"},
		{"swap hatchback-link.toml set.toml+worn=0.6,free_play=0.5 rates=2 --format csv", exitAnswer, ""},
		{"swap --demo hatchback-link", exitAnswer, ""},
		{"swap rates=1.2 --demo hatchback-plain", exitAnswer, ""},
		{"swap --help", exitAnswer, ""},
		{"swap --demo hatchback-link --at-size 0", exitBadInput, "above zero"},
		{"swap", exitBadInput, "an axle file and at least one set"},
		{"swap hatchback-link.toml", exitBadInput, "an axle file and at least one set"},
		{"swap --demo hatchback-plain", exitBadInput, "no built-in sets"},
		{"swap --demo hatchback-lin rates=2", exitBadInput, "did you mean hatchback-link"},
		{"swap hatchback-link.toml set.toml --format xml", exitBadInput, "there are text, json, csv"},
		{"swap hatchback-link.toml wrong.toml ratess=2", exitBadInput, "wrong.toml:2: bush.pivot.sofft"},
		{"swap hatchback-link.toml wrong.toml ratess=2", exitBadInput, "ratess=2:1: ratess: there is no such key"},
		{"swap hatchback-link.toml wrong.toml hardness=+15", exitBadInput, "hardness=+15:1: hardness: bush.pivot is given by its rates"},
		{"swap hatchback-link.toml hardness=+15", exitBadInput, "give it by its dimensions, rubber = {"},
		{"swap hatchback-link.toml polyurethane=80,bonded=true", exitBadInput, "give it by its dimensions"},
		{"swap --demo estate-rubber polyurethane=80", exitBadInput, "bonded is missing"},
		{"swap --demo estate-rubber polyurethane=80,bonded=false", exitBadInput, "solid = true takes voids"},
		{"swap --demo estate-rubber hardness=+30", exitBadInput, "from 30 to 75 IRHD"},
		{"swap mistakes.toml set.toml", exitBadInput, "mistakes.toml:11"},
		{"swap hatchback-link.toml missing.toml", exitFailed, "missing.toml"},
		{"swap hatchback-link.toml missing.toml", exitFailed, "a rule is written key=value"},
		{"swap missing.toml set.toml", exitFailed, "missing.toml"},
		{"swap hatchback-link.toml loose.toml", exitFailed, "set 1, loose.toml"},
	} {
		r := bushtune(t, test.line)
		if r.code != test.code || !strings.Contains(joinLines(r.err), test.says) {
			t.Errorf("%s: code %d, want %d with %q; said %q", test.line, r.code, test.code, test.says, r.err)
		}
		if test.code != exitAnswer && r.out != "" {
			t.Errorf("%s: failed, but answered %q", test.line, r.out)
		}
	}
}

// joinLines takes wrapped lines together.
func joinLines(s string) string { return strings.Join(strings.Fields(s), " ") }

// TestSwapRecords: JSON and CSV say the same, and every figure of a set stands beside
// one of the axle as it is; a range has a low and a high end.
func TestSwapRecords(t *testing.T) {
	line := "swap testdata/thin-wall.toml rates=1.5 polyurethane=80,bonded=true worn=0.6,free_play=0.5 polyurethane=57,bonded=true+worn=0.5,free_play=0.3 --format "
	all := records(t, bushtune(t, line+"json"))
	rows, err := csv.NewReader(strings.NewReader(bushtune(t, line+"csv").out)).ReadAll()
	if err != nil || len(rows) != len(all)+1 {
		t.Fatalf("%d rows for %d records, %v", len(rows), len(all), err)
	}
	for i, r := range all {
		cells, err := json.Marshal(r.Cells())
		if err != nil {
			t.Fatal(err)
		}
		if row, _ := json.Marshal(rows[i+1]); string(row) != string(cells) {
			t.Errorf("row %d: %s, want %s", i+1, row, cells)
		}
	}
	before, sets := map[string]float64{}, map[string]int{}
	ends := map[string][2]float64{}
	kinds := map[string]int{}
	for _, r := range all {
		kinds[r.Kind]++
		key := r.Number + "@" + r.Case + ":" + r.Where
		switch {
		case r.Kind != "figure":
		case r.Stage == "before":
			before[key] = *r.Value
		default:
			if _, there := before[key]; !there {
				t.Errorf("%s %s has no figure before", r.Name, key)
			}
			sets[r.Name+r.Line]++
			e := ends[r.Name+key]
			if r.Line == "high" {
				e[1] = *r.Value
			} else {
				e[0] = *r.Value
			}
			ends[r.Name+key] = e
		}
	}
	if n := len(before); n < 40 || sets["set 1"] != n || sets["set 2low"] != n || sets["set 2high"] != n || sets["set 3"] != n {
		t.Errorf("%d figures before, after %v", len(before), sets)
	}
	for key, e := range ends {
		if strings.HasPrefix(key, "set 2") && e[0] > e[1] {
			t.Errorf("%s: low %v above high %v", key, e[0], e[1])
		}
	}
	plays := map[string]float64{}
	for _, r := range all {
		if r.Kind == "play" {
			plays[r.Name+" "+r.Line] = *r.Value
		}
	}
	const axial = "set 4 bush.pivot.left axial "
	if _, there := plays["set 3 bush.pivot.left soft"]; !there || len(plays) != 6+12 || plays[axial+"low"] >= 0 || plays[axial+"high"] <= 0 {
		t.Errorf("plays %v", plays)
	}
	for _, kind := range []string{"set", "replaced", "change", "play", "want", "note"} {
		if kinds[kind] == 0 {
			t.Errorf("no record of kind %q in %v", kind, kinds)
		}
	}
}

// TestSwapRecordsAtSize: what is wanted at full size is recorded with its load, as it is
// and with every set, at both ends of a range; where it is lost there is no value.
func TestSwapRecordsAtSize(t *testing.T) {
	inFolder(t, "estate-rubber")
	writeFull(t)
	found, changed := map[string]float64{}, map[string]string{}
	for _, r := range records(t, bushtune(t, "swap full.toml polyurethane=60,bonded=true worn=0.5 --format json")) {
		switch {
		case r.X == nil || r.Kind == "play":
		case r.Kind == "change":
			changed[r.Name+" "+r.Number] = r.Line
		case r.Value != nil:
			found[strings.Join([]string{r.Kind, r.Stage, r.Name, r.Line}, " ")] = *r.Value
		case r.Words != "the axle cannot hold this load" && r.Words != "make small":
			t.Errorf("no value in %+v", r)
		}
	}
	low, high := found["figure after set 1 kerb low"], found["figure after set 1 kerb high"]
	before, worn := found["figure before kerb "], found["figure after set 2 kerb "]
	if !(0 < low && low < before && before < high && high < worn) {
		t.Errorf("kerb: %v before, %v to %v, worn %v", before, low, high, worn)
	}
	if over := found["want after set 2 kerb missed by"]; math.Abs(over-(worn-1.4)) > 1e-12 {
		t.Errorf("%v is over 1.4 by %v", worn, over)
	}
	if _, there := found["figure after set 2 even off the straight line"]; !there {
		t.Error("no straightness")
	}
	for key := range found {
		if strings.Contains(key, "huge") && key != "want  huge wanted" {
			t.Errorf("a load that cannot be held gives %q", key)
		}
	}
	if changed["set 2 longitudinal_compliance"] != "worse" || changed["set 2 total_outer_toe"] != "worse" || changed["set 1 lateral_compliance"] != "depends" {
		t.Errorf("changes at size: %v", changed)
	}
}

// TestSwapAnswersInSentences: what a tuner must find in the text.
func TestSwapAnswersInSentences(t *testing.T) {
	out := joinLines(bushtune(t, "swap --demo hatchback-link").out)
	for _, want := range []string{
		"set 1 firmer pivot bushes, from firm-pivots",
		"soft 550 → 900 N/mm",
		"worse Over a strip the wheel moves back 38 % less: harsher (1.90 → 1.17 mm/kN, 7.2 steps; want strip).",
		"Harsher ride",
		"have worn bushes replaced",
		"WHERE THE WORN BUSHES BEAR AT REST with set 2",
		"inner sleeve pushed rearward through 0.5 mm of play",
		"follow local vehicle rules",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("not said: %q", want)
		}
	}
	nothing := joinLines(bushtune(t, "swap --demo hatchback-link rates=1").out)
	for _, want := range []string{"nothing differs from the axle as it is", "Nothing: every number is equal to that of the axle as it is."} {
		if !strings.Contains(nothing, want) {
			t.Errorf("not said of a set that changes nothing: %q", want)
		}
	}
	ranged := joinLines(bushtune(t, "swap --demo estate-rubber polyurethane=80,bonded=true").out)
	for _, want := range []string{"only a test tells where", "ask the maker for measured rates", "natural → polyurethane", "up to"} {
		if !strings.Contains(ranged, want) {
			t.Errorf("not said of a range: %q", want)
		}
	}
}

// TestBuiltInSetsStandForTheirAxle: every one is read, changes something, and is found
// by its name alone.
func TestBuiltInSetsStandForTheirAxle(t *testing.T) {
	found := 0
	for _, axle := range demo.Names() {
		for _, name := range demo.SetsOf(axle) {
			found++
			r := bushtune(t, "swap --demo "+axle+" "+name)
			if r.code != exitAnswer || strings.Contains(r.out, "nothing differs") {
				t.Errorf("%s %s: %d, %s", axle, name, r.code, r.err)
			}
			if text, ok := demo.Set(name); !ok || !strings.HasPrefix(string(text), "# ") {
				t.Errorf("%s does not say what it is", name)
			}
		}
	}
	if found < 2 {
		t.Errorf("%d built-in sets", found)
	}
}

// TestAnAxleWithUnlikeHalvesPulls: a softer bush on one side lets that wheel back
// further, so the axle steers to that side and the car pulls to the other.
func TestAnAxleWithUnlikeHalvesPulls(t *testing.T) {
	for side, other := range map[string]string{"left": "right", "right": "left"} {
		out := joinLines(bushtune(t, "swap --demo hatchback-link rates=0.5@bush.pivot."+side).out)
		if !strings.Contains(out, "steers to the "+side) || !strings.Contains(out, "pulls to the "+other) {
			t.Errorf("softer on the %s: the answer does not say where it pulls", side)
		}
	}
	for side, want := range map[string]string{
		"left":  "steers under braking from 0.007 to the right to 0.056 deg/kN to the left, so the car may pull either way",
		"right": "steers under braking from 0.056 to the right to 0.007 deg/kN to the left, so the car may pull either way",
	} {
		if out := joinLines(bushtune(t, "swap testdata/thin-wall.toml polyurethane=57,bonded=true,side="+side).out); !strings.Contains(out, want) {
			t.Errorf("a range on the %s: not said: %s", side, want)
		}
	}
	if out := joinLines(bushtune(t, "swap testdata/thin-wall.toml polyurethane=80,bonded=true,side=right").out); !strings.Contains(out, "steers to the left by 0.039 to 0.056 deg/kN, so the car pulls to the right") {
		t.Error("a hard range on the right: the answer does not say how far it pulls")
	}
	if out := bushtune(t, "swap --demo hatchback-link rates=0.5").out; strings.Contains(out, "pulls") {
		t.Error("softer on both sides pulls")
	}
}

// TestReadmeSetFile: the set of README can be read beside the axle it is for.
func TestReadmeSetFile(t *testing.T) {
	block := fenced(t, "title = \"kit for the pivots\"")[0]
	inFolder(t, "estate-rubber")
	// the axle with pivots by dimensions has no link, so that only the rule is left
	text := block[:strings.Index(block, "[link.toe]")] + block[strings.Index(block, "[rule."):]
	writeText(t, "kit.toml", text)
	if r := bushtune(t, "swap estate-rubber.toml kit.toml"); r.code != exitAnswer || !strings.Contains(r.out, "55 → 70 IRHD") {
		t.Errorf("exit code %d\n%s%s", r.code, r.out, r.err)
	}
}

// TestEvenSetsBesideAnUnevenOne: where another set makes the halves differ, a set that
// does not is still told once, without sides.
func TestEvenSetsBesideAnUnevenOne(t *testing.T) {
	const even = "swap --demo estate-rubber hardness=+10"
	sentences := func(line string) string {
		_, changes, _ := strings.Cut(bushtune(t, line).out, "WHAT CHANGES with set 1")
		changes, _, _ = strings.Cut(changes, "\n\n")
		return changes
	}
	if alone, beside := sentences(even), sentences(even+" hardness=+10@bush.pivot.left"); alone != beside || alone == "" {
		t.Errorf("alone:\n%s\nbeside an uneven set:\n%s", alone, beside)
	}
	if out := bushtune(t, even+" rates=1@bush.pivot.left rates=1.3").out; strings.Contains(out, "turning right") {
		t.Error("even sets are told in both turns")
	}
}
