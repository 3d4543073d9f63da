package section

// Along returns the place (mm) and the unit tangent at a fraction (0 to 1) of
// a wall's midline, followed from its first node.
func (p *Profile[T]) Along(wall int, fraction T) (at, tangent Point[T]) {
	s := p.line(wall).station(fraction)
	return s.at, s.tangent
}

// Length is the length of a wall's midline, mm.
func (p *Profile[T]) Length(wall int) T { return p.line(wall).length }

func (p *Profile[T]) line(wall int) *path[T] {
	w := &p.Walls[wall]
	line := newPath(p.Nodes[w.From], p.Nodes[w.To], w)
	return &line
}
