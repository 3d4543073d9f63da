package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
)

func demoCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:      "demo",
		Usage:     "list the built-in axles, or write one as a file to start from",
		UsageText: "bushtune demo [NAME] [OPTIONS]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write the axle file to `FILE` instead of the output"},
			&cli.BoolFlag{Name: "force", Usage: "let --out replace a file that exists"},
		},
		HideHelpCommand: true,
		Action:          func(c *cli.Context) error { return writeDemo(c, s) },
	}
}

// writeDemo lists the built-in axles or writes one.
func writeDemo(c *cli.Context, s streams) error {
	out := c.String("out")
	switch {
	case c.NArg() > 1:
		return &usageError{c.Command.Name, fmt.Sprintf("demo takes one name, there are %d", c.NArg())}
	case c.NArg() == 0 && out != "":
		return &usageError{c.Command.Name, "--out needs the name of a built-in axle"}
	case c.NArg() == 0:
		return listDemos(s)
	}
	axle, err := demo.Open(c.Args().First())
	if err != nil {
		return &usageError{c.Command.Name, err.Error()}
	}
	if out != "" {
		return axlefile.Write(out, axle.Text, c.Bool("force"))
	}
	_, err = s.out.Write(axle.Text)
	return err
}

// listDemos writes the name of every built-in axle with its two lines.
func listDemos(s streams) error {
	for _, name := range demo.Names() {
		axle, err := demo.Open(name)
		if err != nil {
			return err
		}
		mark := ""
		if name == demo.Default {
			mark = "  (taken when no file is given)"
		}
		if _, err := fmt.Fprintf(s.out, "%s%s\n  %s\n  %s\n", name, mark, axle.Shows[0], axle.Shows[1]); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintln(s.out, "\nbushtune demo NAME --out FILE writes one; bushtune tune --demo NAME runs one.")
	return err
}
