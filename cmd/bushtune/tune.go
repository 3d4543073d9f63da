package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

func tuneCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:      "tune",
		Usage:     "change what [search] of the axle file allows until its [want] tables are met",
		UsageText: "bushtune tune [FILE] [OPTIONS]      FILE may be - for standard input",
		Description: "The input is never overwritten. With --out the whole axle file is written with the tuned\n" +
			"values; comments, order and spacing stay. " +
			meanings("tuned; every want is reached", notWritten, badAxle, notEveryWant),
		Flags: []cli.Flag{
			outFlag("write the tuned axle file to `FILE`"),
			forceFlag(),
			formatFlag(), demoFlag(), fullFlag(),
			&cli.BoolFlag{Name: "all-parts", Usage: "show every part, not only the largest", DisableDefaultText: true},
			&cli.Uint64Flag{Name: "seed", Value: 1, Usage: "`NUMBER` that chooses the extra starts; the same seed gives the same answer"},
			&cli.IntFlag{Name: "starts", Value: 12, Usage: "`NUMBER` of extra starts, 0 to 1000"},
		},
		Action: func(c *cli.Context) error { return tune(c, s) },
	}
}

// fullFlag asks for the whole list of what got worse.
func fullFlag() cli.Flag {
	return &cli.BoolFlag{Name: "full", Usage: "list everything that got worse by a noticeable step, not only what matters most", DisableDefaultText: true}
}

// tune searches, writes the new file if one is asked for, then the answer.
func tune(c *cli.Context, s streams) error {
	options, err := searchOptions(c, s)
	if err != nil {
		return err
	}
	out, err := outPath(c)
	if err != nil {
		return err
	}
	in, err := oneAxle(c, s)
	if err != nil {
		return err
	}
	if missing := nothingToDo(in); missing != "" {
		return axlefile.Mistakes{{File: in.Name, Line: 1, Key: missing, Wrong: "tune needs this table, and it is not there"}}
	}
	outcome, err := tuning.Tune(c.Context, in.File, options)
	s.clearProgress()
	if err != nil {
		return err
	}
	if c.Context.Err() != nil {
		return errInterrupted
	}
	if out != "" {
		if err := writeTuned(in, outcome, out, c.Bool("force")); err != nil {
			return err
		}
	}
	worse, err := swapping.WorsenedBetween(outcome.Before, outcome.After, outcome.Asked)
	if err != nil {
		return err
	}
	reserve, err := tuning.ReserveOf(outcome.After, outcome.Asked)
	if err != nil {
		return err
	}
	s.caution(c.String("format"))
	err = s.write(c.String("format"), &show.Tuned{Noted: in.Noted, Title: in.Title, Source: in.source, Outcome: outcome, Worse: worse, Reserve: reserve, Wrote: out, AllParts: c.Bool("all-parts"), Full: c.Bool("full")})
	if err == nil {
		err = unfinished(outcome.Status)
	}
	return err
}

// unfinished is the error of a search that did not reach what was asked for.
func unfinished(status optimize.Status) error {
	switch status {
	case optimize.StoppedEarly:
		return errStoppedEarly
	case optimize.NotReached:
		return errNotReached
	case optimize.AtCorner:
		return fmt.Errorf("%w, and every parameter is on its bound", errNotReached)
	}
	return nil
}

// searchOptions reads the options of the search.
func searchOptions(c *cli.Context, s streams) (optimize.Options, error) {
	if err := checkFormat(c); err != nil {
		return optimize.Options{}, err
	}
	starts := c.Int("starts")
	switch {
	case starts < 0 || starts > 1000:
		return optimize.Options{}, &usageError{c.Command.Name, "--starts takes 0 to 1000"}
	case starts == 0:
		starts = -1 // none; 0 would be the default
	}
	o := optimize.Options{Seed: c.Uint64("seed"), Starts: starts}
	if s.progress != nil {
		o.Progress = func(p optimize.Progress) { fmt.Fprintf(s.progress, "\rsearching: start %d of %d", p.Start, p.Starts) }
	}
	return o, nil
}

// clearProgress takes the progress off the terminal.
func (s streams) clearProgress() {
	if s.progress != nil {
		fmt.Fprint(s.progress, "\r\x1b[K")
	}
}

// nothingToDo names the table without which there is nothing to tune.
func nothingToDo(in *input) string {
	switch {
	case len(in.Search) == 0:
		return "search"
	case len(in.Wants) == 0:
		return "want"
	}
	return ""
}

// writeTuned writes the axle file with the tuned values.
func writeTuned(in *input, o *tuning.Outcome, path string, replace bool) error {
	text, err := in.Edit(o.Written)
	if err != nil {
		return err
	}
	return writeFile(path, text, replace, in.inputs...)
}
