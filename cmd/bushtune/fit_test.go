package main

import (
	"context"
	"encoding/csv"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/axlefile"
)

// TestFitFiles: the built-in files give the same answer from disk and from standard
// input; the axle file written is the input with the fitted values, and can be fitted
// again; the table of residuals has a line for each reading.
func TestFitFiles(t *testing.T) {
	inFolder(t, "hatchback-link")
	bushtune(t, "demo rig --out rig.csv")
	answer := func(line string) string {
		r := bushtuneWith(context.Background(), streams{in: strings.NewReader(readText(t, "rig.csv"))}, strings.Fields(line)...)
		if r.code != exitAnswer {
			t.Fatalf("%s: code %d, %s", line, r.code, r.err)
		}
		_, values, _ := strings.Cut(r.out, "VALUES")
		values, _, _ = strings.Cut(values, "WROTE")
		return values
	}
	want := answer("fit")
	for _, line := range []string{"fit hatchback-link.toml rig.csv", "fit --demo hatchback-link rig.csv", "fit hatchback-link.toml -", "fit rig.csv --demo hatchback-link"} {
		if got := answer(line); got != want {
			t.Errorf("%s answers otherwise: %s", line, firstDifference(want, got))
		}
	}
	answer("fit hatchback-link.toml rig.csv --out fitted.toml --residuals left.csv")
	file, err := axlefile.Read("fitted.toml")
	if err != nil {
		t.Fatal(err)
	}
	if soft := file.Search[1]; soft.Path != "bush.pivot.soft" || soft.Start < 630 || soft.Start > 660 {
		t.Errorf("%s is %v in the file written", soft.Path, soft.Start)
	}
	if was, is := readText(t, "hatchback-link.toml"), readText(t, "fitted.toml"); strings.Count(was, "#") != strings.Count(is, "#") || was == is {
		t.Error("comments are lost, or nothing was written")
	}
	rows, err := csv.NewReader(strings.NewReader(readText(t, "left.csv"))).ReadAll()
	if err != nil || len(rows) != 121 || rows[37][13] != "does not fit the rest" {
		t.Errorf("%d rows, %v, %v", len(rows), rows[37], err)
	}
	before := readText(t, "fitted.toml")
	answer("fit fitted.toml rig.csv --out again.toml")
	if again := readText(t, "again.toml"); firstDifference(before, again) != "one is longer than the other" && !sameFit(before, again) {
		t.Errorf("fitted again: %s", firstDifference(before, again))
	}
}

// sameFit tells whether two files hold the same values to five digits.
func sameFit(a, b string) bool {
	fa, errA := axlefile.Parse("a", []byte(a))
	fb, errB := axlefile.Parse("b", []byte(b))
	if errA != nil || errB != nil {
		return false
	}
	for i := range fa.Search {
		p, q := fa.Search[i], fb.Search[i]
		if d := p.Start - q.Start; d > 1e-5*(p.To-p.From) || d < -1e-5*(p.To-p.From) {
			return false
		}
	}
	return true
}

// The rig data shown in README can be read and fitted.
func TestReadmeRigData(t *testing.T) {
	block := fenced(t, "case,load")[0]
	inFolder(t, "hatchback-link")
	writeText(t, "rig.csv", block)
	if r := bushtune(t, "fit hatchback-link.toml rig.csv"); r.code != exitAnswer {
		t.Errorf("code %d, %s", r.code, r.err)
	}
}

// TestFitRefuses: what is wrong with the command line or the files, before harm.
func TestFitRefuses(t *testing.T) {
	goldenFolder(t)
	bushtune(t, "demo rig --out rig.csv")
	writeText(t, "bare.toml", strings.Split(free, "[bush.pivot]")[0]+held)
	writeText(t, "free.toml", free+"[search]\nbush.pivot.soft = { from = 500, to = 700 }\n")
	before := files(t)
	for _, test := range []struct {
		line string
		code int
		says string
	}{
		{"fit rig.csv", exitBadInput, "fit takes an axle file and rig data"},
		{"fit hatchback-link.toml rig.csv more.csv", exitBadInput, "there are 3 files"},
		{"fit hatchback-link.toml rig.csv --demo hatchback-link", exitBadInput, "there are 2 files"},
		{"fit - -", exitBadInput, "standard input holds one file"},
		{"fit --demo van-beam-axle", exitBadInput, "no built-in rig data"},
		{"fit --demo van-beam-axel rig.csv", exitBadInput, "did you mean van-beam-axle"},
		{"fit hatchback-link.toml missing.csv", exitFailed, "missing.csv"},
		{"fit missing.toml rig.csv", exitFailed, "missing.toml"},
		{"fit hatchback-link.toml wrong.csv", exitBadInput, "wrong.csv:2: column case: there is no case \"imapct\""},
		{"fit bare.toml rig.csv", exitBadInput, "fit needs this table"},
		{"fit free.toml rig.csv", exitFailed, "can move without load"},
		{"fit --prior", exitBadInput, "no parameter has one"},
		{"fit --format xml", exitBadInput, "there are text, json, csv"},
		{"fit hatchback-link.toml rig.csv --out rig.csv --force", exitFailed, "it is the input file"},
		{"fit hatchback-link.toml rig.csv --residuals hatchback-link.toml --force", exitFailed, "it is the input file"},
		{"fit --out a.toml --residuals a.toml", exitBadInput, "name the same file"},
		{"fit --out a.toml --residuals ./a.toml --force", exitBadInput, "name the same file"},
		{"fit --residuals -", exitBadInput, "takes the name of a file"},
		{"fit --out a.toml --residuals rig.csv", exitFailed, "rig.csv: not written: file already exists"},
	} {
		r := bushtune(t, test.line)
		if r.code != test.code || !strings.Contains(r.err, test.says) || r.out != "" {
			t.Errorf("bushtune %s: exit code %d, want %d; it says: %s", test.line, r.code, test.code, r.err)
		}
	}
	if got := files(t); !slices.Equal(got, before) {
		t.Errorf("left behind: %v", got)
	}
}

// TestFitOfFew: one reading for one value leaves no error to tell; one reading written
// again and again does not scatter, and the answer says so.
func TestFitOfFew(t *testing.T) {
	inFolder(t, "hatchback-link")
	head, _, _ := strings.Cut(readText(t, "hatchback-link.toml"), "[search]")
	writeText(t, "one.toml", head+"[search]\nbush.pivot.soft = { from = 300, to = 1400, scale = \"log\" }\n")
	const reading = "impact,1,centre_x,left,-1.7\n"
	for rows, says := range map[int]string{1: "error not known", 2: "1 reading is the same as another", 4: "the readings do not scatter"} {
		writeText(t, "few.csv", "case,load [kN],channel,side,value [mm]\n"+strings.Repeat(reading, rows))
		if r := bushtune(t, "fit one.toml few.csv"); r.code != exitAnswer || !strings.Contains(r.out, says) || strings.Contains(r.out, "NaN") {
			t.Errorf("%d readings: code %d, %s%s", rows, r.code, r.out, r.err)
		}
	}
}

// shiftedRig adds 0.05 deg to every reading of toe of the left wheel.
func shiftedRig(t *testing.T, rig string) string {
	t.Helper()
	var shifted strings.Builder
	for line := range strings.Lines(rig) {
		if cells := strings.Split(line, ","); len(cells) == 7 && cells[3] == "left" && cells[4] == "toe" {
			value, err := strconv.ParseFloat(cells[5], 64)
			if err != nil {
				t.Fatal(err)
			}
			cells[5] = strconv.FormatFloat(value+0.05, 'f', 3, 64)
			line = strings.Join(cells, ",")
		}
		shifted.WriteString(line)
	}
	return shifted.String()
}

// TestFitReadingsAtNoLoad: 72 readings of nothing at no load are one line and no refusal;
// a gauge whose readings are all shifted is named with its offset.
func TestFitReadingsAtNoLoad(t *testing.T) {
	inFolder(t, "hatchback-link")
	bushtune(t, "demo rig --out rig.csv")
	rig := readText(t, "rig.csv")
	var zeros strings.Builder
	for range 9 {
		for _, side := range []string{"left", "right"} {
			zeros.WriteString("cornering,0,," + side + ",toe,0,\ncornering,0,," + side + ",camber,0,\nimpact,0,," + side + ",centre_x,,0\nimpact,0,," + side + ",centre_y,,0.00\n")
		}
	}
	writeText(t, "zeros.csv", rig+zeros.String())
	writeText(t, "shifted.csv", shiftedRig(t, rig))
	writeText(t, "only.csv", "case,load [kN],load [N·m],side,channel,value [deg],value [mm]\n"+zeros.String())
	clean, with := bushtune(t, "fit hatchback-link.toml rig.csv"), bushtune(t, "fit hatchback-link.toml zeros.csv")
	if with.code != exitAnswer || strings.Count(with.out+with.err, "load 0") != 1 || !strings.Contains(with.out, "72 readings of 0 at load 0") {
		t.Errorf("code %d, %s%s", with.code, with.out, with.err)
	}
	values := func(text string) string {
		_, text, _ = strings.Cut(text, "VALUES")
		text, _, _ = strings.Cut(text, "NOTES")
		return text
	}
	if values(clean.out) != values(with.out) {
		t.Error(firstDifference(values(clean.out), values(with.out)))
	}
	out := bushtune(t, "fit hatchback-link.toml shifted.csv").out
	told := regexp.MustCompile(`the zero is off in toe\s+of the left wheel by (\S+) deg toe-in\.`).FindStringSubmatch(out)
	if told == nil {
		t.Fatal(out)
	}
	if offset, err := strconv.ParseFloat(told[1], 64); err != nil || math.Abs(offset-0.05) > 0.006 { // two of its standard errors
		t.Errorf("an offset of 0.05 deg is told as %s", told[1])
	}
	for format, says := range map[string]string{"csv": "offset,after,left toe,value,", "json": `"line":"chance without one"`} {
		if r := bushtune(t, "fit hatchback-link.toml shifted.csv --format "+format); !strings.Contains(r.out, says) {
			t.Error(format, r.out)
		}
	}
	if r := bushtune(t, "fit hatchback-link.toml only.csv"); r.code != exitBadInput || !strings.Contains(r.err, "every reading is 0 at load 0") {
		t.Errorf("code %d, %s", r.code, r.err)
	}
}

// TestFitInterrupted: nothing is written.
func TestFitInterrupted(t *testing.T) {
	inFolder(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r := bushtuneWith(ctx, streams{in: strings.NewReader("")}, "fit", "--out", "new.toml")
	if r.code != exitFailed || !strings.Contains(r.err, "nothing is written") || len(files(t)) > 0 {
		t.Errorf("code %d, %s, %v", r.code, r.err, files(t))
	}
}

// TestFitPrior: with a tolerance the rate that a strip does not tell has an interval.
func TestFitPrior(t *testing.T) {
	goldenFolder(t)
	text := readText(t, "hatchback-link.toml")
	writeText(t, "known.toml", strings.Replace(text, "from = 600, to = 2500,", "from = 600, to = 2500, tolerance = 10,", 1))
	alone, with := bushtune(t, "fit known.toml strip.csv"), bushtune(t, "fit known.toml strip.csv --prior")
	if !strings.Contains(alone.out, "not seen") || strings.Contains(alone.out, "by its tolerance") || !strings.Contains(with.out, "by its tolerance\n") {
		t.Errorf("without:\n%s\nwith:\n%s%s", alone.out, with.out, with.err)
	}
}
