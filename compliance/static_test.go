package compliance

import (
	"math"
	"slices"
	"testing"

	"bushtune/bushing/quantity"
)

// balance is what rounding leaves of a load found by equilibrium.
const balance = 1e-8

// trailingArm is an arm on two bushes (only the first takes axial load) and an
// upright spring: loads at rest follow from equilibrium alone.
func trailingArm(t *testing.T, bush, spring values) *Axle {
	axle := &Axle{Bodies: []Body{{"arm", Left}, {"arm", Right}}, Wheels: [2]Wheel{wheelOn(t, 0, testWheel), wheelOn(t, 1, testWheel)},
		Static: &Static{WheelLoad: [2]float64{4000, 4000}, Unsprung: [2]float64{0.05, 0.05}}}
	inner := with(with(testBush, bush), point("at", vec{430, 500, 330}))
	outer := with(with(testBush, bush), point("at", vec{430, 620, 330}))
	outer["axial"] = 0
	coil := with(with(point("upper", vec{200, 540, 600}), point("lower", vec{200, 540, 300})), with(values{"rate": 30}, spring))
	axle.Elements = append(axle.Elements, bothSides(t, Bush, "inner", inner)...)
	axle.Elements = append(axle.Elements, bothSides(t, Bush, "outer", outer)...)
	return &Axle{Bodies: axle.Bodies, Wheels: axle.Wheels, Static: axle.Static, Elements: append(axle.Elements, bothSides(t, Spring, "coil", coil)...)}
}

// By hand: F − W = 4000 − 0.05·9806.65 N at the wheel; about the pivots
// (x = 430) S·230 + M = (F − W)·430 with M the torsion that bolts tightened
// elsewhere hold; then forces, and moments about x through the inner bush.
// Whatever the rates and the written spring load. Torsion is that of the inner
// sleeve against the outer: with the inner one on the vehicle, turned + about the
// left bush axis (+y, front end down), it pushes the wheel up.
func TestLoadsAtRestByHand(t *testing.T) {
	const lift = 4000 - 0.05*quantity.StandardGravity
	for name, c := range map[string]struct {
		bush, spring values
		moment       float64
		outerIsFrom  bool
	}{
		"plain":           {nil, nil, 0, false},
		"softer":          {values{"soft": 350, "stiff": 1500, "torsion": 9, "cone_soft": 0}, values{"rate": 13}, 0, false},
		"spring written":  {nil, values{"load": 2500}, 0, false},
		"tightened away":  {values{"tightened_at": 5}, nil, -2 * 5 * 2100, false},
		"inner on arm":    {values{"tightened_at": 5}, nil, 2 * 5 * 2100, true},
		"mirrored sign":   {values{"tightened_at": -3}, values{"load": 100}, 2 * 3 * 2100, false},
		"brackets":        {values{"bracket": 500}, nil, 0, false},
		"turned bushes":   {values{"clock": 30}, nil, 0, true},
		"preload written": {values{"preload.z": 700}, nil, 0, false},
	} {
		axle := trailingArm(t, c.bush, c.spring)
		for i := range 4 {
			axle.Elements[i].Choice.OuterIsFrom = c.outerIsFrom
		}
		s := newSolver(t, axle)
		spring := (lift*430 - c.moment) / 230
		outer := (lift*(740-500) - spring*(540-500)) / (620 - 500)
		inner := lift - spring - outer
		for side := range 2 {
			if got := -s.StaticLoad(4+side, 0); !near(got, spring, balance, spring) {
				t.Errorf("%s: spring %.9g N, by hand %.9g", name, got, spring)
			}
			for i, want := range []float64{inner, outer} {
				total := s.staticWrench(2*i + side)
				if !near(total[2], want, balance, lift) || !near(total[0], 0, balance, lift) || !near(total[1], 0, balance, lift) {
					t.Errorf("%s: bush %d carries (%.6g, %.6g, %.6g) N, by hand (0, 0, %.6g)", name, i, total[0], total[1], total[2], want)
				}
			}
		}
	}
}

// Bushes that hold moments share with the spring, by their rates, what its given
// load leaves: (F − W)·430 − 100·230 = (2·torsion + rate·230²)·θ, with stiff bushes.
func TestTorsionThatHolds(t *testing.T) {
	axle := trailingArm(t, values{"soft": 1e8, "stiff": 1e8, "cone_soft": 0, "cone_stiff": 0, "torsion": 9}, values{"load": 100})
	for i := range 4 {
		axle.Elements[i].Choice.HoldsMoments = true
	}
	torsion := 9e3 * 180 / math.Pi
	turn := ((4000-0.05*quantity.StandardGravity)*430 - 100*230) / (2*torsion + 30*230*230)
	s := newSolver(t, axle)
	for i, want := range map[int]float64{0: torsion * turn, 3: torsion * turn} {
		if got := s.StaticLoad(i, 4); !near(got, want, 1e-4, want) { // bushes of 1e8 N/mm on a lever of 230 mm
			t.Errorf("torsion of bush %d at rest %.8g N·mm, want %.8g", i, got, want)
		}
	}
}

// The order in which elements and bodies are written does not matter.
func TestOrderDoesNotMatter(t *testing.T) {
	for name, axle := range changing(t) {
		s := newSolver(t, axle)
		turned := axle.Clone()
		slices.Reverse(turned.Elements)
		slices.Reverse(turned.Bodies)
		last := len(turned.Bodies) - 1
		for i := range turned.Elements {
			for _, end := range []*int{&turned.Elements[i].From, &turned.Elements[i].To} {
				if *end != Vehicle {
					*end = last - *end
				}
			}
		}
		for i := range turned.Wheels {
			turned.Wheels[i].Body = last - turned.Wheels[i].Body
		}
		other := newSolver(t, turned)
		sameCompliance(t, name+" in reverse order", other, s)
		n := len(axle.Elements) - 1
		for i := range axle.Elements {
			for l := range s.LineCount(i) {
				if got, want := other.StaticLoad(n-i, l), s.StaticLoad(i, l); !near(got, want, balance, 1e4) {
					t.Errorf("%s: %s line %d carries %g in reverse order, %g before", name, axle.Elements[i].Label(), l, got, want)
				}
			}
		}
	}
}
