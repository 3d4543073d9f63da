package rubber

// SnubberError is the error of VoidSnubber against own finite elements, not
// published, of the skins as far as they are closed (four bushes of radii 0.43 to
// 0.6: up to 2 %). The rate itself is one point of a curve: see ClosedLow.
const SnubberError = 0.05

// ClosedLow and ClosedHigh are the factors on VoidSnubber between which the rate of
// a closed void lies while a quarter to all of its arc is closed.
const (
	ClosedLow  = 0.14
	ClosedHigh = 7.0
)

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
