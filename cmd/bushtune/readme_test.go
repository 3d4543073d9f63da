package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
)

const readmePath = root + "/README.md"

func readme(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(readmePath)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// fenced returns the code blocks of the README that start with a prefix.
func fenced(t *testing.T, prefix string) []string {
	t.Helper()
	var blocks []string
	for _, m := range regexp.MustCompile("(?s)```[a-z]*\n(.*?)```").FindAllStringSubmatch(readme(t), -1) {
		if strings.HasPrefix(m[1], prefix) {
			blocks = append(blocks, m[1])
		}
	}
	if len(blocks) == 0 {
		t.Fatalf("README has no block that starts with %q", prefix)
	}
	return blocks
}

// A newcomer types two commands. The first is run here, the second is running.
func TestReadmeFirstCommands(t *testing.T) {
	commands := regexp.MustCompile(`(?m)^    (go .*)$`).FindAllStringSubmatch(readme(t), -1)
	if len(commands) != 2 || commands[1][1] != "go test ./..." {
		t.Fatalf("README's commands are %v, want one to tune and the tests", commands)
	}
	line, ok := strings.CutPrefix(commands[0][1], "go run ./cmd/bushtune ")
	if !ok {
		t.Fatalf("README's first command is %q", commands[0][1])
	}
	r := bushtune(t, line)
	if r.code != 0 || !strings.Contains(r.out, "THE OUTER WHEEL IN A CORNER") {
		t.Errorf("bushtune %s: exit code %d, %s", line, r.code, r.err)
	}
}

// TestReadmeAnswers: each answer shown in README is what the command prints, from a
// heading to before another one.
func TestReadmeAnswers(t *testing.T) {
	for _, shown := range []struct{ line, from, before string }{
		{"tune", "", "\nALL NUMBERS"},
		{"sweep --points 6", "", "\nTOE AND CAMBER"},
		{"rubber", "", "\nRATES"},
		{"fit", "", "\nWHAT IS LEFT OVER"},
		{"choose --demo hatchback-link --best 3", "", "\nHOW SURE"},
		{"swap --demo hatchback-link firm-pivots", "\nWHAT CHANGES", "\nCaution"},
	} {
		command := "$ bushtune " + shown.line + "\n"
		block := fenced(t, command)[0]
		out, _, ok := strings.Cut(bushtune(t, shown.line).out, shown.before)
		start := strings.Index(out, shown.from)
		if !ok || start < 0 {
			t.Errorf("%s prints no %q or no %q", shown.line, shown.from, shown.before)
			continue
		}
		want := command + out + "…\n"
		if start > 0 {
			want = command + "…" + out[start:] + "…\n"
		}
		switch {
		case block == want:
		case *renew:
			rewrite(t, block, want)
		default:
			t.Errorf("README does not show what bushtune %s prints; go test ./cmd/bushtune -renew writes it anew", shown.line)
		}
	}
}

// The part file of README can be read, and what it wants is reached.
func TestReadmePartFile(t *testing.T) {
	block := fenced(t, "title = \"bush of a link\"")[0]
	t.Chdir(t.TempDir())
	writeText(t, "part.toml", block)
	if r := bushtune(t, "rubber part.toml --out made.toml"); r.code != exitAnswer {
		t.Errorf("exit code %d\n%s%s", r.code, r.out, r.err)
	}
	if r := bushtune(t, "rubber made.toml"); r.code != exitAnswer {
		t.Errorf("made: exit code %d\n%s%s", r.code, r.out, r.err)
	}
}

func rewrite(t *testing.T, from, to string) {
	t.Helper()
	text := readme(t)
	if strings.Count(text, from) != 1 {
		t.Fatal("the part of README to renew stands there more than once")
	}
	if err := os.WriteFile(readmePath, []byte(strings.Replace(text, from, to, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
}

// The commands of the README work one after the other.
func TestReadmeCommands(t *testing.T) {
	blocks := fenced(t, "$ bushtune demo")
	t.Chdir(t.TempDir())
	count := 0
	for _, line := range strings.Split(strings.TrimSpace(blocks[0]), "\n") {
		command, ok := strings.CutPrefix(line, "$ bushtune ")
		if !ok {
			t.Fatalf("%q is no command of bushtune", line)
		}
		if r := bushtune(t, command); r.code != 0 {
			t.Errorf("%s: exit code %d\n%s", line, r.code, r.err)
		}
		count++
	}
	if count < 4 {
		t.Errorf("only %d commands found", count)
	}
}

// The small axle file is whole: it can be read, solved and tuned.
func TestReadmeAxleFile(t *testing.T) {
	block := fenced(t, "# lengths mm")[0]
	t.Chdir(t.TempDir())
	writeText(t, "axle.toml", block)
	for _, command := range []string{"check axle.toml", "solve axle.toml", "tune axle.toml"} {
		if r := bushtune(t, command); r.code != 0 {
			t.Errorf("%s: exit code %d\n%s%s", command, r.code, r.out, r.err)
		}
	}
}

const (
	numbersBegin = "<!-- numbers: written by go test ./cmd/bushtune -run Readme -renew -->\n"
	numbersEnd   = "<!-- end of numbers -->"
)

// README's table of numbers is the table of package cases.
func TestReadmeNumbers(t *testing.T) {
	_, rest, ok := strings.Cut(readme(t), numbersBegin)
	table, _, closed := strings.Cut(rest, numbersEnd)
	if !ok || !closed {
		t.Fatal("README has no place for the table of numbers")
	}
	want := numbersTable(t)
	if table == want {
		return
	}
	if !*renew {
		t.Error("README's table of numbers is not that of package cases; go test ./cmd/bushtune -renew writes it anew")
		return
	}
	rewrite(t, numbersBegin+table+numbersEnd, numbersBegin+want+numbersEnd)
}

// numbersTable writes one row for each definition, with all its cases.
func numbersTable(t *testing.T) string {
	t.Helper()
	rows, list := map[string][]string{}, []cases.Number{}
	for _, n := range studyOf(t, "hatchback-plain").Numbers() {
		key := n.Name + n.Where
		if n.Generic {
			continue
		}
		if rows[key] == nil {
			list = append(list, n)
		}
		rows[key] = append(rows[key], "`"+n.Case+"`")
	}
	if len(list) < 20 {
		t.Fatalf("only %d numbers", len(list))
	}
	var b strings.Builder
	b.WriteString("| `number` | cases | definition | unit | + | − | step |\n|---|---|---|---|---|---|---|\n")
	for _, n := range list {
		name := "`" + n.Name + "`"
		if n.Where != "" {
			name += ", `where = \"" + n.Where + "\"`"
		}
		places := slices.Compact(rows[n.Name+n.Where])
		fmt.Fprintf(&b, "| %s | %s | %s: %s | %s | %s | %s | %v |\n", name, strings.Join(places, ", "), n.Title, n.Formula, n.Unit.Name, n.Signs.Plus, n.Signs.Minus, n.Step)
	}
	return b.String()
}

func studyOf(t *testing.T, name string) *cases.Study {
	t.Helper()
	axle, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	f, err := axlefile.Parse(name, axle.Text)
	if err != nil {
		t.Fatal(err)
	}
	study, err := cases.NewStudy(f.Axle, f.Vehicle, f.Cases, f.States)
	if err != nil {
		t.Fatal(err)
	}
	return study
}

// The table of stages in DEVELOPERS.md names packages and files that exist.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	text, err := os.ReadFile(root + "/DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	quoted := regexp.MustCompile("`([^`]+)`")
	named := 0
	for line := range strings.Lines(string(text)) {
		cells := strings.Split(line, "|")
		if len(cells) != 5 || !strings.HasPrefix(cells[2], " `") || strings.Contains(line, "(") {
			continue
		}
		folder := filepath.Join(root, quoted.FindStringSubmatch(cells[2])[1])
		for _, file := range append(quoted.FindAllStringSubmatch(cells[3], -1), []string{"", "."}) {
			named++
			if _, err := os.Stat(filepath.Join(folder, file[1])); err != nil {
				t.Errorf("DEVELOPERS.md: %v", err)
			}
		}
	}
	if named < 40 {
		t.Errorf("only %d files and folders found in DEVELOPERS.md", named)
	}
}
