package main

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/bushing/quantity"
)

// arrange puts the options of a command before its files, where the library
// looks for them, and reports what it does not know with the nearest name.
func arrange(app *cli.App, args []string) ([]string, error) {
	if len(args) < 2 {
		return append(args, "--help"), nil
	}
	name, rest := args[1], args[2:]
	if name == "help" && len(rest) > 0 {
		name, rest = rest[0], []string{"--help"}
	}
	command := app.Command(name)
	switch {
	case command != nil:
		rest, err := arrangeFlags(command, rest)
		return append([]string{args[0], name}, rest...), err
	case name == "help" || name == "--help" || name == "-h":
		return []string{args[0], "--help"}, nil
	case name == "--version" || name == "-v":
		return []string{args[0], "--version"}, nil
	case strings.HasPrefix(name, "-"):
		return nil, &usageError{text: "there is no option " + name + " before the command; a command comes first: " + strings.Join(commandNames(app), ", ")}
	}
	return nil, &usageError{text: fmt.Sprintf("there is no command %q; %s", name, hint(name, commandNames(app)))}
}

func commandNames(app *cli.App) []string {
	var names []string
	for _, c := range app.Commands {
		names = append(names, c.Name)
	}
	return names
}

// hint names the nearest of the known words, or all of them.
func hint(word string, known []string) string {
	if near := quantity.Nearest(word, known); near != nil {
		return "did you mean " + strings.Join(near, " or ") + "?"
	}
	return "there are " + strings.Join(known, ", ")
}

// arrangeFlags sorts the arguments of one command into options and files. Two
// dashes end the options.
func arrangeFlags(command *cli.Command, args []string) ([]string, error) {
	var options, files []string
	for i := 0; i < len(args); i++ {
		arg := args[i]
		switch {
		case arg == "--":
			files = append(files, args[i+1:]...)
			i = len(args)
		case arg == "--help" || arg == "-h":
			return []string{"--help"}, nil
		case arg == "-" || !strings.HasPrefix(arg, "-"):
			files = append(files, arg)
		default:
			takes, err := takesNext(command, arg)
			if err != nil {
				return nil, err
			}
			options = append(options, arg)
			if !takes {
				continue
			}
			if i++; i == len(args) || strings.HasPrefix(args[i], "--") {
				return nil, &usageError{command.Name, "option " + arg + " needs a value behind it"}
			}
			options = append(options, args[i])
		}
	}
	return append(append(options, "--"), files...), nil
}

// worded words what the library says of a value that an option does not take.
func worded(err error) string {
	parts := regexp.MustCompile(`^invalid .*value (".*") for (?:flag )?-(.*?):`).FindStringSubmatch(err.Error())
	if parts == nil {
		return err.Error()
	}
	return "option " + strings.Repeat("-", min(2, len(parts[2]))) + parts[2] + " does not take " + parts[1]
}

// takesNext tells whether an option takes the next argument as its value.
func takesNext(command *cli.Command, arg string) (bool, error) {
	name, _, inside := strings.Cut(strings.TrimLeft(arg, "-"), "=")
	var known []string
	for _, f := range append(command.Flags, cli.HelpFlag) {
		for _, n := range f.Names() {
			if n == name {
				_, isSwitch := f.(*cli.BoolFlag)
				return !isSwitch && !inside, nil
			}
			if len(n) > 1 {
				known = append(known, "--"+n)
			}
		}
	}
	return false, &usageError{command.Name, fmt.Sprintf("%s has no option %s; %s", command.Name, arg, hint("--"+name, known))}
}
