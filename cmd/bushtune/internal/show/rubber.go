package show

import (
	"fmt"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/axlefile"
)

// checkedClass is the class of tolerance that check names: the commercial one, as
// long as no other has been agreed with a supplier.
const checkedClass = rubber.D3

// compoundOf says in a line what a bush is made of, and what its hardness leaves
// open.
func compoundOf(r *axlefile.Rubber) string {
	text := rubberOf(r)
	if assumed := r.Dimensions.RoundAssumed(r.Choice); assumed != "" {
		text += "; " + assumed
	}
	return text
}

// rubberOf says which rubber, and whether it is bonded.
func rubberOf(r *axlefile.Rubber) string {
	m := r.Dimensions.Moduli(r.Choice)
	bond := ", bonded"
	if r.Choice.Free {
		bond = ", not bonded: torsion and axial load are friction, not stiffness"
	}
	moduli := "G " + rate(m.G) + " MPa"
	switch r.Choice.Compound {
	case rubber.Natural:
		lindley, gent := rubber.Spread(r.Dimensions.Hardness)
		return fmt.Sprintf("natural rubber of %s IRHD, %s; Lindley's table gives that hardness %s MPa, Gent's relation %s MPa, %s%s",
			measure(r.Dimensions.Hardness), moduli, rate(lindley), rate(gent), cmpWords(gent/lindley), bond)
	case rubber.Polyurethane:
		low, high := rubber.ModuliRange(&r.Dimensions, r.Choice)
		return fmt.Sprintf("polyurethane of %s Shore A, %s at %s of its range of %s to %s MPa%s",
			measure(r.Dimensions.Hardness), moduli, measure(r.Dimensions.RangeShare), rate(low.G), rate(high.G), bond)
	}
	return "compound as given, " + moduli + bond
}

// rateLine is what is told of one rate.
type rateLine struct{ rate, text string }

// ratesOf lists the six rates that follow from dimensions with how far each may
// be off and the limits it must lie between, then where voids and collars close.
func ratesOf(r *axlefile.Rubber) []rateLine {
	bands := rubber.Bands(&r.Dimensions, r.Choice, checkedClass)
	between := rubber.Limits(&r.Dimensions, r.Choice)
	own := r.Dimensions.Rates(r.Choice)
	var all []rateLine
	for d, value := range own.Six() {
		unit := rateUnit(bushing.Direction(d))
		written := func(x float64) string { return rate(unit.Written(x)) }
		text := written(value) + " " + unit.Name
		if value == 0 {
			text = "none: friction alone"
		}
		if worst := rubber.WorstBand(bands[d]); worst.Low != worst.High {
			text += ", " + written(value*worst.Low) + " to " + written(value*worst.High) + " with all at their worst: " + bandsText(bands[d])
		}
		if b := between[d]; b.High > 0 {
			text += "; elasticity allows " + written(b.Low) + " to " + written(b.High)
		}
		all = append(all, rateLine{bushing.DirectionNames[d], text})
	}
	return append(all, closings(&own)...)
}

// bandsText lists sources of error.
func bandsText(bands []rubber.Band) string {
	var all []string
	for _, b := range bands {
		all = append(all, b.Source+" "+percents(b.Low, b.High))
	}
	return strings.Join(all, ", ")
}

// closings tell where voids and collars close and what they add.
func closings(r *rubber.Rates[float64]) []rateLine {
	var all []rateLine
	for _, c := range []struct {
		direction    bushing.Direction
		what         string
		gap, snubber float64
	}{{bushing.Soft, "void", r.VoidGap, r.VoidSnubber}, {bushing.Axial, "collar", r.EndGap, r.EndSnubber}} {
		if c.gap != 0 {
			all = append(all, rateLine{bushing.DirectionNames[c.direction], fmt.Sprintf("past %s mm the closed %s adds %s N/mm", measure(c.gap), c.what, rate(c.snubber))})
		}
	}
	return all
}
