package section

import "bushtune/bushing/exact"

// midline is a profile cut into stations of quadrature, about its centroid.
type midline[T exact.Number] struct {
	paths    []path[T]
	stations []station[T]
	area     T        // mm²
	centroid Point[T] // mm, in the drawing's axes
}

// scratch is the working memory of one evaluation. Small profiles fit into it
// and need no allocation; larger ones take theirs from the heap.
type scratch[T exact.Number] struct {
	paths       [8]path[T]
	stations    [32]station[T]
	conductance [64]T
	supply      [8]perCause[T]
	warping     [8]perCause[T]
}

// follow lays out the midline of a checked profile, moves its origin to the
// centroid and samples it. There is room for every path and station.
func (m *midline[T]) follow(p *Profile[T]) {
	var moment Point[T]
	for i := range m.paths {
		w := &p.Walls[i]
		line := newPath(p.Nodes[w.From], p.Nodes[w.To], w)
		m.paths[i] = line
		m.area += line.length * line.thickness
		moment = moment.plus(line.end().moment.times(line.thickness))
	}
	m.centroid = moment.times(1 / m.area)
	next := 0
	for i := range m.paths {
		line := &m.paths[i]
		line.start = line.start.minus(m.centroid)
		line.first = next
		next += line.sample(m.stations[next:])
		line.last = next
	}
}

// stations counts the points of quadrature of all walls.
func (p *Profile[T]) stations() int {
	count := 0
	for i := range p.Walls {
		count += len(gaussRule(exact.Real(p.Walls[i].Angle)))
	}
	return count
}

// flow solves the three shear problems on the network of walls: every path
// gets its shear flows and warping at the first node.
func (m *midline[T]) flow(p *Profile[T], n *network[T]) error {
	for i := range m.paths {
		line := &m.paths[i]
		end := line.end()
		line.drop = m.drop(line, end.sector)
		lost := perCause[T]{forward: end.moment.F * line.thickness, upward: end.moment.U * line.thickness}
		n.join(&p.Walls[i], line.thickness/line.length, line.drop, lost)
	}
	if err := n.solve(); err != nil {
		return err
	}
	for i := range m.paths {
		line, w := &m.paths[i], &p.Walls[i]
		from, to := n.warping[w.From], n.warping[w.To]
		line.warping = from[twisting]
		for c := range line.flow {
			line.flow[c] = line.thickness / line.length * (to[c] - from[c] + line.drop[c])
		}
	}
	return nil
}

// drop is the path's own part of the warping from its first to its second
// node, given the sector that it sweeps.
func (m *midline[T]) drop(line *path[T], sector T) perCause[T] {
	drop := perCause[T]{twisting: sector}
	for i := line.first; i < line.last; i++ {
		s := &m.stations[i]
		drop[forward] += s.moment.F * s.piece
		drop[upward] += s.moment.U * s.piece
	}
	return drop
}
