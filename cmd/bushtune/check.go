package main

import (
	"errors"
	"fmt"

	"github.com/urfave/cli/v2"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/tuning"
)

func checkCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:        "check",
		Usage:       "say what was understood of axle files, and every mistake in them",
		UsageText:   "bushtune check FILE… [OPTIONS]      FILE may be - for standard input",
		Description: meanings("no mistakes", "a file cannot be read, or its axle cannot be solved", "a mistake on the command line or in a file"),
		Flags: []cli.Flag{
			formatFlag(),
			&cli.BoolFlag{Name: "schema", Usage: "write the JSON schema of the axle file, for editors", DisableDefaultText: true},
		},
		Action: func(c *cli.Context) error { return check(c, s) },
	}
}

// mistaken is a file whose mistakes are shown on the output already.
type mistaken struct {
	path  string
	count int
}

func (m *mistaken) Error() string {
	if m.count == 1 {
		return m.path + ": 1 mistake"
	}
	return fmt.Sprintf("%s: %d mistakes", m.path, m.count)
}

// check reads every file and writes what it finds.
func check(c *cli.Context, s streams) error {
	if err := checkFormat(c); err != nil {
		return err
	}
	switch {
	case c.Bool("schema") && c.NArg() > 0:
		return &usageError{c.Command.Name, "--schema takes no file"}
	case c.Bool("schema"):
		_, err := s.out.Write(axlefile.Schema())
		return err
	case c.NArg() == 0:
		return &usageError{c.Command.Name, "check needs at least one axle file"}
	}
	var found show.Checked
	var failures []error
	for _, path := range c.Args().Slice() {
		if err := checkOne(&found, path, s); err != nil {
			failures = append(failures, err)
		}
	}
	if err := s.write(c.String("format"), &found); err != nil {
		return err
	}
	return errors.Join(failures...)
}

// checkOne adds one file to what is found. The error is a file that cannot be
// read, has mistakes, or describes an axle that cannot be solved.
func checkOne(found *show.Checked, path string, s streams) error {
	in, err := readAxle(path, s)
	var mistakes axlefile.Mistakes
	switch {
	case errors.As(err, &mistakes):
		found.AddMistakes(path, mistakes)
		return &mistaken{path, len(mistakes)}
	case err != nil:
		return err
	}
	study, err := tuning.Study(in.File)
	found.AddUnusual(in.source, in.File.Unusual(study)) // without the answer if there is none
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	asked, err := tuning.Ask(study, in.Wants)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	found.Add(in.source, in.Describe(), study, asked)
	return nil
}
