package show

import (
	"strings"
	"testing"
)

func rendered(g *grid) string {
	p := &Page{}
	g.write(p)
	return p.String()
}

func TestGridAlignsPointsAcrossHeadings(t *testing.T) {
	g := grid{columns: []column{{}, {align: point}, {align: right}, {}}}
	g.heading("ONE")
	g.add("name", "before", "n", "unit")
	g.add("  a", "-0.5", "7", "mm")
	g.heading("TWO")
	g.add("  longer", "128.25", "12", "deg/(100 N·m)")
	g.add("  whole", "3", "", "")
	want := strings.Join([]string{
		"ONE",
		"name      before   n  unit",
		"  a        -0.5    7  mm",
		"",
		"TWO",
		"  longer  128.25  12  deg/(100 N·m)",
		"  whole     3",
		"",
	}, "\n")
	if got := rendered(&g); got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

func TestGridGivesWayToThePage(t *testing.T) {
	g := grid{columns: []column{{gives: true}, {}}}
	long := strings.Repeat("word ", 12)
	g.add("  "+strings.TrimSpace(long), strings.Repeat("x", 60))
	g.add("  short", "y")
	for _, line := range strings.Split(rendered(&g), "\n") {
		if n := len([]rune(line)); n > pageWidth {
			t.Errorf("%d signs: %s", n, line)
		}
	}
	if got := strings.Fields(rendered(&g)); len(got) != 15 {
		t.Errorf("%d words are left of 15: %q", len(got), got)
	}
}

func TestGridLeavesOutEmptyColumns(t *testing.T) {
	g := grid{columns: []column{{}, {align: point}, {tight: true}}}
	g.add("a", "", "b")
	if got := rendered(&g); got != "a b\n" {
		t.Errorf("%q", got)
	}
}

func TestWrap(t *testing.T) {
	for _, test := range []struct {
		text  string
		width int
		want  []string
	}{
		{"one two three", 7, []string{"one two", "three"}},
		{"  one two", 5, []string{"  one", "  two"}},
		{"unbreakable", 3, []string{"unbreakable"}},
		{"°°° °°°", 7, []string{"°°° °°°"}},
		{"", 5, []string{""}},
	} {
		if got := wrap(test.text, test.width); strings.Join(got, "|") != strings.Join(test.want, "|") {
			t.Errorf("wrap(%q, %d) = %q", test.text, test.width, got)
		}
	}
}

func TestMeasure(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 33.14159: "33.14", 612.44: "612.4", 800: "800", 12345: "12345", -0.012345: "-0.01235", 1e-6: "0.000001", -35: "-35", 9999.6: "10000",
	} {
		if got := measure(x); got != want {
			t.Errorf("measure(%v) = %q, want %q", x, got, want)
		}
	}
}

func TestPercent(t *testing.T) {
	for _, test := range []struct {
		before, after float64
		want          string
	}{{1, 1.34, "34 % softer"}, {2, 1, "50 % stiffer"}, {1, 1.001, ""}, {0, 1, ""}} {
		if got := percent(test.before, test.after, "softer", "stiffer"); got != test.want {
			t.Errorf("%v to %v: %q, want %q", test.before, test.after, got, test.want)
		}
	}
}
