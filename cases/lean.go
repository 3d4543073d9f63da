package cases

import (
	"math"

	"bushtune/bushing/exact"
	"bushtune/compliance"
)

// stance is where the contact points are at the present posture.
func (f *FullSize) stance(outer int) stance[float64] {
	out, in := &f.moved[outer].along, &f.moved[1-outer].along
	return stance[float64]{apart: out[patchZ] - in[patchZ], track: f.track(),
		inward: towardInside(outer) * (out[patchY] + in[patchY]) / 2, rise: (out[patchZ] + in[patchZ]) / 2}
}

// towardInside is the sign of y toward the inside of a turn.
func towardInside(outer int) float64 {
	if outer == LeftWheel {
		return -1
	}
	return 1
}

// stanceRate is how fast the contact points move with the wheels, track in y.
func stanceRate(outer int, m *[2]compliance.WheelMotion) stance[float64] {
	out, in := &m[outer].Contact, &m[1-outer].Contact
	return stance[float64]{apart: out[2] - in[2], track: m[LeftWheel].Contact[1] - m[RightWheel].Contact[1],
		inward: towardInside(outer) * (out[1] + in[1]) / 2, rise: (out[2] + in[2]) / 2}
}

// along adds a rate to values by the complex step.
func (s stance[T]) along(rate stance[float64]) stance[complex128] {
	step := func(x T, r float64) complex128 { return complex(exact.Real(x), exact.Step*r) }
	return stance[complex128]{step(s.apart, rate.apart), step(s.track, rate.track), step(s.inward, rate.inward), step(s.rise, rate.rise)}
}

func (l leaning[T]) along(rate leaning[float64]) leaning[complex128] {
	step := func(x T, r float64) complex128 { return complex(exact.Real(x), exact.Step*r) }
	return leaning[complex128]{step(l.share, rate.share), step(l.lean, rate.lean), step(l.transfer, rate.transfer)}
}

// demand puts the forces of a state on the wheels.
func (i *imposed) demand(at leaning[float64]) compliance.Demand {
	outer, inner := forces(i.state, i.vehicle, at)
	return i.onWheels(&outer, &inner)
}

// demandAlong is how fast the demand of a state changes at a rate of its leaning.
func (i *imposed) demandAlong(at, rate leaning[float64]) compliance.Demand {
	outer, inner := forces(i.state, i.vehicle, at.along(rate))
	slopes := func(f *tyreForces[complex128]) (r tyreForces[float64]) {
		d := exact.Derivative
		r.forward, r.inward, r.up, r.torque = d(f.forward), d(f.inward), d(f.up), d(f.torque)
		r.weight.inward, r.weight.up = d(f.weight.inward), d(f.weight.up)
		return r
	}
	out, in := slopes(&outer), slopes(&inner)
	return i.onWheels(&out, &in)
}

// onWheels turns forces in terms of the turn into those along the axes of the body.
func (i *imposed) onWheels(outer, inner *tyreForces[float64]) (d compliance.Demand) {
	sign := towardInside(i.Outer)
	for role, on := range [2]*tyreForces[float64]{outer, inner} {
		w := &d.Wheels[i.Outer]
		if role == 1 {
			w = &d.Wheels[1-i.Outer]
		}
		w.Locked = exact.Vec[float64]{on.forward}
		w.AtPatch = exact.Vec[float64]{1: sign * on.inward, 2: on.up}
		w.AtCentre = exact.Vec[float64]{0, sign * on.weight.inward, on.weight.up}
		w.Moment = sign * on.torque
	}
	return d
}

// impose moves to a share of a case, an event or a state. On an error of a state the
// axle stands as far as it came, reached.
func (f *FullSize) impose(on *imposed, share float64) (reached float64, err error) {
	if on.state == nil {
		d := f.demandAt(on, share)
		err = f.solve(&d)
		var lost *compliance.LostBalance
		if isLost(err, &lost) {
			reached = f.imposedShare + lost.Fraction*(share-f.imposedShare)
		}
	} else {
		reached, err = f.walk(on, share, smallestStride)
	}
	if err == nil {
		f.imposedShare, reached = share, share
	}
	return reached, err
}

// The least part of the way to a state in which it is walked where balance is hard to
// find.
const (
	searchStride   = 1.0 / 8    // in a search, which asks thousands of axles
	smallestStride = 1.0 / 2048 // where it is told: how near the place is known
)

// walk goes to a share of a state, in one stride if it can and where it must in
// smaller ones, down to a least part of the way; then it tries the place where it
// failed once more, from as near as it came.
func (f *FullSize) walk(on *imposed, share, least float64) (reached float64, err error) {
	from := f.leaning.share
	done, failed := 0.0, 2.0 // parts of the way: where it stands, where it could not
	for next, last := 1.0, false; done < 1; {
		back, stood := f.keep(), f.leaning.share
		if err := f.lean(on, from+next*(share-from)); err == nil {
			next, done = min(1, next+2*(next-done)), next
			if done >= failed {
				failed = 2
			}
		} else {
			back()
			var lost *compliance.LostBalance
			if isLost(err, &lost) && share != 0 {
				lost.Fraction = stood / share
			}
			if last || f.offGround(on) {
				return stood, err
			}
			failed = next
		}
		if last = failed-done <= least; last {
			next = failed
		} else {
			next = min(next, (done+failed)/2)
		}
	}
	return share, nil
}

// Where the search for the lean of the body ends: its last step in rad and in N of
// transfer, what the mover's own balance leaves of both.
const (
	stillLean     = 1e-9
	stillTransfer = 1e-4
)

// lean moves to a state at a share of its accelerations, with the body's lean and
// the transfer of wheel load that belong to the posture: Newton's method on
// unbalance, from where the tangent foretells them. Without lateral acceleration the
// body does not lean.
func (f *FullSize) lean(on *imposed, share float64) error {
	const most = 12
	at := leaning[float64]{share: share}
	if on.state.Lateral == 0 {
		d := on.demand(at)
		err := f.step(&d)
		f.leaning = at
		return err
	}
	rate, err := f.leaningRate(on)
	if err != nil {
		return err
	}
	ahead := share - f.leaning.share
	at.lean, at.transfer = f.leaning.lean+rate.lean*ahead, f.leaning.transfer+rate.transfer*ahead
	for range most {
		d := on.demand(at)
		if err := f.step(&d); err != nil {
			return err
		}
		f.leaning = at
		j, err := f.unbalanceSlopes(on)
		if err != nil {
			return err
		}
		angle, moment := unbalance(on.state, on.vehicle, at, f.stance(on.Outer))
		step := solvePair(j, [2]float64{-angle, -moment})
		if math.Abs(step[0]) <= stillLean && math.Abs(step[1]) <= stillTransfer {
			return nil
		}
		at.lean, at.transfer = at.lean+step[0], at.transfer+step[1]
	}
	return &compliance.LostBalance{Unstable: true}
}

// unbalanceRate is the rate of both unbalances at a rate of the leaning, the axle
// following.
func (f *FullSize) unbalanceRate(on *imposed, rate leaning[float64]) (angle, moment float64) {
	d := on.demandAlong(f.leaning, rate)
	motions := f.mover.Rates(&d)
	a, m := unbalance(on.state, on.vehicle, f.leaning.along(rate), f.stance(on.Outer).along(stanceRate(on.Outer, &motions)))
	return exact.Derivative(a), exact.Derivative(m)
}

// unbalanceSlopes are the slopes of both unbalances by lean and transfer. Where their
// determinant, negative at rest, changes its sign the body no longer comes to rest.
func (f *FullSize) unbalanceSlopes(on *imposed) (j [2][2]float64, err error) {
	j[0][0], j[1][0] = f.unbalanceRate(on, leaning[float64]{lean: 1})
	j[0][1], j[1][1] = f.unbalanceRate(on, leaning[float64]{transfer: 1})
	if !(j[0][0]*j[1][1]-j[0][1]*j[1][0] < 0) {
		return j, &compliance.LostBalance{Unstable: true}
	}
	return j, nil
}

// leaningRate is how fast lean and transfer grow with the share of a state.
func (f *FullSize) leaningRate(on *imposed) (rate leaning[float64], err error) {
	rate.share = 1
	if on.state.Lateral == 0 {
		return rate, nil
	}
	j, err := f.unbalanceSlopes(on)
	if err != nil {
		return rate, err
	}
	angle, moment := f.unbalanceRate(on, rate)
	grown := solvePair(j, [2]float64{-angle, -moment})
	rate.lean, rate.transfer = grown[0], grown[1]
	return rate, nil
}

// demandRate is the derivative of a demand by the share: of a case, which is in
// proportion to it, the whole case; of a state with the lean and the transfer that
// follow.
func (f *FullSize) demandRate(on *imposed) compliance.Demand {
	if on.state == nil {
		return f.demandAt(on, 1)
	}
	rate, _ := f.leaningRate(on) // it stands, so it has one
	return on.demandAlong(f.leaning, rate)
}

// LiftedWheel is the error of a state that takes all load off a wheel.
type LiftedWheel struct {
	Outer, Inner bool   // which
	Place        string // "0.78 g lateral"; empty: not looked for

	share float64 // of the state
}

// Error says which wheel lifts and at which accelerations.
func (e *LiftedWheel) Error() string {
	what := "the inner wheel lifts"
	switch {
	case e.Outer && e.Inner:
		what = "the wheels lift"
	case e.Outer:
		what = "the outer wheel lifts"
	}
	if e.Place == "" {
		return what
	}
	return what + " at " + e.Place
}

// wheelLoads are the loads of the outer and the inner wheel on the ground, in N.
func (on *imposed) wheelLoads(at leaning[float64]) (outer, inner float64) {
	normal, _, _ := axleLoad(on.state, on.vehicle, at.share)
	return normal/2 + at.transfer, normal/2 - at.transfer
}

// offGround tells whether a wheel has no load on the ground in the present state.
func (f *FullSize) offGround(on *imposed) bool {
	outer, inner := on.wheelLoads(f.leaning)
	return !(outer > 0 && inner > 0)
}

// liftedHere tells which wheels have no load at the present share of a state.
func (f *FullSize) liftedHere(on *imposed) *LiftedWheel {
	outer, inner := on.wheelLoads(f.leaning)
	return &LiftedWheel{Outer: !(outer > 0), Inner: !(inner > 0)}
}

// lifted finds where on the way to the present share of a state a wheel has lifted;
// nil if both stand on the ground.
func (f *FullSize) lifted(on *imposed) *LiftedWheel {
	if !f.offGround(on) {
		return nil
	}
	e := f.liftedHere(on)
	e.share = f.liftShare(on, e.Outer && e.Inner)
	e.Place = on.state.scaled(e.share)
	return e
}

// liftShare is the share of a state at which the first wheel lifts, between none and
// the present one, by the Illinois form of false position. The axle is left there.
func (f *FullSize) liftShare(on *imposed, both bool) float64 {
	const most, enough = 40, 1e-5
	least := func() float64 {
		outer, inner := on.wheelLoads(f.leaning)
		if both {
			return max(outer, inner)
		}
		return min(outer, inner)
	}
	a, b, fa, fb := 0.0, f.leaning.share, on.vehicle.WheelLoad(), least()
	for range most {
		c := (a*fb - b*fa) / (fb - fa)
		if _, err := f.walk(on, c, smallestStride); err != nil {
			return c
		}
		fc := least()
		if math.Abs(fc) <= enough*on.vehicle.WheelLoad() {
			return c
		}
		if fc*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = c, fc
	}
	return b
}
