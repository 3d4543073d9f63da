package main

import (
	"errors"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/tuning"
)

func solveCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:        "solve",
		Usage:       "show how the wheels move under cornering, braking and impact, and which part causes it",
		UsageText:   "bushtune solve [FILE] [OPTIONS]      FILE may be - for standard input",
		Description: meanings(anAnswer, notSolved, badAxle),
		Flags: []cli.Flag{
			formatFlag(), demoFlag(),
			&cli.StringSliceFlag{Name: "parts", Usage: "show which parts make a number and what 1 % more of each rate does to it: `NUMBER`, NUMBER@CASE or NUMBER@CASE:PLACE; may be repeated"},
			&cli.BoolFlag{Name: "all-parts", Usage: "show every part, not only the largest", DisableDefaultText: true},
			&cli.BoolFlag{Name: "names", Usage: "show the numbers' names for files and --parts instead of their values", DisableDefaultText: true},
			&cli.BoolFlag{Name: "matrix", Usage: "show the 12×12 wheel compliance matrix", DisableDefaultText: true},
			&cli.BoolFlag{Name: "loads", Usage: "show load and travel of every bush beside its limits", DisableDefaultText: true},
			atSizeFlag(),
			&cli.BoolFlag{Name: "readings", Usage: "show toe, camber and movement of every wheel in every case", DisableDefaultText: true},
		},
		Action: func(c *cli.Context) error { return solve(c, s) },
	}
}

// solve answers how the axle stands.
func solve(c *cli.Context, s streams) error {
	if err := checkFormat(c); err != nil {
		return err
	}
	in, err := oneAxle(c, s)
	if err != nil {
		return err
	}
	if c.IsSet("at-size") {
		return solveAtSize(c, s, in)
	}
	study, err := tuning.Study(in.File)
	if err != nil {
		return err
	}
	asked, err := tuning.Ask(study, in.Wants)
	if err != nil {
		return err
	}
	reserve, err := tuning.ReserveOf(study, asked)
	if err != nil {
		return err
	}
	names := c.StringSlice("parts")
	if len(names) == 0 && !c.Bool("names") {
		names = []string{"lateral_force_steer"}
	}
	parts, err := numbersOf(study, names)
	if err != nil {
		return &usageError{c.Command.Name, "--parts: " + err.Error()}
	}
	s.caution(c.String("format"))
	return s.write(c.String("format"), &show.Solved{
		Noted: in.Noted, Title: in.Title, Source: in.source, Study: study, Asked: asked, Reserve: reserve,
		Parts: parts, AllParts: c.Bool("all-parts"), Sensitivity: c.IsSet("parts"), Names: c.Bool("names"),
		Matrix: c.Bool("matrix"), Loads: c.Bool("loads"), Readings: c.Bool("readings"),
	})
}

// numbersOf finds numbers by NUMBER@CASE:PLACE.
func numbersOf(study *cases.Study, names []string) ([]int, error) {
	var all []int
	for _, name := range names {
		name, place, _ := strings.Cut(name, ":")
		name, caseName, _ := strings.Cut(name, "@")
		index, err := study.Find(name, caseName, place)
		if err != nil {
			return nil, explained(err)
		}
		all = append(all, index)
	}
	return all, nil
}

// explained says where the names are listed, if the error does not list them.
func explained(err error) error {
	var unknown *cases.UnknownName
	if errors.As(err, &unknown) && unknown.Nearest == nil && unknown.Needs == nil && len(unknown.Known) > 12 {
		return errors.New(err.Error() + "; bushtune solve --names lists them")
	}
	return err
}
