package rubber

import "bushtune/bushing/exact"

// SnubberError is the error of VoidSnubber against own finite elements, not
// published, of a void that is closed over half of its arc while a slit parts the
// skins beside that, for arcs from 75 deg on. Of 21 bushes within VoidRange those had
// 12 % at most; narrower voids in long bushes come out up to 36 % too soft. The rate
// itself is one point of a curve: see ClosedLow.
const SnubberError = 0.15

// How far the closed part reaches into the skins beside it, which stay bonded to the
// sleeves, as shares of one skin: for rubber that is pressed strip by strip and for
// the pressure of the film. Fitted to the same elements.
const (
	closedStrips = 0.4
	closedFilm   = 1.3
)

// ClosedLow and ClosedHigh are the factors on VoidSnubber between which the rate of
// a closed void lies while a quarter to all of its arc is closed.
const (
	ClosedLow  = 0.18
	ClosedHigh = 5.4
)

// voidSnubber is the rate in N/mm that one void adds while the middle half of its
// arc is closed: both skins, pressed on each other, are one wall of their joint
// thickness over that arc, and a little beyond. The faces are concentric, so the void
// closes at its middle first, adds nothing there, and the part that is closed
// grows as cos φ = gap/way: half of the arc at a way of gap/cos(arc/4).
func (c *Cylinder[T]) voidSnubber(arc, depth T) T {
	radius, skin := c.meanRadius(), (c.wall()-depth)/2
	joint := Cylinder[T]{Inside: radius - skin, Outside: radius + skin, Length: c.Length, G: c.G, Bulk: c.Bulk}
	strips := newLegs(arc/4 + exact.Lift[T](closedStrips)*skin/radius)
	share, spread := newLegs(arc/4 + exact.Lift[T](closedFilm)*skin/radius).stiffFilm()
	f := joint.film(spread * joint.meanRadius())
	rate := joint.ShortRadial()*(4*strips.along()+strips.across())/5 + joint.pressed()*share*f.force()
	return rate / 2 // one of the two legs that the shares count
}
