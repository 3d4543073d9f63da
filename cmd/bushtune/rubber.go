package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/making"
	"bushtune/cmd/bushtune/internal/show"
)

func rubberCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:      "rubber",
		Usage:     "rates of a rubber part from its dimensions and hardness, or the part that has wanted rates",
		UsageText: "bushtune rubber [FILE] [OPTIONS]      FILE may be - for standard input",
		Description: "FILE is a part file: [part] with dimensions, each a number or { from = …, to = … }, and\n" +
			"[wanted] with rates. " +
			meanings("an answer; every wanted rate is reached", "a file cannot be read or written", "bad input: a mistake on the command line or in the part file", "not every wanted rate can be reached; the closest part is shown"),
		Flags: []cli.Flag{
			outFlag("write the part file with the chosen dimensions to `FILE`"),
			forceFlag(),
			formatFlag(),
			&cli.StringFlag{Name: "demo", Usage: "take the built-in part `NAME` instead of a file: " + strings.Join(demo.PartNames(), ", ") + " (without both: the first)"},
			&cli.Float64Flag{Name: "hardness-tolerance", Value: making.HarderBy, Usage: "how far the hardness of a part may be off, either way, 0 to 15: `POINTS`"},
			&cli.StringFlag{Name: "mould", Value: rubber.MouldClassNames[rubber.M3], Usage: "tolerance `CLASS` of moulded sizes (ISO 3302-1): " + strings.Join(rubber.MouldClassNames, ", ")},
			&cli.StringFlag{Name: "class", Value: rubber.ClassNames[rubber.D2], Usage: "tolerance `CLASS` of the rates: " + strings.Join(rubber.ClassNames, ", ")},
		},
		Action: func(c *cli.Context) error { return rubberPart(c, s) },
	}
}

// partInput is a part file with where it came from.
type partInput struct {
	*axlefile.PartFile
	source string
	inputs []axlefile.Input // never to be overwritten
}

// rubberPart chooses what is free, writes the new file if one is asked for, then the
// answer.
func rubberPart(c *cli.Context, s streams) error {
	if err := checkFormat(c); err != nil {
		return err
	}
	class, err := oneOf(c, "class", rubber.ClassNames)
	if err != nil {
		return err
	}
	scatter, err := scatterOf(c)
	if err != nil {
		return err
	}
	out, err := outPath(c)
	if err != nil {
		return err
	}
	in, err := onePart(c, s)
	if err != nil {
		return err
	}
	noted := show.Noted{Unusual: in.PartFile.Unusual()}
	s.remark(noted)
	outcome, err := making.Make(c.Context, in.PartFile)
	if err != nil {
		return fmt.Errorf("%s: %w", in.Name, err)
	}
	if c.Context.Err() != nil {
		return errInterrupted
	}
	if out != "" {
		if err := writePart(in, outcome, out, c.Bool("force")); err != nil {
			return err
		}
	}
	s.caution(c.String("format"))
	rated := making.Rate(in.PartFile, outcome.X, rubber.Class(class))
	err = s.write(c.String("format"), &show.Made{Noted: noted, Source: in.source, Outcome: outcome, Rated: rated, Yield: making.YieldOf(in.PartFile, outcome.X, scatter), Wrote: out})
	if err == nil && !outcome.Reached {
		err = errNotReached
	}
	return err
}

// widestHardness is the largest tolerance of a hardness that is taken, points.
const widestHardness = 15

// scatterOf reads what may differ from part to part.
func scatterOf(c *cli.Context) (rubber.Scatter, error) {
	mould, err := oneOf(c, "mould", rubber.MouldClassNames)
	if err != nil {
		return rubber.Scatter{}, err
	}
	points := c.Float64("hardness-tolerance")
	if !(points >= 0 && points <= widestHardness) {
		return rubber.Scatter{}, &usageError{c.Command.Name, fmt.Sprintf("--hardness-tolerance takes 0 to %d points of hardness, not %v", widestHardness, points)}
	}
	return rubber.Scatter{Hardness: points, Mould: rubber.MouldClass(mould)}, nil
}

// onePart reads the part that the command is about: a file, - for standard input,
// a built-in part by name, or the first one.
func onePart(c *cli.Context, s streams) (*partInput, error) {
	name := c.String("demo")
	switch {
	case c.NArg() > 1:
		return nil, &usageError{c.Command.Name, fmt.Sprintf("rubber takes one part file, there are %d", c.NArg())}
	case c.NArg() == 1 && name != "":
		return nil, &usageError{c.Command.Name, "give a file or --demo, not both"}
	case c.NArg() == 1:
		return readPart(c.Args().First(), s)
	case name == "":
		name = demo.PartNames()[0]
	}
	part, err := demo.OpenPart(name)
	if err != nil {
		return nil, &usageError{c.Command.Name, err.Error()}
	}
	file, err := axlefile.ParsePart(name+".toml", part.Text)
	return &partInput{PartFile: file, source: "the built-in part " + name}, err
}

// readPart reads a file, or standard input if the path is -.
func readPart(path string, s streams) (*partInput, error) {
	if path != "-" {
		file, err := axlefile.ReadPart(path)
		return &partInput{PartFile: file, source: path, inputs: []axlefile.Input{axlefile.InputAt(path)}}, err
	}
	text, inputs, err := s.readAll()
	if err != nil {
		return nil, err
	}
	file, err := axlefile.ParsePart("standard-input", text)
	return &partInput{PartFile: file, source: "standard input", inputs: inputs}, err
}

// writePart writes the part file with the chosen dimensions.
func writePart(in *partInput, o *making.Outcome, path string, replace bool) error {
	text, err := in.Edit(o.X)
	if err != nil {
		return err
	}
	return writeFile(path, text, replace, in.inputs...)
}
