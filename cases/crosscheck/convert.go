package crosscheck

import (
	"fmt"

	"bushtune/compliance"
)

// Compliance is the same axle as a model of rigid arms, bushes, springs and a
// beam whose constants come from the profile.
func (a Axle) Compliance(ends Ends) (*compliance.Axle, error) {
	beam, err := a.Member.beam(ends)
	if err != nil {
		return nil, err
	}
	axle := &compliance.Axle{Title: a.Name, Elements: []compliance.Element{beam}}
	for body, side := range []compliance.Side{compliance.Left, compliance.Right} {
		axle.Bodies = append(axle.Bodies, compliance.Body{Name: "arm", Side: side})
		axle.Elements = append(axle.Elements, a.pivotBush(body, side), a.spring(body, side))
		axle.Wheels[body] = wheel(body, a.WheelCentre, a.LoadedRadius)
	}
	return axle, nil
}

// Compliance is the cross-member alone: its left end on the vehicle, its right
// end a body that carries both wheels; the right wheel's centre is the
// profile's origin in the end plane.
func (m Member) Compliance(ends Ends) (*compliance.Axle, error) {
	beam, err := m.beam(ends)
	if err != nil {
		return nil, err
	}
	beam.From, beam.To = compliance.Vehicle, 0
	end := Point{m.At[0], m.HalfSpan, m.At[2]}
	return &compliance.Axle{
		Title:    "cross-member alone",
		Bodies:   []compliance.Body{{Name: "end", Side: compliance.Right}},
		Elements: []compliance.Element{beam},
		Wheels:   [2]compliance.Wheel{wheel(0, end, 1), wheel(0, end, 1)},
	}, nil
}

func (a Axle) pivotBush(body int, side compliance.Side) compliance.Element {
	b := a.Bush
	e := element(compliance.Bush, "pivot", side, compliance.Vehicle, body)
	e.point("at", a.Pivot)
	for name, value := range map[string]float64{
		"plan": b.Plan, "lift": b.Lift, "soft": b.Soft, "axial": b.Axial, "stiff": b.Stiff,
		"cone_soft": b.ConeSoft, "torsion": b.Torsion, "cone_stiff": b.ConeStiff,
	} {
		e.set(name, value)
	}
	return e.Element
}

// uprightSpring is the length of the coil springs at design height, mm. It
// matters where they lean as the axle moves.
const uprightSpring = 200

// spring stands upright.
func (a Axle) spring(body int, side compliance.Side) compliance.Element {
	e := element(compliance.Spring, "coil", side, compliance.Vehicle, body)
	e.point("lower", a.SpringSeat)
	e.point("upper", Point{a.SpringSeat[0], a.SpringSeat[1], a.SpringSeat[2] + uprightSpring})
	e.set("rate", a.SpringRate)
	return e.Element
}

// beam runs from body 0, left, to body 1, right.
func (m Member) beam(ends Ends) (compliance.Element, error) {
	c, err := m.Profile.Constants()
	if err != nil {
		return compliance.Element{}, err
	}
	e := element(compliance.Beam, "cross", compliance.Centre, 0, 1)
	held := compliance.Primary
	if ends == BuiltIn {
		held = compliance.BuiltIn
	}
	e.Choice.Ends = [2]compliance.Warping{held, held}
	e.point("at", m.At)
	e.set("ends_y", m.HalfSpan)
	e.set("youngs_modulus", YoungsModulus)
	e.set("poissons_ratio", PoissonRatio)
	numbers := compliance.SectionOf(&c)
	slots := numbers.Slots() // the last fields of a beam
	copy(e.Slots[len(e.Slots)-len(slots):], slots)
	return e.Element, nil
}

// part is an element under construction.
type part struct{ compliance.Element }

func element(kind *compliance.Kind, name string, side compliance.Side, from, to int) *part {
	return &part{compliance.Element{Kind: kind, Name: name, Side: side, From: from, To: to, Slots: kind.Defaults()}}
}

// slot is the place of a field; a wrong name is a slip of this package.
func (p *part) slot(name string) int {
	i := p.Kind.FieldIndex(name)
	if i < 0 {
		panic(fmt.Sprintf("crosscheck: %s has no field %q", p.Kind.Table, name))
	}
	return i
}

func (p *part) set(name string, value float64) { p.Slots[p.slot(name)] = value }

func (p *part) get(name string) float64 { return p.Slots[p.slot(name)] }

func (p *part) point(name string, at Point) {
	for i, axis := range []string{".x", ".y", ".z"} {
		p.set(name+axis, at[i])
	}
}

func wheel(body int, centre Point, radius float64) compliance.Wheel {
	w := compliance.Wheel{Body: body, Slots: make([]float64, len(compliance.WheelFields))}
	copy(w.Slots, centre[:])
	w.Slots[3] = radius
	return w
}
