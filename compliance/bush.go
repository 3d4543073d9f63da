package compliance

import (
	"fmt"
	"math"

	"bushtune/bushing"
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Bush is a rubber bush between two bodies: six lines at its centre.
var Bush = &Kind{
	Table: "bush", Meaning: "a rubber bush: six rates at one point, turned in space",
	Fields: bushing.Fields, Lines: bushing.DirectionNames,
	Released:  []bool{false, false, false, true, true, true},
	RateSlots: []int{mountSlots, mountSlots + 1, mountSlots + 2, mountSlots + 3, mountSlots + 4, mountSlots + 5},
	values:    plainBush[float64], exact: plainBush[complex128], check: checkBush,
	bush: func(e *Element) bushing.Bush[float64] { return bushing.New(e.Slots) },
}

// Bush is the bush that an element is, left-hand, however the file gives it:
// its rates, stops and limits. It is false for what is no bush, and for one
// given by a full matrix, which has no axes of its own.
func (e *Element) Bush() (bushing.Bush[float64], bool) {
	if e.Kind.bush == nil {
		return bushing.Bush[float64]{}, false
	}
	return e.Kind.bush(e), true
}

func plainBush[T exact.Number](e *Element, slots []T, centre exact.Vec[T], out *Lines[T]) {
	b := bushing.New(slots)
	bushLines(e, &b, centre, out)
}

// bushLines writes force lines along the elastic axes and moment lines about
// the sleeve axes. Laws and angles are those of the inner sleeve against the
// outer, lines those of To against From: with the outer sleeve on To they turn
// their sign.
func bushLines[T exact.Number](e *Element, b *bushing.Bush[T], centre exact.Vec[T], out *Lines[T]) {
	sleeve, elastic := b.Axes(e.Choice.Base)
	rates, loads := b.Rates(), b.StaticLoads()
	at := b.At.Sub(centre)
	for i := range 3 {
		out.add(rates[i], exact.Force(elastic[i], at))
	}
	for i := range 3 {
		out.add(rates[3+i], exact.Moment(sleeve[i]))
	}
	copy(out.Load[:], loads[:])
	out.Anchor = sleeveAnchor(e, at)
	if b.Curved(e.Choice.Curves) {
		bendBush(e, b, out)
	}
	sense := exact.Lift[T](e.Choice.InnerSense())
	for i := range loads {
		out.Load[i] *= sense
	}
}

// bendBush replaces the straight lines of a bush by its laws.
func bendBush[T exact.Number](e *Element, b *bushing.Bush[T], out *Lines[T]) {
	for i, law := range b.Laws(e.Choice.Curves) {
		if i == int(bushing.Torsion) {
			out.Load[i] = law.Load(b.TightenedAt)
		}
		if !e.Choice.OuterIsFrom {
			law = law.Flipped()
		}
		out.Law[i] = law
		out.Rate[i] = law.Slope(0)
		out.AtZero[i] = out.Rate[i]
	}
	out.Curved = true
	out.Radial = b.Radial(e.Choice.Curves)
}

// InnerSense is 1 if the inner sleeve of a bush is on To, −1 if it is on From:
// loads of a bush are written for the inner sleeve moving against the outer, a
// line's strain is that of To against From.
func (c Choice) InnerSense() float64 {
	if c.OuterIsFrom {
		return 1
	}
	return -1
}

// sleeveAnchor holds both bodies at one point, with force axes that turn with
// the outer sleeve, to which the voids are bonded.
func sleeveAnchor[T exact.Number](e *Element, at exact.Vec[T]) Anchor[T] {
	lean := 1.0
	if e.Choice.OuterIsFrom {
		lean = 0
	}
	return Anchor[T]{From: at, To: at, Lean: lean}
}

func checkBush(e *Element) error {
	b := bushing.New(e.Slots)
	if err := b.CheckCurves(e.Choice.Curves); err != nil {
		return err
	}
	return checkMount(e)
}

// checkMount wants explicit axes that differ.
func checkMount(e *Element) error {
	b := bushing.NewMount(e.Slots)
	if e.Choice.Base != bushing.Explicit {
		return nil
	}
	if b.Axis.Cross(b.SoftAxis).Norm() <= 1e-9*b.Axis.Norm()*b.SoftAxis.Norm() {
		return fmt.Errorf("axis and soft_axis must be two directions that differ, got %v and %v", b.Axis, b.SoftAxis)
	}
	return nil
}

// BushMatrix is a bush given by its full symmetric 6×6 stiffness in the bush
// frame (soft, axial, stiff; forces N from mm and rad, moments N·mm).
var BushMatrix = &Kind{
	Table: "bush", Variant: "matrix", Meaning: "a bush given by its full symmetric 6×6 stiffness in its own axes",
	Fields: matrixFields(), Lines: []string{"coupled 1", "coupled 2", "coupled 3", "coupled 4", "coupled 5", "coupled 6"},
	Released: []bool{false, false, false, true, true, true},
	values:   matrixLines[float64], exact: matrixLines[complex128], check: checkMatrix,
}

// mountSlots is the number of slots that place a bush, before its rates.
var mountSlots = len(bushing.MountFields)

// matrixFields places the bush and lists the upper triangle row by row.
func matrixFields() []quantity.Field {
	fields := append([]quantity.Field(nil), bushing.MountFields...)
	units := [3]quantity.Unit{quantity.NewtonPerMillimetre, quantity.NewtonPerRadian, quantity.NewtonMetrePerRadian}
	for r := range 6 {
		for c := r; c < 6; c++ {
			fields = append(fields, quantity.Field{
				Name: fmt.Sprintf("matrix.%d%d", r+1, c+1), Unit: units[r/3+c/3], Min: -1e9, Max: 1e9,
				Meaning: "stiffness between directions of the bush frame: soft, axial, stiff, then rotations about them",
			})
		}
	}
	return fields
}

// matrixLines splits K = L·D·Lᵀ: the last three lines are pure moments, which a
// static load releases.
func matrixLines[T exact.Number](e *Element, slots []T, centre exact.Vec[T], out *Lines[T]) {
	mount := bushing.NewMount(slots)
	sleeve := mount.Sleeve(e.Choice.Base)
	at := mount.At.Sub(centre)
	pivots, columns := splitMatrix(slots[mountSlots:])
	for i := range 6 {
		out.add(pivots[i], bushWrench(sleeve, &columns[i], at))
	}
	out.Anchor = sleeveAnchor(e, at)
}

// bushWrench turns a wrench at the bush centre in bush axes into one about the
// axle's centre in vehicle axes.
func bushWrench[T exact.Number](f bushing.Frame[T], w *exact.Wrench[T], at exact.Vec[T]) exact.Wrench[T] {
	var force, moment exact.Vec[T]
	for i := range 3 {
		force = force.Add(f[i].Scale(w[i]))
		moment = moment.Add(f[i].Scale(w[3+i]))
	}
	g := exact.Force(force, at)
	for i := range 3 {
		g[3+i] += moment[i]
	}
	return g
}

// pivotRounding is what elimination leaves of a pivot that is zero, as a share
// of its diagonal: a matrix of less than full rank gives such pivots.
const pivotRounding = 1e-12

// splitMatrix returns d and columns u with K = Σ d_i·u_i·u_iᵀ for the upper
// triangle of a symmetric 6×6: a square-root-free Cholesky that starts at the
// first row, so that columns 4 to 6 have no force. A direction without a rate of
// its own couples with nothing.
func splitMatrix[T exact.Number](upper []T) (d [6]T, u [6]exact.Wrench[T]) {
	k := symmetricOf(upper)
	diagonal := [6]T{k[0][0], k[1][1], k[2][2], k[3][3], k[4][4], k[5][5]}
	for i := range 6 {
		d[i], u[i][i] = k[i][i], 1
		if math.Abs(exact.Real(d[i])) <= pivotRounding*exact.Real(diagonal[i]) {
			continue
		}
		for r := i + 1; r < 6; r++ {
			u[i][r] = k[r][i] / d[i]
		}
		for r := i; r < 6; r++ {
			for c := i; c < 6; c++ {
				k[r][c] -= d[i] * u[i][r] * u[i][c]
			}
		}
	}
	return d, u
}

// symmetricOf fills a 6×6 from its upper triangle by rows.
func symmetricOf[T exact.Number](upper []T) (k [6][6]T) {
	n := 0
	for r := range 6 {
		for c := r; c < 6; c++ {
			k[r][c], k[c][r] = upper[n], upper[n]
			n++
		}
	}
	return k
}

// checkMatrix wants a matrix without negative energy: no negative pivot, and
// nothing that its lines do not give back, as a coupling without a rate.
func checkMatrix(e *Element) error {
	if err := checkMount(e); err != nil {
		return err
	}
	k := symmetricOf(e.Slots[mountSlots:])
	pivots, columns := splitMatrix(e.Slots[mountSlots:])
	for i, d := range pivots {
		if d < -pivotRounding*math.Abs(k[i][i]) {
			return fmt.Errorf("the 6×6 matrix gives negative energy (pivot %d is %.3g); a stiffness matrix must be positive semi-definite", i+1, d)
		}
		for c := i + 1; c < 6; c++ {
			back := 0.0
			for l := range pivots {
				back += pivots[l] * columns[l][i] * columns[l][c]
			}
			if math.Abs(back-k[i][c]) > 1e3*pivotRounding*math.Sqrt(k[i][i]*k[c][c]) {
				return fmt.Errorf("the 6×6 matrix gives negative energy: matrix.%d%d couples directions of which one has no rate left; a stiffness matrix must be positive semi-definite", i+1, c+1)
			}
		}
	}
	return nil
}
