package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/show"
)

// atSizeFlag asks for the load cases at full size.
func atSizeFlag() cli.Flag {
	return &cli.Float64Flag{Name: "at-size", DefaultText: "off",
		Usage: "show every case at full size, linear beside secant and tangent: built-in forces at `KN` on a wheel, moments at 30 N·m for each kN; then states at 0.3, 0.6 and 0.9 g, a kerb strike, a pothole"}
}

// errLost is an answer in which not every load can be held.
var errLost = errors.New("not every load can be held")

const (
	mostAtSize  = 100 // kN
	atSizeSteps = 5   // points of a sweep to a load, so that each step is small
	trail       = 30  // mm: a built-in moment over a built-in force; common practice, no source
)

// solveAtSize answers how the axle stands under loads of full size. A load that
// cannot be held stands in its place with the reason, and the exit code tells.
func solveAtSize(c *cli.Context, s streams, in *input) error {
	force, err := forceAtSize(c)
	if err != nil {
		return err
	}
	study, err := cases.NewStudy(in.Axle, in.Vehicle, in.Cases, statesAtSize(in.States))
	if err != nil {
		return err
	}
	all, err := everyCaseAtSize(c.Context, study, force)
	if err != nil {
		return err
	}
	s.caution(c.String("format"))
	answer := &show.AtSize{Noted: in.Noted, Title: in.Title, Source: in.source, Study: study, Cases: all}
	return errors.Join(s.write(c.String("format"), answer), lostOf(all))
}

// forceAtSize is the force on a wheel that is asked for, in N.
func forceAtSize(c *cli.Context) (float64, error) {
	force := c.Float64("at-size")
	if !(force > 0 && force <= mostAtSize) {
		return 0, &usageError{c.Command.Name, fmt.Sprintf("--at-size %g: want a force in kN above zero, at most %d", force, mostAtSize)}
	}
	return force * kilonewton.Factor, nil
}

// everyCaseAtSize takes every case of a study to full size.
func everyCaseAtSize(ctx context.Context, study *cases.Study, force float64) (all []show.CaseAtSize, err error) {
	full, err := cases.NewFullSize(study)
	if err != nil {
		return nil, err
	}
	full.Until(ctx)
	for _, name := range casesAtSize(full) {
		one, err := caseAtSize(full, study, name, force)
		if err := cmp.Or(ctx.Err(), err); err != nil { // an interrupt is no load that cannot be held
			return nil, err
		}
		all = append(all, *one)
	}
	return all, nil
}

// lostOf is the error of the cases whose load cannot be held; nil if all are.
func lostOf(all []show.CaseAtSize) (lost error) {
	for i := range all {
		if all[i].Answer == nil {
			lost = errors.Join(lost, fmt.Errorf("%w: %s", errLost, all[i].Lost))
		}
	}
	return lost
}

// statesAtSize are the states at size after a file's own, so that the study has their
// numbers.
func statesAtSize(own []cases.State) []cases.State {
	states := slices.Clone(own)
	for _, st := range cases.StatesAtSize() {
		taken := func(o cases.State) bool { return o.Name == st.Name }
		if !slices.ContainsFunc(own, taken) {
			states = append(states, st)
		}
	}
	return states
}

// notAtSize are cases that only compare pads, and vertical loads, whose movement
// is a matter of travel.
var notAtSize = []string{"cornering_floating", "cornering_opposed", "heave", "roll"}

// casesAtSize lists what is run at full size, everything once.
func casesAtSize(full *cases.FullSize) []string {
	var names []string
	for _, name := range full.CaseNames() {
		base := strings.TrimSuffix(name, cases.TurnRight)
		if !slices.Contains(notAtSize, base) && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// caseAtSize takes one case to full size. A load that is lost is told in the
// answer; another error is one.
func caseAtSize(full *cases.FullSize, study *cases.Study, name string, force float64) (*show.CaseAtSize, error) {
	size := sizeOf(study, name)
	to := force
	switch {
	case size.isState || size.usual == 0:
		to = 0 // as large as the case itself
	case size.unit == quantity.NewtonMetre:
		to = force * trail
	}
	one := &show.CaseAtSize{Name: name, Title: titleOf(study, name)}
	if !size.isState {
		one.Linear = linearNumbers(study, name)
	}
	swept, err := full.Sweep(cases.Sweep{Case: name, To: to, Points: atSizeSteps})
	var lost *cases.LostWay
	switch {
	case errors.As(err, &lost):
		one.Lost = err.Error()
		return one, nil
	case err != nil:
		return nil, err
	}
	one.Answer = swept
	return one, nil
}

// titleOf is the title of a case of the study or of an event.
func titleOf(study *cases.Study, name string) string {
	all := slices.Clone(study.Cases())
	for _, e := range cases.Events() {
		all = append(all, e.Case)
	}
	for _, c := range all {
		if c.Name == name {
			return strings.ReplaceAll(c.Title, "1 kN ", "")
		}
	}
	if left, turned := strings.CutSuffix(name, cases.TurnRight); turned { // events have no title of their own there
		return titleOf(study, left) + ", turning right"
	}
	return name
}

// linearNumbers are the numbers of the study in one case, as written; none of a case
// or state whose numbers are those under its own load.
func linearNumbers(study *cases.Study, name string) map[string]float64 {
	all := map[string]float64{}
	perLoad := func(c cases.Case) bool { return c.Name == name && c.Per != cases.TheLoad }
	if !slices.ContainsFunc(study.Cases(), perLoad) {
		return nil
	}
	for i, n := range study.Numbers() {
		if n.Case == name {
			all[show.LinearKey(n.Name, n.Where)] = n.Unit.Written(study.Value(i))
		}
	}
	return all
}
