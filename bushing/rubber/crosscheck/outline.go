package crosscheck

import "math"

// outline is half the outline of a void with rounded corners, from y = 0 to y = 0:
// an arc about the axis inside, a fillet, a radius of the bush, a fillet, an arc
// outside. The fillets touch their neighbours.
type outline struct {
	half          float64    // rad: half the arc of the void
	round, centre [2]float64 // mm, inside and outside: radius of the face about the axis, and of the middle of its fillet
	angle         [2]float64 // rad: of the middles of the fillets
	sweep         [2]float64 // rad: of the fillets
	radius        float64    // mm, of the fillets
}

func newOutline(s *Sample) *outline {
	middle := (s.Inside + s.Outside) / 2
	o := &outline{half: s.Arc / 2, radius: s.Radius}
	o.round = [2]float64{middle - s.Depth/2, middle + s.Depth/2}
	o.centre = [2]float64{o.round[0] + s.Radius, o.round[1] - s.Radius}
	for i, side := range []float64{-1, 1} {
		lean := math.Asin(min(1, s.Radius/o.centre[i]))
		o.angle[i] = max(0, o.half-lean)
		o.sweep[i] = math.Pi/2 + side*lean
	}
	return o
}

// worthBricks is how long a part between fillets must be, by half a fillet, to have
// bricks of its own.
const worthBricks = 0.3

// face are places of half bricks on one face, from y = 0 to the middle of its
// fillet, as radius in mm and angle in rad.
func (o *outline) face(i int, d Density) (places [][2]float64) {
	flat, fillet := o.round[i]*o.angle[i], o.radius*o.sweep[i]/2
	along := graded(0, flat+fillet, d.Arc+d.Void, false, false, 1)
	if flat > worthBricks*fillet {
		along = join(towardsEnd(flat, d.Arc, fillet/float64(d.Void)), graded(flat, flat+fillet, d.Void, false, false, 1))
	}
	for _, way := range along {
		if way <= flat {
			places = append(places, [2]float64{o.round[i], way / o.round[i]})
			continue
		}
		places = append(places, o.onFillet(i, (way-flat)/o.radius))
	}
	return places
}

// onFillet is a place of a fillet, by the angle turned from where it leaves its face.
func (o *outline) onFillet(i int, turned float64) [2]float64 {
	direction := o.angle[0] + math.Pi - turned
	if i == 1 {
		direction = o.angle[1] + turned
	}
	sin, cos := math.Sincos(direction)
	y, x := math.Sincos(o.angle[i])
	x, y = o.centre[i]*x+o.radius*cos, o.centre[i]*y+o.radius*sin
	return [2]float64{math.Hypot(x, y), math.Atan2(y, x)}
}

// flank are places of half bricks from the middle of the inner fillet to that of the
// outer one.
func (o *outline) flank(d Density) (places [][2]float64) {
	low, high := o.radius*o.sweep[0]/2, o.radius*o.sweep[1]/2
	from, to := o.touch(0), o.touch(1)
	straight := to - from
	along := graded(0, low+straight+high, 2*d.Void, false, false, 1)
	if straight > worthBricks*low {
		along = join(graded(0, low, d.Void, false, false, 1),
			graded(low, low+straight, d.Arc, true, true, 2), graded(low+straight, low+straight+high, d.Void, false, false, 1))
	}
	for _, way := range along {
		switch {
		case way < low:
			places = append(places, o.onFillet(0, o.sweep[0]/2+way/o.radius))
		case way <= low+straight:
			places = append(places, [2]float64{from + way - low, o.half})
		default:
			places = append(places, o.onFillet(1, o.sweep[1]-(way-low-straight)/o.radius))
		}
	}
	return places
}

// touch is the radius at which a fillet meets the flank, mm.
func (o *outline) touch(i int) float64 {
	return math.Sqrt(max(0, o.centre[i]*o.centre[i]-o.radius*o.radius))
}
