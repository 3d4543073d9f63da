package optimize

import (
	"fmt"
	"math"
	"strings"
)

// WarningKind sorts warnings.
type WarningKind int

const (
	NoEffect      WarningKind = iota // a parameter changes no wanted number
	OnBound                          // a parameter ended on a bound
	SameEffect                       // two parameters do the same thing
	FlatDirection                    // more parameters than wants: other values do as well
)

// Warning is a remark on the problem or its result.
type Warning struct {
	Kind       WarningKind
	Parameters []int
	Text       string
}

const (
	// without is the largest effect of a parameter over its whole range, in
	// scales of the wanted numbers, that counts as none.
	without = 1e-9
	// parallel is the cosine between the effects of two parameters above which
	// they do the same thing.
	parallel = 0.9999
)

// warnings looks at the effects of the parameters at the present values and
// wherever the starts ended.
func (m *model) warnings(r *Result, before *evaluation, finishes []finish, best finish) []Warning {
	var points []*evaluation
	if start, err := m.gradients(before.z); err == nil {
		points = append(points, start)
	}
	for _, f := range finishes {
		if f.at != nil {
			points = append(points, f.at)
		}
	}
	effects := m.effects(points)
	w := m.withoutEffect(effects)
	for _, b := range r.Bounds {
		side := "lower"
		if b.Upper {
			side = "upper"
		}
		w = append(w, m.warning(OnBound, "%s is on its "+side+" bound", b.Parameter))
	}
	w = append(w, m.sameEffect(effects)...)
	return append(w, m.flat(r, best)...)
}

// effects returns, per free parameter, its effect on every wanted number at
// every point: ∂value/∂z over the finest scale among the number's wants.
func (m *model) effects(points []*evaluation) [][]float64 {
	scale := make([]float64, m.problem.Numbers)
	for _, w := range m.problem.Wants {
		if s := scale[w.Number]; s == 0 || w.Scale < s {
			scale[w.Number] = w.Scale
		}
	}
	columns := make([][]float64, len(m.box.free))
	for _, e := range points {
		for _, i := range m.wanted {
			for k, rate := range e.rates[i] {
				columns[k] = append(columns[k], rate/scale[i])
			}
		}
	}
	return columns
}

func (m *model) withoutEffect(effects [][]float64) []Warning {
	var w []Warning
	for k, column := range effects {
		if largest(column) <= without {
			w = append(w, m.warning(NoEffect, "%s changes none of the wanted numbers", m.box.free[k]))
		}
	}
	return w
}

func (m *model) sameEffect(effects [][]float64) []Warning {
	var w []Warning
	for k, a := range effects {
		for l, b := range effects[:k] {
			if largest(a) <= without || largest(b) <= without {
				continue
			}
			if math.Abs(dot(a, b)) > parallel*math.Sqrt(dot(a, a)*dot(b, b)) {
				w = append(w, m.warning(SameEffect, "%s and %s do the same thing to the wanted numbers", m.box.free[l], m.box.free[k]))
			}
		}
	}
	return w
}

// flat warns where wants leave a direction free for certain: nothing is to be
// made large or small, all wants are met, and the parameters off their bounds
// outnumber the targets and touching limits, whose gradients are independent.
// Then, by the implicit function theorem, a whole surface of parameters does as
// well.
func (m *model) flat(r *Result, f finish) []Warning {
	if len(m.makes) > 0 || r.Status != Converged {
		return nil
	}
	var off []int
	for k, z := range f.at.z {
		if !touches(z) {
			off = append(off, m.box.free[k])
		}
	}
	held := m.held(r, f)
	if !independent(held, f.at.z) {
		return nil
	}
	if len(off) <= len(held) {
		return nil
	}
	return []Warning{m.warning(FlatDirection,
		fmt.Sprintf("the wants fix at most %d of the %d parameters off their bounds (%%s): other values do as well",
			len(held), len(off)), off...)}
}

// held returns the gradients of the numbers that targets and touching limits
// fix, each number once.
func (m *model) held(r *Result, f finish) [][]float64 {
	fixed := make([]bool, m.problem.Numbers)
	for _, w := range m.targets {
		fixed[w.Number] = true
	}
	for _, l := range r.Limits {
		fixed[m.problem.Wants[l.Want].Number] = true
	}
	var rows [][]float64
	for i, ok := range fixed {
		if ok {
			rows = append(rows, f.at.rates[i])
		}
	}
	return rows
}

// warning fills a text, whose verbs are parameter names, or one verb for all.
func (m *model) warning(kind WarningKind, text string, parameters ...int) Warning {
	names := make([]any, len(parameters))
	list := make([]string, len(parameters))
	for i, p := range parameters {
		list[i] = m.problem.Parameters[p].Name
		names[i] = list[i]
	}
	if strings.Count(text, "%s") == 1 {
		names = []any{strings.Join(list, ", ")}
	}
	return Warning{Kind: kind, Parameters: parameters, Text: fmt.Sprintf(text, names...)}
}
