package main

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/fitting"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/optimize"
)

func fitCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:      "fit",
		Usage:     "find the values behind readings of a test rig: what [search] of the axle file allows",
		UsageText: "bushtune fit [AXLE RIG.csv] [OPTIONS]      either may be - for standard input; without files: built-in ones",
		Description: "RIG.csv has one line of headings and one reading a line: case, load [kN] or [N·m], channel, side,\n" +
			"value [deg] or [mm], and sd [deg] or [mm] if the standard deviation is known. Values are changes from\n" +
			"the position without test load, in vehicle axes. Channels:\n" + strings.Join(cases.ChannelNames(), ", ") + ".\n" +
			"`bushtune demo rig` writes a whole file. " +
			meanings(anAnswer, notWritten, "bad input: a mistake on the command line, in the axle file or in the readings", "an answer, but the search stopped early"),
		Flags: []cli.Flag{
			outFlag("write the axle file with the fitted values to `FILE`"),
			&cli.StringFlag{Name: residualsFlag, Usage: "write every reading with what is left over to `FILE`, as CSV"},
			forceFlag(),
			formatFlag(), demoFlag(),
			&cli.BoolFlag{Name: "prior", Usage: "count the tolerance of parameters in [search] as knowledge", DisableDefaultText: true},
			&cli.BoolFlag{Name: "at-size", Usage: "compute readings under loads of full size instead of the linear axle's", DisableDefaultText: true},
			&cli.BoolFlag{Name: "without-outliers", Usage: "leave out readings that do not fit the rest, the worst first", DisableDefaultText: true},
			&cli.Uint64Flag{Name: "seed", Value: 1, Usage: "`NUMBER` that chooses the extra starts; the same seed gives the same answer"},
		},
		Action: func(c *cli.Context) error { return fit(c, s) },
	}
}

const residualsFlag = "residuals"

// rigInput is rig data with where they came from.
type rigInput struct {
	name, source string // for messages, and in words
	text         []byte
	inputs       []axlefile.Input // never to be overwritten
}

// fit estimates, writes the files that are asked for, then the answer.
func fit(c *cli.Context, s streams) error {
	if err := checkFormat(c); err != nil {
		return err
	}
	out, err := outPath(c)
	if err != nil {
		return err
	}
	residuals, err := residualsPath(c, out)
	if err != nil {
		return err
	}
	in, rig, err := axleAndRig(c, s)
	if err != nil {
		return err
	}
	outcome, err := fitted(c, s, in, rig)
	if err != nil {
		return err
	}
	if c.Context.Err() != nil {
		return errInterrupted
	}
	answer := &show.Fitted{Noted: in.Noted, Title: in.Title, Source: in.source, Rig: rig.source, Outcome: outcome, Wrote: out, Residual: residuals}
	if err := writeFitted(c, in, rig, answer); err != nil {
		return err
	}
	s.caution(c.String("format"))
	if err := s.write(c.String("format"), answer); err != nil {
		return err
	}
	if outcome.Status == optimize.FitStopped {
		return errStoppedEarly
	}
	return nil
}

// fitted reads the rig data for the axle and fits it.
func fitted(c *cli.Context, s streams, in *input, rig *rigInput) (*fitting.Outcome, error) {
	if len(in.Search) == 0 {
		return nil, axlefile.Mistakes{{File: in.Name, Line: 1, Key: "search", Wrong: "fit needs this table, and it is not there", Hint: "it names the values to be found and their bounds"}}
	}
	study, err := fitting.Study(in.File)
	if err != nil {
		return nil, err
	}
	rows, err := axlefile.ReadRig(rig.name, rig.text, study)
	if err != nil {
		return nil, err
	}
	in.remark(s, axlefile.UnusualRig(rig.name, rows, study)...)
	options := fitting.Options{Priors: c.Bool("prior"), AtSize: c.Bool("at-size"), Seed: c.Uint64("seed")}
	if c.Bool("prior") && !hasTolerance(in.Search) {
		return nil, axlefile.Mistakes{{File: in.Name, Line: in.Search[0].Line, Key: "search", Wrong: "--prior needs a tolerance, and no parameter has one", Allowed: "tolerance = …"}}
	}
	fit := fitting.Fit
	if c.Bool("without-outliers") {
		fit = fitting.FitWithoutOutliers
	}
	outcome, err := fit(c.Context, in.File, rows, options)
	if errors.Is(err, fitting.ErrOnlyZeros) {
		return nil, axlefile.Mistakes{{File: rig.name, Line: rows[0].Line, Key: "column load", Wrong: err.Error()}}
	}
	return outcome, err
}

func hasTolerance(parameters []axlefile.Parameter) bool {
	for i := range parameters {
		if parameters[i].Tolerance > 0 {
			return true
		}
	}
	return false
}

// axleAndRig reads the two files that a fit is about, or takes built-in ones.
func axleAndRig(c *cli.Context, s streams) (*input, *rigInput, error) {
	name, files := c.String("demo"), c.Args().Slice()
	switch {
	case name == "" && len(files) == 1, name != "" && len(files) > 1, len(files) > 2:
		return nil, nil, &usageError{c.Command.Name, fmt.Sprintf("fit takes an axle file and rig data, or --demo NAME and rig data; there are %d files", len(files))}
	case len(files) == 2 && files[0] == "-" && files[1] == "-":
		return nil, nil, &usageError{c.Command.Name, "standard input holds one file, the axle or the rig data"}
	}
	if name == "" {
		name = demo.Default
	}
	var in *input
	var err error
	if len(files) == 2 {
		in, err = readAxle(files[0], s)
		err = builtInMeant(files[0], err)
	} else {
		in, err = builtIn(c, name)
	}
	if err != nil {
		return nil, nil, err
	}
	if len(files) > 0 {
		rig, err := readRig(files[len(files)-1], s)
		return in, rig, err
	}
	text, ok := demo.Rig(name)
	if !ok {
		return nil, nil, &usageError{c.Command.Name, "there are no built-in rig data for " + name + "; give a file"}
	}
	return in, &rigInput{name: name + ".csv", source: "built-in rig data", text: text}, nil
}

// readRig reads a file, or standard input if the path is -.
func readRig(path string, s streams) (*rigInput, error) {
	if path == "-" {
		text, inputs, err := s.readAll()
		return &rigInput{name: "standard-input", source: "standard input", text: text, inputs: inputs}, err
	}
	text, err := os.ReadFile(path)
	return &rigInput{name: path, source: path, text: text, inputs: []axlefile.Input{axlefile.InputAt(path)}}, err
}

// writeFitted writes the axle file and the residuals if they are asked for: both, or
// none if one of them must not be written.
func writeFitted(c *cli.Context, in *input, rig *rigInput, answer *show.Fitted) error {
	inputs, replace := slices.Concat(in.inputs, rig.inputs), c.Bool("force")
	axle, err := in.Edit(answer.Written)
	if err != nil {
		return err
	}
	residuals, err := answer.ResidualTable()
	if err != nil {
		return err
	}
	if answer.Wrote != "" && answer.Residual != "" {
		if err := mayWriteFile(answer.Residual, replace, inputs...); err != nil {
			return err
		}
	}
	if answer.Wrote != "" {
		if err := writeFile(answer.Wrote, axle, replace, inputs...); err != nil {
			return err
		}
	}
	if answer.Residual != "" {
		return writeFile(answer.Residual, residuals, replace, inputs...)
	}
	return nil
}

// residualsPath is the file for the residuals that is asked for, or none; never the
// one of --out, by whatever way it is reached.
func residualsPath(c *cli.Context, out string) (string, error) {
	path := c.String(residualsFlag)
	if c.IsSet(residualsFlag) && (path == "" || path == "-") {
		return "", &usageError{c.Command.Name, "--" + residualsFlag + " takes the name of a file"}
	}
	if path != "" && out != "" && axlefile.SameFile(path, out) {
		return "", &usageError{c.Command.Name, "--out and --" + residualsFlag + " name the same file"}
	}
	return path, nil
}
