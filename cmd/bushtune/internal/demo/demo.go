// Package demo holds the built-in axles: invented, of the size of real ones,
// each an axle file with two opening lines that say what it shows.
package demo

import (
	"embed"
	"fmt"
	"strings"

	"bushtune/bushing/quantity"
)

//go:embed axles/*.toml
var axles embed.FS

// Default is the axle that solve and tune take when no file is given.
const Default = "hatchback-link"

// Names lists the built-in axles, from the plainest to the least common.
func Names() []string {
	return []string{
		"hatchback-plain", "hatchback-link", "hatchback-angled", "hatchback-stiff", "estate-bar",
		"saloon-semi-trailing", "saloon-multi-link", "van-beam-axle",
	}
}

// Axle is one built-in axle file.
type Axle struct {
	Name  string
	Shows [2]string // what it shows, in two lines
	Text  []byte
}

// Open returns a built-in axle. The error names the nearest names, or all.
func Open(name string) (Axle, error) {
	text, err := axles.ReadFile("axles/" + name + ".toml")
	if err != nil {
		hint := "there are " + strings.Join(Names(), ", ")
		if near := quantity.Nearest(name, Names()); near != nil {
			hint = "did you mean " + strings.Join(near, " or ") + "?"
		}
		return Axle{}, fmt.Errorf("there is no built-in axle %q; %s", name, hint)
	}
	a := Axle{Name: name, Text: text}
	lines := strings.SplitN(string(text), "\n", len(a.Shows)+1)
	for i := range a.Shows {
		a.Shows[i] = strings.TrimSpace(strings.TrimPrefix(lines[i], "#"))
	}
	return a, nil
}
