// Package crosscheck holds the compliance model against a general-purpose
// finite-element solver (CalculiX): it writes decks of whole twist-beam axles
// whose cross-member is meshed from its profile, runs the solver, reads the
// poses of the wheels, and compares them with the compliance model of the
// same axle: in the linear load cases, and with geometric non-linearity at full
// travel, in roll, under side force and in the twist of the cross-member alone.
//
// Lengths are mm, forces N, stresses MPa, angles rad unless a name says deg.
// Axes: x forward, y left, z up.
package crosscheck

import (
	"math"

	"bushtune/compliance/section"
)

// Material of every cross-member: steel.
const (
	YoungsModulus = 210000.0 // MPa
	PoissonRatio  = 0.3
)

// Point is a position or a vector in vehicle axes, mm or N.
type Point [3]float64

// mirrored returns the point on the other side of the plane y = 0.
func (p Point) mirrored() Point { return Point{p[0], -p[1], p[2]} }

// Axle is the plain description of one twist beam from which both the deck and
// the compliance model are made. Points are those of the left side; the right
// is the mirror image in y = 0.
type Axle struct {
	Name         string
	Pivot        Point   // centre of the bush between arm and vehicle
	WheelCentre  Point   // also the reference point of the arm's pose
	LoadedRadius float64 // mm: the patch lies this far below the wheel centre
	SpringSeat   Point   // lower end of the vertical suspension spring
	SpringRate   float64 // N/mm
	Bush         Bush
	Member       Member
}

// Patch is the contact point of the left wheel.
func (a Axle) Patch() Point {
	return Point{a.WheelCentre[0], a.WheelCentre[1], a.WheelCentre[2] - a.LoadedRadius}
}

// Bush holds the six rates of the left pivot bush in its own axes: soft
// radial s, axial a, stiff radial t, which are x, y, z before mounting.
type Bush struct {
	Soft, Axial, Stiff           float64 // N/mm
	ConeSoft, Torsion, ConeStiff float64 // N·mm/rad about s, a, t
	Plan, Lift                   float64 // rad: outboard end forward, outboard end up
}

// axes returns the soft radial and the axial direction of the left bush after
// mounting, the columns s and a of Rz(−plan)·Rx(lift).
func (b Bush) axes() (soft, axial Point) {
	sinPlan, cosPlan := math.Sincos(b.Plan)
	sinLift, cosLift := math.Sincos(b.Lift)
	return Point{cosPlan, -sinPlan, 0}, Point{sinPlan * cosLift, cosPlan * cosLift, sinLift}
}

// Member is the cross-member: a profile swept along y between two end planes.
// Its walls follow one another without a kink and have one thickness.
type Member struct {
	Profile  section.Profile[float64]
	At       Point   // vehicle point of the profile's origin, at mid-span (y = 0)
	HalfSpan float64 // mm: the end planes lie at y = ±HalfSpan
}

const (
	degree               = math.Pi / 180
	newtonMetrePerDegree = 1000 / degree // N·mm/rad
)

// plainBush lies across the vehicle, slotted fore and aft.
func plainBush() Bush {
	return Bush{
		Soft: 700, Axial: 900, Stiff: 3000,
		ConeSoft: 6 * newtonMetrePerDegree, Torsion: 2 * newtonMetrePerDegree, ConeStiff: 8 * newtonMetrePerDegree,
	}
}

// axleWith returns the invented base axle with the given cross-member.
func axleWith(name string, x, z float64, profile section.Profile[float64]) Axle {
	return Axle{
		Name:         name,
		Pivot:        Point{420, 560, 330},
		WheelCentre:  Point{0, 750, 310},
		LoadedRadius: 310,
		SpringSeat:   Point{-20, 500, 330},
		SpringRate:   25,
		Bush:         plainBush(),
		Member:       Member{Profile: profile, At: Point{x, 0, z}, HalfSpan: 550},
	}
}

// pressed is a pressed V or U (half angle 0): leg lengths and radius along the
// midline, angles in degrees; tilt leans the top forward.
func pressed(front, rear, radius, halfAngle, wall float64, opening section.Opening, tilt float64) (p section.Profile[float64]) {
	p.DrawV(front, rear, radius, halfAngle*degree, wall)
	p.Open(opening, tilt*degree)
	return p
}

// roundedBox is a closed rectangle of a midline width and height with rounded corners.
func roundedBox(width, height, radius, wall float64) (p section.Profile[float64]) {
	f, u := width/2, height/2
	for _, n := range [][2]float64{
		{f, radius - u}, {f, u - radius}, {f - radius, u}, {radius - f, u},
		{-f, u - radius}, {-f, radius - u}, {radius - f, -u}, {f - radius, -u},
	} {
		p.AddNode(n[0], n[1])
	}
	for i := range 8 {
		p.AddArc(i, (i+1)%8, wall, float64(i%2)*math.Pi/2)
	}
	return p
}

// Axles are the six axles of the cross-check: one base axle, six sections.
func Axles() []Axle {
	angled := axleWith("u-down", 260, 310, pressed(70, 70, 40, 0, 5, section.Down, 0))
	angled.Bush.Plan, angled.Bush.Lift = 25*degree, 10*degree
	return []Axle{
		axleWith("v-down", 280, 300, pressed(80, 80, 30, 30, 5, section.Down, 0)),
		axleWith("v-forward", 270, 320, pressed(80, 80, 25, 35, 6, section.Forward, 0)),
		angled,
		axleWith("u-tilted-35", 270, 300, pressed(70, 70, 35, 0, 5, section.Down, 35)),
		axleWith("v-unequal", 280, 310, pressed(90, 55, 25, 30, 5, section.Down, 0)),
		axleWith("box", 260, 310, roundedBox(80, 50, 14, 3)),
	}
}
