package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/tuning"
)

// motion is one way in which travel moves the pads.
type motion struct {
	name, title string
	mode        cases.Mode
}

var motions = []motion{
	{"together", "both wheels together, pads at equal heights", cases.Heave},
	{"roll", "roll, pads equal and opposite, body fixed", cases.RollBody},
	{"roll-at-load", "roll at constant axle load, both pads together at the height that keeps it", cases.RollLoad},
	{"one", "the outer wheel alone, the other pad at its design height", cases.Single},
}

// The limits of a request: common sense, no axle travels further.
const (
	farthest   = 500 // mm
	mostPoints = 401
)

func travelCommand(s streams) *cli.Command {
	return &cli.Command{
		Name:      "travel",
		Usage:     "move the wheels over a range and show toe, camber, rates, roll centre, anti-lift and bushes",
		UsageText: "bushtune travel [FILE] [OPTIONS]      FILE may be - for standard input",
		Description: "Motions: together (bump and rebound), roll (pads equal and opposite, body fixed), roll-at-load\n" +
			"(roll at constant axle load), one (the outer wheel alone). Every table ends with its definitions.\n" +
			meanings(anAnswer, notSolved+", or the axle cannot follow", badAxle),
		Flags: []cli.Flag{
			formatFlag(), demoFlag(),
			&cli.StringSliceFlag{Name: "motion", Usage: "`WAY` the pads move: " + strings.Join(motionNames(), ", ") + "; may be repeated (without: together and roll)"},
			&cli.Float64Flag{Name: "from", Value: -80, Usage: "lowest height of the outer pad in `MM`, rebound is negative"},
			&cli.Float64Flag{Name: "to", Value: 80, Usage: "highest height of the outer pad in `MM`"},
			&cli.IntFlag{Name: "points", Value: 17, Usage: "`NUMBER` of heights, 2 to 401"},
			turnRightFlag(),
			&cli.BoolFlag{Name: "bushes", Usage: "show every bush at every height, not only its extremes", DisableDefaultText: true},
		},
		Action: func(c *cli.Context) error { return travel(c, s) },
	}
}

func turnRightFlag() cli.Flag {
	return &cli.BoolFlag{Name: "right", Usage: "turn right: the outer wheel is the left one; for an axle whose halves differ", DisableDefaultText: true}
}

func motionNames() []string {
	var names []string
	for _, m := range motions {
		names = append(names, m.name)
	}
	return names
}

// travel moves the wheels and writes what it reads.
func travel(c *cli.Context, s streams) error {
	asked, err := motionsAsked(c)
	if err != nil {
		return err
	}
	if err := checkTravel(c); err != nil {
		return err
	}
	in, err := oneAxle(c, s)
	if err != nil {
		return err
	}
	study, err := tuning.Study(in.File)
	if err != nil {
		return err
	}
	if c.Bool("right") && study.Symmetric() {
		return &usageError{c.Command.Name, "--right: the halves of this axle are alike; turning right is the mirror image of turning left"}
	}
	full, err := cases.NewFullSize(study)
	if err != nil {
		return err
	}
	full.Until(c.Context)
	answer := &show.Travelled{Noted: in.Noted, Title: in.Title, Source: in.source, Study: study, Bushes: c.Bool("bushes")}
	var lost error
	for _, m := range asked {
		moved, err := full.Travel(cases.Travel{Mode: m.mode, From: c.Float64("from"), To: c.Float64("to"), Points: c.Int("points"), TurnRight: c.Bool("right")})
		var way *cases.LostWay
		switch {
		case c.Context.Err() != nil:
			return errInterrupted
		case err != nil && (moved == nil || !errors.As(err, &way)):
			return fmt.Errorf("%s: %w", in.source, err)
		case err != nil:
			lost = errors.Join(lost, err)
		}
		answer.Motions = append(answer.Motions, show.Motion{Name: m.name, Title: m.title, Answer: moved, Lost: wayLost(err)})
	}
	s.caution(c.String("format"))
	return errors.Join(s.write(c.String("format"), answer), lost)
}

// wayLost is why a travel goes no further than it does, in one line; empty if it goes
// to its ends.
func wayLost(err error) string {
	if err == nil {
		return ""
	}
	return strings.Join(strings.Split(err.Error(), "\n"), "; ")
}

// motionsAsked finds the motions by name: together and roll if none is named.
func motionsAsked(c *cli.Context) ([]motion, error) {
	names := c.StringSlice("motion")
	if len(names) == 0 {
		return motions[:2], nil
	}
	var asked []motion
	for _, name := range names {
		found := false
		for _, m := range motions {
			if m.name == name {
				asked, found = append(asked, m), true
			}
		}
		if !found {
			return nil, &usageError{c.Command.Name, fmt.Sprintf("there is no motion %q; %s", name, hint(name, motionNames()))}
		}
	}
	return asked, nil
}

// checkTravel refuses a range or number of points that makes no sense.
func checkTravel(c *cli.Context) error {
	if err := checkFormat(c); err != nil {
		return err
	}
	from, to := c.Float64("from"), c.Float64("to")
	if !(from < to) || math.Abs(from) > farthest || math.Abs(to) > farthest {
		return &usageError{c.Command.Name, fmt.Sprintf("--from %g --to %g: want heights in mm from below to, within ±%d", from, to, farthest)}
	}
	return checkPoints(c)
}

func checkPoints(c *cli.Context) error {
	if n := c.Int("points"); n < 2 || n > mostPoints {
		return &usageError{c.Command.Name, fmt.Sprintf("--points takes 2 to %d", mostPoints)}
	}
	return nil
}
