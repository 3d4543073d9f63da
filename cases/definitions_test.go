package cases

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/exact"
)

// The table of numbers once more, from the wheel compliance matrix C alone and in
// other ways: pads by Lagrange multipliers instead of a projection, contact
// centres where wheel plane, ground and the vertical plane through the spin axis
// meet (ISO 8855, from memory) and their paths by turning that axis, loads from the
// work on those, toe and camber by turning the spin axis, states from the equations
// of the car. Strongly angled, unlike wheels, in both turns.

// apart is what rounding leaves between both ways.
const apart = 1e-7

// bench is an axle with its wheels as another program would see them.
type bench struct {
	c       *mat.SymDense
	centre  [2]exact.Vec[float64]
	spin    [2]exact.Vec[float64] // unit, pointing left
	contact [2]exact.Vec[float64] // from the wheel centre
	radius  [2]float64
	tyre    float64 // mm/N in series with level pads
}

func newBench(s *Study) *bench {
	b := &bench{c: mat.NewSymDense(12, nil), tyre: s.rig.tyre}
	for i, v := range s.Solver().Compliance() {
		if i/12 <= i%12 {
			b.c.SetSym(i/12, i%12, v)
		}
	}
	for w, wheel := range s.Solver().Axle().Wheels {
		x := wheel.Slots
		side := 1 - 2*float64(w)
		toeIn, camber := x[4], x[5]
		b.centre[w] = exact.Vec[float64]{x[0], side * x[1], x[2]}
		b.spin[w] = exact.Vec[float64]{side * math.Tan(toeIn), 1, -side * math.Tan(camber)}.Unit()
		b.contact[w], b.radius[w] = meeting(b.spin[w], x[3]), x[3]
	}
	return b
}

// meeting is where the wheel plane and the vertical plane through the spin axis meet
// at the rim, below the centre.
func meeting(axis exact.Vec[float64], radius float64) exact.Vec[float64] {
	across := axis.Cross(exact.Vec[float64]{0, 0, 1}) // of the vertical plane
	line := across.Cross(axis).Unit()
	if line[2] > 0 {
		line = line.Scale(-1)
	}
	return line.Scale(radius)
}

// path is how the contact centre of a wheel free to roll moves by the six motions of
// the wheel, one column each: turns by fourth-order differences.
func (b *bench) path(w int) (columns [6]exact.Vec[float64]) {
	const little = 1e-3
	for i := range 3 {
		columns[i][i] = 1
		var axis exact.Vec[float64]
		axis[i] = 1
		at := func(angle float64) exact.Vec[float64] {
			return meeting(turnedAbout(b.spin[w], axis, angle), b.radius[w])
		}
		near, far := at(little).Sub(at(-little)), at(2*little).Sub(at(-2*little))
		columns[3+i] = near.Scale(8).Sub(far).Scale(1 / (12 * little))
	}
	return columns
}

// turnedAbout is a vector turned about a unit axis (Rodrigues).
func turnedAbout(u, axis exact.Vec[float64], angle float64) exact.Vec[float64] {
	s, c := math.Sincos(angle)
	return u.Scale(c).Add(axis.Cross(u).Scale(s)).Add(axis.Scale((1 - c) * axis.Dot(u)))
}

// aligning is the couple with a vertical part of one and none about the spin axis
// or along the heading.
func (b *bench) aligning(t *testing.T, w int) (couple exact.Vec[float64]) {
	t.Helper()
	along := b.spin[w].Cross(exact.Vec[float64]{0, 0, 1})
	rows := append(append([]float64{0, 0, 1}, b.spin[w][:]...), along[:]...)
	if err := mat.NewVecDense(3, couple[:]).SolveVec(mat.NewDense(3, 3, rows), mat.NewVecDense(3, []float64{1, 0, 0})); err != nil {
		t.Fatal(err)
	}
	return couple
}

// push is a force (N) at the wheel centre, one at the contact centre of a wheel free
// to roll, one there with the brake locked, and an aligning torque (N·mm).
type push struct {
	atCentre, free, locked exact.Vec[float64]
	moment                 float64
}

// moved is what a rig records: motions of both wheels and changes of pad forces.
type moved struct {
	centre, patch, turn [2]exact.Vec[float64] // patch: the path of the contact centre
	toe, camber         [2]float64            // rad, + toe-in, + top outward
	pad                 [2]float64            // N, + more load
}

// port is the load of one push on the six rows of a wheel. What a free force does on
// a motion of the wheel is its work on the path of the contact centre.
func (b *bench) port(t *testing.T, w int, p push) (rows [6]float64) {
	t.Helper()
	rows = exact.Force(p.locked, b.contact[w])
	for i, column := range b.path(w) {
		rows[i] += p.free.Dot(column)
	}
	for i, m := range b.aligning(t, w) {
		rows[i] += p.atCentre[i]
		rows[3+i] += p.moment * m
	}
	return rows
}

// solve finds u and pad forces λ from C⁻¹·u = f + G·λ and Gᵀ·u + tyre·λ = 0.
func (b *bench) solve(t *testing.T, pads Pads, on [2]push) moved {
	t.Helper()
	size := 12
	if pads == Level {
		size += 2
	}
	system, right := mat.NewDense(size, size, nil), mat.NewVecDense(size, nil)
	for i := range 12 {
		system.Set(i, i, 1) // u − C·G·λ = C·f
	}
	for w := range on {
		load := b.port(t, w, on[w])
		up := b.port(t, w, push{free: exact.Vec[float64]{0, 0, 1}})
		for i := range 12 {
			for k := range 6 {
				c := b.c.At(i, 6*w+k)
				right.SetVec(i, right.AtVec(i)+c*load[k])
				if pads == Level {
					system.Set(i, 12+w, system.At(i, 12+w)-c*up[k])
				}
			}
		}
		if pads == Level {
			system.Set(12+w, 12+w, b.tyre)
			for k := range 6 {
				system.Set(12+w, 6*w+k, up[k])
			}
		}
	}
	var u mat.VecDense
	if err := u.SolveVec(system, right); err != nil {
		t.Fatal(err)
	}
	return b.record(&u, pads)
}

func (b *bench) record(u *mat.VecDense, pads Pads) (m moved) {
	for w := range 2 {
		for i := range 3 {
			m.centre[w][i], m.turn[w][i] = u.AtVec(6*w+i), u.AtVec(6*w+3+i)
		}
		for i, column := range b.path(w) {
			m.patch[w] = m.patch[w].Add(column.Scale(u.AtVec(6*w + i)))
		}
		m.toe[w], m.camber[w] = b.angles(w, m.turn[w])
		if pads == Level {
			m.pad[w] = u.AtVec(12 + w)
		}
	}
	return m
}

// angles turns the spin axis a little both ways and reads ISO 8855 projections.
func (b *bench) angles(w int, turn exact.Vec[float64]) (toe, camber float64) {
	const little = 1e-5
	size := turn.Norm()
	read := func(angle float64) (toe, camber float64) {
		v := turnedAbout(b.spin[w], turn.Unit(), angle)
		side := 1 - 2*float64(w)
		return side * math.Atan2(v[0], v[1]), -side * math.Atan2(v[2], v[1])
	}
	toeUp, camberUp := read(little)
	toeDown, camberDown := read(-little)
	return (toeUp - toeDown) * size / (2 * little), (camberUp - camberDown) * size / (2 * little)
}

// turned is a bench seen in one turn: loads and answers by outer and inner wheel,
// sideways counted toward the inside of the turn.
type turned struct {
	*bench
	outer, inner int
	inside       float64 // +1 to the left
}

func (v turned) run(t *testing.T, pads Pads, outer, inner push) moved {
	var on [2]push
	on[v.outer], on[v.inner] = outer, inner
	for w := range on {
		on[w].free[1] *= v.inside
		on[w].moment *= v.inside
	}
	return v.solve(t, pads, on)
}

// patchPush brakes, pulls sideways and lifts at the contact centre.
func patchPush(x, inward, z float64) push {
	return push{locked: exact.Vec[float64]{x, 0, 0}, free: exact.Vec[float64]{0, inward, z}}
}

func (v turned) track() float64 {
	return v.centre[0][1] + v.contact[0][1] - v.centre[1][1] - v.contact[1][1]
}

// answers are the numbers of one turn in internal units, by "name case where".
func (v turned) answers(t *testing.T, car *Vehicle) map[string]float64 {
	o, i, all := v.outer, v.inner, map[string]float64{}
	meanSteer := func(m moved) float64 { return v.inside * (m.turnToe(o) + m.turnToe(i)) / 2 }
	for name, pads := range map[string]Pads{"cornering": Level, "cornering_floating": Floating} {
		m := v.run(t, pads, patchPush(0, 1, 0), patchPush(0, 1, 0))
		all["lateral_force_steer "+name+" "] = m.toe[o]
		all["mean_axle_steer "+name+" "] = meanSteer(m)
		all["lateral_force_camber "+name+" "] = m.camber[o]
		all["lateral_compliance "+name+" centre"] = v.inside * m.centre[o][1]
		all["lateral_compliance "+name+" patch"] = v.inside * m.patch[o][1]
		if pads == Level {
			all["roll_centre_force "+name+" "] = v.track() / 2 * (m.pad[o] - m.pad[i]) / 2
		}
	}
	torque := v.run(t, Level, push{moment: 1}, push{moment: 1})
	all["aligning_steer aligning "] = meanSteer(torque)
	all["steer_neutral_point cornering "] = all["mean_axle_steer cornering "] / meanSteer(torque)
	strip, none := push{atCentre: exact.Vec[float64]{-1, 0, 0}}, push{}
	for name, m := range map[string]moved{"impact": v.run(t, Level, strip, strip), "impact_single": v.run(t, Level, strip, none)} {
		all["longitudinal_compliance "+name+" "], all["impact_toe "+name+" "] = -m.centre[o][0], m.toe[o]
	}
	brake := patchPush(-1, 0, 0)
	for name, m := range map[string]moved{"braking": v.run(t, Level, brake, brake), "braking_single": v.run(t, Level, brake, none), "braking_inboard": v.run(t, Level, strip, strip)} {
		all["brake_steer "+name+" "], all["brake_recession "+name+" "], all["brake_wind_up "+name+" "] = m.toe[o], -m.centre[o][0], m.turn[o][1]
		if name != "braking_single" {
			held := -(m.pad[o] + m.pad[i]) / 2
			all["anti_lift_angle "+name+" "] = math.Atan(held)
			all["anti_lift_percent "+name+" "] = held / (car.GravityHeight / car.Wheelbase / car.RearBrakeShare)
		}
	}
	v.addTravel(t, car, all)
	return all
}

// turnToe is the steer of a wheel to the left.
func (m *moved) turnToe(w int) float64 { return (2*float64(w) - 1) * m.toe[w] }

// addTravel adds the numbers of heave and roll.
func (v turned) addTravel(t *testing.T, car *Vehicle, all map[string]float64) {
	o, i := v.outer, v.inner
	up, down := patchPush(0, 0, 1), patchPush(0, 0, -1)
	heave, roll := v.run(t, Floating, up, up), v.run(t, Floating, up, down)
	rise := (heave.patch[0][2] + heave.patch[1][2]) / 2
	all["wheel_rate heave "], all["ride_rate heave "] = 1/rise, 1/(rise+1/car.TyreRate)
	all["bump_steer heave "], all["bump_camber heave "] = heave.toe[o]/heave.patch[o][2], heave.camber[o]/heave.patch[o][2]
	all["track_change heave "] = (heave.patch[0][1] - heave.patch[1][1]) / rise
	all["wheelbase_change heave "] = -(heave.centre[0][0] + heave.centre[1][0]) / 2 / rise
	angle := (roll.patch[o][2] - roll.patch[i][2]) / v.track()
	half := (roll.patch[o][2] - roll.patch[i][2]) / 2
	all["wheel_rate roll "], all["ride_rate roll "], all["roll_rate roll "] = 1/half, 1/(half+1/car.TyreRate), v.track()/angle
	all["roll_steer roll "], all["roll_camber roll body"], all["roll_camber roll ground"] = roll.toe[o]/angle, roll.camber[o]/angle, 1+roll.camber[o]/angle
	outward := -v.inside * (roll.patch[0][1] + roll.patch[1][1]) / 2
	all["roll_centre_kinematic roll "] = outward / angle
}

func TestNumbersFromTheMatrixAlone(t *testing.T) {
	car := vehicleWith(t, carValues)
	inSeries := car
	inSeries.TyreInSeries = true
	axle := linkedBeam(t)
	axle.Wheels[0] = wheelOn(t, 0, with(wheelValues, values{"centre.x": 6, "toe": 6, "camber": -18, "hub_camber": 0.02, "hub_toe": 0.03}))
	axle.Wheels[1] = wheelOn(t, 1, with(wheelValues, values{"centre.y": 720, "loaded_radius": 280, "toe": -3, "camber": 20, "hub_camber": 0.05}))
	for name, vehicle := range map[string]Vehicle{"rigid tyres": car, "tyres in series": inSeries} {
		s := studyOf(t, axle, vehicle)
		for suffix, v := range map[string]turned{"": {newBench(s), 1, 0, 1}, TurnRight: {newBench(s), 0, 1, -1}} {
			want := v.answers(t, &vehicle)
			read := 0
			for i, n := range s.Numbers() {
				base, isTurned := strings.CutSuffix(n.Case, TurnRight)
				answer, ok := want[n.Name+" "+base+" "+n.Where]
				if n.Generic || isTurned != (suffix != "") {
					continue
				}
				if !ok {
					if !strings.HasPrefix(base, "state_") {
						t.Errorf("%s in %s is calculated one way only", n.Name, n.Case)
					}
					continue
				}
				read++
				check(t, name+": "+n.Name+" in "+n.Case, s.Value(i), answer, apart*math.Max(math.Abs(answer), n.Step*n.Unit.Factor))
			}
			if read != len(want) {
				t.Errorf("%s%s: %d of %d numbers are in the table", name, suffix, read, len(want))
			}
		}
	}
}
