package quantity

import (
	"cmp"
	"slices"
	"strings"
)

// Nearest returns up to three of the known names that are closest to a name that
// is none of them, for a hint in an error; empty if nothing is close. Distance is
// the number of slips of a typist: a letter missed, added or mistaken, or two
// exchanged (optimal string alignment: Damerau, Communications of the ACM 7, 1964,
// from memory). Letters of other scripts that look like Latin ones count as those,
// and a name that shares whole words with another counts as close.
func Nearest(name string, known []string) []string {
	written := Latin(name)
	var near []likeness
	if written == "" {
		return nil
	}
	for _, k := range known {
		if l, ok := liken(written, k); ok {
			near = append(near, l)
		}
	}
	slices.SortStableFunc(near, func(a, b likeness) int {
		return cmp.Or(cmp.Compare(a.distance, b.distance), cmp.Compare(b.shared, a.shared))
	})
	var names []string
	for _, l := range near[:min(3, len(near))] {
		names = append(names, l.name)
	}
	return names
}

// likeness says how close a known name is to the written one.
type likeness struct {
	name     string
	distance int
	shared   int // whole words in common; one more if the last is the same
}

// sharedDistance is what whole words in common are worth in slips: less sure than
// one slip in the whole name.
const sharedDistance = 2

// liken compares a written name with a known one; false if they are not close.
func liken(written, known string) (likeness, bool) {
	l := likeness{name: known}
	if slipsAtMost := max(2, len(written)/3); abs(len(written)-len(known)) <= slipsAtMost {
		l.distance = slips([]rune(written), []rune(known))
	} else {
		l.distance = len(written) + len(known)
	}
	mine, its := words(written), words(known)
	for _, w := range mine {
		if slices.Contains(its, w) {
			l.shared++
		}
	}
	started := strings.HasPrefix(known, written) || strings.HasPrefix(written, known) && len(known) > 3
	if l.shared == min(len(mine), len(its)) && l.shared > 0 || started {
		l.distance = min(l.distance, sharedDistance)
	}
	if len(mine) > 0 && len(its) > 0 && mine[len(mine)-1] == its[len(its)-1] {
		l.shared++
	}
	return l, l.distance <= max(2, len(written)/3)
}

// words takes a name apart where it has joints.
func words(name string) []string {
	return strings.FieldsFunc(name, func(r rune) bool { return r == '_' || r == '-' || r == '.' || r == ' ' })
}

// lookalikes are small Cyrillic and Greek letters that look like the Latin ones
// below them. From memory of the scripts.
var lookalikes = strings.NewReplacer(
	"а", "a", "с", "c", "е", "e", "һ", "h", "і", "i", "ј", "j", "ӏ", "l", "о", "o", "р", "p", "ѕ", "s", "х", "x", "у", "y", "в", "b", "к", "k", "м", "m", "н", "h", "т", "t", "ԁ", "d", "ԛ", "q", "ԝ", "w",
	"α", "a", "ϲ", "c", "ε", "e", "ι", "i", "κ", "k", "ν", "v", "ο", "o", "ρ", "p", "τ", "t", "υ", "u", "χ", "x", "γ", "y",
)

// Latin is a name in small letters as it looks to one who reads Latin ones.
func Latin(name string) string { return lookalikes.Replace(strings.ToLower(name)) }

// slips is the optimal string alignment distance, three rows of the table at a
// time.
func slips(a, b []rune) int {
	before, row, next := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		next[0] = i + 1
		for j := range b {
			change := row[j]
			if a[i] != b[j] {
				change++
			}
			next[j+1] = min(change, row[j+1]+1, next[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				next[j+1] = min(next[j+1], before[j-1]+1)
			}
		}
		before, row, next = row, next, before
	}
	return row[len(b)]
}

func abs(n int) int { return max(n, -n) }
