package cases

import (
	"math"
	"testing"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// hinged is an independent model of a car on two rigid semi-trailing arms that turn
// about fixed axes on coil springs, written with vectors in the body's axes: two
// angles of the arms, the lean of the body and the transfer of wheel load, four
// balances. It shares nothing with the program but the vehicle's values.
type hinged struct {
	v                               Vehicle
	pivot, axis, centre, spin       [3]float64 // left
	upper, lower                    [3]float64
	radius, rate, installed, length float64
	lateral, braking                float64 // mm/s²
	leans                           bool    // the ground and the weights with it
	lowestToGround                  bool    // the contact point is the lowest to the ground, not to the body
}

type three = [3]float64

func plus(a, b three, f float64) three {
	return three{a[0] + f*b[0], a[1] + f*b[1], a[2] + f*b[2]}
}

func cross(a, b three) three {
	return three{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func dot(a, b three) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// spun turns a vector about a unit axis (Rodrigues).
func spun(v, about three, angle float64) three {
	s, c := math.Sincos(angle)
	out := plus(plus(three{}, v, c), cross(about, v), s)
	return plus(out, about, (1-c)*dot(about, v))
}

func onSide(v three, side int) three {
	if side == 1 {
		v[1] = -v[1]
	}
	return v
}

// arm is one arm at an angle: where its wheel is and the spring's force on it.
type arm struct{ centre, spin, contact, spring, lower, pivot, axis three }

func (h *hinged) arm(side int, angle float64, normal three) arm {
	a := arm{pivot: onSide(h.pivot, side), axis: onSide(h.axis, side)}
	move := func(p three) three { return plus(a.pivot, spun(plus(onSide(p, side), a.pivot, -1), a.axis, angle), 1) }
	a.centre, a.lower = move(h.centre), move(h.lower)
	a.spin = spun(onSide(h.spin, side), a.axis, angle)
	down := plus(plus(three{}, normal, -1), a.spin, dot(normal, a.spin))
	a.contact = plus(a.centre, down, h.radius/math.Sqrt(dot(down, down)))
	line := plus(a.lower, onSide(h.upper, side), -1)
	now := math.Sqrt(dot(line, line))
	a.spring = plus(three{}, line, (h.installed+h.rate*(h.length-now))/now)
	return a
}

// about is the moment of a force at a point about the arm's axis.
func (a *arm) about(at, force three) float64 {
	return dot(a.axis, cross(plus(at, a.pivot, -1), force))
}

// clear is the couple across the heading, level to up, that takes the part of a moment
// about the spin axis away: the wheel is free to roll.
func (a *arm) clear(moment, up three) three {
	across := plus(a.spin, up, -dot(a.spin, up))
	return plus(three{}, across, -dot(moment, a.spin)/dot(across, a.spin))
}

// balance are the four unbalances at x = angle left, angle right, lean, transfer, and
// the arms. Turning left: the right wheel is the outer one.
func (h *hinged) balance(x [4]float64) (out [4]float64, arms [2]arm) {
	v, tilt := &h.v, x[2]
	if !h.leans {
		tilt = 0
	}
	normal, along := three{0, math.Sin(tilt), math.Cos(tilt)}, three{0, math.Cos(tilt), -math.Sin(tilt)}
	const g = quantity.StandardGravity
	moved := v.Mass * h.braking * v.GravityHeight / v.Wheelbase
	mean := (v.Mass*v.RearShare*g - moved) / 2
	loads := [2]float64{mean - x[3], mean + x[3]}
	lowest, level := three{0, 0, 1}, h.arm(0, 0, three{0, 0, 1}).contact[2]
	if h.lowestToGround {
		lowest = normal
	}
	gravityCentre := three{0, 0, level + v.GravityHeight}
	overturning := 0.0
	for side := range arms {
		a := h.arm(side, x[side], lowest)
		arms[side] = a
		lateral := v.Mass * v.RearShare * h.lateral * loads[side] / (2 * mean)
		free := plus(plus(three{}, normal, loads[side]), along, lateral)
		tyre := plus(free, three{-v.Mass * h.braking * v.RearBrakeShare / 2}, 1) // brake locked
		trail := -v.Trail * lateral / dot(normal, lowest)
		couple := plus(a.clear(cross(plus(a.contact, a.centre, -1), free), lowest), a.clear(plus(three{}, lowest, trail), lowest), 1)
		couple = plus(couple, lowest, trail)
		out[side] = a.about(a.contact, tyre) + a.about(a.lower, a.spring) + a.about(a.centre, plus(three{}, normal, -v.Unsprung*g)) + dot(a.axis, couple)
		overturning += cross(plus(a.contact, gravityCentre, -1), tyre)[0]
	}
	out[2] = math.Atan2(arms[1].contact[2]-arms[0].contact[2], arms[0].contact[1]-arms[1].contact[1]) - x[2]
	frontLoad := v.Mass*(1-v.RearShare)*g + moved
	tyre := plus(plus(three{}, normal, frontLoad), along, v.Mass*(1-v.RearShare)*h.lateral)
	at := plus(three{0, 0, level + v.FrontRollCentre}, normal, -v.FrontRollCentre)
	// roll rate under vertical forces that keep their direction: the moment about the
	// roll centre is that of the springs less what the load adds
	couple := v.FrontRollRate*x[2] + v.FrontRollCentre*tyre[1]
	overturning += cross(plus(at, gravityCentre, -1), tyre)[0] - couple
	out[3] = overturning
	return out, arms
}

// solve finds the balance by Newton's method with differences.
func (h *hinged) solve(t *testing.T) (x [4]float64, arms [2]arm) {
	t.Helper()
	scale := [4]float64{1e-6, 1e-6, 1e-6, 1e-2}
	for range 60 {
		at, _ := h.balance(x)
		var m [4][5]float64
		for j := range x {
			more, less := x, x
			more[j], less[j] = x[j]+scale[j], x[j]-scale[j]
			up, _ := h.balance(more)
			down, _ := h.balance(less)
			for i := range x {
				m[i][j] = (up[i] - down[i]) / (2 * scale[j])
			}
		}
		for i := range x {
			m[i][4] = -at[i]
		}
		for c := range 4 { // Gauss with pivots
			p := c
			for r := c; r < 4; r++ {
				if math.Abs(m[r][c]) > math.Abs(m[p][c]) {
					p = r
				}
			}
			m[c], m[p] = m[p], m[c]
			for r := range 4 {
				if r == c {
					continue
				}
				f := m[r][c] / m[c][c]
				for k := range m[r] {
					m[r][k] -= f * m[c][k]
				}
			}
		}
		size := 0.0
		for i := range x {
			step := m[i][4] / m[i][i]
			x[i] += step
			size = max(size, math.Abs(step)/scale[i])
		}
		if size < 1e-4 {
			_, arms = h.balance(x)
			return x, arms
		}
	}
	t.Fatal("the hinged car has no balance")
	return x, arms
}

// hingedCar is a car of semi-trailing arms with toe and camber at rest, whose springs
// carry it at design height.
func hingedCar(t *testing.T, v Vehicle) *hinged {
	t.Helper()
	plan, lift := 17*math.Pi/180, 4*math.Pi/180
	toe, camber := 0.3*math.Pi/180, -1.2*math.Pi/180
	h := &hinged{v: v, pivot: three{380, 430, 290}, centre: three{0, 740, 300}, radius: 300, rate: 38,
		axis:  three{math.Sin(plan) * math.Cos(lift), math.Cos(plan) * math.Cos(lift), math.Sin(lift)},
		upper: three{40, 520, 540}, lower: three{70, 540, 270}, leans: true}
	h.spin = three{math.Tan(toe), 1, -math.Tan(camber)}
	h.spin = plus(three{}, h.spin, 1/math.Sqrt(dot(h.spin, h.spin)))
	line := plus(h.lower, h.upper, -1)
	h.length = math.Sqrt(dot(line, line))
	const g = quantity.StandardGravity
	up := three{0, 0, 1}
	rest := h.arm(0, 0, up)
	wheel := rest.about(rest.contact, plus(three{}, up, v.WheelLoad())) + rest.about(rest.centre, plus(three{}, up, -v.Unsprung*g))
	h.installed = -wheel / rest.about(rest.lower, plus(three{}, line, 1/h.length))
	return h
}

// axle is the same in the program: hinges are bushes as good as rigid but for torsion.
func (h *hinged) axle(t *testing.T) *compliance.Axle {
	point := func(name string, p three) values {
		return values{name + ".x": p[0], name + ".y": p[1], name + ".z": p[2]}
	}
	wheel := with(point("centre", h.centre), values{"loaded_radius": h.radius, "toe": 0.3, "camber": -1.2})
	a := &compliance.Axle{
		Bodies: []compliance.Body{{Name: "arm", Side: compliance.Left}, {Name: "arm", Side: compliance.Right}},
		Wheels: [2]compliance.Wheel{wheelOn(t, 0, wheel), wheelOn(t, 1, wheel)},
	}
	const rigid = 1e9
	a.Elements = append(a.Elements, bothSides(t, compliance.Bush, "pivot", with(point("at", h.pivot), values{"plan": 17, "lift": 4,
		"soft": rigid, "axial": rigid, "stiff": rigid, "cone_soft": rigid, "cone_stiff": rigid, "torsion": 0}))...)
	for i := range a.Elements {
		a.Elements[i].Choice.HoldsMoments = true
	}
	a.Elements = append(a.Elements, bothSides(t, compliance.Spring, "coil", with(with(point("upper", h.upper), point("lower", h.lower)),
		values{"rate": h.rate, "load": h.installed}))...)
	return a
}

// States of an axle on rigid hinges, up to where its inner wheel is light, are those of
// the independent model: lean, transfer, toe and camber of both wheels and where the
// contact points go, with the ground tilted, the load transfer of the configuration
// there and braking on top.
func TestStatesOfAHingedAxleAgainstVectors(t *testing.T) {
	for name, c := range map[string]struct {
		car               values
		lateral, braking  float64
		differsAtSmall    float64 // deg of toe by which the straight line through small loads is off: the check would notice
		withoutLeanOffDeg float64 // deg of roll angle by which an upright ground is off
	}{
		"gentle":       {nil, 0.1, 0, 0, 0.02},
		"fast":         {nil, 0.7, 0, 0.05, 0.3},
		"braking":      {nil, 0.5, 0.4, 0.02, 0.2},
		"high centre":  {values{"front_roll_centre": 0, "cg_height": 620}, 0.6, 0, 0.02, 0.3},
		"stiff front":  {values{"front_roll_rate": 900, "trail": 0, "unsprung": 0}, 0.8, 0, 0.02, 0.1},
		"brakes alone": {nil, 0, 0.6, 0, 0},
	} {
		v := vehicleWith(t, with(carValues, c.car))
		v.StaticLoad = true
		h := hingedCar(t, v)
		h.lateral, h.braking = c.lateral*g, c.braking*g
		x, arms := h.solve(t)
		st := State{Name: "corner", Title: "corner", Lateral: h.lateral, Braking: h.braking}
		s, err := NewStudy(h.axle(t), v, nil, []State{st})
		if err != nil {
			t.Fatal(name, err)
		}
		read := func(number string) float64 { return valueOf(t, s, number, "corner", "") }
		near := func(what string, got, want, room float64) { t.Helper(); check(t, name+": "+what, got, want, room) }
		const angles, lengths, loads = 2e-7, 2e-4, 5e-3 // rad, mm, N: hinges of 1e9 N/mm
		near("roll angle in rad", read("roll_angle"), x[2], angles)
		near("transfer in N", s.atSize.full.leaning.transfer, x[3], loads)
		for side, wheel := range WheelNames {
			a := &arms[side]
			spin := onSide(a.spin, side)
			rest := h.arm(side, 0, three{0, 0, 1})
			near(wheel+" toe in rad", read(wheel+"_wheel_toe"), math.Atan2(spin[0], spin[1])-math.Atan2(h.spin[0], h.spin[1]), angles)
			near(wheel+" camber in rad", read(wheel+"_wheel_camber"), -math.Atan2(spin[2], spin[1])+math.Atan2(h.spin[2], h.spin[1]), angles)
			near(wheel+" contact y in mm", read(wheel+"_patch_y"), a.contact[1]-rest.contact[1], lengths)
			near(wheel+" contact z in mm", read(wheel+"_patch_z"), a.contact[2]-rest.contact[2], lengths)
		}
		h.lowestToGround = true
		tilted, _ := h.solve(t)
		near("lean in rad with contact points lowest to the tilted ground", tilted[2], x[2], 3e-4*x[2]+angles)
		h.lowestToGround, h.leans = false, false
		upright, _ := h.solve(t)
		if off := math.Abs(upright[2]-x[2]) * 180 / math.Pi; off < c.withoutLeanOffDeg {
			t.Errorf("%s: an upright ground would be off by %.3f deg of roll only; the check would not notice", name, off)
		}
		little := *h
		little.leans, little.lateral, little.braking = true, 1e-3*h.lateral, 1e-3*h.braking
		_, small := little.solve(t)
		toe := func(a *[2]arm) float64 {
			return math.Atan2(a[1].spin[0], -a[1].spin[1]) - math.Atan2(h.spin[0], h.spin[1])
		}
		if off := math.Abs(1e3*toe(&small)-toe(&arms)) * 180 / math.Pi; off < c.differsAtSmall {
			t.Errorf("%s: small loads would be off by %.3f deg of toe only; the check would not notice", name, off)
		}
		t.Logf("%s: lean %.3f deg, upright %.3f; transfer %.0f N; toe outer %.4f, small %.4f deg", name, x[2]*180/math.Pi, upright[2]*180/math.Pi, x[3], toe(&arms)*180/math.Pi, 1e3*toe(&small)*180/math.Pi)
	}
}
