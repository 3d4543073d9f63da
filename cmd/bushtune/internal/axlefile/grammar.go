package axlefile

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"github.com/BurntSushi/toml"

	"bushtune/bushing/quantity"
)

// grammarMistake words what the parser says of a text that is not TOML.
func grammarMistake(name string, text []byte, err error) Mistake {
	m := Mistake{File: name, Line: 1, Wrong: "not TOML: " + quantity.OneLine(err.Error())}
	var parse toml.ParseError
	if errors.As(err, &parse) {
		m.Line = max(1, min(parse.Position.Line, countLines(text)))
		m.Wrong = "not TOML: " + quantity.OneLine(parse.Message)
		if parse.LastKey != "" {
			m.Hint = "look near the key " + quantity.OneLine(parse.LastKey)
		}
	}
	if slip := grammarSlip(bytes.Split(text, []byte("\n"))[m.Line-1]); slip != "" {
		m.Hint = slip
	}
	return m
}

// grammarSlip names the slip in a line that people make who are new to TOML;
// empty if there is none of those.
func grammarSlip(line []byte) string {
	written, value, ok := bytes.Cut(line, []byte("="))
	if !ok {
		return ""
	}
	if slip := foreignLetter(string(bytes.TrimSpace(written))); slip != "" {
		return slip
	}
	for _, slip := range []struct{ pattern, hint string }{
		{`^\s*(#|$)`, "a value is missing behind ="},
		{`^\s*[+-]?\d+,\d`, "numbers take a decimal point: 1.5"},
		{`^\s*[+-]?(\.\d|\d+\.([^\d]|$))`, "digits on both sides of the decimal point: 0.5"},
		{`^\s*[+-]?\d[\d.]*(\s+[\pL°%]|[a-df-zA-DF-Zµ°%])`, "a number stands alone, without its unit"},
		{`^\s*(?i:true|false|yes|no|on|off)\b`, "write true or false"},
		{`^\s*\pL`, `a text stands in quotes: "vehicle"`},
	} {
		if regexp.MustCompile(slip.pattern).Match(value) {
			return slip.hint
		}
	}
	return ""
}

// foreignLetter names the letter of a bare key that only looks like a Latin one.
func foreignLetter(key string) string {
	latin := quantity.Latin(key)
	if !isName(latin) {
		return ""
	}
	for _, r := range key {
		if r > unicode.MaxASCII {
			return fmt.Sprintf("the letter %c (U+%04X) only looks like a Latin one: write %s", r, r, latin)
		}
	}
	return ""
}

// bareOrQuoted writes a key so that TOML reads it back.
func bareOrQuoted(key string) string {
	if isName(key) {
		return key
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(key) + `"`
}

// isName tells whether a word can be a name: letters a–z, digits, _ and -.
func isName(s string) bool {
	for _, c := range s {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '_', c == '-':
		default:
			return false
		}
	}
	return s != ""
}
