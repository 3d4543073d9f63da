package axlefile

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

func TestPlacesOfKeys(t *testing.T) {
	d, err := parse("test.toml", []byte("a = 1\r\n[b.c]\nd.e = [\n  1,\n  2 ]\n'q r' = { s = 3,\n t = 4 }\n"))
	if err != nil {
		t.Fatal(err)
	}
	c := d.root.sub("b").sub("c")
	for name, at := range map[string]struct {
		e    *entry
		line int
		text string
	}{
		"a":           {d.root.entries["a"], 1, "1"},
		"b.c.d.e.1":   {c.sub("d").entries["e"].items[1], 5, "2"},
		"b.c.'q r'.s": {c.sub("q r").entries["s"], 6, "3"},
		"b.c.'q r'.t": {c.sub("q r").entries["t"], 7, "4"},
	} {
		if got := string(d.text[at.e.span.start:at.e.span.end]); at.e.line != at.line || got != at.text {
			t.Errorf("%s: line %d, %q; want line %d, %q", name, at.e.line, got, at.line, at.text)
		}
	}
}

func TestNotTOML(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		line int
	}{
		"too large":    {strings.Repeat("#", largestFile+1), 1},
		"not UTF-8":    {"a = 1\nb = \"\xff\"\n", 2},
		"zero byte":    {"a = 1\n\x00\n", 2},
		"cut off":      {"[bush.pivot\n", 1},
		"open text":    {"a = 1\nb = \"x\n", 2},
		"deep":         {"a = " + strings.Repeat("[", 20000), 1},
		"huge integer": {"\n\na = 99999999999999999999\n", 3},
	} {
		_, err := Parse("test.toml", []byte(c.text))
		var m Mistakes
		if !errors.As(err, &m) || len(m) != 1 || m[0].Line != c.line {
			t.Errorf("%s: %v, want one mistake on line %d", name, err, c.line)
		}
		checkPlaces(t, m, []byte(c.text))
	}
}

func TestReadStopsAtTheLimit(t *testing.T) {
	if _, err := Read("/dev/zero"); err == nil {
		t.Error("an endless file was read")
	}
	if _, err := Read("testdata/no such file.toml"); err == nil {
		t.Error("a file that does not exist was read")
	}
}

// TestPlacerFailure: what only the second parser refuses is told with its line.
func TestPlacerFailure(t *testing.T) {
	d := newDocument([]byte("a = 1\nb = = 2\n"))
	err := d.place(map[string]any{})
	if err == nil || d.lineAt(err.offset) != 2 || !bytes.Contains([]byte(err.message), []byte("=")) {
		t.Errorf("%+v", err)
	}
}

// TestSlipsOfGrammar: what people write who are new to TOML is named.
func TestSlipsOfGrammar(t *testing.T) {
	for value, want := range map[string]string{
		"1,5":            "decimal point",
		"-0,5 # comment": "decimal point",
		".5":             "both sides",
		"5.":             "both sides",
		"1. # N/mm":      "both sides",
		"500 N/mm":       "without its unit",
		"12deg":          "without its unit",
		"3 °":            "without its unit",
		"vehicle":        "in quotes",
		"True":           "true or false",
		"yes":            "true or false",
		"":               "value is missing",
		" # later":       "value is missing",
		"1e400":          "near the key bush.a.soft",
		"[1, 2":          "near the key bush.a.soft",
	} {
		_, err := parse("test.toml", []byte("[bush.a]\nsoft = "+value+"\naxial = 3\n"))
		var mistakes Mistakes
		if !errors.As(err, &mistakes) || !strings.Contains(mistakes[0].Hint, want) {
			t.Errorf("soft = %s: %v, want a hint of %q", value, err, want)
		}
	}
}
