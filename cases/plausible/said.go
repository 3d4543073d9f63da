package plausible

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/compliance"
)

// Said is where one thing lies, in words that show a wrong sign at once.
type Said struct{ Key, Text string }

// Say says the axle back: the wheels and the car, then every element from the wheel
// beside it. What is alike on both sides is said once.
func Say(axle *compliance.Axle, vehicle *cases.Vehicle) []Said {
	j := &judge{Subject: &Subject{Axle: axle, Vehicle: *vehicle}}
	all := j.sayWheels()
	if text := j.sayCar(); text != "" {
		all = append(all, Said{"vehicle", text})
	}
	for _, p := range j.parts() {
		if text := j.sayPart(&p); !p.twin && text != "" {
			all = append(all, Said{p.path, text})
		}
	}
	return all
}

// sayWheels is one line for both wheels, or one for each if they differ.
func (j *judge) sayWheels() (all []Said) {
	for i, wheel := range j.Axle.Wheels {
		w := compliance.NewWheelGeometry(wheel.Slots)
		text := fmt.Sprintf("centre %s mm above the ground, %s mm from the middle", mm(-w.Contact()[2]), mm(w.Centre[1]))
		text += static("toe", "in", "out", wheel.Slots[4]) + static("camber", "top outward", "top inward", wheel.Slots[5])
		if i == 0 {
			text = fmt.Sprintf("track %s mm, ", mm(j.track())) + text
		}
		key := "wheel"
		if i == 1 {
			key = "wheel.right"
		}
		if i == 0 || !same(wheel.Slots, j.Axle.Wheels[0].Slots) {
			all = append(all, Said{key, text})
		}
	}
	return all
}

func same(a, b []float64) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// static is an angle at rest with its word; nothing if it is zero.
func static(what, plus, minus string, angle float64) string {
	deg := quantity.Degree.Written(angle)
	switch {
	case digits(deg) == "0":
		return ""
	case deg < 0:
		return fmt.Sprintf("; %s %s deg %s", what, digits(-deg), minus)
	}
	return fmt.Sprintf("; %s %s deg %s", what, digits(deg), plus)
}

// sayCar is what is known of the car.
func (j *judge) sayCar() string {
	v := &j.Vehicle
	var all []string
	if load := v.WheelLoad(); !math.IsNaN(load) {
		text := digits(math.Round(load/10)/100) + " kN on each rear wheel"
		if v.Unsprung > 0 {
			text += fmt.Sprintf(", %s kN of it unsprung", digits(math.Round(v.Unsprung*quantity.StandardGravity/10)/100))
		}
		all = append(all, text)
	}
	if !math.IsNaN(v.Wheelbase) {
		all = append(all, fmt.Sprintf("wheelbase %s mm, %.1f times the track", mm(v.Wheelbase), v.Wheelbase/j.track()))
	}
	if !math.IsNaN(v.GravityHeight) {
		all = append(all, fmt.Sprintf("centre of gravity %s mm above the ground", mm(v.GravityHeight)))
	}
	return strings.Join(all, "; ")
}

// sayPart says where an element lies and how it stands.
func (j *judge) sayPart(p *part) string {
	switch {
	case p.Kind.Table == compliance.Bush.Table:
		return j.sayBush(p)
	case p.Kind.Table == compliance.Beam.Table:
		return j.sayBeam(p)
	case p.Kind == compliance.TorsionBar:
		return "axis points " + p.direction(vec(p.Slots[:3]))
	case p.Kind == compliance.Link:
		d := p.points[1].at.Sub(p.points[0].at)
		return fmt.Sprintf("inner end %s; from there %s mm %s to the outer end", j.from(p, p.points[0].at), mm(d.Norm()), p.direction(d))
	}
	return j.sayStrut(p)
}

// from is a place as seen from the wheel beside it.
func (j *judge) from(p *part, at vec) string {
	w := j.wheelOf(p.Element)
	d := at.Sub(w.Centre)
	across := along(math.Abs(at[1])-w.Centre[1], "outboard of it", "inboard of it", "in its plane")
	if p.Side == compliance.Centre {
		across = along(at[1], "left of the middle", "right of the middle", "in the middle")
	}
	return along(d[0], "ahead of the wheel", "behind the wheel", "level with the wheel fore and aft") + ", " + across + ", " +
		along(d[2], "above its centre", "below its centre", "as high as its centre")
}

// along is a distance with the word for its sign.
func along(d float64, plus, minus, zero string) string {
	switch text := mm(math.Abs(d)); {
	case text == "0":
		return zero
	case d < 0:
		return text + " mm " + minus
	default:
		return text + " mm " + plus
	}
}

// mm is a length in whole millimetres.
func mm(x float64) string { return digits(math.Round(x)) }

// least is the smallest angle in degrees that a direction is said with.
const least = 0.5

// direction says where a line points: the axis that it follows most, and the angles
// that it turns from there. Lines have no ends, so that axis is taken forward,
// outboard (of a central part to the left) or up.
func (p *part) direction(d vec) string {
	out, in := "outboard", "inboard"
	if p.Side == compliance.Centre {
		out, in = "to the left", "to the right"
	}
	words := [3][2]string{{"forward", "rearward"}, {out, in}, {"up", "down"}}
	main := 0
	for i := range d {
		if math.Abs(d[i]) > math.Abs(d[main])*(1+1e-9) {
			main = i
		}
	}
	sign := 0
	if d[main] < 0 {
		sign = 1
	}
	text := words[main][sign]
	joint := ", "
	if small(d, main) {
		joint = " and "
	}
	for i := range d {
		if i == main {
			continue
		}
		angle := degrees(math.Atan2(math.Abs(d[i]), math.Abs(d[main])))
		if angle < least {
			continue
		}
		sign := 0
		if d[i] < 0 {
			sign = 1
		}
		text += joint + digits(math.Round(angle)) + " deg " + words[i][sign]
		joint = " and "
	}
	return text
}

// small tells whether a direction turns by one angle only from its main axis.
func small(d vec, main int) bool {
	turns := 0
	for i := range d {
		if i != main && degrees(math.Atan2(math.Abs(d[i]), math.Abs(d[main]))) >= least {
			turns++
		}
	}
	return turns < 2
}

// line is the direction of a line without ends: its main part is taken positive.
func (p *part) line(d vec) string {
	main := 0
	for i := range d {
		if math.Abs(d[i]) > math.Abs(d[main])*(1+1e-9) {
			main = i
		}
	}
	if d[main] < 0 {
		d = d.Scale(-1)
	}
	return p.direction(d)
}

// sayBush says where a bush lies, where its axis points and where it is soft.
func (j *judge) sayBush(p *part) string {
	text := j.from(p, p.points[0].at)
	mount := bushing.NewMount(p.Slots)
	sleeve := mount.Sleeve(p.Choice.Base)
	text += "; axis points " + p.line(sleeve[bushing.Axial])
	if b, is := p.Bush(); is && b.Soft != b.Stiff {
		_, elastic := b.Axes(p.Choice.Base)
		text += ", soft " + p.line(elastic[bushing.Soft])
	}
	return text
}

// sayStrut says where a spring, stop or damper stands.
func (j *judge) sayStrut(p *part) string {
	upper, lower := j.bodySide(p)
	d := upper.Sub(lower)
	lean := degrees(math.Acos(min(1, math.Abs(d[2])/d.Norm())))
	stands := fmt.Sprintf("stands %s mm above its lower end", mm(d[2]))
	if d[2] < 0 {
		stands = fmt.Sprintf("hangs %s mm BELOW its other end", mm(-d[2]))
	}
	return fmt.Sprintf("end on the body %s; it %s, %s deg from vertical", j.from(p, upper), stands, digits(math.Round(lean)))
}

// sayBeam says where a beam lies and where it opens.
func (j *judge) sayBeam(p *part) string {
	a, b := p.points[0].at, p.points[1].at
	length := fmt.Sprintf("%s mm long, ", mm(a.Sub(b).Norm()))
	middle := a.Add(b).Scale(0.5)
	text := length + "middle " + j.from(p, middle)
	if j.cross(p) {
		w := compliance.NewWheelGeometry(j.Axle.Wheels[0].Slots)
		text = length + along(middle[0]-w.Centre[0], "ahead of the wheel", "behind the wheel", "level with the wheel fore and aft") + ", " +
			along(middle[2]-w.Centre[2], "above its centre", "below its centre", "as high as its centre") +
			", ends " + along(math.Abs(a[1])-w.Centre[1], "outboard of the wheels", "inboard of the wheels", "in the planes of the wheels")
	}
	if p.Kind.Variant == "" || p.Kind.Variant == "tube" || p.Kind.Variant == "box" {
		return text
	}
	text += "; opens " + p.Choice.Opens.String()
	if tilt := quantity.Degree.Written(p.Slots[p.Kind.FieldIndex("tilt")]); digits(tilt) != "0" {
		text += fmt.Sprintf(", then its top turned %s deg ", digits(math.Abs(tilt)))
		if tilt > 0 {
			text += "forward"
		} else {
			text += "rearward"
		}
	}
	return text
}
