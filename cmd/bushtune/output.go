package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/bushing/quantity"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/show"
)

// The forms of an answer.
var formats = []string{"text", "json", "csv"}

func formatFlag() cli.Flag {
	return &cli.StringFlag{Name: "format", Aliases: []string{"f"}, Value: formats[0], Usage: "`FORM` of the answer: " + strings.Join(formats, ", ")}
}

// checkFormat refuses a form that does not exist, before any work.
func checkFormat(c *cli.Context) error {
	for _, f := range formats {
		if c.String("format") == f {
			return nil
		}
	}
	return &usageError{c.Command.Name, fmt.Sprintf("there is no format %q; there are %s", c.String("format"), strings.Join(formats, ", "))}
}

// watched is an output that remembers its first failure, because the library that
// writes the help does not look.
type watched struct {
	to    io.Writer
	until context.Context // after an interrupt nothing is written: what was not finished is no answer
	err   error
}

func (w *watched) Write(p []byte) (int, error) {
	if err := w.until.Err(); err != nil {
		w.err = err
		return 0, err
	}
	n, err := w.to.Write(p)
	if err != nil && w.err == nil {
		w.err = fmt.Errorf("the answer could not be written: %w", err)
	}
	return n, err
}

// answer is what a command writes, in every form.
type answer interface {
	Text(p *show.Page)
	JSON(w io.Writer) error
	CSV(w io.Writer) error
}

// write puts an answer on the output in the form that is asked for.
func (s streams) write(format string, a answer) error {
	if format == formats[0] {
		p := &show.Page{Colour: s.colour} // which takes care of what a terminal obeys
		a.Text(p)
		_, err := io.WriteString(s.out, p.String())
		return err
	}
	var text bytes.Buffer
	err := map[string]func(io.Writer) error{"json": a.JSON, "csv": a.CSV}[format](&text)
	if err == nil {
		_, err = printable{s.out}.Write(text.Bytes())
	}
	return err
}

// printable writes texts with nothing in them that a terminal would obey. A text
// must not end inside a letter.
type printable struct{ to io.Writer }

func (w printable) Write(p []byte) (int, error) {
	if _, err := io.WriteString(w.to, quantity.Printable(string(p))); err != nil {
		return 0, err
	}
	return len(p), nil
}

// caution says the caution where the form of the answer has no room for it.
func (s streams) caution(format string) {
	if format != formats[0] {
		fmt.Fprintln(s.err, show.Caution)
	}
}

// writeFile writes a file whole or not at all, and never over an input.
func writeFile(path string, text []byte, replace bool, inputs ...axlefile.Input) error {
	return forceHint(axlefile.Write(path, text, replace, inputs...))
}

// mayWriteFile tells what writeFile would refuse, without writing.
func mayWriteFile(path string, replace bool, inputs ...axlefile.Input) error {
	return forceHint(axlefile.MayWrite(path, replace, inputs...))
}

// forceHint says how a file that exists is replaced.
func forceHint(err error) error {
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%w, or --force to replace it", err)
	}
	return err
}

// forceFlag lets an output file replace another.
func forceFlag() cli.Flag {
	return &cli.BoolFlag{Name: "force", Usage: "let --out replace a file that exists", DisableDefaultText: true}
}

// outFlag names an output file.
func outFlag(usage string) cli.Flag {
	return &cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: usage}
}

// outPath is the output file that is asked for, or none.
func outPath(c *cli.Context) (string, error) {
	path := c.String("out")
	if c.IsSet("out") && (path == "" || path == "-") {
		return "", &usageError{c.Command.Name, "--out takes the name of a file"}
	}
	return path, nil
}
