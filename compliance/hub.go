package compliance

import (
	"fmt"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// A hub lets the wheel turn against its carrier by g about the carrier's x and z,
// by the moments there of what acts on the wheel on top of the load at rest. The
// contact centre is that of the wheel's own axis, so the load at rest tips the wheel
// on its hub. With the turn ω of the carrier, the moment M of a new load about the
// wheel centre, the moment m of the load at rest there and its second derivative S
// by turns of the wheel, the potential is, in second order,
//
//	½·(ω+g)·S·(ω+g) − ½·m·(ω×g) + ½·g·H⁻¹·g − M·(ω+g)
//
// and g = D·M − D·G·ω with D = (H⁻¹ + S)⁻¹ and G = S − ½[m] on the two axes.

// hub is a hub at the design position.
type hub[T exact.Number] struct {
	yield [2]T            // H: rad per N·mm about x and z
	rest  *staticWheel[T] // nil: no load at rest
	lever [2][2]T         // S between the axes
	by    [2]exact.Vec[T] // G: moment about each axis by a turn of the carrier, N·mm/rad
	give  [2][2]T         // D: turn by a moment, rad per N·mm
	lag   [2]exact.Vec[T] // D·G: turn against a turn of the carrier
}

// hubAxes are x and z by number: camber and toe.
var hubAxes = [2]int{0, 2}

// newHub reads a hub from the slots of its wheel; rest is the load at rest there.
func newHub[T exact.Number](slots []T, rest *staticWheel[T]) hub[T] {
	h := hub[T]{yield: [2]T{slots[slotHubCamber], slots[slotHubToe]}, rest: rest}
	h.give[0][0], h.give[1][1] = h.yield[0], h.yield[1]
	if rest == nil {
		return h
	}
	for i, axis := range hubAxes {
		about := axisOf[T](axis)
		for j := range 3 {
			h.by[i][j] = rest.onSpin(about, axisOf[T](j)) - 0.5*about.Dot(rest.onWheel.Cross(axisOf[T](j)))
		}
		for j, other := range hubAxes {
			h.lever[i][j] = rest.onSpin(about, axisOf[T](other))
		}
	}
	a, d := 1+h.yield[0]*h.lever[0][0], 1+h.yield[1]*h.lever[1][1]
	both := h.yield[0] * h.lever[0][1] * h.yield[1]
	det := a*d - both*h.lever[0][1]
	h.give = [2][2]T{{d * h.yield[0] / det, -both / det}, {-both / det, a * h.yield[1] / det}}
	for i := range h.lag {
		h.lag[i] = h.by[0].Scale(h.give[i][0]).Add(h.by[1].Scale(h.give[i][1]))
	}
	return h
}

func axisOf[T exact.Number](axis int) (v exact.Vec[T]) {
	v[axis] = 1
	return v
}

// stands tells whether the hub holds the wheel up under the load at rest.
func (h *hub[T]) stands() bool {
	a, d := 1+exact.Real(h.yield[0]*h.lever[0][0]), 1+exact.Real(h.yield[1]*h.lever[1][1])
	both := exact.Real(h.yield[0]*h.lever[0][1]) * exact.Real(h.yield[1]*h.lever[0][1])
	return a > 0 && d > 0 && a*d > both
}

// turned is how far the wheel turns about both axes against its carrier, under a
// turn of the carrier and a moment about the wheel centre.
func (h *hub[T]) turned(turn, moment exact.Vec[T]) (g [2]T) {
	for i := range g {
		g[i] = h.give[i][0]*moment[hubAxes[0]] + h.give[i][1]*moment[hubAxes[1]] - h.lag[i].Dot(turn)
	}
	return g
}

// onCarrier is the moment that a moment on the wheel puts on the carrier's turn.
func (h *hub[T]) onCarrier(moment exact.Vec[T]) exact.Vec[T] {
	return moment.Sub(h.lag[0].Scale(moment[hubAxes[0]])).Sub(h.lag[1].Scale(moment[hubAxes[1]]))
}

// stiffness is the second derivative of the potential of the load at rest between
// two turns of the carrier, the hub following.
func (h *hub[T]) stiffness(p, q exact.Vec[T]) T {
	if h.rest == nil {
		return 0
	}
	sum := h.rest.onCentre(p, q) + h.rest.onSpin(p, q)
	for i := range h.lag {
		sum -= h.by[i].Dot(p) * h.lag[i].Dot(q)
	}
	return sum
}

// yielded is what two moments on the wheel do through the hub alone.
func (h *hub[T]) yielded(p, q exact.Vec[T]) T {
	a, b := [2]T{p[hubAxes[0]], p[hubAxes[1]]}, [2]T{q[hubAxes[0]], q[hubAxes[1]]}
	return a[0]*(h.give[0][0]*b[0]+h.give[0][1]*b[1]) + a[1]*(h.give[1][0]*b[0]+h.give[1][1]*b[1])
}

// strained is H⁻¹ between the turns of the hub under two loads: the share of the hub
// itself in a number.
func (h *hub[T]) strained(turnA, momentA, turnF, momentF exact.Vec[T]) T {
	on := func(turn, moment exact.Vec[T]) (m [2]T) {
		g := h.turned(turn, moment)
		for i, axis := range hubAxes {
			m[i] = moment[axis] - h.by[i].Dot(turn) - h.lever[i][0]*g[0] - h.lever[i][1]*g[1]
		}
		return m
	}
	a, f := on(turnA, momentA), on(turnF, momentF)
	return h.yield[0]*a[0]*f[0] + h.yield[1]*a[1]*f[1]
}

// placeHubs reads the hubs of the wheels as they are now.
func (s *Solver) placeHubs() error {
	for wheel, w := range s.axle.Wheels {
		var rest *staticWheel[float64]
		if s.axle.Static != nil {
			rest = &s.atRest[wheel]
		}
		s.hubs[wheel] = newHub(w.Slots, rest)
		if !s.hubs[wheel].stands() {
			return fmt.Errorf("%s wheel: its hub is too soft to hold it upright under the load at rest: hub_camber %.4g, hub_toe %.4g %s at %.4g N and a loaded radius of %.4g mm",
				[2]string{"left", "right"}[wheel], quantity.DegreePerKilonewtonM.Written(w.Slots[slotHubCamber]), quantity.DegreePerKilonewtonM.Written(w.Slots[slotHubToe]),
				quantity.DegreePerKilonewtonM.Name, s.axle.Static.WheelLoad[wheel], w.Slots[slotRadius])
		}
	}
	return nil
}

// addWheelStiffness adds what the loads at rest at the wheels do to the turn of
// their carriers.
func (s *Solver) addWheelStiffness() {
	if s.axle.Static == nil {
		return
	}
	for wheel, w := range s.axle.Wheels {
		for a := range 3 {
			row := s.stiffness[(6*w.Body+3+a)*s.size+6*w.Body+3:]
			for b := a; b < 3; b++ {
				row[b] += s.hubs[wheel].stiffness(unit(a), unit(b))
			}
		}
	}
}
