package bushing

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/exact"
)

// rounding is what double precision leaves of products of a few rotations.
const rounding = 1e-14

const degree = math.Pi / 180

func rotX(a float64) *mat.Dense {
	s, c := math.Sincos(a)
	return mat.NewDense(3, 3, []float64{1, 0, 0, 0, c, -s, 0, s, c})
}

func rotY(a float64) *mat.Dense {
	s, c := math.Sincos(a)
	return mat.NewDense(3, 3, []float64{c, 0, s, 0, 1, 0, -s, 0, c})
}

func rotZ(a float64) *mat.Dense {
	s, c := math.Sincos(a)
	return mat.NewDense(3, 3, []float64{c, -s, 0, s, c, 0, 0, 0, 1})
}

func product(factors ...mat.Matrix) *mat.Dense {
	out := mat.DenseCopyOf(factors[0])
	for _, f := range factors[1:] {
		var next mat.Dense
		next.Mul(out, f)
		out = &next
	}
	return out
}

// columns makes a matrix of three vectors.
func columns(a, b, c [3]float64) *mat.Dense {
	m := mat.NewDense(3, 3, nil)
	for j, v := range [3][3]float64{a, b, c} {
		m.SetCol(j, v[:])
	}
	return m
}

// oddBush has six different rates and odd angles.
func oddBush() Bush[float64] {
	return Bush[float64]{
		Mount: Mount[float64]{Plan: 23 * degree, Lift: -11 * degree, Clock: 37 * degree, LeanForward: 9 * degree, LeanOutboard: -14 * degree,
			Axis: exact.Vec[float64]{2, 3, -1}, SoftAxis: exact.Vec[float64]{1, 0.2, 5}},
		Soft: 613, Axial: 877, Stiff: 3119, ConeSoft: 401000, Torsion: 120000, ConeStiff: 523000,
	}
}

// sleeveByRotations is the sleeve triad (s, a, t in columns) by elementary
// rotations about vehicle axes, apart from the formulas tested.
//
//	lateral       Rz(−plan)·Rx(lift)·Ry(clock) on (x, y, z)
//	longitudinal  plan turns the front end inboard, about −z; lift turns it up,
//	              about −y; clock about x; on (y, x, −z)
//	vertical      lean_forward about y, lean_outboard about −x, clock about z; on (x, z, −y)
func sleeveByRotations(b *Bush[float64], base Base) *mat.Dense {
	x, y, z := [3]float64{1, 0, 0}, [3]float64{0, 1, 0}, [3]float64{0, 0, 1}
	minusY, minusZ := [3]float64{0, -1, 0}, [3]float64{0, 0, -1}
	switch base {
	case Lateral:
		return product(rotZ(-b.Plan), rotX(b.Lift), rotY(b.Clock), columns(x, y, z))
	case Longitudinal:
		return product(rotZ(-b.Plan), rotY(-b.Lift), rotX(b.Clock), columns(y, x, minusZ))
	case Vertical:
		return product(rotY(b.LeanForward), rotX(-b.LeanOutboard), rotZ(b.Clock), columns(x, z, minusY))
	}
	a := unit3(b.Axis)
	s := unit3(reject(b.SoftAxis, a))
	t := [3]float64{s[1]*a[2] - s[2]*a[1], s[2]*a[0] - s[0]*a[2], s[0]*a[1] - s[1]*a[0]}
	sin, cos := math.Sincos(b.Clock) // about a: s toward −t, t toward s
	var turnedS, turnedT [3]float64
	for i := range 3 {
		turnedS[i], turnedT[i] = cos*s[i]-sin*t[i], cos*t[i]+sin*s[i]
	}
	return columns(turnedS, a, turnedT)
}

func unit3(v [3]float64) [3]float64 {
	n := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
	return [3]float64{v[0] / n, v[1] / n, v[2] / n}
}

func reject(v, along [3]float64) [3]float64 {
	d := v[0]*along[0] + v[1]*along[1] + v[2]*along[2]
	return [3]float64{v[0] - d*along[0], v[1] - d*along[1], v[2] - d*along[2]}
}

func diagonal(a, b, c float64) *mat.DiagDense { return mat.NewDiagDense(3, []float64{a, b, c}) }

// Stiffness of every base at odd angles against R·diag(rates)·Rᵀ with R from
// elementary rotations, the translational rates turned once more by
// elastic_plan and elastic_lift about axes of the sleeve.
func TestStiffnessByRotations(t *testing.T) {
	for base := Lateral; base <= Explicit; base++ {
		for _, elastic := range [][2]float64{{0, 0}, {17, 0}, {0, -8}, {-21, 13}} {
			b := oddBush()
			b.ElasticPlan, b.ElasticLift = elastic[0]*degree, elastic[1]*degree
			sleeve := sleeveByRotations(&b, base)
			rubber := product(sleeve, rotZ(-b.ElasticPlan), rotX(b.ElasticLift))
			force := product(rubber, diagonal(b.Soft, b.Axial, b.Stiff), rubber.T())
			moment := product(sleeve, diagonal(b.ConeSoft, b.Torsion, b.ConeStiff), sleeve.T())
			k := b.Stiffness(base)
			for r := range 6 {
				for c := range 6 {
					want, scale := 0.0, 1.0
					switch {
					case r < 3 && c < 3:
						want, scale = force.At(r, c), 3119
					case r >= 3 && c >= 3:
						want, scale = moment.At(r-3, c-3), 523000
					}
					if math.Abs(k[r][c]-want) > rounding*scale {
						t.Errorf("%s, elastic %v: K[%d][%d] = %.12g, want %.12g", BaseNames[base], elastic, r, c, k[r][c], want)
					}
				}
			}
		}
	}
}

// The bush axis as written in words: lateral a = (sin plan·cos lift, cos plan·cos
// lift, sin lift), outboard end forward and up; longitudinal a = (cos plan·cos
// lift, −sin plan·cos lift, sin lift), front end inboard and up; vertical, top
// end forward and outboard.
func TestBushAxis(t *testing.T) {
	b := oddBush()
	sp, cp := math.Sincos(b.Plan)
	sl, cl := math.Sincos(b.Lift)
	sf, cf := math.Sincos(b.LeanForward)
	so, co := math.Sincos(b.LeanOutboard)
	for base, want := range map[Base]exact.Vec[float64]{
		Lateral:      {sp * cl, cp * cl, sl},
		Longitudinal: {cp * cl, -sp * cl, sl},
		Vertical:     {sf * co, so, cf * co},
		Explicit:     b.Axis.Unit(),
	} {
		sleeve, _ := b.Axes(base)
		if sleeve[1].Sub(want).Norm() > rounding {
			t.Errorf("%s: axis %v, want %v", BaseNames[base], sleeve[1], want)
		}
	}
}

// Without angles each base has the axes that its name says.
func TestBasesAtRest(t *testing.T) {
	for base, want := range map[Base]Frame[float64]{
		Lateral:      {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		Longitudinal: {{0, 1, 0}, {1, 0, 0}, {0, 0, -1}},
		Vertical:     {{1, 0, 0}, {0, 0, 1}, {0, -1, 0}},
	} {
		var b Bush[float64]
		if sleeve, elastic := b.Axes(base); sleeve != want || elastic != want {
			t.Errorf("%s: %v and %v, want %v", BaseNames[base], sleeve, elastic, want)
		}
	}
}

// Every frame is right-handed and orthonormal, at any angles.
func TestFramesAreRightHanded(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	for range 50 {
		b := oddBush()
		for _, angle := range []*float64{&b.Plan, &b.Lift, &b.Clock, &b.LeanForward, &b.LeanOutboard, &b.ElasticPlan, &b.ElasticLift} {
			*angle = 2 * math.Pi * (rng.Float64() - 0.5)
		}
		for base := Lateral; base <= Explicit; base++ {
			sleeve, elastic := b.Axes(base)
			for _, f := range []Frame[float64]{sleeve, elastic} {
				if f[0].Cross(f[1]).Sub(f[2]).Norm() > rounding || math.Abs(f[0].Dot(f[1])) > rounding || math.Abs(f[0].Norm()-1) > rounding {
					t.Fatalf("%s: frame %v is not a right-handed triad", BaseNames[base], f)
				}
			}
		}
	}
}

// clock turns the voids about the bush axis, right-handed, on every base.
func TestClockTurnsAboutTheAxis(t *testing.T) {
	for base := Lateral; base <= Explicit; base++ {
		b := oddBush()
		b.Clock = 0
		before, _ := b.Axes(base)
		b.Clock = 25 * degree
		after, _ := b.Axes(base)
		if after[1].Sub(before[1]).Norm() > rounding {
			t.Errorf("%s: clock moves the axis", BaseNames[base])
		}
		if got := before[0].Cross(after[0]).Dot(before[1]); math.Abs(got-math.Sin(25*degree)) > rounding {
			t.Errorf("%s: the soft radial turns by asin(%.6f), want 25 deg", BaseNames[base], got)
		}
	}
}

// The length of explicit vectors does not count, nor what of the soft vector
// lies along the axis.
func TestExplicitVectorsAreDirections(t *testing.T) {
	b := oddBush()
	want := b.Stiffness(Explicit)
	b.SoftAxis = b.SoftAxis.Scale(40).Add(b.Axis.Scale(7))
	b.Axis = b.Axis.Scale(0.01)
	got := b.Stiffness(Explicit)
	for r := range 6 {
		for c := range 6 {
			if math.Abs(got[r][c]-want[r][c]) > rounding*1e6 {
				t.Errorf("K[%d][%d] = %g, want %g", r, c, got[r][c], want[r][c])
			}
		}
	}
}
