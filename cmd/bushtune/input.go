package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/tuning"
)

// demoFlag chooses a built-in axle instead of a file.
func demoFlag() cli.Flag {
	return &cli.StringFlag{Name: "demo", Usage: "take the built-in axle `NAME` instead of a file (without both: " + demo.Default + ")"}
}

// input is an axle file with where it came from.
type input struct {
	*axlefile.File
	source string           // in words, for the head of an answer
	inputs []axlefile.Input // never to be overwritten; none for a built-in axle
	show.Noted
}

// oneAxle reads the axle that a command is about: a file, - for standard input,
// a built-in axle by name, or the default one. What is unusual in it is said.
func oneAxle(c *cli.Context, s streams) (*input, error) {
	in, err := theAxle(c, s)
	if err != nil {
		return nil, err
	}
	in.remark(s)
	return in, nil
}

// remark looks for what is unusual in the axle, an axle that cannot be solved among
// them, and says it in short, with what is unusual in other files of the command.
func (in *input) remark(s streams, more ...axlefile.Unusual) {
	in.Noted.Unusual = append(in.look(), more...)
	s.remark(in.Noted)
}

// look lists what is unusual in the axle.
func (in *input) look() []axlefile.Unusual {
	study, _ := tuning.Study(in.File) // who needs it tells the error
	return in.File.Unusual(study)
}

// remark says in short that something is unusual.
func (s streams) remark(n show.Noted) {
	p := &show.Page{}
	n.Short(p)
	fmt.Fprint(s.err, p)
}

// theAxle is oneAxle without a word.
func theAxle(c *cli.Context, s streams) (*input, error) {
	name := c.String("demo")
	switch {
	case c.NArg() > 1:
		return nil, &usageError{c.Command.Name, fmt.Sprintf("%s takes one axle file, there are %d", c.Command.Name, c.NArg())}
	case c.NArg() == 1 && name != "":
		return nil, &usageError{c.Command.Name, "give a file or --demo, not both"}
	case c.NArg() == 1:
		in, err := readAxle(c.Args().First(), s)
		return in, builtInMeant(c.Args().First(), err)
	case name == "":
		name = demo.Default
	}
	return builtIn(c, name)
}

// builtIn is a built-in axle by name.
func builtIn(c *cli.Context, name string) (*input, error) {
	axle, err := demo.Open(name)
	if err != nil {
		return nil, &usageError{c.Command.Name, err.Error()}
	}
	file, err := axlefile.Parse(name+".toml", axle.Text)
	return &input{File: file, source: "the built-in axle " + name}, err
}

// builtInMeant adds a hint to the error where a file is missing that has the name
// of a built-in axle.
func builtInMeant(path string, err error) error {
	if name := strings.TrimSuffix(path, ".toml"); errors.Is(err, fs.ErrNotExist) && slices.Contains(demo.Names(), name) {
		return fmt.Errorf("%w; the built-in axle is --demo %s", err, name)
	}
	return err
}

// readAxle reads a file, or standard input if the path is -.
func readAxle(path string, s streams) (*input, error) {
	if path != "-" {
		file, err := axlefile.Read(path)
		return &input{File: file, source: path, inputs: []axlefile.Input{axlefile.InputAt(path)}}, err
	}
	text, inputs, err := s.readAll()
	if err != nil {
		return nil, err
	}
	file, err := axlefile.Parse("standard-input", text)
	return &input{File: file, source: "standard input", inputs: inputs}, err
}

// readAll reads standard input, which may be a file that is never to be overwritten.
func (s streams) readAll() ([]byte, []axlefile.Input, error) {
	text, err := io.ReadAll(s.in)
	if err != nil {
		return nil, nil, fmt.Errorf("standard input: %w", err)
	}
	return text, axlefile.InputOf(s.in, "on standard input"), nil
}
