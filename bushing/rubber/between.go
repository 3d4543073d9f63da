package rubber

import (
	"math"

	"bushtune/bushing"
)

// Between are two limits that a number must lie between, and what they are.
type Between struct {
	Low, High     float64
	LowIs, HighIs string
}

// six are numbers in the order of bushing.Direction.
type six = [6]float64

// words name the limits of the rates across the axis, along it, of tilting and of
// turning.
type words struct{ across, along, tilt, turn string }

// six puts words in the order of bushing.Direction.
func (w words) six() [6]string {
	return [6]string{
		bushing.Soft: w.across, bushing.Axial: w.along, bushing.Stiff: w.across,
		bushing.ConeSoft: w.tilt, bushing.Torsion: w.turn, bushing.ConeStiff: w.tilt,
	}
}

// What the limits of a bush are.
var (
	plainLow = words{
		"no pressure along the axis: plane stress", "shear that vanishes at the free ends",
		"plane stress that grows along the axis, or strips pressed each for itself and shear", "exact",
	}
	plainHigh = words{
		"endless bush: plane strain", "endless bush: plain shear",
		"plane strain that grows along the axis", "exact",
	}
	voidedLow = words{
		"radial stress alone, in the rubber beside the voids", "shear in the rubber beside the voids, none at the free ends",
		"strips pressed each for itself and shear, in the rubber beside the voids", "shear in the rubber beside the voids",
	}
	voidedHigh = words{
		"endless bush without voids: plane strain", "endless bush without voids: plain shear",
		"plane strain that grows along the axis, without voids", "exact without voids",
	}
	freeLow = words{
		"no friction, short ring", "no friction", "no friction, short ring", "no friction",
	}
	freeHigh = words{
		"friction as good as a bond, endless bush: plane strain", "friction as good as a bond, endless bush: plain shear",
		"friction as good as a bond, plane strain that grows along the axis", "friction as good as a bond, exact",
	}
)

// Limits returns two limits that each rate of a bush must lie between, in the
// order of bushing.Direction: bounds of linear elasticity, whatever formula is used
// for the rate. They have the rubber's small-strain moduli and linear behaviour in
// common with it.
func Limits(b *Bush[float64], c Choice) [6]Between {
	m := b.Moduli(c)
	arc, lowIs, highIs := b.VoidArc, voidedLow, voidedHigh
	if b.VoidDepth == 0 || b.VoidArc == 0 || c.Free {
		arc, lowIs, highIs = 0, plainLow, plainHigh
	}
	low, high := ringLimits(b.outerRing(&m), arc)
	if b.sleeved() {
		innerLow, innerHigh := ringLimits(b.innerRing(&m), 0)
		for i := range low {
			low[i], high[i] = series(low[i], innerLow[i]), series(high[i], innerHigh[i])
		}
	}
	if c.Free {
		low = slidingLimits(b.outerRing(&m))
		lowIs, highIs = freeLow, freeHigh
	}
	collars := addCollarLimits(b, &m, &low, &high)
	var limits [6]Between
	lows, highs := lowIs.six(), highIs.six()
	for i := range limits {
		if collars[i] != 0 {
			lows[i] += ", with the collars at their lower limit"
			highs[i] += ", with the collars at their upper limit"
		}
		limits[i] = Between{low[i], high[i], lows[i], highs[i]}
	}
	return limits
}

// ringLimits are those of a bonded ring with two voids of the given arc.
func ringLimits(c Cylinder[float64], arc float64) (low, high six) {
	leg := math.Pi - arc
	along, across := leg+math.Sin(leg), leg-math.Sin(leg) // ∫cos² and ∫sin² from the stiff radial over both legs
	low[bushing.Soft], high[bushing.Soft] = radialLimits(&c, arc, across)
	low[bushing.Axial], high[bushing.Axial] = axialLimits(&c, arc)
	low[bushing.Stiff], high[bushing.Stiff] = radialLimits(&c, arc, along)
	low[bushing.ConeSoft], high[bushing.ConeSoft] = conicalLimits(&c, arc, along)
	low[bushing.Torsion], high[bushing.Torsion] = torsionLimits(&c, arc)
	low[bushing.ConeStiff], high[bushing.ConeStiff] = conicalLimits(&c, arc, across)
	return low, high
}

// slidingLimits are the lower limits of a ring that slides without friction.
func slidingLimits(c Cylinder[float64]) six {
	short, _ := c.kolosov()
	radial := c.slidingRadial(short)
	cone := radial * c.Length * c.Length / 12
	return six{bushing.Soft: radial, bushing.Stiff: radial, bushing.ConeSoft: cone, bushing.ConeStiff: cone}
}

// addCollarLimits adds those of the collars, if they touch, and returns how much of
// their compression each rate takes; zero where none.
func addCollarLimits(b *Bush[float64], m *Moduli[float64], low, high *six) (arms six) {
	if b.StopThick == 0 || b.StopGap != 0 {
		return arms
	}
	collar := b.collar()
	soft, stiff := collar.compressionLimits(m)
	tilt := collarArm(b)
	arms = six{bushing.Axial: 1, bushing.ConeSoft: tilt, bushing.ConeStiff: tilt}
	for i, arm := range arms {
		low[i] += soft * arm
		high[i] += stiff * arm
	}
	return arms
}
