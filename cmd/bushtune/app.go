package main

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"

	"github.com/urfave/cli/v2"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/show"
)

// usageError is a mistake on the command line.
type usageError struct {
	command string // whose help tells more; empty for the program's own
	text    string
}

func (e *usageError) Error() string { return e.text }

// A tune that is shown, but is not all that was asked for.
var (
	errNotReached    = errors.New("not every want is reached")
	errNothingBetter = errors.New("no combination is better than the axle as it stands")
	errStoppedEarly  = errors.New("the search stopped early")
)

// errInterrupted is a command that a person or the system stopped.
var errInterrupted = errors.New("interrupted; nothing is written")

// run carries out one command line and returns the exit code.
func run(ctx context.Context, args []string, s streams) int {
	out := &watched{to: s.out, until: ctx}
	s.out, s.err = out, printable{s.err}
	app := newApp(s)
	arranged, err := arrange(app, args)
	if err == nil {
		err = app.RunContext(ctx, arranged)
	}
	switch {
	case errors.Is(err, context.Canceled), errors.Is(out.err, context.Canceled):
		err = errInterrupted
	case out.err != nil:
		err = out.err
	}
	report(s, err)
	return exitCode(err)
}

func newApp(s streams) *cli.App {
	commands := []*cli.Command{solveCommand(s), travelCommand(s), sweepCommand(s), tuneCommand(s), swapCommand(s), chooseCommand(s), fitCommand(s), rubberCommand(s), specCommand(s), checkCommand(s), demoCommand(s)}
	for _, c := range commands {
		c.HideHelpCommand = true // else a file called help could not be read
		c.OnUsageError = func(c *cli.Context, err error, _ bool) error {
			return &usageError{c.Command.Name, worded(err)}
		}
	}
	return &cli.App{
		Name:  "bushtune",
		Usage: "read and tune the bushes of a rear axle",
		UsageText: "bushtune COMMAND [FILE] [OPTIONS]      options may stand before or after the file\n" +
			"bushtune COMMAND --help                says more about a command",
		HideHelpCommand: true, // arrange answers it
		Description: "An axle file is TOML; `bushtune demo` lists built-in ones. Start with `bushtune tune`.\n\n" +
			meanings(anAnswer, notWritten, "bad input: a mistake on the command line or in a file", "an answer that does not reach all that was asked for, or a search that stopped early"),
		Version:        version(),
		Commands:       commands,
		Writer:         s.out,
		ErrWriter:      s.err,
		ExitErrHandler: func(*cli.Context, error) {}, // run maps errors to exit codes
		OnUsageError:   func(_ *cli.Context, err error, _ bool) error { return &usageError{text: err.Error()} },
	}
}

// version is that of the module the program was built from.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "unknown"
}

// report writes an error for a person.
func report(s streams, err error) {
	var usage *usageError
	var mistakes axlefile.Mistakes
	switch {
	case err == nil:
	case errors.As(err, &usage):
		help := "bushtune --help"
		if usage.command != "" {
			help = "bushtune " + usage.command + " --help"
		}
		fmt.Fprintf(s.err, "bushtune: %s\nTry: %s\n", usage.text, help)
	case errors.As(err, &mistakes):
		p := &show.Page{}
		for _, m := range mistakes {
			p.Mistake(m)
		}
		fmt.Fprint(s.err, p)
	default:
		for _, each := range apart(err) {
			fmt.Fprintf(s.err, "bushtune: %v\n", each)
		}
	}
}

// apart takes joined errors apart, one for each file of check.
func apart(err error) []error {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		return joined.Unwrap()
	}
	return []error{err}
}
