package swapping

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/compliance"
)

// Comparison is an axle as it is beside sets of parts. All studies offer the same
// numbers in the same order.
type Comparison struct {
	File    *axlefile.File
	Base    *cases.Study
	Asked   []tuning.Asked  // what the axle file wants
	AtSize  []Sized         // of each want, of the axle as it is
	Reserve *tuning.Reserve // of the axle as it is
	Columns []Column        // one for each set, in order
}

// Column is the axle with one set of parts.
type Column struct {
	Set      *axlefile.Set
	Axles    []*compliance.Axle // at every place of its range
	Parts    []PartChange       // what the set changes
	Plays    []Play             // of worn bushes
	Warnings []string           // footnotes that the axle as it is does not have
	AtSize   []Sized            // of each want
	Reserve  *tuning.Reserve    // the least over the range
	Worse    []Harm             // what got worse, and limits that are exceeded, over the whole range

	study     *cases.Study // as the set stands at the stiff end of its range
	low, high []float64    // of each number, in internal units
	at        [][]float64  // every number at every place of the range
}

// shares are the places at which a range is solved: its ends, and between them in
// case a number turns round on the way.
var shares = []float64{0, 0.25, 0.5, 0.75, 1}

// Compare solves the axle of a file as it is and with each set. The error is
// axlefile.Mistakes of rules, or an axle that cannot be solved.
func Compare(file *axlefile.File, sets []*axlefile.Set) (*Comparison, error) {
	axles, mistakes := axlesOf(sets)
	if mistakes != nil {
		return nil, mistakes
	}
	c := &Comparison{File: file, Columns: make([]Column, len(sets))}
	err := c.solve(axles, sets)
	if err != nil {
		return nil, err
	}
	if c.Asked, err = tuning.Ask(c.Base, file.Wants); err != nil {
		return nil, err
	}
	for i := range sets {
		c.Columns[i].Axles = axles[i]
		c.Columns[i].Parts = partChanges(file.Axle, axles[i])
	}
	if err := c.findWorse(axles); err != nil {
		return nil, err
	}
	return c, c.readAtSize(axles)
}

// findWorse compares every set, at both ends of its range, with the axle as it is.
func (c *Comparison) findWorse(axles [][]*compliance.Axle) error {
	base, err := Stand(c.Base, c.Asked)
	if err != nil {
		return err
	}
	if c.Reserve, err = tuning.ReserveOf(c.Base, c.Asked); err != nil {
		return err
	}
	errs := make([]error, len(c.Columns))
	var all sync.WaitGroup
	for i := range c.Columns {
		all.Go(func() { // sets have nothing in common but what stands still
			column := &c.Columns[i]
			var stands []*Standing
			if stands, errs[i] = column.stands(c.Asked, axles[i]); errs[i] == nil {
				column.Worse = Worsened(base, stands, c.Asked)
			}
		})
	}
	all.Wait()
	return errors.Join(errs...)
}

// stands looks at a set at both ends of its range, and finds its reserve; its study
// stands at the stiff one and goes back there.
func (c *Column) stands(asked []tuning.Asked, at []*compliance.Axle) (all []*Standing, err error) {
	soft, stiff := at[0], at[len(at)-1]
	for _, move := range [][2]*compliance.Axle{{nil, stiff}, {stiff, soft}} {
		if move[0] == move[1] {
			continue
		}
		if err := c.moveOn(move[0], move[1]); err != nil {
			return nil, err
		}
		one, err := Stand(c.study, asked)
		if err != nil {
			return nil, err
		}
		all = append(all, one)
		reserve, err := tuning.ReserveOf(c.study, asked)
		if err != nil {
			return nil, err
		}
		c.Reserve = reserve.Least(c.Reserve)
	}
	return all, c.moveOn(soft, stiff)
}

// moveOn moves the study of a set from one place of its range to another one.
func (c *Column) moveOn(from, to *compliance.Axle) error {
	if from == nil || from == to {
		return nil
	}
	move(c.study, from, to)
	return c.study.Update()
}

// Wrong lists the mistakes that show only when rules are carried out; nil if there
// are none.
func Wrong(sets []*axlefile.Set) axlefile.Mistakes {
	_, wrong := axlesOf(sets)
	return wrong
}

// axlesOf carries out the rules of every set, at every place of its range, and lists
// all mistakes of all sets.
func axlesOf(sets []*axlefile.Set) (all [][]*compliance.Axle, mistakes axlefile.Mistakes) {
	for _, set := range sets {
		at := shares[:1]
		if Ranges(set) {
			at = shares
		}
		var axles []*compliance.Axle
		for _, share := range at {
			axle, err := Apply(set, share)
			axles = append(axles, axle)
			var wrong axlefile.Mistakes
			if errors.As(err, &wrong) {
				mistakes = append(mistakes, wrong...)
				break // at other places the same
			}
		}
		all = append(all, axles)
	}
	return all, mistakes
}

// Ranges tells whether a set has a range of answers.
func Ranges(set *axlefile.Set) bool {
	for i := range set.Rules {
		if set.Rules[i].Kind == axlefile.Polyurethane {
			return true
		}
	}
	return false
}

// solve makes the studies: in both turns if the halves differ in any of them, so
// that all offer the same numbers.
func (c *Comparison) solve(axles [][]*compliance.Axle, sets []*axlefile.Set) error {
	even, err := c.solveBy(axles, sets, cases.NewStudy)
	if err != nil || even {
		return err
	}
	_, err = c.solveBy(axles, sets, cases.NewStudyBothTurns)
	return err
}

// newStudy is cases.NewStudy or cases.NewStudyBothTurns.
type newStudy func(*compliance.Axle, cases.Vehicle, []cases.Case, []cases.State) (*cases.Study, error)

// solveBy makes the studies in one way; even tells whether both halves are alike in
// all of them, or differ in all of them.
func (c *Comparison) solveBy(axles [][]*compliance.Axle, sets []*axlefile.Set, make newStudy) (even bool, err error) {
	f := c.File
	if c.Base, err = make(f.Axle, f.Vehicle, f.Cases, f.States); err != nil {
		return false, err
	}
	var errs []error
	even = true
	told := c.Base.Warnings()
	for i := range axles {
		study, err := make(axles[i][0], f.Vehicle, f.Cases, f.States)
		if err == nil {
			even = even && study.Symmetric() == c.Base.Symmetric()
			c.Columns[i] = Column{Set: sets[i], Plays: plays(sets[i], study)}
			err = c.Columns[i].read(study, axles[i], told)
			if err == nil {
				overRange(c.Columns[i].Plays, plays(sets[i], study))
			}
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("set %d, %s: %w", i+1, sets[i].Name, err))
		}
	}
	return even, errors.Join(errs...)
}

// read moves the study of a set, which stands at the soft end of its range, through
// the range and keeps the least and the largest value of each number, and footnotes
// that are not told of the axle as it is.
func (c *Column) read(study *cases.Study, axles []*compliance.Axle, told []string) error {
	count := len(study.Numbers())
	c.study = study
	c.low, c.high = make([]float64, count), make([]float64, count)
	for k, axle := range axles {
		if k > 0 {
			move(study, axles[k-1], axle)
			if err := study.Update(); err != nil {
				return err
			}
			if err := study.CheckParts(); err != nil {
				return err
			}
		}
		c.at = append(c.at, make([]float64, count))
		for i := range count {
			v := study.Value(i)
			c.at[k][i] = v
			if k == 0 {
				c.low[i], c.high[i] = v, v
			}
			c.low[i], c.high[i] = min(c.low[i], v), max(c.high[i], v)
		}
		if k == 0 || k == len(axles)-1 {
			c.warn(study, told)
		}
	}
	return nil
}

// move sets the slots of a study from those of one axle to those of another one that
// is made of the same kinds.
func move(study *cases.Study, from, to *compliance.Axle) {
	for i := range to.Elements {
		for k, v := range to.Elements[i].Slots {
			if from.Elements[i].Slots[k] != v {
				study.Set(compliance.Slot{Element: i, Index: k}, v)
			}
		}
	}
}

// Between are the least and the largest value of a number with the set, in internal
// units; both the same where the set is no range.
func (c *Column) Between(index int) (low, high float64) { return c.low[index], c.high[index] }

// Span are the least and the largest value of what is made of several numbers at the
// same place of the range, in internal units.
func (c *Column) Span(made func(value func(index int) float64) float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, values := range c.at {
		v := made(func(index int) float64 { return values[index] })
		low, high = min(low, v), max(high, v)
	}
	return low, high
}

// IsRange tells whether the set has a range of answers.
func (c *Column) IsRange() bool { return Ranges(c.Set) }

// BothTurns tells whether cases are run in both turns: the halves differ somewhere.
func (c *Comparison) BothTurns() bool {
	return slices.ContainsFunc(c.Base.Cases(), func(one cases.Case) bool { return strings.HasSuffix(one.Name, cases.TurnRight) })
}
