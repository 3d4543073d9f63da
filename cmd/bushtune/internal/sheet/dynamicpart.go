package sheet

import (
	"fmt"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
)

// dynamicFrequencies are those of the dynamic points in Hz: body, shake, wheel hop
// and what is heard.
var dynamicFrequencies = []float64{1, 5, 15, 30, 100}

// dynamicPart gives the rates in vibration.
func (s *Sheet) dynamicPart(d *document) {
	d.heading(2, "Dynamic points")
	law, source := s.dynamic()
	shown := []bushing.Direction{bushing.Soft, bushing.Axial, bushing.Stiff, bushing.Torsion}
	columns := []column{numbers("Hz"), numbers("times static"), numbers("loss factor")}
	for _, i := range shown {
		columns = append(columns, numbers(directionWords[i]+" "+unitsOf(i).rate.Name))
	}
	t := newTable(columns...)
	for _, f := range dynamicFrequencies {
		factor := law.Stiffness(f)
		cells := []string{figure(f), fixed(factor, 2), fixed(law.LossFactor(f), 3)}
		for _, i := range shown {
			if s.absent(i) {
				cells = append(cells, "")
				continue
			}
			cells = append(cells, figure(factor*unitsOf(i).rate.Written(s.rate(i))))
		}
		t.add(cells...)
	}
	d.table(t)
	d.prose(source + fmt.Sprintf(" Small vibration about the load at rest. Storage rates grow with the frequency to the power %s, which goes with the loss factor; "+
		"cones take the same factor.", figure(law.Exponent())))
}

// dynamic is the law of vibration and where it comes from. What the axle file does
// not give is typical of the hardness.
func (s *Sheet) dynamic() (rubber.Dynamic, string) {
	hardness, _, given := s.material()
	law := rubber.TypicalDynamic(hardness)
	of := fmt.Sprintf("natural rubber of %s Shore A", exactFigure(hardness))
	switch {
	case !given:
		of += ", as no hardness is chosen"
	case s.first.Choice.Rubber.Compound == rubber.Polyurethane:
		of += ", which a polyurethane is not"
	}
	asked := s.bush.Dynamic
	if asked.DynamicFrequency != 0 {
		law.Ratio, law.At = law.Stiffness(asked.DynamicFrequency), asked.DynamicFrequency
	}
	var from, typical []string
	if asked.DynamicRatio != 0 {
		law.Ratio = asked.DynamicRatio
		from = append(from, fmt.Sprintf("%s times the static rate at %s Hz", exactFigure(asked.DynamicRatio), exactFigure(law.At)))
	} else {
		typical = append(typical, "ratio to the static rate")
	}
	if asked.LossFactor != 0 {
		law.Loss = asked.LossFactor
		from = append(from, "a loss factor of "+exactFigure(asked.LossFactor))
	} else {
		typical = append(typical, "loss factor")
	}
	text := ""
	if from != nil {
		text = "Asked for: " + list(from) + ". "
	}
	if typical != nil {
		text += fmt.Sprintf("Not given in the axle file: %s; the table takes values %s, for %s. They are no requirement: state your own.", list(typical), rubber.Typical, of)
	}
	return law, text
}
