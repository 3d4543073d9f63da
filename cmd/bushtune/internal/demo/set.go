package demo

import (
	"embed"
	"slices"
)

//go:embed sets/*.toml
var sets embed.FS

// setsOf names the built-in sets of an axle.
var setsOf = []struct {
	axle string
	sets []string
}{
	{"hatchback-link", []string{"firm-pivots", "worn-axle"}},
}

// SetsOf lists the built-in sets of parts of an axle; none for most.
func SetsOf(axle string) []string {
	for _, s := range setsOf {
		if s.axle == axle {
			return slices.Clone(s.sets)
		}
	}
	return nil
}

// Set returns a built-in set of parts by its name.
func Set(name string) ([]byte, bool) {
	text, err := sets.ReadFile("sets/" + name + ".toml")
	return text, err == nil
}
