package compliance

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// sameMatrix is what rounding leaves of two ways to one 12×12, as a share of
// √(K_ii·K_jj).
const sameMatrix = 1e-11

// triad is the beam's own axes: x from start to end, y forward, z up, turned by
// tilt about the axis that points from end to start.
func triad(start, end vec, tilt float64) [3]vec {
	x := end.Sub(start).Unit()
	up := vec{0, 0, 1}
	if math.Abs(x[2]) > 0.999 {
		up = vec{1, 0, 0}
	}
	z := up.Sub(x.Scale(x.Dot(up))).Unit()
	turn := rotationMatrix(x.Scale(-tilt))
	z = turn.Apply(z)
	return [3]vec{x, z.Cross(x), z}
}

// przemieniecki is the 12×12 of a beam with shear in its own axes
// (Przemieniecki, Theory of Matrix Structural Analysis, 1968, eq. 5.116), order
// u v w θx θy θz at the start, then at the end.
func przemieniecki(length, young, shear, area, iy, iz, torsion, flexY, flexZ float64) *mat.SymDense {
	k := mat.NewSymDense(12, nil)
	pair := func(i int, v float64) {
		k.SetSym(i, i, v)
		k.SetSym(i+6, i+6, v)
		k.SetSym(i, i+6, -v)
	}
	pair(0, young*area/length)
	pair(3, shear*torsion/length)
	bend := func(v, turn int, inertia, flexibility, sign float64) {
		phi := 12 * young * inertia * flexibility / (shear * length * length)
		base := young * inertia / (1 + phi)
		pair(v, 12*base/(length*length*length))
		lever := sign * 6 * base / (length * length)
		k.SetSym(v, turn, lever)
		k.SetSym(v, turn+6, lever)
		k.SetSym(turn, v+6, -lever)
		k.SetSym(v+6, turn+6, -lever)
		k.SetSym(turn, turn, (4+phi)*base/length)
		k.SetSym(turn+6, turn+6, (4+phi)*base/length)
		k.SetSym(turn, turn+6, (2-phi)*base/length)
	}
	bend(1, 5, iz, flexY, 1)
	bend(2, 4, iy, flexZ, -1)
	return k
}

// inVehicleAxes is Tᵀ·k·T with the triad in four diagonal blocks.
func inVehicleAxes(k mat.Matrix, axes [3]vec) *mat.Dense {
	t := mat.NewDense(12, 12, nil)
	for b := 0; b < 12; b += 3 {
		for i := range 3 {
			for j := range 3 {
				t.Set(b+i, b+j, axes[i][j])
			}
		}
	}
	out := new(mat.Dense)
	out.Product(t.T(), k, t)
	return out
}

// linesMatrix is the 12×12 of an element at two points, from its lines.
func linesMatrix(t *testing.T, e Element, start, end vec) *mat.Dense {
	var lines Lines[float64]
	e.Kind.values(&e, e.Slots, vec{}, &lines)
	k := mat.NewDense(12, 12, nil)
	for l := range lines.Count {
		g := lines.Wrench[l]
		row := mat.NewDense(1, 12, nil)
		for n, p := range [2]vec{start, end} {
			sign := float64(2*n - 1)
			moment := rotation(&g).Sub(p.Cross(linear(&g)))
			for i := range 3 {
				row.Set(0, 6*n+i, sign*g[i])
				row.Set(0, 6*n+3+i, sign*moment[i])
			}
		}
		var outer mat.Dense
		outer.Mul(row.T(), row)
		outer.Scale(lines.Rate[l], &outer)
		k.Add(k, &outer)
	}
	return k
}

func compareMatrices(t *testing.T, what string, got, want mat.Matrix) {
	t.Helper()
	n, _ := want.Dims()
	for i := range n {
		for j := range n {
			scale := math.Sqrt(want.At(i, i) * want.At(j, j))
			if !near(got.At(i, j), want.At(i, j), sameMatrix, scale) {
				t.Errorf("%s: K[%d][%d] = %.12g, want %.12g", what, i, j, got.At(i, j), want.At(i, j))
				return
			}
		}
	}
}

// beamPlaces are lines of every kind: across, along, upright, skew.
func beamPlaces(rng *rand.Rand) [][2]vec {
	places := [][2]vec{{{270, 550, 310}, {270, -550, 310}}, {{0, 0, 0}, {400, 0, 0}}, {{10, 20, 300}, {10, 20, -100}}, {{10, 20, -100}, {10, 20, 300}}}
	for range 12 {
		a, b := vec{}, vec{}
		for i := range 3 {
			a[i], b[i] = 1000*(rng.Float64()-0.5), 1000*(rng.Float64()-0.5)
		}
		places = append(places, [2]vec{a, b})
	}
	return places
}

// The lines of a beam against the textbook's 12×12, with shear in each plane
// and principal axes turned by tilt.
func TestBeamIsTextbookMatrix(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for _, place := range beamPlaces(rng) {
		tilt := 360 * (rng.Float64() - 0.5)
		flexF, flexU := rng.Float64()/300, rng.Float64()/300
		e := element(t, Beam, "b", Centre, 0, 1, with(with(point("start", place[0]), point("end", place[1])), values{
			"tilt": tilt, "youngs_modulus": 200000, "poissons_ratio": 0.25, "area": 1100, "inertia_forward": 1.9e6, "inertia_up": 0.7e6,
			"shear_forward": flexF, "shear_up": flexU, "torsion_constant": 9300}))
		own := przemieniecki(place[1].Sub(place[0]).Norm(), 200000, 80000, 1100, 0.7e6, 1.9e6, 9300, flexF, flexU)
		want := inVehicleAxes(own, triad(place[0], place[1], tilt*math.Pi/180))
		compareMatrices(t, "textbook", linesMatrix(t, e, place[0], place[1]), want)
	}
}

// The same section written in axes turned by an angle, with products of inertia
// and of shear by similarity, and turned back by tilt, is the same beam.
func TestBeamWithTurnedSectionAxes(t *testing.T) {
	const iF, iU, sF, sU = 1.9e6, 0.7e6, 1 / 400.0, 1 / 250.0
	place := [2]vec{{270, 550, 310}, {250, -540, 330}}
	straight := with(with(point("start", place[0]), point("end", place[1])), values{"area": 1100, "torsion_constant": 9300,
		"inertia_forward": iF, "inertia_up": iU, "shear_forward": sF, "shear_up": sU, "tilt": 12,
		"centroid.f": 4, "centroid.u": -9, "shear_centre.f": -6, "shear_centre.u": 40})
	want := linesMatrix(t, element(t, Beam, "b", Centre, 0, 1, straight), place[0], place[1])
	for _, angle := range []float64{-170, -90, -45, -7, 0, 1e-9, 30, 45, 46, 90, 135, 180} {
		s, c := math.Sincos(angle * math.Pi / 180)
		tensor := func(f, u float64) (ff, uu, fu float64) {
			return c*c*f + s*s*u, s*s*f + c*c*u, c * s * (f - u)
		}
		iff, iuu, ifu := tensor(iF, iU)
		sff, suu, sfu := tensor(sF, sU)
		turned := with(straight, values{"tilt": 12 + angle, "inertia_forward": iff, "inertia_up": iuu, "inertia_mixed": ifu,
			"shear_forward": sff, "shear_up": suu, "shear_mixed": sfu,
			"centroid.f": 4*c + 9*s, "centroid.u": 4*s - 9*c, "shear_centre.f": -6*c - 40*s, "shear_centre.u": -6*s + 40*c})
		got := linesMatrix(t, element(t, Beam, "b", Centre, 0, 1, turned), place[0], place[1])
		compareMatrices(t, "turned section", got, want)
	}
}

// cantileverFlexibility is the motion of the end of a beam clamped at its start
// per load there, in own axes and in the order: along x at the centroid, along
// y and z at the shear centre, turns about x, y, z; bending and shear are full
// 2×2 tensors in y, z (direct integration: d = (L³/3·(EI)⁻¹ + L/G·S)·V + L²/2·(EI)⁻¹·M).
func cantileverFlexibility(length, young, shear, area, torsion float64, inertia, slide [3]float64) *mat.SymDense {
	det := young * (inertia[0]*inertia[2] - inertia[1]*inertia[1])
	bend := [2][2]float64{{inertia[2] / det, -inertia[1] / det}, {-inertia[1] / det, inertia[0] / det}}
	flex := [2][2]float64{{slide[0] / shear, slide[1] / shear}, {slide[1] / shear, slide[2] / shear}}
	turn := [2]int{5, 4}       // the turn that goes with a slope of y, of z
	sense := [2]float64{1, -1} // y' = θz, z' = −θy
	f := mat.NewSymDense(6, nil)
	f.SetSym(0, 0, length/(young*area))
	f.SetSym(3, 3, length/(shear*torsion))
	for i := range 2 {
		for j := range 2 {
			f.SetSym(1+i, 1+j, length*length*length/3*bend[i][j]+length*flex[i][j])
			f.SetSym(1+i, turn[j], length*length/2*bend[i][j]*sense[j])
			f.SetSym(turn[i], turn[j], length*bend[i][j]*sense[i]*sense[j])
		}
	}
	return f
}

// byFlexibility is the 12×12 of the flexibility method (Przemieniecki 1968, ch.
// 6): invert the cantilever, carry its loads to the node, and to the start by
// equilibrium.
func byFlexibility(f *mat.SymDense, length float64, centroid, shearCentre [2]float64) *mat.Dense {
	section := identity(6)         // motion of the node → motion at centroid and shear centre
	section.Set(0, 4, centroid[1]) // (θ × (0, y, z))_x = θy·z − θz·y
	section.Set(0, 5, -centroid[0])
	section.Set(1, 3, -shearCentre[1])
	section.Set(2, 3, shearCentre[0])
	rigid := identity(6) // motion of the start, felt at the end
	rigid.Set(1, 5, length)
	rigid.Set(2, 4, -length)
	var inverse, end mat.Dense
	if err := inverse.Inverse(f); err != nil {
		panic(err)
	}
	end.Product(section.T(), &inverse, section)
	relative := mat.NewDense(6, 12, nil) // end − rigid·start
	for i := range 6 {
		for j := range 6 {
			relative.Set(i, j, -rigid.At(i, j))
		}
		relative.Set(i, 6+i, 1)
	}
	k := new(mat.Dense)
	k.Product(relative.T(), &end, relative)
	return k
}

func identity(n int) *mat.Dense {
	m := mat.NewDense(n, n, nil)
	for i := range n {
		m.Set(i, i, 1)
	}
	return m
}

// Everything at once: shear tensor and inertia with mixed terms that do not
// share axes, centroid and shear centre off the line, tilt; against the
// flexibility method.
func TestBeamIsFlexibilityMethod(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	for _, place := range beamPlaces(rng) {
		tilt := 360 * (rng.Float64() - 0.5)
		inertia := [3]float64{1.9e6, 1e6 * (rng.Float64() - 0.5), 0.7e6}
		slide := [3]float64{1 / 420.0, 4e-3 * (rng.Float64() - 0.5), 1 / 230.0}
		centroid := [2]float64{20 * (rng.Float64() - 0.5), 20 * (rng.Float64() - 0.5)}
		shearCentre := [2]float64{90 * (rng.Float64() - 0.5), 90 * (rng.Float64() - 0.5)}
		e := element(t, Beam, "b", Centre, 0, 1, with(with(point("start", place[0]), point("end", place[1])), values{
			"tilt": tilt, "youngs_modulus": 200000, "poissons_ratio": 0.25, "area": 1100, "inertia_forward": inertia[0], "inertia_mixed": inertia[1], "inertia_up": inertia[2],
			"shear_forward": slide[0], "shear_mixed": slide[1], "shear_up": slide[2], "torsion_constant": 9300,
			"centroid.f": centroid[0], "centroid.u": centroid[1], "shear_centre.f": shearCentre[0], "shear_centre.u": shearCentre[1]}))
		length := place[1].Sub(place[0]).Norm()
		own := byFlexibility(cantileverFlexibility(length, 200000, 80000, 1100, 9300, inertia, slide), length, centroid, shearCentre)
		want := inVehicleAxes(own, triad(place[0], place[1], tilt*math.Pi/180))
		compareMatrices(t, "flexibility method", linesMatrix(t, e, place[0], place[1]), want)
	}
}

// at and ends_y place the same beam as its two ends.
func TestCrossMemberIsBeamBetweenItsEnds(t *testing.T) {
	ends := with(testBeam, values{"ends_y": 0, "start.x": 270, "start.y": 550, "start.z": 310, "end.x": 270, "end.y": -550, "end.z": 310})
	start, end := vec{270, 550, 310}, vec{270, -550, 310}
	want := linesMatrix(t, element(t, Beam, "b", Centre, 0, 1, ends), start, end)
	compareMatrices(t, "cross-member", linesMatrix(t, element(t, Beam, "b", Centre, 0, 1, testBeam), start, end), want)
}
