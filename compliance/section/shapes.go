package section

import (
	"math"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// DrawV adds a pressed V that opens downwards: a crown arc about the origin
// with the crown at u = +radius, and tangent to it a straight front and rear
// leg, each the half angle in rad away from the vertical. Half angle zero is a
// U.
func (p *Profile[T]) DrawV(legFront, legRear, radius, halfAngle, wall T) {
	sin, cos := exact.Sincos(halfAngle)
	f, u := radius*cos, radius*sin
	frontTip := p.AddNode(f+legFront*sin, u-legFront*cos)
	front := p.AddNode(f, u)
	rear := p.AddNode(-f, u)
	rearTip := p.AddNode(-f-legRear*sin, u-legRear*cos)
	p.AddWall(frontTip, front, wall)
	p.AddArc(front, rear, wall, exact.Lift[T](math.Pi)-2*halfAngle)
	p.AddWall(rear, rearTip, wall)
}

// DrawTube adds a closed circular tube about the origin.
func (p *Profile[T]) DrawTube(radius, wall T) {
	front, rear := p.AddNode(radius, 0), p.AddNode(-radius, 0)
	p.AddArc(front, rear, wall, math.Pi)
	p.AddArc(rear, front, wall, math.Pi)
}

// DrawSlitTube adds a circular tube about the origin with a slit along its
// lowest line: the slit's lips touch and are not joined.
func (p *Profile[T]) DrawSlitTube(radius, wall T) {
	frontLip, top, rearLip := p.AddNode(0, -radius), p.AddNode(0, radius), p.AddNode(0, -radius)
	p.AddArc(frontLip, top, wall, math.Pi)
	p.AddArc(top, rearLip, wall, math.Pi)
}

// DrawBox adds a closed rectangle about the origin, measured on its midline.
func (p *Profile[T]) DrawBox(width, height, wall T) {
	f, u := width/2, height/2
	first := p.AddNode(f, -u)
	p.AddNode(f, u)
	p.AddNode(-f, u)
	last := p.AddNode(-f, -u)
	for corner := first; corner < last; corner++ {
		p.AddWall(corner, corner+1, wall)
	}
	p.AddWall(last, first, wall)
}

// DrawChannel adds a channel with sharp corners that opens downwards: its web
// lies along f with the middle at the origin, and a flange hangs from each end.
func (p *Profile[T]) DrawChannel(web, flange, webWall, flangeWall T) {
	f := web / 2
	frontTip, front := p.AddNode(f, -flange), p.AddNode(f, 0)
	rear, rearTip := p.AddNode(-f, 0), p.AddNode(-f, -flange)
	p.AddWall(frontTip, front, flangeWall)
	p.AddWall(front, rear, webWall)
	p.AddWall(rear, rearTip, flangeWall)
}

// Shape is a profile that a few numbers describe. Lengths run along midlines.
type Shape[T exact.Number] struct {
	Name    string
	Meaning string
	Fields  []quantity.Field
	// Draw adds the shape to a profile; values are in the order of Fields, in
	// mm and rad.
	Draw func(p *Profile[T], values []T)
}

// Shapes returns the table of shapes that an axle file can name. All of them
// are drawn opening downwards; Opening turns them.
func Shapes[T exact.Number]() []Shape[T] {
	return []Shape[T]{
		{"V", "pressed V or U: two equal straight legs and a crown arc tangent to them; the origin is the arc's centre",
			[]quantity.Field{length("leg", "straight part of each leg"), length("radius", "crown arc"), halfAngleField(), wallField()},
			func(p *Profile[T], v []T) { p.DrawV(v[0], v[0], v[1], v[2], v[3]) }},
		{"unequal_V", "pressed V with a front and a rear leg of different length; the origin is the arc's centre",
			[]quantity.Field{length("leg_front", "straight part of the leg that is in front when the V opens down"),
				length("leg_rear", "straight part of the other leg"), length("radius", "crown arc"), halfAngleField(), wallField()},
			func(p *Profile[T], v []T) { p.DrawV(v[0], v[1], v[2], v[3], v[4]) }},
		{"tube", "closed round tube; the origin is its centre",
			[]quantity.Field{length("radius", "tube"), wallField()},
			func(p *Profile[T], v []T) { p.DrawTube(v[0], v[1]) }},
		{"slit_tube", "round tube, slit along its lowest line when it opens down; the origin is its centre",
			[]quantity.Field{length("radius", "tube"), wallField()},
			func(p *Profile[T], v []T) { p.DrawSlitTube(v[0], v[1]) }},
		{"box", "closed rectangle; the origin is its centre",
			[]quantity.Field{length("width", "fore and aft"), length("height", "upright"), wallField()},
			func(p *Profile[T], v []T) { p.DrawBox(v[0], v[1], v[2]) }},
		{"channel", "web with two square flanges; the origin is the middle of the web",
			[]quantity.Field{length("web", "between the flanges"), length("flange", "from the web to the tip"),
				thickness("web_wall", "thickness of the web"), thickness("flange_wall", "thickness of the flanges")},
			func(p *Profile[T], v []T) { p.DrawChannel(v[0], v[1], v[2], v[3]) }},
	}
}

// longest and thickest bound a shape's lengths and walls in mm: far beyond any axle.
const (
	longest  = 2000
	thickest = 100
)

// length is the field of a midline length or radius in mm.
func length(name, meaning string) quantity.Field {
	return quantity.Field{Name: name, Unit: quantity.Millimetre, Min: 0, Max: longest, Above: true, Required: true, Meaning: meaning + ", midline"}
}

// thickness is the field of a wall thickness in mm.
func thickness(name, meaning string) quantity.Field {
	return quantity.Field{Name: name, Unit: quantity.Millimetre, Min: 0, Max: thickest, Above: true, Required: true, Meaning: meaning}
}

func wallField() quantity.Field { return thickness("wall", "wall thickness") }

func halfAngleField() quantity.Field {
	return quantity.Field{Name: "half_angle", Unit: quantity.Degree, Min: -45, Max: 85, Required: true,
		Meaning: "between each leg and the vertical when the V opens down; 0 is a U, below 0 the mouth is narrower than the crown"}
}
