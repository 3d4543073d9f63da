package compliance

import (
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/exact"
)

// slopeRounding is what central differences with a step of 1e-5 rad leave.
const slopeRounding = 1e-9

func wheelGeometry(t *testing.T, v values) WheelGeometry[float64] {
	return NewWheelGeometry(slotsOf(t, WheelFields, with(testWheel, v)))
}

// toeOf and camberOf are the definitions of ISO 8855:2011 (7.1.6, 7.1.17) as
// projections of the spin axis u, for the left wheel.
func toeOf(u vec) float64    { return math.Atan2(u[0], u[1]) }
func camberOf(u vec) float64 { return -math.Atan2(u[2], u[1]) }

// The spin axis has the toe and camber written.
func TestSpinAxisHasToeAndCamber(t *testing.T) {
	for _, toe := range []float64{-3, 0, 0.3, 12} {
		for _, camber := range []float64{-8, -1.2, 0, 2} {
			u := wheelGeometry(t, values{"toe": toe, "camber": camber}).Spin
			if got := toeOf(u) * 180 / math.Pi; !near(got, toe, closedForm, 20) {
				t.Errorf("toe %g deg, written %g", got, toe)
			}
			if got := camberOf(u) * 180 / math.Pi; !near(got, camber, closedForm, 20) {
				t.Errorf("camber %g deg, written %g", got, camber)
			}
			if math.Abs(u.Norm()-1) > closedForm {
				t.Errorf("spin axis %v is no unit vector", u)
			}
		}
	}
	if u := wheelGeometry(t, nil).Spin; u != (vec{0, 1, 0}) {
		t.Errorf("an upright wheel spins about %v", u)
	}
	// toe-in: the front edge of the left wheel, forward of its centre, is nearer to the middle
	u := wheelGeometry(t, values{"toe": 2}).Spin
	if front := u.Cross(vec{0, 0, 1}); front[0] <= 0 || front[1] >= 0 {
		t.Errorf("with toe-in the wheel looks to %v, want forward and inward", front)
	}
	// camber: the top is outward, to the left
	u = wheelGeometry(t, values{"camber": 2}).Spin
	if top := (vec{1, 0, 0}).Cross(u); top[2] <= 0 || top[1] <= 0 {
		t.Errorf("with camber the top leans to %v, want left", top)
	}
}

// The readings are the first derivatives of toe and camber by the rotation of
// the wheel, and do not read displacement.
func TestReadingsAreDerivatives(t *testing.T) {
	rng := rand.New(rand.NewPCG(61, 62))
	for range 20 {
		g := wheelGeometry(t, values{"toe": 20 * (rng.Float64() - 0.5), "camber": 20 * (rng.Float64() - 0.5)})
		toe, camber := g.ToeIn(), g.CamberOut()
		for axis := range 3 {
			const step = 1e-5
			up, down := rotationMatrix(unit(axis).Scale(step)).Apply(g.Spin), rotationMatrix(unit(axis).Scale(-step)).Apply(g.Spin)
			if want := (toeOf(up) - toeOf(down)) / (2 * step); math.Abs(toe[3+axis]-want) > slopeRounding {
				t.Errorf("toe by rotation %d: %.10g, differences %.10g", axis, toe[3+axis], want)
			}
			if want := (camberOf(up) - camberOf(down)) / (2 * step); math.Abs(camber[3+axis]-want) > slopeRounding {
				t.Errorf("camber by rotation %d: %.10g, differences %.10g", axis, camber[3+axis], want)
			}
			if toe[axis] != 0 || camber[axis] != 0 {
				t.Error("a displacement changes toe or camber")
			}
		}
	}
	g := wheelGeometry(t, nil)
	if g.ToeIn() != (exact.Wrench[float64]{5: -1}) || g.CamberOut() != (exact.Wrench[float64]{3: -1}) {
		t.Errorf("an upright wheel reads toe by %v and camber by %v, want −rotation about z and about x", g.ToeIn(), g.CamberOut())
	}
}

// No point of the wheel is lower than the contact point, which lies on its disc.
func TestContactIsLowestPoint(t *testing.T) {
	rng := rand.New(rand.NewPCG(63, 64))
	for range 20 {
		g := wheelGeometry(t, values{"toe": 40 * (rng.Float64() - 0.5), "camber": 40 * (rng.Float64() - 0.5), "loaded_radius": 290})
		c := g.Contact()
		if math.Abs(c.Norm()-290) > closedForm*290 || math.Abs(c.Dot(g.Spin)) > closedForm*290 {
			t.Errorf("contact %v is not on the disc", c)
		}
		first := g.Spin.Cross(vec{1, 0, 0}).Unit()
		second := g.Spin.Cross(first)
		for i := range 360 {
			s, co := math.Sincos(float64(i) * math.Pi / 180)
			if p := first.Scale(co).Add(second.Scale(s)).Scale(290); p[2] < c[2]-closedForm*290 {
				t.Errorf("%v is lower than the contact %v", p, c)
			}
		}
	}
	upright := wheelGeometry(t, nil)
	if c := upright.Contact(); c != (vec{0, 0, -300}) {
		t.Errorf("contact of an upright wheel %v", c)
	}
}

// A force at the contact point: outward (left) on the left wheel makes a moment
// that turns the top inward about −x … by hand: m = (0, 0, −R) × f.
func TestForceAtContactByHand(t *testing.T) {
	g := wheelGeometry(t, nil)
	for _, c := range []struct {
		force vec
		want  exact.Wrench[float64]
	}{
		{vec{0, 1000, 0}, exact.Wrench[float64]{1: 1000, 3: 300 * 1000}},
		{vec{-1000, 0, 0}, exact.Wrench[float64]{0: -1000, 4: 300 * 1000}},
		{vec{0, 0, 1000}, exact.Wrench[float64]{2: 1000}},
	} {
		if got := g.AtLocked(c.force); got != c.want {
			t.Errorf("%v at the contact is %v, want %v", c.force, got, c.want)
		}
	}
}

// Mirror is its own inverse and keeps work.
func TestMirrorKeepsWork(t *testing.T) {
	a, b := exact.Wrench[float64]{1, 2, 3, 4, 5, 6}, exact.Wrench[float64]{7, -8, 9, -10, 11, 12}
	ma, mb := Mirror(a), Mirror(b)
	if Mirror(ma) != a || ma.Dot(&mb) != a.Dot(&b) {
		t.Errorf("mirror of %v is %v", a, ma)
	}
	for i, v := range Mirror(exact.Wrench[float64]{1, 1, 1, 1, 1, 1}) {
		if v != mirrorSigns[i] {
			t.Errorf("component %d has the sign %g, lines have %g", i, v, mirrorSigns[i])
		}
	}
}

// Wheel fields and what reads them hold together.
func TestWheelFieldsAndReaders(t *testing.T) {
	slots := slotsOf(t, WheelFields, values{"centre.x": 1, "centre.y": 2, "centre.z": 3, "loaded_radius": 4, "toe": 5, "camber": 6, "hub_camber": 7, "hub_toe": 8})
	g := NewWheelGeometry(slots)
	if g.Centre != (vec{1, 2, 3}) || g.Radius != 4 || !near(toeOf(g.Spin), 5*math.Pi/180, closedForm, 1) || !near(camberOf(g.Spin), 6*math.Pi/180, closedForm, 1) {
		t.Errorf("geometry %+v", g)
	}
	if h := newHub(slots, nil); !near(h.yield[0], 7*math.Pi/180/1e6, closedForm, 1e-6) || !near(h.yield[1], 8*math.Pi/180/1e6, closedForm, 1e-6) {
		t.Errorf("hub %v rad per N·mm", h.yield)
	}
	if WheelFields[slotRadius].Name != "loaded_radius" || WheelFields[slotHubCamber].Name != "hub_camber" || WheelFields[slotHubToe].Name != "hub_toe" || len(WheelFields) != 8 {
		t.Error("slot numbers and fields of a wheel do not agree")
	}
}
