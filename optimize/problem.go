package optimize

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Scale says in which measure a parameter is searched.
type Scale int

const (
	Linear Scale = iota // steps are differences
	Log                 // steps are ratios; the bounds must be positive
)

// Parameter is one value that the optimiser may change, in the caller's unit.
// Lower = Upper holds it fixed.
type Parameter struct {
	Name  string
	Lower float64 // smallest value allowed
	Upper float64 // largest value allowed
	Start float64 // present value, within the bounds
	Scale Scale
}

// Kind is what is wanted of a number.
type Kind int

const (
	Target    Kind = iota // as near to Value as possible
	AtLeast               // a limit: not below Value
	AtMost                // a limit: not above Value
	MakeLarge             // as large as the limits allow
	MakeSmall             // as small as the limits allow
)

// String names the kind in words.
func (k Kind) String() string {
	switch k {
	case Target:
		return "target"
	case AtLeast:
		return "at least"
	case AtMost:
		return "at most"
	case MakeLarge:
		return "make large"
	case MakeSmall:
		return "make small"
	}
	return fmt.Sprintf("Kind(%d)", int(k))
}

func (k Kind) isLimit() bool { return k == AtLeast || k == AtMost }
func (k Kind) isMake() bool  { return k == MakeLarge || k == MakeSmall }

// Want is one wish about one number. Two wants may name the same number:
// AtLeast and AtMost with the same value make an equality.
type Want struct {
	Name   string
	Number int     // index into the values of Evaluate
	Kind   Kind    //
	Value  float64 // target or limit in the number's unit; unused by MakeLarge, MakeSmall
	Scale  float64 // just-noticeable step in the number's unit, positive
	Weight float64 // 0 means 1
}

func (w Want) weight() float64 {
	if w.Weight == 0 {
		return 1
	}
	return w.Weight
}

// shortfall is how far value misses the want, in the number's unit: signed for
// a target, at least 0 for a limit, 0 for MakeLarge and MakeSmall.
func (w Want) shortfall(value float64) float64 {
	switch w.Kind {
	case Target:
		return value - w.Value
	case AtLeast:
		return math.Max(0, w.Value-value)
	case AtMost:
		return math.Max(0, value-w.Value)
	}
	return 0
}

// Evaluator computes the numbers at the parameters x (length n). It fills
// values (length m) and, unless jacobian is nil, the m×n matrix of exact
// derivatives ∂valueᵢ/∂xⱼ in the caller's units. It must not keep or change x.
// An error, like a NaN or infinity in a wanted number, marks x as impossible:
// the step towards it is shortened.
type Evaluator func(x, values []float64, jacobian *mat.Dense) error

// Problem is what Solve works on.
type Problem struct {
	Parameters []Parameter
	Wants      []Want
	Numbers    int // how many values Evaluate fills
	Evaluate   Evaluator
	// Sketch is a cheaper likeness of Evaluate, asked without a Jacobian: it only
	// chooses from where to start. Nil: Evaluate does that too.
	Sketch Evaluator
}

// Validate returns every mistake in the problem, joined, or nil.
func (p *Problem) Validate() error {
	if len(p.Parameters) == 0 {
		return errors.Join(errors.New("optimize: no parameters"), p.validateRest())
	}
	return p.validateRest()
}

// validateRest is Validate for a problem that may have no parameters.
func (p *Problem) validateRest() error {
	var errs []error
	if p.Evaluate == nil {
		errs = append(errs, errors.New("optimize: no Evaluate function"))
	}
	if len(p.Wants) == 0 {
		errs = append(errs, errors.New("optimize: no wants"))
	}
	for i, q := range p.Parameters {
		if err := q.validate(); err != nil {
			errs = append(errs, fmt.Errorf("optimize: parameter %d (%s): %w", i, q.Name, err))
		}
	}
	for i, w := range p.Wants {
		if err := w.validate(p.Numbers); err != nil {
			errs = append(errs, fmt.Errorf("optimize: want %d (%s): %w", i, w.Name, err))
		}
	}
	return errors.Join(errs...)
}

func (q Parameter) validate() error {
	switch {
	case !finite(q.Lower) || !finite(q.Upper) || !finite(q.Upper-q.Lower):
		return fmt.Errorf("bounds %v, %v are not finite", q.Lower, q.Upper)
	case q.Lower > q.Upper:
		return fmt.Errorf("bounds crossed: %v > %v", q.Lower, q.Upper)
	case !(q.Start >= q.Lower && q.Start <= q.Upper):
		return fmt.Errorf("start %v lies outside %v to %v", q.Start, q.Lower, q.Upper)
	case q.Scale != Linear && q.Scale != Log:
		return fmt.Errorf("unknown scale %d", int(q.Scale))
	case q.Scale == Log && q.Lower <= 0:
		return fmt.Errorf("a logarithmic scale needs positive bounds, not %v", q.Lower)
	}
	return nil
}

// Margin is how far a value is inside the want, in the number's unit: negative for a
// limit that is missed and for a target by what it is off; not a number for MakeLarge
// and MakeSmall, which no value meets.
func (w Want) Margin(value float64) float64 {
	switch w.Kind {
	case Target:
		return -math.Abs(value - w.Value)
	case AtLeast:
		return value - w.Value
	case AtMost:
		return w.Value - value
	}
	return math.NaN()
}

func (w Want) validate(numbers int) error {
	switch {
	case w.Kind < Target || w.Kind > MakeSmall:
		return fmt.Errorf("unknown kind %d", int(w.Kind))
	case w.Number < 0 || w.Number >= numbers:
		return fmt.Errorf("number %d does not exist, there are %d", w.Number, numbers)
	case !(w.Scale > 0) || !finite(w.Scale):
		return fmt.Errorf("scale %v is not positive", w.Scale)
	case !(w.Weight >= 0) || !finite(w.Weight):
		return fmt.Errorf("weight %v is negative or not finite", w.Weight)
	case !w.Kind.isMake() && !finite(w.Value):
		return fmt.Errorf("value %v is not finite", w.Value)
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
