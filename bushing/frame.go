package bushing

import "bushtune/bushing/exact"

// Frame holds the unit vectors of the bush in vehicle axes: soft radial, axial,
// stiff radial, in this order.
type Frame[T exact.Number] [3]exact.Vec[T]

// Axes returns the sleeve frame, in which torsion and cones act, and the
// elastic frame, in which the three translational rates act. They are the same
// unless elastic_plan or elastic_lift are set.
func (b *Bush[T]) Axes(base Base) (sleeve, elastic Frame[T]) {
	sleeve = b.Sleeve(base)
	if b.ElasticPlan == 0 && b.ElasticLift == 0 {
		return sleeve, sleeve
	}
	return sleeve, sleeve.apply(turn(b.ElasticPlan, b.ElasticLift, 0))
}

// Sleeve turns the base triad. The longitudinal and vertical bases are the
// lateral one seen in permuted axes, which changes only the sense of the angles.
func (b *Mount[T]) Sleeve(base Base) Frame[T] {
	switch base {
	case Longitudinal:
		return permute(turn(-b.Plan, -b.Lift, b.Clock), func(v exact.Vec[T]) exact.Vec[T] { return exact.Vec[T]{v[1], v[0], -v[2]} })
	case Vertical:
		return permute(turn(b.LeanForward, -b.LeanOutboard, b.Clock), func(v exact.Vec[T]) exact.Vec[T] { return exact.Vec[T]{v[0], -v[2], v[1]} })
	case Explicit:
		a := b.Axis.Unit()
		s := b.SoftAxis.Sub(a.Scale(a.Dot(b.SoftAxis))).Unit()
		return Frame[T]{s, a, s.Cross(a)}.apply(turn(0, 0, b.Clock))
	}
	return turn(b.Plan, b.Lift, b.Clock)
}

// turn returns the columns of Rz(−plan)·Rx(lift)·Ry(clock): the lateral triad
// (x, y, z) turned. Its second column is (sin plan cos lift, cos plan cos lift, sin lift).
func turn[T exact.Number](plan, lift, clock T) Frame[T] {
	sp, cp := exact.Sincos(plan)
	sl, cl := exact.Sincos(lift)
	sc, cc := exact.Sincos(clock)
	return Frame[T]{
		{cc*cp + sc*sl*sp, sc*sl*cp - cc*sp, -sc * cl},
		{cl * sp, cl * cp, sl},
		{sc*cp - cc*sl*sp, -cc*sl*cp - sc*sp, cc * cl},
	}
}

// permute applies a fixed exchange of axes to each vector of a frame.
func permute[T exact.Number](f Frame[T], exchange func(exact.Vec[T]) exact.Vec[T]) Frame[T] {
	return Frame[T]{exchange(f[0]), exchange(f[1]), exchange(f[2])}
}

// apply expresses the columns of t, given in the frame f, in vehicle axes.
func (f Frame[T]) apply(t Frame[T]) Frame[T] {
	var g Frame[T]
	for i, v := range t {
		g[i] = f[0].Scale(v[0]).Add(f[1].Scale(v[1])).Add(f[2].Scale(v[2]))
	}
	return g
}

// Stiffness returns the 6×6 stiffness of the left bush at its centre in vehicle
// axes: force (N) and moment (N·mm) from displacement (mm) and rotation (rad).
// K = Σ rate·g·gᵀ over the six unit directions.
func (b *Bush[T]) Stiffness(base Base) [6][6]T {
	sleeve, elastic := b.Axes(base)
	rates := b.Rates()
	var k [6][6]T
	for i := range 3 {
		for r := range 3 {
			for c := range 3 {
				k[r][c] += rates[i] * elastic[i][r] * elastic[i][c]
				k[3+r][3+c] += rates[3+i] * sleeve[i][r] * sleeve[i][c]
			}
		}
	}
	return k
}
