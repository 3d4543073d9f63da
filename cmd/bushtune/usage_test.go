package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode"

	"bushtune/cmd/bushtune/internal/demo"
)

// TestExitCodes runs command lines that fail, and some that do not: the code,
// and words that must stand on the error stream.
func TestExitCodes(t *testing.T) {
	inFolder(t, "hatchback-link", "hatchback-plain")
	writeText(t, "mistakes.toml", mistakes)
	writeText(t, "free.toml", free)
	writeText(t, "bare.toml", strings.Split(free, "[bush.pivot]")[0]+held)
	for _, test := range []struct {
		line string
		code int
		says string
	}{
		{"", exitAnswer, ""},
		{"--help", exitAnswer, ""},
		{"help", exitAnswer, ""},
		{"help solve", exitAnswer, ""},
		{"solve missing.toml --help", exitAnswer, ""},
		{"--version", exitAnswer, ""},
		{"solve", exitAnswer, ""},
		{"solve --help", exitAnswer, ""},
		{"tune", exitAnswer, ""},
		{"check hatchback-link.toml", exitAnswer, ""},
		{"check --schema", exitAnswer, ""},
		{"demo hatchback-link", exitAnswer, ""},
		{"solv", exitBadInput, "did you mean solve?"},
		{"zzz", exitBadInput, "there are solve, travel, sweep, tune, "},
		{"--format json solve", exitBadInput, "a command comes first"},
		{"solve --fromat json", exitBadInput, "did you mean --format?"},
		{"solve -x", exitBadInput, "solve has no option -x"},
		{"solve --format", exitBadInput, "needs a value"},
		{"tune --out --force", exitBadInput, "--out needs a value"},
		{"solve --format xml", exitBadInput, "there are text, json, csv"},
		{"solve --demo nothing", exitBadInput, "there is no built-in axle"},
		{"solve --demo hatchback-lnk", exitBadInput, "did you mean hatchback-link"},
		{"solve hatchback-link.toml --demo hatchback-link", exitBadInput, "not both"},
		{"solve hatchback-link.toml hatchback-plain.toml", exitBadInput, "takes one axle file"},
		{"solve --parts lateral_forc_steer", exitBadInput, "lateral_force_steer"},
		{"solve --parts brake_steer@impact", exitBadInput, "brake_steer has no case"},
		{"solve --parts zzzzzzzzzzzzzzzz", exitBadInput, "--names lists them"},
		{"solve mistakes.toml", exitBadInput, "bush.pivot.sofft"},
		{"tune mistakes.toml", exitBadInput, "mistakes.toml:11"},
		{"tune bare.toml", exitBadInput, "search"},
		{"help tunes", exitBadInput, "did you mean tune?"},
		{"tune --seed minus", exitBadInput, `option --seed does not take "minus"`},
		{"solve --matrix=yes", exitBadInput, `option --matrix does not take "yes"`},
		{"tune --starts 5000", exitBadInput, "0 to 1000"},
		{"tune --out=", exitBadInput, "the name of a file"},
		{"demo hatchback-link --out -", exitBadInput, "the name of a file"},
		{"check", exitBadInput, "at least one axle file"},
		{"check mistakes.toml", exitBadInput, "mistakes.toml: 1"},
		{"check --schema hatchback-link.toml", exitBadInput, "takes no file"},
		{"demo hatchback-lin", exitBadInput, "did you mean"},
		{"demo --out x.toml", exitBadInput, "--out needs the name"},
		{"travel --points 2", exitAnswer, ""},
		{"travel --motion rol", exitBadInput, "did you mean roll or roll-at-load?"},
		{"travel --from 20 --to 20", exitBadInput, "from below to"},
		{"travel --from -9000", exitBadInput, "within ±500"},
		{"travel --from low", exitBadInput, "from"},
		{"sweep --case cornering --to 1e9", exitBadInput, "at most 10000"},
		{"sweep --to -1", exitBadInput, "above zero"},
		{"travel --points 1", exitBadInput, "2 to 401"},
		{"travel --right", exitBadInput, "are alike"},
		{"travel mistakes.toml", exitBadInput, "bush.pivot.sofft"},
		{"travel free.toml", exitFailed, "can move without load"},
		{"travel --demo saloon-semi-trailing --from -300 --to 500", exitFailed, "no further than"},
		{"sweep --points 2", exitAnswer, ""},
		{"sweep --case corneringg", exitBadInput, "nearest: cornering"},
		{"sweep --to -1", exitBadInput, "above zero"},
		{"sweep --case roll --to 100 --demo hatchback-plain", exitFailed, "no further than"},
		{"solve --at-size 0", exitBadInput, "above zero"},
		{"solve --at-size 2", exitAnswer, ""},
		{"solve missing.toml", exitFailed, "missing.toml"},
		{"solve van-beam-axle.toml", exitFailed, "--demo van-beam-axle"},
		{"check missing.toml", exitFailed, "missing.toml"},
		{"check missing.toml absent.toml", exitFailed, "\nbushtune: open absent.toml"},
		{"solve free.toml", exitFailed, "can turn about an axis"},
		{"check free.toml", exitFailed, "free.toml: the axle can move without load"},
		{"tune --demo hatchback-plain", exitNotReached, "not every want is reached, and every parameter is on its bound"},
	} {
		r := bushtune(t, test.line)
		if r.code != test.code {
			t.Errorf("bushtune %s: exit code %d, want %d; it says: %s", test.line, r.code, test.code, r.err)
		}
		if !strings.Contains(r.err, test.says) || test.says == "" && r.err != "" {
			t.Errorf("bushtune %s: the error stream holds %q, want %q", test.line, r.err, test.says)
		}
		if test.code == exitAnswer && r.out == "" {
			t.Errorf("bushtune %s: no answer", test.line)
		}
		if (test.code == exitFailed && !strings.Contains(test.says, "no further than") || test.code == exitBadInput && !strings.HasPrefix(test.line, "check m")) && r.out != "" {
			t.Errorf("bushtune %s: it failed and yet wrote %q", test.line, r.out)
		}
	}
}

// free is an axle whose arms hang on one bush each without resistance to turning.
const free = `[wheel]
on = "arm"
centre = [0, 740, 300]
loaded_radius = 300
[body.arm]
[bush.pivot]
from = "vehicle"
to = "arm"
at = [430, 560, 330]
soft = 600
axial = 600
stiff = 600
`

// held holds the arms of free otherwise.
const held = `[bush.pivot]
from = "vehicle"
to = "arm"
at = [430, 560, 330]
soft = 600
axial = 600
stiff = 600
torsion = 20
cone_soft = 20
cone_stiff = 20
`

func TestOptionsStandBeforeOrAfterTheFile(t *testing.T) {
	inFolder(t, "hatchback-link")
	for _, lines := range [][]string{
		{"solve --matrix --format json hatchback-link.toml", "solve hatchback-link.toml --matrix --format json", "solve --format=json hatchback-link.toml --matrix", "solve -f json --matrix -- hatchback-link.toml"},
		{"tune --seed 3 hatchback-link.toml", "tune hatchback-link.toml --seed 3", "tune hatchback-link.toml -seed=3"},
		{"check --format csv hatchback-link.toml", "check hatchback-link.toml --format csv"},
	} {
		first := bushtune(t, lines[0])
		if first.code != exitAnswer {
			t.Fatalf("%s: %s", lines[0], first.err)
		}
		for _, line := range lines[1:] {
			if r := bushtune(t, line); r != first {
				t.Errorf("%q answers otherwise than %q: code %d, %s", line, lines[0], r.code, r.err)
			}
		}
	}
}

func TestStandardInput(t *testing.T) {
	inFolder(t, "hatchback-link")
	text := readText(t, "hatchback-link.toml")
	from := func(args ...string) ran {
		return bushtuneWith(context.Background(), streams{in: strings.NewReader(text)}, args...)
	}
	piped, named := from("solve", "-"), from("solve", "hatchback-link.toml")
	if piped.code != exitAnswer || strings.Replace(piped.out, "standard input", "hatchback-link.toml", 1) != named.out {
		t.Errorf("standard input answers otherwise than the file: code %d, %s", piped.code, piped.err)
	}
	if r := from("tune", "-", "--out", "new.toml"); r.code != exitAnswer || !strings.Contains(readText(t, "new.toml"), "[search]") {
		t.Errorf("tune of standard input: code %d, %s", r.code, r.err)
	}
}

func TestColourRepeatsWhatWordsSay(t *testing.T) {
	coloured := bushtuneWith(context.Background(), streams{colour: true}, "tune")
	without := bushtuneWith(context.Background(), streams{}, "tune")
	if !strings.Contains(coloured.out, "\x1b[1m") || !strings.Contains(coloured.out, "\x1b[32m") {
		t.Error("no colour where colour is on")
	}
	for _, code := range []string{"\x1b[0m", "\x1b[1m", "\x1b[31m", "\x1b[32m"} {
		coloured.out = strings.ReplaceAll(coloured.out, code, "")
	}
	if coloured.out != without.out {
		t.Error("the text under the colours differs:\n" + firstDifference(without.out, coloured.out))
	}
}

func TestNoColorIsRespected(t *testing.T) {
	for _, test := range []struct {
		terminal bool
		noColor  string
		want     bool
	}{{true, "", true}, {true, "1", false}, {true, "0", false}, {false, "", false}, {false, "1", false}} {
		if got := coloured(test.terminal, test.noColor); got != test.want {
			t.Errorf("terminal %v, NO_COLOR=%q: %v", test.terminal, test.noColor, got)
		}
	}
}

func TestProgressOnlyWhereAPersonWatches(t *testing.T) {
	var watched strings.Builder
	if r := bushtuneWith(context.Background(), streams{progress: &watched}, "tune"); !strings.Contains(watched.String(), "start 14 of 14") || r.err != "" {
		t.Errorf("no progress: %q, %q", watched.String(), r.err)
	}
	if r := bushtune(t, "tune"); r.err != "" {
		t.Errorf("words where nobody watches: %q", r.err)
	}
}

func TestInterruptLeavesNothing(t *testing.T) {
	inFolder(t, "hatchback-link")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r := bushtuneWith(ctx, streams{}, "tune", "hatchback-link.toml", "--out", "new.toml")
	if r.code != exitFailed || !strings.Contains(r.err, "interrupted") || r.out != "" || len(files(t)) != 1 {
		t.Errorf("code %d, %q, %q, files %v", r.code, r.out, r.err, files(t))
	}
}

// TestInterruptStopsAMovement: travel and sweep stop between two points.
func TestInterruptStopsAMovement(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, command := range []string{"travel", "sweep"} {
		if r := bushtuneWith(ctx, streams{}, command); r.code != exitFailed || r.err != "bushtune: interrupted; nothing is written\n" || r.out != "" {
			t.Errorf("%s: code %d, %q, %q", command, r.code, r.out, r.err)
		}
	}
}

// TestAnInterruptIsNoAnswer: no command calls a load that an interrupt stopped one that the
// axle cannot hold, and none writes what it has not finished.
func TestAnInterruptIsNoAnswer(t *testing.T) {
	inFolder(t, "hatchback-link")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, line := range []string{"solve --at-size 4", "solve", "swap --demo hatchback-link rates=1.5 --at-size 4", "spec", "spec --out page.md", "check hatchback-link.toml", "rubber"} {
		r := bushtuneWith(ctx, streams{}, strings.Fields(line)...)
		if r.code != exitFailed || !strings.HasSuffix(r.err, "bushtune: interrupted; nothing is written\n") || strings.Contains(r.err, "held") || r.out != "" || len(files(t)) != 1 {
			t.Errorf("%s: code %d, %q, %q, files %v", line, r.code, r.out, r.err, files(t))
		}
	}
}

// fullDisk is an output that takes nothing.
type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestAnAnswerThatCannotBeWrittenIsAnError(t *testing.T) {
	for _, args := range [][]string{{"solve"}, {"solve", "--format", "json"}, {"tune", "--format", "csv"}, {"demo"}, {"demo", "hatchback-link"}, {"check", "--schema"}, {"--help"}, {"solve", "--help"}} {
		var err bytes.Buffer
		code := run(context.Background(), append([]string{"bushtune"}, args...), streams{out: fullDisk{}, err: &err})
		if code != exitFailed || !strings.Contains(err.String(), "the answer could not be written: no space left") {
			t.Errorf("%v: code %d, %s", args, code, err.String())
		}
	}
}

// TestNothingThatATerminalObeys: neither a text of the file, nor its name, nor a
// mistake in it brings a control sign or one that turns the direction of a text to
// the terminal, coloured or not.
func TestNothingThatATerminalObeys(t *testing.T) {
	t.Chdir(t.TempDir())
	axle, err := demo.Open("hatchback-link")
	if err != nil {
		t.Fatal(err)
	}
	const tricks = `\u202e\u0007\u009b8m\u200b`
	named := "turned\u202e\x1b[8m.toml"
	writeText(t, named, strings.Replace(string(axle.Text), "\ntitle = \"", "\ntitle = \""+tricks, 1))
	writeText(t, "wrong.toml", "title = 1\n[bush.a]\n\"b"+tricks+"\" = 1\nfrom = \""+tricks+"\"\n")
	for _, args := range [][]string{
		{"solve", named}, {"tune", named}, {"check", named}, {"check", named, "--format", "json"}, {"solve", named, "--format", "json"}, {"solve", named, "--format", "csv"},
		{"spec", named}, {"spec", named, "--format", "json"}, {"check", "wrong.toml"}, {"solve", "wrong.toml"}, {"solve", "absent\u2066.toml"}, {"sol\u202eve"}, {"solve", "--case\u202e"},
		{"check", "wrong.toml", "--format", "json"},
	} {
		r := bushtuneWith(context.Background(), streams{colour: true}, args...)
		if r.out+r.err == "" {
			t.Errorf("%q: nothing is said", args)
		}
		for _, letter := range strings.NewReplacer("\x1b[0m", "", "\x1b[1m", "", "\x1b[32m", "", "\x1b[31m", "").Replace(r.out + r.err) {
			if letter != '\n' && !unicode.IsPrint(letter) && letter != '\u00a0' {
				t.Errorf("%q: the sign %U is written", args, letter)
				break
			}
		}
		if strings.HasPrefix(r.out, "[") && !json.Valid([]byte(r.out)) {
			t.Errorf("%q: no JSON", args)
		}
	}
}
