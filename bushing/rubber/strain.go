package rubber

import (
	"math"

	"bushtune/bushing"
)

// Strain is one indicator of how hard the rubber works, beside its limit. It
// compares bushes and load cases; it is not the local strain at a corner.
type Strain struct {
	What         string
	Value, Limit float64 // shares: travel over thickness, tangent of the angle of shear
}

// Average design limits of natural rubber (Lindley, NR Technical Bulletin, read
// in a transcription). Rare loads may exceed them.
const (
	CompressionLimit = 0.15
	ShearLimit       = 0.50
)

// strains are the indicators of one ring of rubber.
type strains struct {
	compression, compressionAtEnds float64 // of the wall, or of the legs between voids
	closedVoid                     float64 // compression of the rubber left at a void, at the ends
	axial, torsion, legs, combined float64 // shear at the inner face
}

// Strains returns the strain indicators of a bonded bush under travels in the
// order of bushing.Direction, mm and rad; only their sizes count.
//
// Compression is radial travel over thickness of rubber, in the middle of the
// length and at the ends, which a tilt moves by L/2 times its angle. Voids leave
// two legs: the stiff radial travel presses them, the soft one shears them and,
// once it has closed a void, presses the rubber left there. A collar is pressed by
// what its gap leaves of axial travel and tilt, at its mean diameter. Shear is that at the
// inner face, where it is greatest. Parts that point the same way are added, parts
// at right angles by their squares, as if all were greatest at one point.
//
// An intermediate sleeve shares the travel out by the rates of both rings, voids
// open, and the ring that works harder is told, indicator by indicator.
func Strains(b *Bush[float64], travel [6]float64) []Strain {
	m := NaturalModuli(b.Hardness) // of any compound: the ratio of two rings hardly depends on it
	outer := b.outerRing(&m)
	if !b.sleeved() {
		s := ringStrains(&outer, b.VoidArc, b.VoidDepth, travel)
		return s.list(b, travel)
	}
	inner := b.innerRing(&m)
	outside, inside := outer.Voided(b.VoidArc, b.VoidDepth, b.voidRadius(&outer)), inner.plain()
	outerTravel, innerTravel := shareOut(travel, outside.Six(), inside.Six())
	s := worse(ringStrains(&outer, b.VoidArc, b.VoidDepth, outerTravel), ringStrains(&inner, 0, 0, innerTravel))
	return s.list(b, travel)
}

// shareOut splits travels between two rings one behind the other.
func shareOut(travel, outerRate, innerRate [6]float64) (outer, inner [6]float64) {
	for i, way := range travel {
		outer[i] = way * innerRate[i] / (outerRate[i] + innerRate[i])
		inner[i] = way - outer[i]
	}
	return outer, inner
}

// ringStrains are the indicators of a ring of rubber with voids of an arc in rad
// and a depth in mm.
func ringStrains(c *Cylinder[float64], arc, depth float64, travel [6]float64) strains {
	for i := range travel {
		travel[i] = math.Abs(travel[i])
	}
	soft, stiff := travel[bushing.Soft], travel[bushing.Stiff]
	softEnd := soft + c.Length/2*travel[bushing.ConeStiff]
	stiffEnd := stiff + c.Length/2*travel[bushing.ConeSoft]
	s := strains{
		axial:   c.axialShear(travel[bushing.Axial]) + c.tiltingShear(math.Hypot(travel[bushing.ConeSoft], travel[bushing.ConeStiff])),
		torsion: c.torsionShear(travel[bushing.Torsion]),
	}
	if arc == 0 || depth == 0 {
		s.compression, s.compressionAtEnds = math.Hypot(soft, stiff)/c.wall(), math.Hypot(softEnd, stiffEnd)/c.wall()
	} else {
		s.compression, s.compressionAtEnds = stiff/c.wall(), stiffEnd/c.wall()
		s.closedVoid = max(0, softEnd-depth) / (c.wall() - depth)
		s.legs = c.axialShear(softEnd)
	}
	s.combined = math.Hypot(s.axial, s.torsion+s.legs)
	return s
}

// axialShear is the shear at the inner face of a long ring whose inside is moved
// by a way in mm in the plane of the face: the force is the same at every radius,
// so γ = δ/(a·ln(b/a)). It holds for a leg moved around as well.
func (c *Cylinder[T]) axialShear(way T) T { return way / (c.Inside * c.logarithm()) }

// torsionShear is the shear at the inner face of a ring turned about its axis by
// an angle in rad: the moment is the same at every radius, γ = 2φ·b²/(b² − a²).
func (c *Cylinder[T]) torsionShear(angle T) T {
	a, b := c.Inside*c.Inside, c.Outside*c.Outside
	return 2 * angle * b / (b - a)
}

// tiltingShear is the greatest shear along the axis at the inner face of a ring
// tilted by an angle in rad, of the same field as tiltShear: w = aφ·cos θ inside and
// nothing outside give γ = φ·(b² + a²)/(b² − a²).
func (c *Cylinder[T]) tiltingShear(angle T) T {
	a, b := c.Inside*c.Inside, c.Outside*c.Outside
	return angle * (b + a) / (b - a)
}

// worse takes the greater of each indicator.
func worse(s, t strains) strains {
	return strains{
		compression:       max(s.compression, t.compression),
		compressionAtEnds: max(s.compressionAtEnds, t.compressionAtEnds),
		closedVoid:        max(s.closedVoid, t.closedVoid),
		axial:             max(s.axial, t.axial),
		torsion:           max(s.torsion, t.torsion),
		legs:              max(s.legs, t.legs),
		combined:          max(s.combined, t.combined),
	}
}

// list names the indicators that the bush has.
func (s *strains) list(b *Bush[float64], travel [6]float64) []Strain {
	list := []Strain{
		{"compression of the wall, middle", s.compression, CompressionLimit},
		{"compression of the wall, ends", s.compressionAtEnds, CompressionLimit},
	}
	if b.VoidArc != 0 && b.VoidDepth != 0 {
		list = append(list,
			Strain{"compression at a closed void", s.closedVoid, CompressionLimit},
			Strain{"shear of the legs beside the voids", s.legs, ShearLimit})
	}
	if b.StopThick != 0 {
		way := math.Abs(travel[bushing.Axial]) + (b.StopDiameter+b.Inner)/4*math.Hypot(travel[bushing.ConeSoft], travel[bushing.ConeStiff])
		list = append(list, Strain{"compression of an end stop", max(0, way-b.StopGap) / b.StopThick, CompressionLimit})
	}
	return append(list,
		Strain{"shear along the axis", s.axial, ShearLimit},
		Strain{"shear in torsion", s.torsion, ShearLimit},
		Strain{"shear combined", s.combined, ShearLimit})
}
