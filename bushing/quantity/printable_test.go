package quantity

import (
	"encoding/json"
	"testing"
)

// TestPrintable: what a terminal obeys is written as its number, as JSON writes it;
// what it shows stays.
func TestPrintable(t *testing.T) {
	for s, want := range map[string]string{
		"N\u00b7m/deg, \u00b114 %\tn\n": "N\u00b7m/deg, \u00b114 %\tn\n",
		"a\x1b[8mb":                     `a\u001b[8mb`,
		"a\u202eb":                      `a\u202eb`,
		"a\u200bb\u0085":                `a\u200bb\u0085`,
		"a\U000e0041":                   `a\udb40\udc41`,
		"a\rb":                          `a\u000db`,
	} {
		got := Printable(s)
		if got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
		var back string
		if got != s && (json.Unmarshal([]byte(`"`+got+`"`), &back) != nil || back != s) {
			t.Errorf("%q read from JSON as %q", got, back)
		}
	}
	if got := OneLine("a\nb\u2066c\td"); got != "a b c d" {
		t.Errorf("%q", got)
	}
}
