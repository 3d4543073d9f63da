// Package demo holds the built-in axles and rubber parts: invented, of the size of
// real ones, each a file with two opening lines that say what it shows.
package demo

import (
	"embed"
	"fmt"
	"strings"

	"bushtune/bushing/quantity"
)

//go:embed axles/*.toml parts/*.toml
var files embed.FS

// Default is the axle that solve and tune take when no file is given.
const Default = "hatchback-link"

// Names lists the built-in axles, from the plainest to the least common.
func Names() []string {
	return []string{
		"hatchback-plain", "hatchback-link", "hatchback-angled", "hatchback-stiff", "estate-bar", "estate-rubber",
		"saloon-semi-trailing", "saloon-multi-link", "van-beam-axle",
	}
}

// PartNames lists the built-in rubber parts; the first is taken when no file is
// given.
func PartNames() []string { return []string{"pivot-bush", "urethane-bush", "spring-pad"} }

// File is one built-in file.
type File struct {
	Name  string
	Shows [2]string // what it shows, in two lines
	Text  []byte
}

// Open returns a built-in axle. The error names the nearest names, or all.
func Open(name string) (File, error) { return open("axle", name, Names()) }

// OpenPart returns a built-in part file. The error is as of Open.
func OpenPart(name string) (File, error) { return open("part", name, PartNames()) }

func open(what, name string, names []string) (File, error) {
	text, err := files.ReadFile(what + "s/" + name + ".toml")
	if err != nil {
		hint := "there are " + strings.Join(names, ", ")
		if near := quantity.Nearest(name, names); near != nil {
			hint = "did you mean " + strings.Join(near, " or ") + "?"
		}
		return File{}, fmt.Errorf("there is no built-in %s %q; %s", what, name, hint)
	}
	f := File{Name: name, Text: text}
	lines := strings.SplitN(string(text), "\n", len(f.Shows)+1)
	for i := range f.Shows {
		f.Shows[i] = strings.TrimSpace(strings.TrimPrefix(lines[i], "#"))
	}
	return f, nil
}
