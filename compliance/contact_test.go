package compliance

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/exact"
)

// pathShare is what Richardson differences of a path leave of its slope.
const pathShare = 1e-9

// The contact centre of a wheel as it stands (ISO 8855, from memory: where wheel
// plane, ground and the vertical plane through the spin axis meet), turned about an
// axis by an angle: written from that definition alone.
func contactTurned(g *WheelGeometry[float64], axis vec, angle float64) vec {
	spin := rotationMatrix(axis.Scale(angle)).Apply(g.Spin)
	vertical := spin.Cross(vec{0, 0, 1}) // normal of the vertical plane through the axis
	line := spin.Cross(vertical).Unit()
	if line[2] > 0 {
		line = line.Scale(-1)
	}
	return line.Scale(g.Radius)
}

// A force at the contact centre of a wheel free to roll does its work on the path of
// that point, with any toe and camber; with the brake locked on the wheel's own point;
// an aligning torque on the heading. The free force leaves no moment about the spin
// axis, and so does the torque.
func TestLoadsAtTheContactAreTransposes(t *testing.T) {
	rng := rand.New(rand.NewPCG(65, 66))
	for range 20 {
		g := wheelGeometry(t, values{"toe": 30 * (rng.Float64() - 0.5), "camber": 30 * (rng.Float64() - 0.5), "loaded_radius": 290})
		force := vec{rng.Float64() - 0.5, rng.Float64() - 0.5, rng.Float64() - 0.5}
		free, locked, aligning := g.AtContact(force), g.AtLocked(force), g.Aligning()
		for k := range 3 {
			path := richardson(func(a float64) float64 { return force.Dot(contactTurned(&g, unit(k), a)) }, 0, 0.05)
			own := richardson(func(a float64) float64 { return force.Dot(rotationMatrix(unit(k).Scale(a)).Apply(g.Contact())) }, 0, 0.05)
			heading := richardson(func(a float64) float64 { return -toeOf(rotationMatrix(unit(k).Scale(a)).Apply(g.Spin)) }, 0, 0.05)
			if !near(free[3+k], path, pathShare, 290) || !near(locked[3+k], own, pathShare, 290) || !near(aligning[3+k], heading, pathShare, 1) {
				t.Errorf("moment about %d: free %.10g, locked %.10g, aligning %.10g; by work %.10g, %.10g, %.10g", k, free[3+k], locked[3+k], aligning[3+k], path, own, heading)
			}
			if free[k] != force[k] || locked[k] != force[k] || aligning[k] != 0 {
				t.Errorf("force %v is %v free, %v locked; a torque has %v", force, free, locked, aligning)
			}
		}
		about := g.Spin.Dot(vec(free[3:]))
		if math.Abs(about) > closedForm*290 || math.Abs(g.Spin.Dot(vec(aligning[3:]))) > closedForm || aligning[5] != 1 {
			t.Errorf("about the spin axis: %g of a force, %g of a torque", about, g.Spin.Dot(vec(aligning[3:])))
		}
	}
}

// conjugate are the loads of one wheel, each with the reading that it works on.
var conjugate = []struct {
	name string
	load func(*WheelForce, float64)
	read func(WheelMotion, vec) float64 // of the rates, and of the travel with the brake locked here
}{
	{"free x", func(f *WheelForce, v float64) { f.AtPatch[0] = v }, func(m WheelMotion, _ vec) float64 { return m.Contact[0] }},
	{"free y", func(f *WheelForce, v float64) { f.AtPatch[1] = v }, func(m WheelMotion, _ vec) float64 { return m.Contact[1] }},
	{"z", func(f *WheelForce, v float64) { f.AtPatch[2] = v }, func(m WheelMotion, _ vec) float64 { return m.Contact[2] }},
	{"locked x", func(f *WheelForce, v float64) { f.Locked[0] = v }, func(_ WheelMotion, here vec) float64 { return here[0] }},
	{"locked y", func(f *WheelForce, v float64) { f.Locked[1] = v }, func(_ WheelMotion, here vec) float64 { return here[1] }},
	{"locked z", func(f *WheelForce, v float64) { f.Locked[2] = v }, func(m WheelMotion, _ vec) float64 { return m.Contact[2] }},
	{"centre x", func(f *WheelForce, v float64) { f.AtCentre[0] = v }, func(m WheelMotion, _ vec) float64 { return m.Centre[0] }},
	{"centre y", func(f *WheelForce, v float64) { f.AtCentre[1] = v }, func(m WheelMotion, _ vec) float64 { return m.Centre[1] }},
	{"aligning", func(f *WheelForce, v float64) { f.Moment = 100 * v }, nil}, // toe, by side
}

// What one load does to the reading of another is what the other does to its own
// (Maxwell 1864, Betti 1872): at a moved equilibrium under dead forces on free wheels,
// with toe, camber, hubs that yield and wind-up, floating and on pads. A free force
// read at the wheel's own point would be noticed.
func TestLoadsAndReadingsAreReciprocal(t *testing.T) {
	const share = 1e-8
	for name, axle := range testAxles(t) {
		for w := range axle.Wheels {
			axle.Wheels[w] = wheelOn(t, axle.Wheels[w].Body, with(testWheel, values{"toe": 2 - 3*float64(w), "camber": -4, "hub_camber": 0.2, "hub_toe": 0.1}))
		}
		for _, held := range []bool{false, true} {
			m := newMover(t, axle)
			d := Demand{Wheels: [2]WheelForce{{AtPatch: vec{100, 900, 0}, Moment: -3e4}, {AtPatch: vec{0, 1200, 0}, Moment: -4e4}}}
			for i := range d.Pads {
				if held {
					d.Pads[i] = Pad{Held: true, Height: 30 - 20*float64(i)}
				} else {
					d.Wheels[i].AtPatch[2] = 500
				}
			}
			solve(t, m, d)
			polish(m, &d)
			n := 2 * len(conjugate)
			table, mixed := make([][]float64, n), make([][]float64, n)
			for i := range n {
				var push Demand
				conjugate[i/2].load(&push.Wheels[i%2], 1)
				u := m.NewIncrement()
				rates := m.Advance(&push, &u)
				table[i] = make([]float64, n)
				for j := range n {
					w := j % 2
					if read := conjugate[j/2].read; read != nil {
						table[i][j] = read(rates[w], m.LockedHere(w, &u))
					} else {
						table[i][j] = 100 * (2*float64(w) - 1) * rates[w].Toe
					}
				}
				mixed[i] = append(mixed[i], table[i]...)
				for w := range 2 {
					here := m.LockedHere(w, &u)
					mixed[i][w], mixed[i][2+w] = here[0], here[1]
				}
			}
			noticed := 0.0
			for i := range n {
				for j := range i {
					scale := math.Sqrt(math.Abs(table[i][i]*table[j][j])) + 1e-6
					noticed = max(noticed, math.Abs(mixed[i][j]-mixed[j][i])/scale)
					if !near(table[i][j], table[j][i], share, scale) {
						t.Errorf("%s, held %v: %s does %.10g to %s, which does %.10g to it", name, held, conjugate[i/2].name, table[i][j], conjugate[j/2].name, table[j][i])
					}
				}
			}
			if noticed < 0.01 {
				t.Errorf("%s, held %v: with free forces read at the wheel's own point the loads miss each other by %.2g only", name, held, noticed)
			}
		}
	}
}

// By hand: an upright wheel wound up by θ about y and moved ahead by x has rolled on the
// pad under its locked brake, which stands at x − R·θ and not at x − R·sin θ. Free to
// roll, its contact centre is below its centre.
func TestLockedWheelRollsOnItsPad(t *testing.T) {
	const radius, turn, ahead = 300.0, 0.4, 12.0
	w := newMovingWheel(slotsOf(t, WheelFields, testWheel), 0, 0, nil, vec{})
	body := pose[float64]{turn: exact.RotY(turn)}
	body.shift = w.centre.Add(vec{ahead, 0, 0}).Sub(body.turn.Apply(w.centre))
	r := read(&w, 0, &body, &WheelForce{}, 0)
	if !near(r.locked[0], ahead-radius*turn, closedForm, radius) || !near(r.contact[0], ahead, closedForm, radius) || !near(r.locked[2], 0, closedForm, radius) {
		t.Errorf("locked %v, free %v", r.locked, r.contact)
	}
}
