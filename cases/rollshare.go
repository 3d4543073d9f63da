package cases

import (
	"errors"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// isLost finds the balance that was lost behind an error.
func isLost(err error, lost **compliance.LostBalance) bool { return errors.As(err, lost) }

// share is the kind of part to which a share of the roll rate belongs.
type share int

const (
	shareSprings share = iota
	shareTwist
	shareBeam
	shareBar
	shareBushes
	shareLinks
	shareLevers
	shareHubs
	shares
)

var shareTitles = [shares]struct{ where, title string }{
	{"springs", "springs, stops and dampers"}, {"beam_twist", "twist of the beams"}, {"beam_bending", "bending, shear and tension of the beams"},
	{"bar", "torsion bars"}, {"bushes", "bushes"}, {"links", "links"}, {"loads", "loads carried, through their levers"}, {"hubs", "hubs and wheels"},
}

// shareFormula is the definition of a share.
const shareFormula = "roll rate · (change of load · change of strain, summed over the lines of these parts) / (the same of all) for a small roll more: signed, sums to the roll rate"

// shareOfLine tells to which share a line of an element belongs.
func shareOfLine(e *compliance.Element, line int) share {
	switch e.Kind.Table {
	case compliance.Bush.Table:
		return shareBushes
	case compliance.Link.Table:
		return shareLinks
	case compliance.TorsionBar.Table:
		return shareBar
	case compliance.Spring.Table, compliance.BumpStop.Table, compliance.Damper.Table:
		return shareSprings
	}
	if compliance.IsTwist(line) {
		return shareTwist
	}
	return shareBeam
}

// readRollShares splits the tangent roll rate by the work of a small roll more.
// uᵀ·K·u of all parts is the work of the couple at the contact points, less what
// the hubs give; load times change of strain of a line is its part.
func (f *FullSize) readRollShares(terms *travelTerms, x float64, c *curves) {
	r := f.tangent(terms.roll)
	var parts [shares]float64
	whole := f.coupleWork(terms.roll, r)
	parts[shareHubs] = whole
	axle := f.study.rig.solver.Axle()
	for i := range axle.Elements {
		e := &axle.Elements[i]
		work := f.mover.Work(i, &r.increment)
		parts[shareLevers] += work.Levers
		parts[shareHubs] -= work.Levers
		for l := range f.study.rig.solver.LineCount(i) {
			parts[shareOfLine(e, l)] += work.Lines[l]
			parts[shareHubs] -= work.Lines[l]
		}
	}
	for w := range f.moved {
		work := f.mover.WheelWork(w, &r.increment)
		parts[shareLevers] += work
		parts[shareHubs] -= work
	}
	total := quantity.NewtonMetrePerDegree.Written(f.Tangent(terms.rollRate))
	for i, v := range parts {
		s := Series{Number: "roll_rate_share", Title: "share of the roll rate: " + shareTitles[i].title, Case: f.study.loads[terms.roll].Name,
			Where: shareTitles[i].where, Pads: Floating.String(), Unit: quantity.NewtonMetrePerDegree.Name, Step: 5, Formula: shareFormula}
		c.add(&s, x, total*v/whole)
	}
}

// coupleWork is the work of a load's forces in the movement that they cause.
func (f *FullSize) coupleWork(index int, r *rate) float64 {
	sum := 0.0
	for _, t := range f.study.loads[index].terms {
		sum += t.factor * r.wheels[t.wheel].along[t.direction]
	}
	return sum
}
