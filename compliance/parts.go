package compliance

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"

	"bushtune/bushing"
)

// PartKind says what kind of thing a part of a number is.
type PartKind int

// The kinds of part.
const (
	LinePart  PartKind = iota // one rate of one element
	LeverPart                 // an element's load at rest, through its lever
	WheelPart                 // the wheel's load at rest
	HubPart                   // compliance of bearing and carrier
)

// Part names one contribution to a number.
type Part struct {
	Kind    PartKind
	Element int // index, or LeftWheel, RightWheel for WheelPart and HubPart
	Line    int // for LinePart
}

// PartList lists the parts in the order in which Parts writes them. With a
// static load there is also what each load at rest does.
func (s *Solver) PartList() []Part {
	var parts []Part
	for i := range s.lines {
		for l := range s.lines[i].Count {
			parts = append(parts, Part{LinePart, i, l})
		}
		if s.loaded {
			parts = append(parts, Part{LeverPart, i, 0})
		}
	}
	for wheel := range s.axle.Wheels {
		if s.axle.Static != nil {
			parts = append(parts, Part{WheelPart, -1 - wheel, 0})
		}
		parts = append(parts, Part{HubPart, -1 - wheel, 0})
	}
	return parts
}

// motions makes K⁻¹·B current: the motion of every freedom under each port.
func (s *Solver) motions() []float64 {
	if !s.moved {
		copy(s.motion, s.ports)
		y := blas64.General{Rows: s.size, Cols: Ports, Stride: Ports, Data: s.motion}
		blas64.Trsm(blas.Left, blas.NoTrans, 1, s.triangle, y)
		s.moved = true
	}
	return s.motion
}

// Displacement writes the motion of every freedom under port loads into u, of
// length Freedoms: for each body displacement at the axle's centre (mm) and
// rotation (rad).
func (s *Solver) Displacement(p *Port, u []float64) {
	z := s.motions()
	clear(u)
	var room [Ports]int
	ports := p.loaded(&room)
	for ; len(ports) > 1; ports = ports[2:] {
		a, b := ports[0], ports[1]
		f, g := p[a], p[b]
		for i := range u {
			row := (*Port)(z[i*Ports:])
			u[i] += f*row[a] + g*row[b]
		}
	}
	for _, port := range ports {
		for i := range u {
			u[i] += p[port] * z[i*Ports+port]
		}
	}
}

// Freedoms is the length of a displacement vector.
func (s *Solver) Freedoms() int { return s.size }

// Parts splits the number aᵀ·C·f, with a and f loads on the ports, by the
// unit-load theorem (Przemieniecki, Theory of Matrix Structural Analysis, 1968,
// ch. 3): part = k·e_a·e_f, signed, in the unit of the number. The parts sum to
// it, and without a static load each is −∂number/∂ln k. ea and ef are the strains under
// a and f; out has the length and order of PartList.
func (s *Solver) Parts(a, f *Port, ea, ef, out []float64) {
	n := len(ea)
	if s.loaded {
		n = s.loadedParts(a, f, ea, ef, out)
	} else {
		s.strains()
		lineParts(s.rate, ea, ef, out)
	}
	for wheel, w := range s.axle.Wheels {
		h, onA, onF := &s.hubs[wheel], momentAt(a, wheel), momentAt(f, wheel)
		var turnA, turnF vec
		if s.axle.Static != nil {
			turnA, turnF = bodyRotation(s.moves[0], w.Body), bodyRotation(s.moves[1], w.Body)
		}
		own := h.strained(turnA, onA, turnF, onF)
		if s.axle.Static != nil {
			out[n] = h.stiffness(turnA, turnF) + h.yielded(onA, onF) - own
			n++
		}
		out[n] = own
		n++
	}
}

// loadedParts writes the parts of lines and of loads at rest, element by element,
// and returns how many.
func (s *Solver) loadedParts(a, f *Port, ea, ef, out []float64) int {
	s.Displacement(a, s.moves[0])
	s.Displacement(f, s.moves[1])
	n, line := 0, 0
	for i := range s.lines {
		next := line + s.lines[i].Count
		lineParts(s.lines[i].Rate[:], ea[line:next], ef[line:next], out[n:])
		crossParts(s.lines[i].Cross, ea[line:next], ef[line:next], out[n:])
		p, q := s.ends(i, s.moves[0]), s.ends(i, s.moves[1])
		n += next - line
		out[n] = s.staticForm(i, &p, &q)
		n, line = n+1, next
	}
	return n
}

// lineParts is rate·e_a·e_f of each line.
func lineParts(rate, ea, ef, out []float64) {
	rate, ef, out = rate[:len(ea)], ef[:len(ea)], out[:len(ea)]
	for l, e := range ea {
		out[l] = rate[l] * e * ef[l]
	}
}

// crossParts adds to soft and stiff one half each of what couples them.
func crossParts(cross float64, ea, ef, out []float64) {
	if cross == 0 {
		return
	}
	half := 0.5 * cross * (ea[bushing.Soft]*ef[bushing.Stiff] + ea[bushing.Stiff]*ef[bushing.Soft])
	out[bushing.Soft] += half
	out[bushing.Stiff] += half
}

// momentAt is the moment of port loads about a wheel centre.
func momentAt(p *Port, wheel int) vec { return vec(p[6*wheel+3 : 6*wheel+6]) }

func bodyRotation(u []float64, body int) vec { return vec(u[6*body+3 : 6*body+6]) }

// LineLoads writes load (N, N·mm) and strain (mm, rad) of every line of an
// element under the displacement u: what a load case adds to the load at rest.
func (s *Solver) LineLoads(element int, u []float64, load, strain *[maxLines]float64) {
	lines := &s.lines[element]
	m := s.ends(element, u)
	for l := range lines.Count {
		strain[l] = m.strain(lines, l)
	}
	s.Loads(element, strain[:lines.Count], load[:lines.Count])
}

// Loads writes what the lines of an element gain (N, N·mm) by strains (mm, rad)
// from the design position.
func (s *Solver) Loads(element int, strain, load []float64) {
	lines := &s.lines[element]
	for l, e := range strain {
		load[l] = lines.Rate[l] * e
	}
	if lines.Cross != 0 {
		load[bushing.Soft] += lines.Cross * strain[bushing.Stiff]
		load[bushing.Stiff] += lines.Cross * strain[bushing.Soft]
	}
}

// Rate returns the rate of one line of an element, in N/mm or N·mm/rad.
func (s *Solver) Rate(element, line int) float64 { return s.lines[element].Rate[line] }

// LineCount returns how many lines an element has.
func (s *Solver) LineCount(element int) int { return s.lines[element].Count }
