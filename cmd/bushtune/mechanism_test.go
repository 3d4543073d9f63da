package main

import (
	"regexp"
	"strings"
	"testing"
)

// A beam axle without its lower links has five supports for six freedoms: it turns
// about the line across the car through the upper ones. Every command says so and
// shows no figure.
func TestMechanismIsRefused(t *testing.T) {
	inFolder(t, "van-beam-axle")
	text := readText(t, "van-beam-axle.toml")
	for _, table := range []string{"link.lower", "vehicle"} {
		text = regexp.MustCompile(`(?s)\n\[`+regexp.QuoteMeta(table)+`\].*?\n\n`).ReplaceAllString(text, "\n")
	}
	text = regexp.MustCompile(`(?m)^link\.lower.*\n`).ReplaceAllString(text, "")
	writeText(t, "free.toml", text)
	for _, command := range []string{"check", "solve", "travel", "sweep --case cornering", "tune --out new.toml"} {
		name, options, _ := strings.Cut(command, " ")
		r := bushtune(t, name+" free.toml "+options)
		if r.code != exitFailed || r.out != "" && name != "check" || strings.Contains(r.out, "deg/kN") ||
			!strings.Contains(r.err, "nothing holds the body axle: it can turn about an axis across the car (axis through (-10.0, ") {
			t.Errorf("bushtune %s: exit code %d, on the output %q; it says: %s", command, r.code, r.out, r.err)
		}
	}
	if got := files(t); len(got) != 2 {
		t.Errorf("files %v: nothing should be written", got)
	}
}
