package main

import (
	"slices"
	"strings"
	"testing"
)

const smallPart = `# kept
[part]
inner_diameter = { from = 22, to = 30 }   # bolt
outer_diameter = 56
length = { from = 40, to = 56 }
hardness = 55
[wanted]
torsion = %TORSION%
`

func partFile(t *testing.T, torsion string) {
	t.Helper()
	t.Chdir(t.TempDir())
	writeText(t, "part.toml", strings.Replace(smallPart, "%TORSION%", torsion, 1))
}

func TestRubberExitCodes(t *testing.T) {
	partFile(t, "1.2")
	writeText(t, "stiff.toml", strings.Replace(smallPart, "%TORSION%", "12", 1))
	writeText(t, "wrong.toml", "[part]\nlenght = 4\n")
	for line, want := range map[string]int{
		"rubber":                                exitAnswer,
		"rubber part.toml":                      exitAnswer,
		"rubber part.toml --class d1":           exitAnswer,
		"rubber stiff.toml":                     exitNotReached,
		"rubber wrong.toml":                     exitBadInput,
		"rubber nowhere.toml":                   exitFailed,
		"rubber part.toml --class D4":           exitBadInput,
		"rubber part.toml --format xml":         exitBadInput,
		"rubber part.toml stiff.toml":           exitBadInput,
		"rubber part.toml --demo pivot-bush":    exitBadInput,
		"rubber --demo pivot-bsh":               exitBadInput,
		"rubber part.toml --out part.toml":      exitFailed,
		"rubber part.toml --out -":              exitBadInput,
		"rubber part.toml --out nowhere/a.toml": exitFailed,
	} {
		r := bushtune(t, line)
		if r.code != want {
			t.Errorf("%s: code %d, want %d; %s", line, r.code, want, r.err)
		}
		if want != exitAnswer && r.err == "" {
			t.Errorf("%s: nothing is said", line)
		}
		if (want == exitBadInput || want == exitFailed) && r.out != "" {
			t.Errorf("%s: an answer beside the error: %s", line, r.out)
		}
	}
}

// The new file holds numbers where the limits stood and gives the same rates.
func TestRubberWritesTheChosenPart(t *testing.T) {
	partFile(t, "1.2")
	before := readText(t, "part.toml")
	first := bushtune(t, "rubber part.toml --out made.toml")
	if first.code != exitAnswer || !strings.Contains(first.out, "made.toml: the dimensions as chosen") {
		t.Fatalf("code %d, %s%s", first.code, first.out, first.err)
	}
	text := readText(t, "made.toml")
	if readText(t, "part.toml") != before || strings.Contains(text, "from =") || !strings.HasPrefix(text, "# kept\n") || !strings.Contains(text, "   # bolt\n") {
		t.Errorf("made.toml is\n%s", text)
	}
	second := bushtune(t, "rubber made.toml")
	cut := func(s string) string {
		_, s, _ = strings.Cut(s, "\nRATES")
		s, _, _ = strings.Cut(s, "\nWROTE")
		return s
	}
	rates, _, _ := strings.Cut(cut(second.out), "\nCaution")
	if second.code != exitAnswer || len(rates) < 100 || strings.TrimSpace(rates) != strings.TrimSpace(cut(first.out)) {
		t.Errorf("code %d, the written part has other rates:\n%s\nchosen:\n%s", second.code, rates, cut(first.out))
	}
	if r := bushtune(t, "rubber part.toml --out made.toml"); r.code != exitFailed || !strings.Contains(r.err, "--force") {
		t.Errorf("code %d, %s", r.code, r.err)
	}
	if r := bushtune(t, "rubber part.toml --out made.toml --force"); r.code != exitAnswer {
		t.Errorf("code %d, %s", r.code, r.err)
	}
	if got := files(t); !slices.Equal(got, []string{"made.toml", "part.toml"}) {
		t.Errorf("left behind: %v", got)
	}
}

// What the answer says for an axle file is a bush there: the axle with these lines
// in place of its six rates can be read and solved.
func TestRubberLinesFitAnAxleFile(t *testing.T) {
	inFolder(t, "hatchback-link")
	_, lines, ok := strings.Cut(bushtune(t, "rubber").out, "FOR AN AXLE FILE, in place of the six rates of a [bush.NAME]\n")
	lines, _, closed := strings.Cut(lines, "\n\n")
	if !ok || !closed {
		t.Fatal("no lines for an axle file")
	}
	var kept []string
	inBush := false
	for _, line := range strings.Split(readText(t, "hatchback-link.toml"), "\n") {
		key, _, _ := strings.Cut(line, " ")
		if strings.HasPrefix(line, "[") {
			inBush = strings.HasPrefix(line, "[bush.pivot]")
		}
		rate := slices.Contains([]string{"soft", "axial", "stiff", "torsion", "cone_soft", "cone_stiff"}, key)
		switch {
		case inBush && rate, strings.HasPrefix(line, "bush.pivot.soft"), strings.HasPrefix(line, "bush.pivot.axial"):
			continue
		}
		kept = append(kept, line)
		if strings.HasPrefix(line, "[bush.pivot]") {
			kept = append(kept, lines)
		}
	}
	writeText(t, "axle.toml", strings.Join(kept, "\n"))
	if r := bushtune(t, "check axle.toml"); r.code != exitAnswer {
		t.Errorf("code %d\n%s%s", r.code, r.out, r.err)
	}
	if r := bushtune(t, "solve axle.toml"); r.code != exitAnswer {
		t.Errorf("code %d\n%s%s", r.code, r.out, r.err)
	}
}

// A part that is given on standard input is answered as the same file.
func TestRubberReadsStandardInput(t *testing.T) {
	partFile(t, "1.2")
	text := readText(t, "part.toml")
	r := bushtuneWith(t.Context(), streams{in: strings.NewReader(text)}, "rubber", "-", "--format", "csv")
	if want := bushtune(t, "rubber part.toml --format csv"); r.code != exitAnswer || r.out != want.out {
		t.Errorf("code %d, %s", r.code, r.err)
	}
}

// What is reached with a polyurethane is reached at one place of its range, and the
// answer says so.
func TestPolyurethaneIsReachedInItsRange(t *testing.T) {
	t.Chdir(t.TempDir())
	const text = "[part]\ncompound = \"polyurethane\"\nbonded = true\nrange_share = 0.8\nhardness = 80\ninner_diameter = 24\nouter_diameter = 44\nlength = { from = 40, to = 60 }\n[wanted]\nsoft = 9000\n"
	writeText(t, "part.toml", text)
	r := bushtune(t, "rubber part.toml")
	if r.code != exitAnswer {
		t.Fatalf("code %d: %s", r.code, r.err)
	}
	for _, words := range []string{"That is at range_share 0.8.", "at 0.8", "80    Shore A"} {
		if !strings.Contains(r.out, words) {
			t.Errorf("no %q in %s", words, r.out)
		}
	}
}
