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

// What the limits of a bush are.
var (
	bondedLimits = [6]Between{
		bushing.Soft:      {LowIs: "ends without pressure: plane stress, or radial stress in the legs alone", HighIs: "endless bush without voids: plane strain"},
		bushing.Axial:     {LowIs: "shear that vanishes at the free ends, in the legs alone", HighIs: "endless bush without voids in plain shear"},
		bushing.Stiff:     {LowIs: "ends without pressure: plane stress, or radial stress in the legs alone", HighIs: "endless bush without voids: plane strain"},
		bushing.ConeSoft:  {LowIs: "strips pressed each for itself, and shear in the legs that vanishes at the ends", HighIs: "plane strain that grows along the axis, without voids"},
		bushing.Torsion:   {LowIs: "exact; with voids: shear in the legs alone", HighIs: "exact without voids"},
		bushing.ConeStiff: {LowIs: "strips pressed each for itself, and shear in the legs that vanishes at the ends", HighIs: "plane strain that grows along the axis, without voids"},
	}
	freeLimits = [6]string{
		bushing.Soft: "sliding without friction, short ring", bushing.Axial: "sliding without friction",
		bushing.Stiff: "sliding without friction, short ring", bushing.ConeSoft: "sliding without friction, short ring",
		bushing.Torsion: "sliding without friction", bushing.ConeStiff: "sliding without friction, short ring",
	}
)

// heldByFriction is the upper limit of every rate of a free bush.
const heldByFriction = "held by friction as if bonded, upper limit of that"

// Limits returns two limits that each rate of a bush must lie between, in the
// order of bushing.Direction: bounds of linear elasticity, whatever formula is used
// for the rate. They have the rubber's small-strain moduli and linear behaviour in
// common with it.
func Limits(b *Bush[float64], c Choice) [6]Between {
	m := b.Moduli(c)
	arc := b.VoidArc
	if b.VoidDepth == 0 {
		arc = 0
	}
	low, high := ringLimits(b.outerRing(&m), arc)
	if b.sleeved() {
		innerLow, innerHigh := ringLimits(b.innerRing(&m), 0)
		for i := range low {
			low[i], high[i] = series(low[i], innerLow[i]), series(high[i], innerHigh[i])
		}
	}
	limits := bondedLimits
	if c.Free {
		low = slidingLimits(b.outerRing(&m))
		for i := range limits {
			limits[i].LowIs, limits[i].HighIs = freeLimits[i], heldByFriction
		}
	}
	addCollarLimits(b, &m, &low, &high)
	for i := range limits {
		limits[i].Low, limits[i].High = low[i], high[i]
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

// addCollarLimits adds those of the collars, if they touch.
func addCollarLimits(b *Bush[float64], m *Moduli[float64], low, high *six) {
	if b.StopThick == 0 || b.StopGap != 0 {
		return
	}
	collar := b.collar()
	soft, stiff := collar.compressionLimits(m)
	tilt := collarArm(b)
	arms := six{bushing.Axial: 1, bushing.ConeSoft: tilt, bushing.ConeStiff: tilt}
	for i, arm := range arms {
		low[i] += soft * arm
		high[i] += stiff * arm
	}
}
