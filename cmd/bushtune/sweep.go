package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/tuning"
)

func sweepCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:      "sweep",
		Usage:     "scale a load case or a state from nothing to a load: toe against force, and where it runs out",
		UsageText: "bushtune sweep [FILE] [OPTIONS]      FILE may be - for standard input",
		Description: "Without --case the vehicle corners from 0 to 1 g, and the toe of the outer wheel is split into its\n" +
			"causes; a file without the vehicle values for that takes the case cornering to 5 kN.\n" +
			meanings(anAnswer, notSolved+", or no balance is found at some load", badAxle),
		Flags: []cli.Flag{
			formatFlag(), demoFlag(),
			&cli.StringFlag{Name: "case", Usage: "`NAME` of a load case, a state, kerb_strike or pothole"},
			&cli.Float64Flag{Name: "to", Usage: "the largest load: kN of force on a wheel, N·m of a case without force, g of a state (without: 5 kN, 150 N·m, 1 g; own cases and events as they are)", DefaultText: "see there"},
			&cli.IntFlag{Name: "points", Value: 21, Usage: "`NUMBER` of loads, 2 to 401"},
			&cli.BoolFlag{Name: "bushes", Usage: "show every bush at every load, not only its extremes", DisableDefaultText: true},
		},
		Action: func(c *cli.Context) error { return sweep(c, s) },
	}
}

// largestTo is the largest load that is swept to, in the unit of the case.
const largestTo = 10000

// sweep scales a case and writes what it reads.
func sweep(c *cli.Context, s streams) error {
	if err := checkFormat(c); err != nil {
		return err
	}
	if err := checkPoints(c); err != nil {
		return err
	}
	if to := c.Float64("to"); c.IsSet("to") && !(to > 0 && to <= largestTo) {
		return &usageError{c.Command.Name, fmt.Sprintf("--to %g: want a load above zero, at most %d", to, largestTo)}
	}
	in, err := oneAxle(c, s)
	if err != nil {
		return err
	}
	study, err := tuning.Study(in.File)
	if err != nil {
		return err
	}
	full, err := cases.NewFullSize(study)
	if err != nil {
		return err
	}
	full.Until(c.Context)
	name := caseAsked(c.String("case"), full)
	size := sizeOf(study, name)
	to := size.usual
	if c.IsSet("to") {
		to = c.Float64("to") * size.unit.Factor
	}
	answer := &show.Swept{Noted: in.Noted, Title: in.Title, Source: in.source, Name: name, Study: study, Bushes: c.Bool("bushes")}
	var lost *cases.LostWay
	if answer.Answer, err = full.Sweep(cases.Sweep{Case: name, To: to, Points: c.Int("points")}); err != nil && !(errors.As(err, &lost) && answer.Answer != nil) {
		return notFound(c, err)
	}
	if size.isState {
		if answer.Causes, err = full.OuterToe(name, to, c.Int("points")); err != nil && lost == nil {
			return err
		}
	}
	if c.Context.Err() != nil {
		return errInterrupted
	}
	s.caution(c.String("format"))
	if lost == nil {
		return s.write(c.String("format"), answer)
	}
	answer.Lost = lost.Error()
	return errors.Join(s.write(c.String("format"), answer), lost)
}

// notFound turns an unknown case into a mistake on the command line.
func notFound(c *cli.Context, err error) error {
	var unknown *cases.UnknownName
	if errors.As(err, &unknown) {
		return &usageError{c.Command.Name, "--case: " + explained(err).Error()}
	}
	return err
}

// caseAsked is the case to sweep where none is named: cornering of the vehicle,
// or of the axle if the vehicle's values are not there.
func caseAsked(name string, full *cases.FullSize) string {
	switch {
	case name != "":
		return name
	case slices.Contains(full.CaseNames(), "state_cornering"):
		return "state_cornering"
	}
	return "cornering"
}

// caseSize is how a case is measured on the command line.
type caseSize struct {
	unit    quantity.Unit // its factor leads to the unit that Sweep takes
	usual   float64       // the largest load where none is named, in that unit; 0: the case itself
	isState bool
}

var kilonewton = quantity.Unit{Name: "kN", Factor: 1e3}

// The usual largest loads of the built-in cases: common practice, no source.
const (
	usualForce        = 5e3   // N on a wheel
	usualMoment       = 150e3 // N·mm: 30 mm of trail
	usualAcceleration = quantity.StandardGravity
)

// sizeOf finds how a case is measured.
func sizeOf(study *cases.Study, name string) caseSize {
	base := strings.TrimSuffix(name, cases.TurnRight)
	for _, st := range append(study.States(), cases.StatesAtSize()...) {
		if st.Name == base {
			return caseSize{quantity.Gravity, usualAcceleration, true}
		}
	}
	builtIn := slices.ContainsFunc(cases.BuiltIn(), func(c cases.Case) bool { return c.Name == base })
	for _, c := range study.Cases() {
		if c.Name == name && largestForce(&c) == 0 {
			return caseSize{unit: quantity.NewtonMetre, usual: usualOf(builtIn, usualMoment)}
		}
	}
	return caseSize{unit: kilonewton, usual: usualOf(builtIn, usualForce)}
}

// usualOf is the usual load of a built-in case; another is taken as it is.
func usualOf(builtIn bool, load float64) float64 {
	if builtIn {
		return load
	}
	return 0
}

func largestForce(c *cases.Case) float64 {
	return math.Max(c.Wheels[0].Force.Norm(), c.Wheels[1].Force.Norm())
}
