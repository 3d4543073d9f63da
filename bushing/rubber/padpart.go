package rubber

import (
	"errors"
	"fmt"

	"bushtune/bushing/quantity"
)

// padForms is what makes a pad of its own kind: its dimensions, the pad they give,
// how much film pressure its outline holds, and what is wrong with the outline.
type padForms struct {
	fields  []quantity.Field
	values  func([]float64) Pad[float64]
	lifted  func([]complex128) Pad[complex128]
	film    func([]float64) float64
	outline func([]float64) error
}

// padPart makes the part of a kind of pad.
func padPart(name, meaning string, f padForms) *Part {
	n := len(f.fields)
	return &Part{
		Name: name, Meaning: meaning,
		Fields: partOf(f.fields...),
		Numbers: []quantity.Field{
			number("compression", quantity.NewtonPerMillimetre, "rate square to the plates"),
			number("shear", quantity.NewtonPerMillimetre, "rate along the plates"),
			number("shape_factor", quantity.None, "one loaded area over the free area of the sides"),
		},
		Values: func(s []float64, c Choice, into []float64) { p := f.values(s); p.answer(s[n:], c, into) },
		Lifted: func(s []complex128, c Choice, into []complex128) { p := f.lifted(s); p.answer(s[n:], c, into) },
		Check: func(s []float64, c Choice) error {
			p, b := f.values(s), newCompound(s[n:])
			return checkPad(&p, &b, c, f.outline(s))
		},
		Bands: func(s []float64, c Choice, class Class) [][]Band {
			p := f.values(s)
			return padBands(&p, s[n:], c, class, f.film(s))
		},
		Limits: func(s []float64, c Choice) []Between {
			p, b := f.values(s), newCompound(s[n:])
			m := b.Moduli(c)
			return padLimits(&p, &m, c)
		},
		Warnings: func(s []float64, c Choice) []string {
			p := f.values(s)
			if c.Free {
				return append(stability(&p), "not bonded: without friction its sides slide and it bears nothing along the plates")
			}
			return stability(&p)
		},
	}
}

// answer writes the numbers of a pad from the slots of its compound.
func (p *Pad[T]) answer(compound []T, c Choice, into []T) {
	b := newCompound(compound)
	m := b.Moduli(c)
	into[0], into[1], into[2] = p.Compression(&m, c), p.Shear(&m, c), p.Shape
}

// checkPad joins what is wrong with a pad, its outline and its compound.
func checkPad(p *Pad[float64], compound *Bush[float64], c Choice, outline error) error {
	if outline == nil {
		outline = checkShape(p, "thickness")
	}
	return errors.Join(outline, checkCompound(compound, c))
}

// Published bounds of stability: thickness over the least dimension along the
// plates below which a spring is stable (Lindley), and above which it buckles
// (Harris, Shock and Vibration Handbook: free length over width).
const (
	stableThickness  = 0.25
	bucklesThickness = 1.6
)

// stability warns of a pad that may tip over or buckle.
func stability(p *Pad[float64]) []string {
	switch slender := p.Thickness / p.Least; {
	case slender > bucklesThickness:
		return []string{fmt.Sprintf("buckles: %.3g times as thick as wide, more than %.3g (Harris, Shock and Vibration Handbook)", slender, bucklesThickness)}
	case slender > stableThickness:
		return []string{fmt.Sprintf("stability is not assured: thicker than %.3g mm, a quarter of its least width (Lindley)", stableThickness*p.Least)}
	}
	return nil
}
