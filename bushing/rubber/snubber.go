package rubber

import (
	"math"
)

const halfTurn = math.Pi

// voidSnubber is the rate in N/mm that one void adds while the middle half of its
// arc is closed: both skins, pressed on each other, are one wall of their joint
// thickness over that arc, with free sides. The faces are concentric, so the void
// closes at its middle first, adds nothing there, and the part that is closed
// grows as cos φ = gap/way: half of the arc at a way of gap/cos(arc/4).
func (c *Cylinder[T]) voidSnubber(arc, depth T) T {
	radius, half := c.meanRadius(), (c.wall()-depth)/2
	skins := Cylinder[T]{Inside: radius - half, Outside: radius + half, Length: c.Length, G: c.G, Bulk: c.Bulk}
	l := newLegs(arc / 4)
	share, spread := l.stiffFilm()
	f := skins.film(spread * skins.meanRadius())
	rate := skins.ShortRadial()*(4*l.along()+l.across())/5 + skins.pressed()*share*f.force()
	return rate / 2 // one of the two legs that the shares count
}
