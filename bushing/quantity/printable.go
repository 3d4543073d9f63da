package quantity

import (
	"fmt"
	"strings"
	"unicode"
)

// Printable writes what a terminal would obey rather than show as its number:
// control signs, and signs that turn the direction of a text or take no room become
// \u202e and the like. Line ends and tabs stay. The same way of writing stands for
// the sign in a JSON string.
func Printable(s string) string {
	if strings.IndexFunc(s, obeyed) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case !obeyed(r):
			b.WriteRune(r)
		case r > 0xffff:
			high, low := (r-0x10000)>>10+0xd800, (r-0x10000)&0x3ff+0xdc00
			fmt.Fprintf(&b, `\u%04x\u%04x`, high, low)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

// OneLine makes a text from outside fit for one line: what a terminal would obey
// becomes a space.
func OneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if obeyed(r) || r == '\n' || r == '\t' {
			return ' '
		}
		return r
	}, s)
}

// obeyed tells whether a sign does something instead of being seen: the classes
// control and format of Unicode, and its two separators of lines.
func obeyed(r rune) bool {
	if r == '\n' || r == '\t' {
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp)
}
