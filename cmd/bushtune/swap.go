package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/compliance"
)

func swapCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:      "swap",
		Usage:     "show an axle with other sets of parts side by side: what gets better, what worse",
		UsageText: "bushtune swap AXLE SET… [OPTIONS]      or: bushtune swap --demo NAME [SET…]",
		Description: "A SET is a TOML file that holds only what differs from the axle file: [bush.NAME], [link.NAME] and so\n" +
			"on, also of one side, and rules [rule.NAME]; or the name of a built-in set; or a rule as it stands:\n" +
			"   rates=1.5                                      all bushes half as stiff again\n" +
			"   hardness=+15@bush.pivot                        15 points harder (bushes given by their dimensions)\n" +
			"   polyurethane=80,bonded=false@bush.pivot.left   a range, Shore A (likewise)\n" +
			"   worn=0.6,free_play=0.5                         worn out, with 0.5 mm of play to either side\n" +
			"   swap_sides=true@bush.pivot                     left parts on the right and right ones on the left\n" +
			"SET+SET is one set of both, in any order. " +
			meanings(anAnswer, notSolved, "bad input: a mistake on the command line, in the axle file or in a set"),
		Flags: []cli.Flag{formatFlag(), fullFlag(),
			&cli.Float64Flag{Name: "at-size", DefaultText: "off", Usage: "then show how far every case moves the axle at full size, forces of `KN` on a wheel, as solve --at-size does"},
			&cli.StringFlag{Name: "demo", Usage: "take the built-in axle `NAME` instead of a file; if no set is named, with its built-in sets"}},
		Action: func(c *cli.Context) error { return swap(c, s) },
	}
}

// swap reads the axle and the sets and answers.
func swap(c *cli.Context, s streams) error {
	if err := checkFormat(c); err != nil {
		return err
	}
	in, names, err := axleAndSets(c, s)
	if err != nil {
		return err
	}
	texts, err := setTexts(names)
	if err != nil {
		return err
	}
	sets, err := readSets(in, texts)
	if err != nil {
		return err
	}
	comparison, err := swapping.Compare(in.File, sets)
	in.remark(s, unusualOfSets(in, comparison)...)
	if err != nil {
		return err
	}
	answer := &show.Swapped{Noted: in.Noted, Title: in.Title, Source: in.source, Comparison: comparison, AllWorse: c.Bool("full")}
	var lost error
	if c.IsSet("at-size") {
		if lost, err = swapAtSize(c, answer); err != nil {
			return err
		}
	}
	s.caution(c.String("format"))
	return errors.Join(s.write(c.String("format"), answer), lost)
}

// unusualOfSets lists what is unusual with each set and not without it, at either end
// of its range.
func unusualOfSets(in *input, c *swapping.Comparison) (all []axlefile.Unusual) {
	if c == nil {
		return nil
	}
	base := in.look()
	for i := range c.Columns {
		known, axles := base, c.Columns[i].Axles
		for _, axle := range []*compliance.Axle{axles[0], axles[len(axles)-1]} {
			study, _ := cases.NewStudy(axle, in.Vehicle, nil, nil)
			found := c.Columns[i].Set.Unusual(axle, study, known)
			all, known = append(all, found...), append(found, known...)
		}
	}
	return all
}

// swapAtSize takes every case to full size, of the axle as it is and of every set at
// every place of its range. lost is the error of loads that cannot be held.
func swapAtSize(c *cli.Context, answer *show.Swapped) (lost, err error) {
	force, err := forceAtSize(c)
	if err != nil {
		return nil, err
	}
	f, newStudy := answer.File, cases.NewStudy
	if answer.BothTurns() {
		newStudy = cases.NewStudyBothTurns
	}
	solve := func(axle *compliance.Axle) ([]show.CaseAtSize, error) {
		study, err := newStudy(axle, f.Vehicle, f.Cases, statesAtSize(f.States))
		if err != nil {
			return nil, err
		}
		all, err := everyCaseAtSize(c.Context, study, force)
		if lostOf(all) != nil { // the answer tells which
			lost = errLost
		}
		return all, err
	}
	if answer.Full.Base, err = solve(f.Axle); err != nil {
		return nil, err
	}
	for i := range answer.Columns {
		var places [][]show.CaseAtSize
		for _, axle := range answer.Columns[i].Axles {
			all, err := solve(axle)
			if err != nil {
				return nil, err
			}
			places = append(places, all)
		}
		answer.Full.Sets = append(answer.Full.Sets, places)
	}
	return lost, nil
}

// readSets reads the sets. The error is all mistakes of all of them.
func readSets(in *input, texts [][]axlefile.SetText) ([]*axlefile.Set, error) {
	sets, err := in.ReadSets(texts)
	var mistakes axlefile.Mistakes
	if errors.As(err, &mistakes) {
		return nil, append(mistakes, swapping.Wrong(sets)...)
	}
	return sets, err
}

// axleAndSets finds the axle and the names of its sets: the built-in ones of a
// built-in axle if no other is named.
func axleAndSets(c *cli.Context, s streams) (*input, []string, error) {
	names, name := c.Args().Slice(), c.String("demo")
	if name == "" {
		if len(names) < 2 {
			return nil, nil, &usageError{c.Command.Name, "swap takes an axle file and at least one set, or --demo NAME"}
		}
		in, err := readAxle(names[0], s)
		return in, names[1:], builtInMeant(names[0], err)
	}
	in, err := builtIn(c, name)
	if err != nil {
		return nil, nil, err
	}
	if len(names) == 0 {
		if names = demo.SetsOf(name); len(names) == 0 {
			return nil, nil, &usageError{c.Command.Name, fmt.Sprintf("there are no built-in sets for %s; name a file or a rule, as rates=1.5", name)}
		}
	}
	return in, names, nil
}

// setTexts reads every set: files, built-in sets and rules as they stand.
func setTexts(names []string) (all [][]axlefile.SetText, err error) {
	var errs []error
	for _, name := range names {
		var texts []axlefile.SetText
		for _, part := range partsOf(name) {
			text, err := setText(part)
			texts, errs = append(texts, text), append(errs, err)
		}
		all = append(all, texts)
	}
	return all, errors.Join(errs...)
}

// partsOf takes SET+SET apart, but no name of a file that has a + in it.
func partsOf(name string) (parts []string) {
	for pieces := axlefile.SplitSets(name); len(pieces) > 0; {
		many := len(pieces)
		for ; many > 1; many-- {
			if _, err := os.Stat(strings.Join(pieces[:many], "+")); err == nil {
				break
			}
		}
		parts, pieces = append(parts, strings.Join(pieces[:many], "+")), pieces[many:]
	}
	return parts
}

// setText reads one part of a set.
func setText(name string) (axlefile.SetText, error) {
	if name == "" {
		return axlefile.SetText{}, &usageError{"swap", "a SET is empty; SET+SET is a set on both sides of the +"}
	}
	if axlefile.IsShort(name) {
		return axlefile.SetText{Name: name, Short: true}, nil
	}
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		if built, ok := demo.Set(name); ok {
			return axlefile.SetText{Name: name, Text: built}, nil
		}
		err = fmt.Errorf("%w; a rule is written key=value, as rates=1.5", err)
	}
	return axlefile.SetText{Name: name, Text: text}, err
}
