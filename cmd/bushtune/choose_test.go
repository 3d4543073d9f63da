package main

import (
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/show"
)

// shelfTable is a short catalogue as a table.
const shelfTable = `name;price;outer_diameter [mm];length [mm];soft [N/mm];axial [N/mm];stiff [N/mm];cone_soft [N·m/deg];torsion [N·m/deg];cone_stiff [N·m/deg]
alpha 1;4;56;50;300;400;2000;3.8;2;2.2
beta 2;2;60;52;600;1400;2800;7;2;9
gamma 3;1;52;45;1900;900;2900;9;3;9
`

// TestChooseFiles: the built-in files give the same answer from disk; the axle file
// written holds the best part and can be read, solved and tuned again.
func TestChooseFiles(t *testing.T) {
	inFolder(t, "hatchback-link")
	writeText(t, "shelf.csv", shelfTable)
	bushtune(t, "demo catalogue --out demo.toml")
	best := func(line string) string {
		r := bushtune(t, line)
		if r.code != exitAnswer {
			t.Fatalf("%s: code %d, %s", line, r.code, r.err)
		}
		_, table, _ := strings.Cut(r.out, "THE BEST")
		table, _, _ = strings.Cut(table, "WROTE")
		return table
	}
	want := best("choose --demo hatchback-link")
	for _, line := range []string{"choose hatchback-link.toml demo.toml"} {
		if got := best(line); got != want {
			t.Errorf("%s answers otherwise: %s", line, firstDifference(want, got))
		}
	}
	before := readText(t, "hatchback-link.toml")
	best("choose hatchback-link.toml shelf.csv --out chosen.toml")
	after := readText(t, "chosen.toml")
	for _, has := range []string{"soft = 1900 ", "# gamma 3 of shelf", "# bush.pivot.soft = { from = 350", "# across the voids"} {
		if !strings.Contains(after, has) {
			t.Errorf("%q is not in the file written", has)
		}
	}
	if before != readText(t, "hatchback-link.toml") {
		t.Error("the input was changed")
	}
	f, err := axlefile.Read("chosen.toml")
	if err != nil || len(f.Search) != 3 {
		t.Errorf("%v: %d parameters are left", err, len(f.Search))
	}
	for _, line := range []string{"solve chosen.toml", "tune chosen.toml", "choose chosen.toml shelf.csv"} {
		if r := bushtune(t, line); r.code != exitAnswer {
			t.Errorf("%s: code %d, %s", line, r.code, r.err)
		}
	}
	for line, says := range map[string]string{
		"choose hatchback-link.toml shelf.csv --out hatchback-link.toml --force": "it is the input file",
		"choose hatchback-link.toml shelf.csv --out chosen.toml":                 "--force",
	} {
		if r := bushtune(t, line); r.code != exitFailed || !strings.Contains(r.err, says) {
			t.Errorf("%s: code %d, %s", line, r.code, r.err)
		}
	}
}

func TestChooseExitCodes(t *testing.T) {
	inFolder(t, "hatchback-link", "van-beam-axle")
	writeText(t, "shelf.csv", shelfTable)
	writeText(t, "wrong.csv", "name,soft\nA,x\nA,5\n")
	writeText(t, "hard.csv", strings.Join(strings.SplitAfter(shelfTable, "\n")[:2], ""))
	axle := readText(t, "hatchback-link.toml")
	head, _, _ := strings.Cut(axle, "[want.corner]")
	writeText(t, "nowant.toml", head)
	writeText(t, "steep.toml", head+"[want.corner]\nnumber = \"lateral_force_steer\"\nat_least = 5\n")
	for _, test := range []struct {
		line string
		code int
		says string
	}{
		{"choose hatchback-link.toml shelf.csv --at bush.pivot=60x52", exitAnswer, ""},
		{"choose hatchback-link.toml hard.csv --format json", exitNotReached, "not every want is reached"},
		{"choose steep.toml shelf.csv", exitNotReached, "not every want is reached"},
		{"choose hatchback-link.toml wrong.csv", exitBadInput, "there are two parts of this name"},
		{"choose shelf.csv hatchback-link.toml", exitBadInput, ""},
		{"choose hatchback-link.toml van-beam-axle.toml", exitBadInput, "stands first on the command line"},
		{"choose hatchback-link.toml missing.csv", exitFailed, "no such file"},
		{"choose nowant.toml shelf.csv", exitBadInput, "choose needs this table"},
		{"choose van-beam-axle.toml shelf.csv", exitBadInput, "choose needs a bush"},
		{"choose a b c", exitBadInput, "there are 3 files"},
		{"choose a b --demo hatchback-link", exitBadInput, "there are 2 files"},
		{"choose hatchback-link.toml shelf.csv --at bush.pivo", exitBadInput, "did you mean bush.pivot?"},
		{"choose hatchback-link.toml shelf.csv --at bush.pivot=wide", exitBadInput, "60x55"},
		{"choose hatchback-link.toml shelf.csv --at bush.pivot=60x-5", exitBadInput, "60x55"},
		{"choose hatchback-link.toml shelf.csv --at bush.pivot=20", exitBadInput, "no part of the catalogue has room at bush.pivot"},
		{"choose hatchback-link.toml shelf.csv --at bush.pivot --at bush.pivot.left", exitBadInput, "named twice"},
		{"choose --best 0", exitBadInput, "1 to 100"},
		{"choose --step -1", exitBadInput, "0 or above"},
		{"choose --format xml", exitBadInput, "there are text, json, csv"},
	} {
		r := bushtune(t, test.line)
		if r.code != test.code || !strings.Contains(r.err, test.says) {
			t.Errorf("%s: code %d, want %d; says %q, want %q", test.line, r.code, test.code, r.err, test.says)
		}
	}
	for _, name := range []string{"missing", "chosen"} {
		if _, err := os.Stat(name + ".toml"); err == nil {
			t.Errorf("%s.toml was written", name)
		}
	}
}

// TestChooseRecords: records and text name the same parts, and give the same on one
// processor and on several.
func TestChooseRecords(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	inFolder(t)
	writeText(t, "shelf.csv", shelfTable)
	line := "choose --demo hatchback-link shelf.csv --best 3 --seed 4 --format json"
	one := bushtune(t, line)
	runtime.GOMAXPROCS(3)
	if three := bushtune(t, line); one.out != three.out || len(one.out) < 1000 {
		t.Error("three processors give another answer than one")
	}
	text := bushtune(t, strings.TrimSuffix(line, " --format json")).out
	var stages []string
	for _, r := range records(t, one) {
		if r.Kind != "choice" || r.Line != "part" {
			continue
		}
		stages = append(stages, r.Stage)
		if !strings.Contains(text, r.Words) || r.Name != "bush.pivot" {
			t.Errorf("%+v is not in the text", r)
		}
	}
	if !slices.Equal(stages[:3], []string{"best 1", "best 2", "best 3"}) {
		t.Errorf("stages %v", stages)
	}
	wanted := func(r show.Record) bool {
		return r.Kind == "choice" && r.Stage == "free rates" && r.Name == "bush.pivot.axial"
	}
	if !slices.ContainsFunc(records(t, one), wanted) {
		t.Error("the free rates are not in the records")
	}
}

// The catalogues of README can be read and chosen from, and tell the same of a part.
func TestReadmeCatalogues(t *testing.T) {
	tables, rows := fenced(t, "[part.")[0], fenced(t, "name,price")[0]
	inFolder(t)
	writeText(t, "shelf.toml", tables)
	writeText(t, "shelf.csv", rows)
	for _, path := range []string{"shelf.toml", "shelf.csv"} {
		c, err := axlefile.ReadCatalogue(path)
		if err != nil {
			t.Fatal(err)
		}
		if p := c.Parts[0]; p.Name != "TB-56" || p.Price != 3 || p.Curves == nil {
			t.Errorf("%s: %+v", path, p)
		}
		if r := bushtune(t, "choose --demo hatchback-link "+path); r.code != exitAnswer && r.code != exitNotReached {
			t.Errorf("%s: code %d, %s", path, r.code, r.err)
		}
	}
}
