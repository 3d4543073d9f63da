package section

import "bushtune/bushing/exact"

// Fibre is one place of the section where stresses can be largest.
type Fibre[T exact.Number] struct {
	At      Point[T] // mm, on the surface of the wall, in the drawing's axes
	Warping T        // mm²: warping at unit twist about the shear centre, of zero mean, through the wall included
	Midline T        // mm²: the same of the midline alone
	Shear   T        // mm: St Venant shear stress over G and twist per length: round the cells, and through the wall
}

// alongWall are the fractions of a wall at which fibres are taken: both ends of
// every wall, and an arc in eighths.
const alongWall = 8

// Fibres lists the places on both surfaces of every wall where a normal stress,
// linear over the section or as the warping, is largest, with the constants.
func (p *Profile[T]) Fibres() ([]Fibre[T], Constants[T], error) {
	c, err := p.Constants()
	if err != nil {
		return nil, c, err
	}
	var memory scratch[T]
	m, err := p.solve(&memory)
	if err != nil {
		return nil, c, err
	}
	var mean T
	for i := range m.paths {
		line := &m.paths[i]
		for j := line.first; j < line.last; j++ {
			mean += line.warpingAt(&m.stations[j]) * m.stations[j].piece * line.thickness / m.area
		}
	}
	lever := c.ShearCentre.minus(c.Centroid)
	var all []Fibre[T]
	for i := range m.paths {
		line := &m.paths[i]
		for k := 0; k <= alongWall; k++ {
			s := line.station(exact.Lift[T](float64(k) / alongWall))
			midline := line.warpingAt(&s) - mean + lever.cross(s.at)
			across := s.at.minus(lever).dot(s.tangent)
			for _, side := range [2]T{-0.5, 0.5} {
				out := side * line.thickness
				at := s.at.plus(Point[T]{-s.tangent.U, s.tangent.F}.times(out)).plus(c.Centroid)
				all = append(all, Fibre[T]{At: at, Warping: midline - out*across, Midline: midline, Shear: exact.Abs(line.flow[twisting])/line.thickness + line.thickness})
			}
		}
	}
	return all, c, nil
}
