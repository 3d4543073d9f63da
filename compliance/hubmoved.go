package compliance

import (
	"math"

	"bushtune/bushing/exact"
)

// A hub on a moved carrier gives by g about the carrier's x and z:
//
//	g = H·(Jᵀ·Qᵀ·M − m)
//
// with Q the turn of the carrier, J·dg the spin of the wheel against it, M the moment
// on the wheel and m that of the load at rest. M turns with the wheel, so g is found
// by Newton's method.

// hubSteps and hubError end the search for the turn of a hub.
const (
	hubSteps = 40
	hubError = 1e-17 // rad
)

// hubPlace is where a hub has been found, and its way back from a turn nearby.
type hubPlace struct {
	turn    [2]float64    // g
	way     [2][2]float64 // (1 − H·∂m/∂g)⁻¹ there
	carrier exact.Mat3[float64]
	force   pulling[float64]
	up      float64
}

// atRest is the place of a hub at the design position.
func (h *hub[T]) atRest() hubPlace {
	var slopes [2][2]float64
	for i := range slopes {
		for j := range slopes {
			slopes[i][j] = -exact.Real(h.yield[i] * h.lever[i][j])
		}
	}
	return hubPlace{way: wayBack(slopes)}
}

// wayBack is (1 − slopes)⁻¹.
func wayBack(slopes [2][2]float64) [2][2]float64 {
	a, b, c, d := 1-slopes[0][0], -slopes[0][1], -slopes[1][0], 1-slopes[1][1]
	det := a*d - b*c
	return [2][2]float64{{d / det, -b / det}, {-c / det, a / det}}
}

// asked is H·(Jᵀ·Qᵀ·M − m): the turn that the loads on a wheel turned by g ask of
// its hub.
func (w *movingWheel[T]) asked(p *pose[T], f *pulling[T], up T, g [2]T) (asked [2]T) {
	onHub := exact.Vec[T]{g[0], 0, g[1]}
	turn := p.turn.Mul(turnOf(onHub))
	wheel := WheelGeometry[T]{Radius: w.radius, Spin: turn.Apply(w.spin)}
	_, moment := f.onWheel(&wheel, up)
	moment = spinTranspose(onHub, back(&p.turn, moment))
	if w.hub.rest != nil {
		moment = moment.Sub(w.hub.rest.onWheel)
	}
	for i, axis := range hubAxes {
		asked[i] = w.hub.yield[i] * moment[axis]
	}
	return asked
}

// turnOnHub is how far a wheel turns on its hub, from the place found last. A step
// from that place itself, with the slope there, gives the derivative exactly.
func (w *movingWheel[T]) turnOnHub(p *pose[T], f *pulling[T], up T) (g [2]T) {
	g = [2]T{exact.Lift[T](w.near.turn[0]), exact.Lift[T](w.near.turn[1])}
	there := w.near.is(realTurn(&p.turn), f.real(), exact.Real(up))
	for range hubSteps {
		asked, farthest := w.asked(p, f, up, g), 0.0
		missed := [2]T{asked[0] - g[0], asked[1] - g[1]}
		for i, way := range w.near.way {
			step := exact.Lift[T](way[0])*missed[0] + exact.Lift[T](way[1])*missed[1]
			g[i] += step
			farthest = max(farthest, sizeOf(step))
		}
		if there || farthest <= hubError {
			break
		}
	}
	return g
}

// realTurn is a turn without its derivative.
func realTurn[T exact.Number](turn *exact.Mat3[T]) (plain exact.Mat3[float64]) {
	for r, row := range turn {
		plain[r] = realOf(row)
	}
	return plain
}

func realOf[T exact.Number](v exact.Vec[T]) vec {
	return vec{exact.Real(v[0]), exact.Real(v[1]), exact.Real(v[2])}
}

// real is a force without its derivative.
func (f *pulling[T]) real() pulling[float64] {
	return pulling[float64]{realOf(f.atPatch), realOf(f.locked), realOf(f.atCentre), exact.Real(f.moment)}
}

// is tells whether the place was found on this carrier under these loads.
func (n *hubPlace) is(carrier exact.Mat3[float64], f pulling[float64], up float64) bool {
	return n.up == up && n.force == f && n.carrier == carrier
}

// settleHub finds the turn of a hub and the slope there, from where values and
// derivatives at this posture and demand take one step each.
func (m *Mover) settleHub(wheel int, p *posture, d *Demand) {
	w, seeded := &m.wheels[wheel], &m.lifted[wheel]
	if w.hub.yield == ([2]float64{}) {
		return
	}
	body, f, up := p.body(w.body), pull[float64](&d.Wheels[wheel]), p.pads[wheel]+w.patch
	if w.near.is(body.turn, f, up) {
		return
	}
	g := w.turnOnHub(&body, &f, up)
	plain, forces := lifted(&body), pull[complex128](&d.Wheels[wheel])
	var slopes [2][2]float64
	for j := range g {
		turned := [2]complex128{complex(g[0], 0), complex(g[1], 0)}
		turned[j] = exact.Seed(g[j])
		for i, asked := range seeded.asked(&plain, &forces, complex(up, 0), turned) {
			slopes[i][j] = exact.Derivative(asked)
		}
	}
	w.near = hubPlace{turn: g, way: wayBack(slopes), carrier: body.turn, force: f, up: up}
	seeded.near = w.near
}

// sizeOf is the size of a number, or of its derivative where that is larger.
func sizeOf[T exact.Number](x T) float64 {
	switch v := any(x).(type) {
	case complex128:
		return max(math.Abs(real(v)), math.Abs(imag(v))/exact.Step)
	case float64:
		return math.Abs(v)
	}
	return 0
}
