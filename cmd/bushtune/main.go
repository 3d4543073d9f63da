// Command bushtune reads how the wheels of a rear axle move on its rubber bushes
// and tunes the bushes so that the outer wheel does not toe out in a corner.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/term"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second interrupt ends a command that does not look at the first
	s := streams{in: os.Stdin, out: os.Stdout, err: os.Stderr, colour: coloured(isTerminal(os.Stdout), os.Getenv("NO_COLOR"))}
	if isTerminal(os.Stderr) {
		s.progress = os.Stderr
	}
	code := run(ctx, os.Args, s)
	stop()
	os.Exit(code)
}

func isTerminal(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }

// coloured tells whether answers are coloured: on a terminal, unless NO_COLOR is
// set to anything (no-color.org).
func coloured(terminal bool, noColor string) bool { return terminal && noColor == "" }

// streams is where a command reads and writes. Answers go to out, everything
// else to err.
type streams struct {
	in       io.Reader
	out, err io.Writer
	colour   bool      // out shows colours
	progress io.Writer // where a person watches the work go on; nil: nobody does
}
