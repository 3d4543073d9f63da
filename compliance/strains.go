package compliance

// Lines is the length of a strain vector: the lines of all elements, in order.
func (s *Solver) Lines() int { return s.FirstLine(len(s.lines)) }

// FirstLine is the place of an element's first line in a strain vector.
func (s *Solver) FirstLine(element int) int {
	first := 0
	for i := range element {
		first += s.lines[i].Count
	}
	return first
}

// strains makes the strain of every line under each port current: 12×Lines.
func (s *Solver) strains() []float64 {
	if s.strained {
		return s.strain
	}
	z, n, first := s.motions(), s.Lines(), 0
	if len(s.strain) != n*Ports {
		s.strain, s.rate = make([]float64, n*Ports), make([]float64, n)
	}
	for i := range s.lines {
		lines := &s.lines[i]
		relative := s.relativeMotion(i, z)
		for l := range lines.Count {
			s.rate[first+l] = lines.Rate[l]
			row := s.lineStrain(i, l, &relative, z)
			for port, v := range row {
				s.strain[port*n+first+l] = v
			}
		}
		first += lines.Count
	}
	s.strained = true
	return s.strain
}

// relativeMotion is d_to − d_from of an element under each port.
func (s *Solver) relativeMotion(i int, z []float64) (relative [6]Port) {
	e := &s.axle.Elements[i]
	if e.To != Vehicle {
		for r := range relative {
			relative[r] = *(*Port)(z[(6*e.To+r)*Ports:])
		}
	}
	if e.From != Vehicle {
		for r := range relative {
			row := (*Port)(z[(6*e.From+r)*Ports:])
			for p := range row {
				relative[r][p] -= row[p]
			}
		}
	}
	return relative
}

// lineStrain is the strain of one line under each port.
func (s *Solver) lineStrain(i, l int, relative *[6]Port, z []float64) (strain Port) {
	e, lines := &s.axle.Elements[i], &s.lines[i]
	for r, g := range lines.Wrench[l] {
		if g == 0 {
			continue
		}
		for p, v := range relative[r] {
			strain[p] += g * v
		}
	}
	for end, body := range [2]int{e.From, e.To} {
		share := lines.Warp[l][end]
		if w := s.warping(body, share); w >= 0 {
			for p, v := range (*Port)(z[w*Ports:]) {
				strain[p] += share * v
			}
		}
	}
	return strain
}

// Strains writes the strain of every line (mm, rad) under port loads into e, of
// length Lines.
func (s *Solver) Strains(p *Port, e []float64) {
	rows, n := s.strains(), len(e)
	clear(e)
	var room [Ports]int
	ports := p.loaded(&room)
	for ; len(ports) > 1; ports = ports[2:] {
		f, g := p[ports[0]], p[ports[1]]
		first, second := rows[ports[0]*n:][:n], rows[ports[1]*n:][:n]
		for l := range e {
			e[l] += f*first[l] + g*second[l]
		}
	}
	for _, port := range ports {
		f, row := p[port], rows[port*n:][:n]
		for l := range e {
			e[l] += f * row[l]
		}
	}
}

// loaded lists the ports that are not zero.
func (p *Port) loaded(room *[Ports]int) []int {
	n := 0
	for port, load := range p {
		if load != 0 {
			room[n] = port
			n++
		}
	}
	return room[:n]
}
