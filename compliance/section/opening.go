package section

// Opening is the direction that a profile's open side looks to.
type Opening int

// The openings. A shape is drawn opening down and turned as a whole: the leg
// that was in front is the upper one when it opens forward, the rear one when
// it opens up and the lower one when it opens rearward.
const (
	Down Opening = iota
	Forward
	Up
	Rearward
)

// Openings returns the names of the openings in their order.
func Openings() []string { return []string{"down", "forward", "up", "rearward"} }

func (o Opening) String() string { return Openings()[o] }

// Open turns a profile that was drawn opening down about the origin until it
// opens as asked, then by a tilt in rad: positive leans the top forward. The
// quarter turns are exact.
func (p *Profile[T]) Open(opening Opening, tilt T) {
	for range int(opening) {
		for i, n := range p.Nodes {
			p.Nodes[i] = Point[T]{-n.U, n.F}
		}
	}
	if tilt != 0 {
		p.Turn(tilt)
	}
}
