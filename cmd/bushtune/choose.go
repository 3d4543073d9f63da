package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

func chooseCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:      "choose",
		Usage:     "pick the parts of a catalogue of bushes that suit an axle best",
		UsageText: "bushtune choose [AXLE] [CATALOGUE] [OPTIONS]      without files: built-in ones; with --demo NAME: [CATALOGUE]",
		Description: "Every combination of parts is tuned by what [search] of the axle file leaves free, such as angles,\n" +
			"and held against its [want] tables; beyond 20 000 combinations the choice is heuristic, and says so.\n" +
			"CATALOGUE is TOML, one [part.NAME] table for each bush, or CSV with a column for each key and the name:\n" +
			strings.Join(wrapped(axlefile.CatalogueKeys(), 100), "\n") + "\n" +
			"`bushtune demo catalogue` writes a whole one. " +
			meanings(anAnswer, notWritten, "bad input: a mistake on the command line, in the axle file or in the catalogue", "chosen and shown, but not every want is reached, or no combination is better than the axle\n      as it stands and FILE is not written"),
		Flags: []cli.Flag{
			&cli.StringSliceFlag{Name: "at", Usage: "`BUSH` that takes a part, as bush.outer or bush.outer.left, with the largest outer diameter and length in mm that have room, if that counts: bush.outer=60x55; may be repeated; without it: every bush"},
			outFlag("write the axle file with the best parts to `FILE`"),
			forceFlag(),
			formatFlag(), fullFlag(),
			&cli.StringFlag{Name: "demo", Usage: "take the built-in axle `NAME` instead of a file (without both: " + demo.ChooseDefault + ")"},
			&cli.IntFlag{Name: "best", Value: 10, Usage: "`NUMBER` of combinations to show, 1 to 100"},
			&cli.Float64Flag{Name: "step", Value: 1, Usage: "what a cheaper combination may be worse than the best, in just-noticeable steps, 0 or above: `STEPS`"},
			&cli.Uint64Flag{Name: "seed", Value: 1, Usage: "`NUMBER` that chooses the points looked at; the same seed gives the same answer"},
		},
		Action: func(c *cli.Context) error { return choose(c, s) },
	}
}

// wrapped joins words by commas into lines of at most width signs.
func wrapped(list []string, width int) (lines []string) {
	line := ""
	for _, word := range list {
		if line != "" && len(line)+len(word)+2 > width {
			lines = append(lines, line+",")
			line = word
		} else if line == "" {
			line = word
		} else {
			line += ", " + word
		}
	}
	return append(lines, line)
}

// choose picks parts, writes the new file if one is asked for, then the answer.
func choose(c *cli.Context, s streams) error {
	options, err := choiceOptions(c, s)
	if err != nil {
		return err
	}
	out, err := outPath(c)
	if err != nil {
		return err
	}
	in, shelf, err := axleAndCatalogue(c, s)
	if err != nil {
		return err
	}
	in.remark(s, shelf.Unusual()...)
	if len(in.Wants) == 0 {
		return axlefile.Mistakes{{File: in.Name, Line: 1, Key: "want", Wrong: "choose needs this table, and it is not there"}}
	}
	positions, err := positionsOf(c, in.File)
	if err != nil {
		return err
	}
	outcome, err := tuning.Choose(c.Context, in.File, shelf.Catalogue, positions, options)
	s.clearProgress()
	var room *tuning.NoRoom
	switch {
	case errors.As(err, &room):
		return &usageError{c.Command.Name, err.Error()}
	case err != nil:
		return err
	case c.Context.Err() != nil:
		return errInterrupted
	}
	if out != "" && !outcome.Stays {
		if err := writeChosen(in, shelf, outcome, out, c.Bool("force")); err != nil {
			return err
		}
	}
	worse, err := swapping.WorsenedBetween(outcome.Before, outcome.After, outcome.Asked)
	if err != nil {
		return err
	}
	s.caution(c.String("format"))
	err = s.write(c.String("format"), &show.Chosen{Noted: in.Noted, Title: in.Title, Source: in.source, Catalogue: shelf.source, Choice: outcome, Worse: worse, Full: c.Bool("full"), Step: c.Float64("step"), Wrote: out})
	switch {
	case err != nil:
		return err
	case outcome.Stays && out != "":
		return fmt.Errorf("%w, so %s is not written", errNothingBetter, out)
	case outcome.Stays && !outcome.Present.Held, !outcome.Stays && !outcome.Best[0].Held:
		return errNotReached
	}
	return nil
}

// choiceOptions reads the options of the choice.
func choiceOptions(c *cli.Context, s streams) (optimize.ChoiceOptions, error) {
	o := optimize.ChoiceOptions{Seed: c.Uint64("seed"), Best: c.Int("best")}
	if err := checkFormat(c); err != nil {
		return o, err
	}
	switch step := c.Float64("step"); {
	case o.Best < 1 || o.Best > 100:
		return o, &usageError{c.Command.Name, "--best takes 1 to 100"}
	case !(step >= 0 && step <= 1e9):
		return o, &usageError{c.Command.Name, "--step takes a number of steps, 0 or above"}
	}
	if s.progress != nil {
		o.Progress = func(done, of int) { fmt.Fprintf(s.progress, "\rchoosing: %d of %d", done, of) }
	}
	return o, nil
}

// shelf is a catalogue with where it came from.
type shelf struct {
	*axlefile.Catalogue
	source string           // in words
	inputs []axlefile.Input // never to be overwritten
}

// axleAndCatalogue reads the two files that a choice is about, or takes built-in
// ones.
func axleAndCatalogue(c *cli.Context, s streams) (*input, *shelf, error) {
	name, files := c.String("demo"), c.Args().Slice()
	if len(files) > 2 || name != "" && len(files) == 2 {
		return nil, nil, &usageError{c.Command.Name, fmt.Sprintf("choose takes an axle file and a catalogue, or --demo NAME and a catalogue; there are %d files", len(files))}
	}
	var in *input
	var err error
	switch {
	case name == "" && len(files) > 0:
		in, err = readAxle(files[0], s)
		err = builtInMeant(files[0], err)
		files = files[1:]
	case name == "":
		in, err = builtIn(c, demo.ChooseDefault)
	default:
		in, err = builtIn(c, name)
	}
	if err != nil {
		return nil, nil, err
	}
	if len(files) == 0 {
		catalogue, err := axlefile.ParseCatalogue(demo.Catalogue+".toml", demo.CatalogueText())
		return in, &shelf{Catalogue: catalogue, source: "the built-in catalogue"}, err
	}
	catalogue, err := axlefile.ReadCatalogue(files[0])
	return in, &shelf{Catalogue: catalogue, source: files[0], inputs: []axlefile.Input{axlefile.InputAt(files[0])}}, err
}

// positionsOf reads --at, or takes every bush of the axle.
func positionsOf(c *cli.Context, file *axlefile.File) ([]axlefile.Position, error) {
	asked := c.StringSlice("at")
	if len(asked) == 0 {
		if asked = file.Bushes(); len(asked) == 0 {
			return nil, axlefile.Mistakes{{File: file.Name, Line: 1, Key: "bush", Wrong: "choose needs a bush, and there is none"}}
		}
	}
	var all []axlefile.Position
	for _, text := range asked {
		path, room, limited := strings.Cut(text, "=")
		p, err := file.Position(path)
		if err == nil && limited {
			p.Outer, p.Length, err = roomOf(room)
		}
		if err == nil && slices.ContainsFunc(all, p.Overlaps) {
			err = fmt.Errorf("%s is named twice", p.Path)
		}
		if err != nil {
			return nil, &usageError{c.Command.Name, "--at: " + err.Error()}
		}
		all = append(all, p)
	}
	return all, nil
}

// roomOf reads outer diameter and length: "60x55", or "60" alone.
func roomOf(text string) (outer, length float64, err error) {
	first, second, both := strings.Cut(text, "x")
	if outer, err = strconv.ParseFloat(first, 64); err == nil && both {
		length, err = strconv.ParseFloat(second, 64)
	}
	if err != nil || !(outer > 0) || both && !(length > 0) || outer > 1e4 || length > 1e4 {
		return 0, 0, fmt.Errorf("%q is no room; write the largest outer diameter and length in mm: 60x55", text)
	}
	return outer, length, nil
}

// writeChosen writes the axle file with the best parts.
func writeChosen(in *input, shelf *shelf, o *tuning.Choice, path string, replace bool) error {
	text, err := in.EditFit(o.Positions, o.Parts(&o.Best[0]), shelf.Title, o.Best[0].X)
	if err != nil {
		return err
	}
	return writeFile(path, text, replace, slices.Concat(in.inputs, shelf.inputs)...)
}
