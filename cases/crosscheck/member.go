package crosscheck

import (
	"math"

	"bushtune/bushing/exact"
	"bushtune/compliance"
	"bushtune/compliance/section"
)

// MemberLoad is a unit load case of the cross-member alone that isolates one of
// its stiffnesses: force (N) and moment (N·mm) on the right end at the profile's
// origin, the left end fixed.
type MemberLoad struct {
	Name string
	Load [6]float64
}

// MemberLoads are a twist; couples and shear forces in both bending planes and in
// the one half way between them, where the mixed terms of a section show; and
// tension. Tension pulls at the centroid. The shear force acts through the shear
// centre at mid-span, held by a rigid arm, so that both ends turn alike and
// bending does not drown the shear.
func MemberLoads(m Member, c *section.Constants[float64]) []MemberLoad {
	force := func(f Point, at section.Point[float64], along float64) (load [6]float64) {
		arm := exact.Vec[float64]{at.F, along, at.U}
		return exact.Force(exact.Vec[float64](f), arm)
	}
	forward, upward, between := Point{1, 0, 0}, Point{0, 0, 1}, Point{math.Sqrt2 / 2, 0, math.Sqrt2 / 2}
	return []MemberLoad{
		{"twist", [6]float64{4: 1}},
		{"couple in the vertical plane", [6]float64{3: 1}},
		{"couple in the plan", [6]float64{5: 1}},
		{"couple between", [6]float64{3: between[2], 5: -between[0]}},
		{"shear forward", force(forward, c.ShearCentre, m.HalfSpan)},
		{"shear upward", force(upward, c.ShearCentre, m.HalfSpan)},
		{"shear between", force(between, c.ShearCentre, m.HalfSpan)},
		{"tension", force(Point{0, 1, 0}, c.Centroid, 0)},
	}
}

// work is the movement under a load, along that load.
func work(flexibility [6][6]float64, load [6]float64) float64 {
	sum := 0.0
	for i, row := range flexibility {
		for j, f := range row {
			sum += load[i] * f * load[j]
		}
	}
	return sum
}

// BeamFlexibility is the flexibility of the cross-member alone as a beam, in the
// terms of Reference.Member.
func BeamFlexibility(model *compliance.Axle) (flexibility [6][6]float64, err error) {
	s, err := compliance.NewSolver(model)
	if err != nil {
		return flexibility, err
	}
	c := s.Compliance()
	for i := range flexibility {
		copy(flexibility[i][:], c[(6+i)*compliance.Ports+6:])
	}
	return flexibility, nil
}
