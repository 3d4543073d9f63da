package sheet

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/demo"
)

// markdownTables returns the tables of a text, row by row and cell by cell, and
// fails where one is no table of GitHub's or CommonMark's kind: a line of dashes
// under the head, the same cells in every row, an empty line before and after.
func markdownTables(t *testing.T, text string) (tables [][][]string) {
	t.Helper()
	lines := strings.Split(text, "\n")
	var open [][]string
	for i, line := range append(lines, "") {
		if !strings.HasPrefix(line, "|") {
			if open != nil {
				if line != "" {
					t.Errorf("line %d follows a table without an empty line: %q", i+1, line)
				}
				tables, open = append(tables, open), nil
			}
			continue
		}
		if open == nil && i > 0 && lines[i-1] != "" {
			t.Errorf("line %d: a table without an empty line before", i+1)
		}
		cells := strings.Split(strings.TrimSuffix(strings.ReplaceAll(line, `\|`, "/"), "|"), "|")[1:]
		for k := range cells {
			cells[k] = strings.TrimSpace(cells[k])
		}
		if len(open) > 0 && len(cells) != len(open[0]) {
			t.Errorf("line %d has %d cells, the head %d: %q", i+1, len(cells), len(open[0]), line)
		}
		if open != nil && utf8.RuneCountInString(line) != utf8.RuneCountInString(lines[i-1]) {
			t.Errorf("line %d does not stand under the one before: %q", i+1, line)
		}
		open = append(open, cells)
	}
	dashes := regexp.MustCompile(`^:?-{3,}:?$`)
	for _, table := range tables {
		if len(table) < 3 {
			t.Fatalf("a table of %d lines: %v", len(table), table)
		}
		for _, cell := range table[1] {
			if !dashes.MatchString(cell) {
				t.Errorf("%q under %q is no line of dashes", cell, table[0])
			}
		}
	}
	return tables
}

func markdown(t testing.TB, p Pages) string {
	t.Helper()
	var b bytes.Buffer
	if err := p.Markdown(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// unitWord is a unit in the head of a column.
var unitWord = regexp.MustCompile(`(^| )(mm|deg|N|N·m|N/mm|N·m/deg|Hz|kN|%|MPa)$|times static|loss factor|x forward`)

// plainNumber is a cell that is a number and nothing else.
var plainNumber = regexp.MustCompile(`^[-+±]?[0-9][0-9.]*$`)

// Every built-in axle has valid Markdown: tables with equal columns, each number
// with its unit in the head of its column or in a column of units, prose that fits
// a page.
func TestPagesAreValidMarkdown(t *testing.T) {
	found := 0
	for _, name := range demo.Names() {
		pages := demoPages(t, name)
		if len(pages) == 0 { // an axle on links alone
			continue
		}
		text := markdown(t, pages)
		for _, table := range markdownTables(t, text) {
			found++
			units := false
			for _, head := range table[0] {
				units = units || head == "unit"
			}
			for k, head := range table[0] {
				for _, row := range table[2:] {
					if plainNumber.MatchString(row[k]) && !units && !unitWord.MatchString(head) {
						t.Errorf("%s: %q under %q has no unit", name, row[k], head)
					}
				}
			}
		}
		for i, line := range strings.Split(text, "\n") {
			if n := utf8.RuneCountInString(line); n > lineWidth+8 && !strings.HasPrefix(line, "|") {
				t.Errorf("%s: line %d has %d signs: %s", name, i+1, n, line)
			}
			if strings.TrimRight(line, " ") != line || strings.Contains(line, "NaN") || strings.Contains(line, "Inf") {
				t.Errorf("%s: line %d: %q", name, i+1, line)
			}
		}
		if !strings.HasPrefix(text, "# ") || strings.Count(text, "\n# ") != len(pages)-1 {
			t.Errorf("%s: pages and titles differ", name)
		}
	}
	if found < 50 {
		t.Errorf("only %d tables found", found)
	}
}

// Texts that a person writes do not break a table or a list.
func TestDocumentKeepsItsShape(t *testing.T) {
	d := &document{}
	d.heading(1, "a")
	d.table(&table{columns: []column{words("one"), numbers("two")}, rows: [][]string{{"a | b", "1"}, {"wide wide wide", "−2"}}})
	d.prose("one two " + strings.Repeat("three ", 17) + "- four 5. six # seven")
	tables := markdownTables(t, d.String())
	if len(tables) != 1 || tables[0][2][0] != `a / b` {
		t.Errorf("tables %v", tables)
	}
	for _, line := range strings.Split(d.String(), "\n")[1:] {
		if startsBlock.MatchString(strings.SplitN(line, " ", 2)[0]) {
			t.Errorf("a line of prose starts a block: %q", line)
		}
	}
}

// CSV and JSON hold the same rows, and every number of a rate, point, load or limit
// has a unit.
func TestRowsForPrograms(t *testing.T) {
	pages := demoPages(t, "saloon-multi-link")
	var asCSV, asJSON bytes.Buffer
	if err := pages.Rows().CSV(&asCSV); err != nil {
		t.Fatal(err)
	}
	if err := pages.Rows().JSON(&asJSON); err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(&asCSV).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []Row
	if err := json.Unmarshal(asJSON.Bytes(), &rows); err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(lines)-1 || len(rows) < 400 {
		t.Fatalf("%d rows in JSON, %d in CSV", len(rows), len(lines)-1)
	}
	sections := map[string]int{}
	for i, r := range rows {
		if got := strings.Join(r.Cells(), ";"); got != strings.Join(lines[i+1], ";") {
			t.Errorf("row %d: JSON %s, CSV %v", i, got, lines[i+1])
		}
		sections[r.Section]++
		numeric := r.Section == "rate" || r.Section == "point" || r.Section == "load" || r.Section == "travel" || r.Section == "limit" || r.Section == "leeway"
		if r.Bush == "" || numeric && (r.Value == nil || r.Unit == "") || r.X != nil && r.XUnit == "" {
			t.Errorf("row %d: %+v", i, r)
		}
		if r.Low != nil && r.High != nil && !(*r.Low < *r.High) && *r.Value != 0 && r.Section == "rate" {
			t.Errorf("row %d: band %g to %g", i, *r.Low, *r.High)
		}
	}
	for _, section := range []string{"part", "orientation", "rate", "point", "dynamic", "load", "travel", "limit", "leeway"} {
		if sections[section] == 0 {
			t.Errorf("no row of section %s", section)
		}
	}
}

// Points lie on the law, reach what the cases do, and cover both ways where they
// differ; bands are those of the class.
func TestPointsLieOnTheLaw(t *testing.T) {
	for keys, both := range map[string]bool{"": true, "soft_gap = 2\nsoft_snubber = 3000\n": true, "soft_gap = 1\nsoft_gap_back = 3\nsoft_snubber = 3000\n": false} {
		s := sheetOf(t, keys)
		points, bothWays := s.points(bushing.Soft)
		if bothWays != both {
			t.Errorf("%q: both ways alike %v, want %v", keys, bothWays, both)
		}
		far, past := 0.0, 0.0
		for _, p := range points {
			far, past = max(far, p.deflection), min(past, p.deflection)
			want := 600 * p.deflection
			if gap := s.laws[bushing.Soft].GapPlus; gap > 0 && p.deflection > gap { // stop: full after the run of 1 mm
				x := p.deflection - gap
				want += 3000 * (max(0, x-1)*1 + 0.5*min(x, 1)*min(x, 1))
			}
			if gap := s.laws[bushing.Soft].GapMinus; gap > 0 && -p.deflection > gap {
				x := -p.deflection - gap
				want -= 3000 * (max(0, x-1)*1 + 0.5*min(x, 1)*min(x, 1))
			}
			if math.Abs(p.load-want) > 1e-9*math.Abs(want) {
				t.Errorf("%q: %g N at %g mm, want %g", keys, p.load, p.deflection, want)
			}
		}
		if far < s.reach[bushing.Soft][1]-1e-9 || !both && past > s.reach[bushing.Soft][0]+1e-9 || both && past != 0 {
			t.Errorf("%q: points from %g to %g, the bush goes %v", keys, past, far, s.reach[bushing.Soft])
		}
		if n := len(points); n < 2 || n > 2*curvedSteps {
			t.Errorf("%q: %d points", keys, n)
		}
	}
}

// An allowed travel widens the points, but only as far as the allowed load goes.
func TestPointsReachWhatIsAllowed(t *testing.T) {
	for keys, want := range map[string]float64{
		"max_radial_travel = 8":                         8,
		"max_radial_travel = 8\nmax_radial_load = 3000": 5, // 3000 N over 600 N/mm
		"max_radial_travel = 8\nmax_radial_load = 9000": 8,
		"max_radial_travel = 8\nbracket = 100":          8, // the bracket is not part of the bush
	} {
		if got := sheetOf(t, keys).reach[bushing.Soft]; math.Abs(got[1]-want) > 1e-9 || math.Abs(got[0]+want) > 1e-9 {
			t.Errorf("%q: soft goes %v, want %g both ways", keys, got, want)
		}
	}
	if got := sheetOf(t, "max_axial_travel = 7"); got.reach[bushing.Axial][1] != 7 || got.reach[bushing.Soft][1] >= 7 {
		t.Errorf("an allowed axial travel of 7 mm: the directions go %v", got.reach)
	}
}

// Steps are round and few, whatever the reach.
func TestNiceSteps(t *testing.T) {
	for far := 1e-3; far < 1e3; far *= 1.07 {
		for _, most := range []int{straightSteps, curvedSteps} {
			step := niceStep(far, most)
			n := math.Ceil(far/step - 1e-9)
			first := strconv.FormatFloat(step, 'e', 3, 64)[:5]
			if n < 1 || n > float64(most) || first != "1.000" && first != "2.000" && first != "5.000" {
				t.Errorf("reach %g in at most %d: %g steps of %g", far, most, n, step)
			}
			if n*2.5 < float64(most)-2 {
				t.Errorf("reach %g in at most %d: only %g steps of %g", far, most, n, step)
			}
		}
	}
}

// What is said to reach a limit reaches it: rest and so many times the unit load.
func TestTimesToALimitReachIt(t *testing.T) {
	checked := 0
	for _, s := range demoPages(t, demo.Default) {
		for i := range s.loads {
			l := &s.loads[i]
			for n, u := range s.axle.Study.Usages(&l.load) {
				times := s.timesToLimit(l, n)
				if math.IsInf(times, 1) {
					continue
				}
				scaled := l.load
				for d := range scaled.Load {
					scaled.Load[d], scaled.Travel[d] = times*scaled.Load[d], times*scaled.Travel[d]
				}
				if got := s.axle.Study.Usages(&scaled)[n].Value; math.Abs(got-u.Limit) > 1e-9*u.Limit || times < 0 {
					t.Errorf("%s %s: %g times reach %g, the limit is %g", l.load.Case, u.What, times, got, u.Limit)
				}
				checked++
			}
		}
	}
	if checked < 20 {
		t.Errorf("only %d limits checked", checked)
	}
}

// The verdict compares a leeway with a tolerance on each side; what it says of other
// nominal rates is true of them.
func TestVerdicts(t *testing.T) {
	s := sheetOf(t, "")
	_, most := s.tolerance()
	if most != 0.14 {
		t.Fatalf("class D2 asks %g, want the published 14 %%", most)
	}
	for _, c := range []struct {
		softer, stiffer float64
		word, advice    string
	}{
		{0.77, 1.41, "enough", "Ordered at 0.896 to 1.236 times these rates, it would be."},
		{0.855, 1.145, "enough", "Ordered at 0.995 to 1.004 times these rates, it would be."},
		{0.90, 1.41, "not enough softer", "Ordered at 1.047 to 1.236 times these rates, it would be."},
		{0.70, 1.01, "not enough stiffer", "Ordered at 0.814 to 0.885 times these rates, it would be."},
		{0.98, 1.02, "not enough either way", "No other nominal rates make it fit: it takes a closer class, or wants with more room."},
	} {
		w := cases.Leeway{Softer: cases.Exit{Factor: c.softer, Limit: 0}, Stiffer: cases.Exit{Factor: c.stiffer, Limit: 0}}
		if got := s.enough(&w); got != c.word {
			t.Errorf("%g to %g: %q, want %q", c.softer, c.stiffer, got, c.word)
		}
		if got := nominalFor(&w, most); got != c.advice {
			t.Errorf("%g to %g: %q, want %q", c.softer, c.stiffer, got, c.advice)
		}
	}
	open := cases.Exit{Factor: 8, Limit: -1}
	w := cases.Leeway{Softer: cases.Exit{Factor: 0.95, Limit: 0}, Stiffer: open}
	if got := bears(&w); got != "-5.0 % and any stiffening" {
		t.Errorf("open stiffer: bears %q", got)
	}
	if got := nominalFor(&w, most); got != "Ordered at 1.105 times these rates or more, it would be." {
		t.Errorf("open stiffer: %q", got)
	}
}

func TestPercentIsCutTowardNothing(t *testing.T) {
	for share, want := range map[float64]string{0.149: "+14 %", -0.239: "-23 %", 0.0049: "+0.4 %", -0.0004: "0.0 %", 0: "0.0 %", 0.3 - 1e-12: "+30 %", -0.0999: "-9.9 %", 7: "+700 %"} {
		if got := percent(share); got != want {
			t.Errorf("%g is %q, want %q", share, got, want)
		}
	}
	for share, want := range map[float64]string{0.0301: "+3.1 %", -0.0301: "-3.1 %", 0.03: "+3.0 %"} {
		if got := around(share); got != want {
			t.Errorf("an error of %g is %q, want %q", share, got, want)
		}
	}
}

// What the axle file asks of vibration stands in the table; the rest is typical and
// says so.
func TestDynamicSaysWhereItComesFrom(t *testing.T) {
	typical := rubber.TypicalDynamic(assumedHardness)
	for keys, want := range map[string]struct {
		typical, asked bool
		ratio          float64
	}{
		"": {true, false, 0},
		"dynamic_ratio = 1.6\ndynamic_frequency = 30":                     {true, true, 1.6},
		"dynamic_ratio = 1.6\ndynamic_frequency = 30\nloss_factor = 0.12": {false, true, 1.6},
		"dynamic_frequency = 30\nloss_factor = 0.12":                      {true, true, typical.Stiffness(30)},
	} {
		law, source := sheetOf(t, keys).dynamic()
		if strings.Contains(source, rubber.Typical) != want.typical || strings.Contains(source, "Asked for") != want.asked {
			t.Errorf("%q: %s", keys, source)
		}
		if want.ratio != 0 && math.Abs(law.Stiffness(30)-want.ratio) > 1e-12 {
			t.Errorf("%q: %g times static at 30 Hz, want %g", keys, law.Stiffness(30), want.ratio)
		}
	}
}

// Bushes that are alike on an axle that is not carry different loads at rest: both
// are told. On an even axle one is.
func TestLoadAtRestOfEachSide(t *testing.T) {
	vehicle := "\n[vehicle]\nmass = 1200\nrear_share = 0.4\nwheelbase = 2500\ncg_height = 550\nunsprung = 80\nstatic_load = true\n"
	even := fmt.Sprintf(plainAxle, plainRates+"base = \"lateral\"") + vehicle
	uneven := even + "[spring.extra]\nside = \"left\"\nfrom = \"vehicle\"\nto = \"axle\"\nupper = [100, 300, 600]\nlower = [50, 300, 300]\nrate = 20\nload = 900\n"
	for text, want := range map[string]int{even: 1, uneven: 2} {
		s := sheetsOf(t, text)[0]
		rests := s.rests()
		if len(rests) != want || len(s.elements) != 2 {
			t.Fatalf("%d loads at rest for %d bushes, want %d", len(rests), len(s.elements), want)
		}
		for _, b := range s.axle.Study.BushLoads() {
			found := false
			for _, r := range rests {
				found = found || sameSix(r.load, b.Rest) && (r.side == "" || strings.HasSuffix(b.Element, r.side))
			}
			if !found {
				t.Errorf("%s carries %v at rest, told are %v", b.Element, b.Rest, rests)
			}
		}
		if note := s.restNote(); strings.Count(note, " carries ") != want || strings.Contains(note, "the left bush") != (want == 2) {
			t.Errorf("the page says: %s", note)
		}
	}
}
