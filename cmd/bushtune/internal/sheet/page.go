package sheet

import (
	"fmt"
	"io"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/compliance"
)

// Pages are sheets to be written in one go.
type Pages []*Sheet

// Markdown writes the pages one under the other.
func (p Pages) Markdown(w io.Writer) error {
	d := &document{}
	for i, s := range p {
		if i > 0 {
			d.rule()
		}
		s.page(d)
	}
	_, err := io.WriteString(w, d.String())
	return err
}

// page writes one sheet.
func (s *Sheet) page(d *document) {
	s.head(d)
	s.dimensionsPart(d)
	s.orientationPart(d)
	s.ratesPart(d)
	s.pointsPart(d)
	s.measuringPart(d)
	s.dynamicPart(d)
	s.loadsPart(d)
	s.limitsPart(d)
	s.strainsPart(d)
	s.leewayPart(d)
	s.openPart(d)
	s.sourcesPart(d)
}

// rightSide is the side whose vectors are mirrored before they are written.
const rightSide = compliance.Right

// head says what the page is.
func (s *Sheet) head(d *document) {
	d.heading(1, "Bush \""+s.name+"\": specification for a quotation")
	d.prose(fmt.Sprintf("Of the axle \"%s\", from %s. %s", literal(s.axle.Title), literal(s.axle.Source), s.count()))
	d.prose("**What this page is.** The rates and loads that a calculation of the axle asks of this bush, for small movements about its " +
		"design position; nothing on it is measured. Rates are quasi-static, of the new and conditioned part at room temperature. " +
		"It is no drawing and no approval. Agree dimensions, compound and test with the customer before tooling.")
	caution := strings.TrimPrefix(show.Caution, "Caution: ")
	d.prose("**Caution.** " + strings.ToUpper(caution[:1]) + caution[1:])
	inner, outer := s.sleeves()
	d.prose(fmt.Sprintf("**Signs.** Every travel, turn and load is that of the inner sleeve (on %s) against the outer sleeve (on %s). "+
		"Radial and axial: + is the way named under *Orientation*. Turns: + is right-handed about that way.%s", inner, outer, s.mirrorSigns()))
}

// mirrorSigns says how values of a right bush are to be read.
func (s *Sheet) mirrorSigns() string {
	switch {
	case s.first.Side == rightSide:
		return " This is a right bush: its turns count left-handed, as in a mirror, so that the same signs mean the same on both sides of a car."
	case len(s.elements) == 2:
		return " Values of the right bush are those of its mirror image, so its turns count left-handed about its own ways."
	}
	return ""
}

// count says how many there are, and whether both sides take the same part.
func (s *Sheet) count() string {
	switch {
	case len(s.elements) == 1 && s.first.Side == compliance.Centre:
		return "One for each axle, in the middle."
	case len(s.elements) == 1:
		return "One for each axle, on the " + s.first.Side.String() + "; the other side differs and has a page of its own or no such bush."
	case s.oneForBothSides():
		return "Two for each axle, left and right. The right one sits as the mirror image of the left one, and one part number serves " +
			"both: the part is its own mirror image, turned."
	}
	return "Two for each axle, left and right, the right one a mirror image of the left one. Two part numbers: turning the part does not " +
		"make the one into the other."
}

// dimensionsPart gives dimensions where they are known.
func (s *Sheet) dimensionsPart(d *document) {
	d.heading(2, "Dimensions and compound")
	if s.rubber != nil {
		s.rubberDimensions(d)
		return
	}
	d.prose("Dimensions: open, the supplier's choice. Compound: open. Offer both with the quotation, with the hardness and the wall of the " +
		"rubber, because tolerance classes depend on them.")
}

// orientationPart says how the bush sits and where its voids lie.
func (s *Sheet) orientationPart(d *document) {
	d.heading(2, "Orientation")
	side := s.first.Side
	sleeve, elastic := s.axes()
	t := newTable(words("direction of the "+s.sideWord()+" bush"), words("+ points"), words("x forward, y left, z up"))
	for i, name := range directionWords[:3] {
		v := elastic[i]
		if side == rightSide {
			v = mirrored(v)
		}
		t.add(name, pointing(elastic[i], side), components(v))
	}
	d.table(t)
	at := s.bush.At
	if side == rightSide {
		at = mirrored(at)
	}
	notes := []string{fmt.Sprintf("Centre of the %s bush: x %s, y %s, z %s mm.", s.sideWord(), exactFigure(at[0]), exactFigure(at[1]), exactFigure(at[2]))}
	notes = append(notes, s.clocking(sleeve)...)
	if sleeve != elastic {
		notes = append(notes, fmt.Sprintf("The rubber stands askew in its sleeves: its axial rate works along the direction above, while the sleeves' own "+
			"axis, about which torsion and cones are measured, points %s %s.", pointing(sleeve[1], side), components(sleeve[1])))
	}
	if len(s.elements) == 2 {
		notes = append(notes, "Right bush: the mirror image in the middle plane of the car. Outboard stays outboard, forward stays forward, up stays up; "+
			"y changes its sign, and clock angles run the other way round.")
	}
	d.items(notes...)
}

// clocking says where the voids lie.
func (s *Sheet) clocking(sleeve bushing.Frame[float64]) []string {
	axis, soft := sleeve[1], sleeve[0]
	if s.rate(bushing.Soft) == s.rate(bushing.Stiff) && s.laws[bushing.Soft] == s.laws[bushing.Stiff] {
		return []string{"Both radial rates are the same: the bush may sit at any clock angle."}
	}
	side := s.first.Side
	place, back := clockAngle(axis, soft), clockAngle(axis, soft.Scale(-1))
	turned := "clockwise"
	if side == rightSide {
		turned = "counter-clockwise"
	}
	voids := "If voids make the soft radial, they are centred there."
	if s.voided() {
		voids = "The voids are centred there."
	}
	text := fmt.Sprintf("Clocking of the %s bush: seen from its %s, looking along its axis, the soft radial lies at %s deg and %s deg %s from %s. "+
		"%s Mark the %s of the part at the one that looks %s.",
		s.sideWord(), end(axis, side), fixed(place, 1), fixed(back, 1), turned, clockFrom(axis), voids, end(axis, side), way(side, mainAxis(soft), soft[mainAxis(soft)]))
	_, outer := s.sleeves()
	return []string{text, "The voids belong to the outer sleeve, which is fixed in " + outer + "; they turn with it."}
}

// voided tells whether the axle file itself speaks of voids.
func (s *Sheet) voided() bool {
	return s.rubber != nil && s.rubber.VoidArc != 0 && s.rubber.VoidDepth != 0 || s.laws[bushing.Soft].Snubber != 0
}

// sideWord names the bush whose directions are told.
func (s *Sheet) sideWord() string {
	if s.first.Side == compliance.Centre {
		return "middle"
	}
	return s.first.Side.String()
}

// ratesPart gives the six rates with their tolerance.
func (s *Sheet) ratesPart(d *document) {
	d.heading(2, "Rates")
	least, most := s.tolerance()
	t := newTable(words("direction"), numbers("nominal"), numbers("lowest"), numbers("highest"), words("unit"), words("remark"))
	for i, name := range directionWords {
		direction := bushing.Direction(i)
		unit := unitsOf(direction).rate
		rate := unit.Written(s.rate(direction))
		if s.absent(direction) {
			t.add(name, "0", "", "", unit.Name, s.absentRemark())
			continue
		}
		t.add(name, s.nominal(rate), figure(rate*(1-most)), figure(rate*(1+most)), unit.Name, s.rateRemark(direction))
	}
	d.table(t)
	class := rubber.ClassNames[s.axle.Class]
	d.prose(fmt.Sprintf("Tolerance: class %s of load over deflection, %s, of the rubber handbook of the Rubber Manufacturers Association (RMA)%s. "+
		"Tangent at no deflection.", class, plusMinus(least, most), s.assumption()))
	d.prose(s.bracketNote())
	if s.rubber != nil {
		s.bandsPart(d)
	}
}

// absentRemark says why a direction has no rate.
func (s *Sheet) absentRemark() string {
	if s.rubber != nil && s.first.Choice.Rubber.Free {
		return "friction alone, which is no rate"
	}
	return "not asked for: the calculation takes it as nothing"
}

// nominal writes a rate as the axle file gives it, a calculated one with what counts.
func (s *Sheet) nominal(rate float64) string {
	if s.rubber != nil {
		return show.Significant(rate, 4)
	}
	return exactFigure(rate)
}

// plusMinus writes a tolerance, a range of it where the class has one.
func plusMinus(least, most float64) string {
	if least == most {
		return "±" + figure(100*most) + " %"
	}
	return fmt.Sprintf("±%s to ±%s %%, the wider one taken", figure(100*least), figure(100*most))
}

// assumption says by which hardness and wall the tolerance goes.
func (s *Sheet) assumption() string {
	hardness, wall, given := s.material()
	if given {
		return fmt.Sprintf(" for %s Shore A and a rubber wall of %s mm", exactFigure(hardness), exactFigure(wall))
	}
	return " for up to 65 Shore A and a rubber wall of 6 mm or more (a harder or thinner rubber has a wider one)"
}

// rateRemark says what the law of a direction is, and its tangent under the load at
// rest where the law is no straight line.
func (s *Sheet) rateRemark(d bushing.Direction) string {
	law, u := &s.laws[d], unitsOf(d)
	if law.Linear() {
		return ""
	}
	text := "a measured curve, see its points"
	if law.Table == nil {
		gaps := "±" + exactFigure(law.GapPlus)
		if law.GapMinus != law.GapPlus {
			gaps = "+" + exactFigure(law.GapPlus) + " and -" + exactFigure(law.GapMinus)
		}
		text = fmt.Sprintf("stop at %s %s adds %s %s over %s %s", gaps, u.travel.Name, s.nominal(u.rate.Written(law.Snubber)), u.rate.Name, exactFigure(law.Run), u.travel.Name)
	}
	for _, r := range s.rests() {
		if r.load[d] != 0 {
			text += fmt.Sprintf("; %s %s under the load at rest%s", figure(u.rate.Written(law.Slope(s.resting(d, r.load[d])))), u.rate.Name, sideNote(r.side))
		}
	}
	return text
}

// bracketNote says what is left out.
func (s *Sheet) bracketNote() string {
	if s.bush.Bracket == 0 {
		return "Rates are of the rubber between rigid sleeves. The axle file gives no bracket: what holds the bush counts as rigid."
	}
	return fmt.Sprintf("Rates are of the rubber between rigid sleeves. On the axle a bracket of %s N/mm stands in series with each radial and axial rate; "+
		"it is not part of the bush and is excluded here, from rates and from travel.", exactFigure(s.bush.Bracket))
}

// pointsPart gives points of load over deflection.
func (s *Sheet) pointsPart(d *document) {
	d.heading(2, "Load over deflection")
	_, most := s.tolerance()
	for _, turns := range []bool{false, true} {
		u := unitsOf(bushing.Soft)
		if turns {
			u = unitsOf(bushing.Torsion)
		}
		t := newTable(words("direction"), numbers("deflection "+u.travel.Name), numbers("load "+u.load.Name), numbers("lowest "+u.load.Name), numbers("highest "+u.load.Name))
		for i, name := range directionWords {
			direction := bushing.Direction(i)
			if about(direction) != turns {
				continue
			}
			points, bothWays := s.points(direction)
			for _, p := range points {
				sign := signed
				if bothWays {
					sign = func(x float64) string { return "±" + figure(x) }
				}
				low, high := p.load*(1-most), p.load*(1+most)
				t.add(name, sign(p.deflection), sign(p.load), sign(low), sign(high))
			}
		}
		d.table(t)
	}
	d.prose(fmt.Sprintf("From the free shape, one direction at a time, the others held. Bands are class %s. Points reach as far as the cases, states and allowed "+
		"travels below take the bush from its free shape%s. ± means that both ways are the same, load towards the deflection.",
		rubber.ClassNames[s.axle.Class], s.couplingNote()))
}

// couplingNote says that soft and stiff are coupled.
func (s *Sheet) couplingNote() string {
	if c := s.first.Choice.Curves; c != nil && c.Elliptical {
		return "; the void closes along an ellipse, so a radial deflection between soft and stiff closes it at a gap between both"
	}
	return ""
}

// measuringPart says how rates are measured.
func (s *Sheet) measuringPart(d *document) {
	d.heading(2, "Conditioning and test")
	hardness, _, _ := s.material()
	d.items(
		"Hold the outer sleeve and move the inner one, along or about one direction of the table under *Orientation* at a time.",
		fmt.Sprintf("Condition with %d to %d cycles over the whole range of deflection; read the cycle after them. Earlier cycles are stiffer (RMA rubber handbook).",
			rubber.ConditioningFewest, rubber.ConditioningMost),
		fmt.Sprintf("Static test at no more than %s mm/s (RMA rubber handbook).", figure(rubber.TestSpeed)),
		fmt.Sprintf("Damping, where it is asked for: ±%s %% (RMA rubber handbook).", figure(100*rubber.DampingTolerance(hardness))),
		"Report the rate as the tangent at no deflection, the load at every point of the table, the hardness of the part and the temperature of the test.")
}

// openPart lists what a quotation needs beside the page, to be filled in.
func (s *Sheet) openPart(d *document) {
	d.heading(2, "To be filled in by the customer")
	t := newTable(words("what a calculation does not know"), words("value"))
	for _, what := range []string{"space for the bush: largest outer diameter and length, mm", "bolt or inner sleeve: bore and length, mm", "outer sleeve: material, press fit, push-out force, N",
		"range of temperature, deg C, and what the rubber meets (oil, ozone, salt)", "durability: load collective and cycles", "pieces a year; drawing number"} {
		t.add(what, "")
	}
	d.table(t)
}

// sourcesPart names what the page takes from others.
func (s *Sheet) sourcesPart(d *document) {
	d.heading(2, "Sources")
	notes := []string{"Tolerance classes of load over deflection, of damping, conditioning and test speed: Rubber Manufacturers Association (RMA), rubber handbook, read in a reproduction."}
	if s.rubber != nil {
		notes = append(notes, "Tolerance classes of dimensions: ISO 3302-1, read in a reproduction.",
			"Moduli by hardness and strain limits: P. B. Lindley, Engineering Design with Natural Rubber, NR Technical Bulletin, read in a transcription; A. N. Gent, Trans. IRI 34 (1958), formula read elsewhere.")
	}
	if s.bush.DynamicRatio == 0 || s.bush.LossFactor == 0 {
		notes = append(notes, "Dynamic values marked "+rubber.Typical+": no source.")
	}
	d.items(notes...)
	d.prose("Hold them against the originals before they become part of a contract.")
}
