package main

import (
	"fmt"
	"io"
	"slices"

	"github.com/urfave/cli/v2"

	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/show"
)

func demoCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:        "demo",
		Usage:       "list the built-in axles and rubber parts, or write one as a file to start from",
		UsageText:   "bushtune demo [NAME] [OPTIONS]",
		Description: meanings("listed or written", "the file cannot be written", "a mistake on the command line"),
		Flags: []cli.Flag{
			outFlag("write it to `FILE` instead of the output"),
			forceFlag(),
		},
		Action: func(c *cli.Context) error { return writeDemo(c, s) },
	}
}

// writeDemo lists the built-in axles or writes one.
func writeDemo(c *cli.Context, s streams) error {
	out, err := outPath(c)
	switch {
	case err != nil:
		return err
	case c.NArg() > 1:
		return &usageError{c.Command.Name, fmt.Sprintf("demo takes one name, there are %d", c.NArg())}
	case c.NArg() == 0 && out != "":
		return &usageError{c.Command.Name, "--out needs the name of a built-in axle or part"}
	case c.NArg() == 0:
		return listDemos(s)
	}
	text, err := demoText(c)
	if err != nil {
		return err
	}
	if out != "" {
		return writeFile(out, text, c.Bool("force"))
	}
	_, err = s.out.Write(text)
	return err
}

// rigDemo is the name of the built-in rig data.
const rigDemo = "rig"

// catalogueDemo is the name of the built-in catalogue.
const catalogueDemo = "catalogue"

// demoText is a built-in axle or part, the rig data for the default axle, or the catalogue.
func demoText(c *cli.Context) ([]byte, error) {
	name := c.Args().First()
	switch name {
	case rigDemo:
		text, _ := demo.Rig(demo.Default)
		return text, nil
	case catalogueDemo:
		return demo.CatalogueText(), nil
	}
	if text, isSet := demo.Set(name); isSet {
		return text, nil
	}
	file, err := openDemo(name)
	if err != nil {
		return nil, &usageError{c.Command.Name, err.Error()}
	}
	return file.Text, nil
}

// openDemo returns a built-in axle or part.
func openDemo(name string) (demo.File, error) {
	if slices.Contains(demo.PartNames(), name) {
		return demo.OpenPart(name)
	}
	return demo.Open(name)
}

// listDemos writes the name of every built-in axle and part with its two lines.
func listDemos(s streams) error {
	p := &show.Page{Colour: s.colour}
	for _, name := range append(demo.Names(), demo.PartNames()...) {
		file, err := openDemo(name)
		if err != nil {
			return err
		}
		switch {
		case name == demo.Default:
			name += "  (taken when no file is given)"
		case name == demo.PartNames()[0]:
			name += "  (a rubber part, taken by bushtune rubber when no file is given)"
		case slices.Contains(demo.PartNames(), name):
			name += "  (a rubber part)"
		}
		p.Heading(name)
		for _, line := range file.Shows {
			p.Prose("  ", line)
		}
	}
	p.Heading(rigDemo)
	p.Prose("  ", "Readings of a test rig for "+demo.Default+", as CSV: bushtune fit takes them when no file is given.")
	for _, name := range demo.SetsOf(demo.Default) {
		p.Heading(name)
		p.Prose("  ", "A set of other parts for "+demo.Default+": bushtune swap --demo "+demo.Default+" "+name+".")
	}
	p.Heading("bushtune demo NAME --out FILE writes one; tune --demo NAME runs an axle, rubber --demo NAME a part.")
	_, err := io.WriteString(s.out, p.String())
	return err
}
