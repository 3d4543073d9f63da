// Package compliance holds the model of an axle and its linear answer: rigid
// bodies joined to each other and to the vehicle by elastic elements, and the
// motion of the two wheels under forces and moments on them.
//
// Every element is at most eight lines. A line is a unit wrench G, +G on the
// body it goes to and −G on the body it comes from, a strain e = Gᵀ(d_to −
// d_from) and a load = installed load + rate·e. Stiffness, energy, parts of a
// number and exact derivatives all follow from the lines, for all elements
// alike:
//
//	K = Σ k·G·Gᵀ        part of a number = k·e_unit·e_case
//
// Inside: mm, N, rad, t; ISO 8855 axes, x forward, y left, z up. Displacements
// of a body are those of its point at the axle's centre, the point half way
// between the wheel centres at the time the solver is made.
package compliance

import (
	"fmt"
	"math"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
	"bushtune/compliance/section"
)

// Side tells to which half of the car a body or an element belongs. Left-hand
// values describe both halves; the right half is their mirror image in y = 0.
type Side int

// The sides. Centre is a part that exists once, written where it is.
const (
	Centre Side = iota
	Left
	Right
)

// String is the word for the side in paths and tables; empty for Centre.
func (s Side) String() string { return [...]string{"", "left", "right"}[s] }

// Vehicle is the index that stands for the vehicle in From and To.
const Vehicle = -1

// Axle is the model: what the axle file describes, in internal units.
type Axle struct {
	Title    string
	Bodies   []Body
	Elements []Element
	Wheels   [2]Wheel // left, right
	Static   *Static  // nil: static load not included
}

// Body is a rigid body with six freedoms.
type Body struct {
	Name string
	Side Side
}

// Label is the name with the side: "arm.left".
func (b Body) Label() string { return label(b.Name, b.Side) }

func label(name string, side Side) string {
	if side == Centre {
		return name
	}
	return name + "." + side.String()
}

// Element is one elastic part between two bodies, or between a body and the
// vehicle. Slots are left-hand values in internal units in the order of
// Kind.Fields, for a right element too.
type Element struct {
	Kind     *Kind
	Name     string
	Side     Side
	From, To int // index into Axle.Bodies, or Vehicle
	Slots    []float64
	Choice   Choice
	outer    outerEnds // beam in a chain; a Solver finds it when it is made
}

// Label is kind, name and side as in a parameter path: "bush.pivot.left".
func (e *Element) Label() string { return e.Kind.Table + "." + label(e.Name, e.Side) }

// Choice holds what is chosen from a list rather than measured.
type Choice struct {
	Base         bushing.Base    // bush
	OuterIsFrom  bool            // bush: the outer sleeve is on From, so the force axes turn with From; else with To
	HoldsMoments bool            // bush: torsion and cones carry static load too (they are released otherwise)
	Curves       *bushing.Curves // bush: measured curves, inner against outer sleeve; nil: none
	Rubber       rubber.Choice   // bush given by its dimensions: its compound
	Ends         [2]Warping      // beam: at From, at To
	Opens        section.Opening // beam with a drawn shape: where its open side looks

	// Outline is the drawing from which the constants of a beam's section were
	// computed, in its axes; nil where they were given.
	Outline *section.Profile[float64]
}

// Slot is the address of one number of the model: a slot of an element, or of a
// wheel if Element is LeftWheel or RightWheel.
type Slot struct {
	Element int
	Index   int
}

// The wheels as addresses.
const (
	LeftWheel  = -1
	RightWheel = -2
)

// values returns the slots of an element or wheel.
func (a *Axle) values(element int) []float64 {
	if element < 0 {
		return a.Wheels[-1-element].Slots
	}
	return a.Elements[element].Slots
}

// Value reads one slot in internal units.
func (a *Axle) Value(s Slot) float64 { return a.values(s.Element)[s.Index] }

// Field describes one slot.
func (a *Axle) Field(s Slot) quantity.Field {
	if s.Element < 0 {
		return WheelFields[s.Index]
	}
	return a.Elements[s.Element].Kind.Fields[s.Index]
}

// Static is the load at rest. The wheels' patches carry WheelLoad upward; the
// unsprung mass hangs at the wheel centres.
type Static struct {
	WheelLoad [2]float64 // N per wheel, left, right
	Unsprung  [2]float64 // t per wheel
}

// Clone returns a copy that shares no slot with the original.
func (a *Axle) Clone() *Axle {
	c := *a
	c.Bodies = append([]Body(nil), a.Bodies...)
	c.Elements = append([]Element(nil), a.Elements...)
	for i := range c.Elements {
		c.Elements[i].Slots = append([]float64(nil), a.Elements[i].Slots...)
	}
	for i := range c.Wheels {
		c.Wheels[i].Slots = append([]float64(nil), a.Wheels[i].Slots...)
	}
	if a.Static != nil {
		static := *a.Static
		c.Static = &static
	}
	return &c
}

// Validate reports the first way in which the model contradicts itself: an
// index out of range, a slot list of the wrong length, a number that is not
// finite, an element from a body to itself, or a geometry that its kind refuses.
func (a *Axle) Validate() error {
	for i := range a.Elements {
		if err := a.validateElement(&a.Elements[i]); err != nil {
			return fmt.Errorf("%s: %w", a.Elements[i].Label(), err)
		}
	}
	if err := a.checkWheels(); err != nil {
		return err
	}
	if s := a.Static; s != nil && !finite(s.WheelLoad[0]+s.WheelLoad[1]+s.Unsprung[0]+s.Unsprung[1]) {
		return fmt.Errorf("static: wheel load %v N and unsprung mass %v t must be finite numbers", s.WheelLoad, s.Unsprung)
	}
	return nil
}

// checkWheels wants both wheels on a body, with finite numbers.
func (a *Axle) checkWheels() error {
	for i, w := range a.Wheels {
		if w.Body < 0 || w.Body >= len(a.Bodies) {
			return fmt.Errorf("wheel.%s: body %d does not exist", Side(1+i), w.Body)
		}
		if len(w.Slots) != len(WheelFields) {
			return fmt.Errorf("wheel.%s: %d slots, want %d", Side(1+i), len(w.Slots), len(WheelFields))
		}
		if err := checkFinite(WheelFields, w.Slots); err != nil {
			return fmt.Errorf("wheel.%s: %w", Side(1+i), err)
		}
	}
	return nil
}

// checkFinite names the first slot that is not a finite number.
func checkFinite(fields []quantity.Field, slots []float64) error {
	for i, v := range slots {
		if !finite(v) {
			return fmt.Errorf("%s is %v, want a finite number", fields[i].Name, v)
		}
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func (a *Axle) validateElement(e *Element) error {
	for _, b := range []int{e.From, e.To} {
		if b != Vehicle && (b < 0 || b >= len(a.Bodies)) {
			return fmt.Errorf("body %d does not exist", b)
		}
	}
	if e.From == e.To {
		return fmt.Errorf("both ends are on the same body")
	}
	if len(e.Slots) != len(e.Kind.Fields) {
		return fmt.Errorf("%d slots, want %d", len(e.Slots), len(e.Kind.Fields))
	}
	if err := checkFinite(e.Kind.Fields, e.Slots); err != nil {
		return err
	}
	return e.Kind.check(e)
}
