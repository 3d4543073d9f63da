package section_test

import (
	"math"
	"slices"
)

// St Venant's torsion of a junction of walls as the two-dimensional problem that it
// is: −∇²φ = 2 inside, φ = 0 on the faces, J = 2∫φ dA (Prandtl; Timoshenko & Goodier,
// Theory of Elasticity). Linear triangles, graded toward the corners as their
// singularity asks. It shares nothing with the package.

// stub is a wall that leaves the junction: its direction, its thickness, and how far
// its midline is followed. The walls are in the order of their directions.
type stub struct{ angle, thickness, length float64 }

type place struct{ f, u float64 }

func (p place) plus(q place, by float64) place { return place{p.f + by*q.f, p.u + by*q.u} }

// ray is the unit vector of a direction.
func ray(angle float64) place { return place{math.Cos(angle), math.Sin(angle)} }

// junctionMesh is a mesh of triangles that grows patch by patch.
type junctionMesh struct {
	nodes     []place
	held      []bool // on a face
	triangles [][3]int
	at        map[[2]int64]int
	face      map[int]int     // nodes on the face of a hole: the one that stands for all
	holes     map[int]float64 // area that it carries, mm²
}

func (m *junctionMesh) node(p place) int {
	key := [2]int64{int64(math.Round(p.f * 1e8)), int64(math.Round(p.u * 1e8))}
	if i, found := m.at[key]; found {
		return i
	}
	m.nodes, m.held = append(m.nodes, p), append(m.held, false)
	m.at[key] = len(m.nodes) - 1
	return len(m.nodes) - 1
}

// patch fills a quadrilateral a, b, c, d between rows from a–b to d–c.
func (m *junctionMesh) patch(a, b, c, d place, across, along []float64, faces bool) {
	var before []int
	for _, v := range along {
		var row []int
		for j, s := range across {
			low, high := a.plus(b.plus(a, -1), s), d.plus(c.plus(d, -1), s)
			n := m.node(low.plus(high.plus(low, -1), v))
			if faces && (j == 0 || j == len(across)-1) {
				m.held[n] = true
			}
			row = append(row, n)
		}
		for j := range len(row) - 1 {
			if before != nil {
				m.triangles = append(m.triangles, [3]int{before[j], before[j+1], row[j+1]}, [3]int{before[j], row[j+1], row[j]})
			}
		}
		before = row
	}
}

// graded runs from 0 to 1 in n steps, close together at 0.
func graded(n int, power float64) []float64 {
	var all []float64
	for i := range n + 1 {
		all = append(all, math.Pow(float64(i)/float64(n), power))
	}
	return all
}

// gradedBy is how sharply the mesh is graded: a re-entrant corner of 330 deg asks for
// at least 11/6.
const gradedBy = 2

// torsionOf is J of the stubs, cut where the stress has become that of a long wall.
// Where ends are held the walls end there.
func torsionOf(stubs []stub, n int, heldEnds bool) float64 {
	m := &junctionMesh{at: map[[2]int64]int{}}
	half, across := graded(n/2, gradedBy), acrossWall(n)
	corners := make([]place, len(stubs)) // between each wall and the next
	for i := range stubs {
		corners[i] = between2(stubs[i], stubs[(i+1)%len(stubs)])
	}
	for i, w := range stubs {
		right, left := corners[(i+len(stubs)-1)%len(stubs)], corners[i]
		d := ray(w.angle)
		end, side := place{}.plus(d, w.length), place{-d.u, d.f}
		m.patch(right, left, end.plus(side, w.thickness/2), end.plus(side, -w.thickness/2), across, graded(3*n, gradedBy), true)
		if heldEnds {
			for _, s := range across {
				m.held[m.node(end.plus(side, w.thickness*(s-0.5)))] = true
			}
		}
		if len(stubs) > 2 {
			var centre place
			for _, c := range corners {
				centre = centre.plus(c, 1/float64(len(corners)))
			}
			next := corners[(i+1)%len(corners)]
			m.patch(left, left.plus(right.plus(left, -1), 0.5), centre, left.plus(next.plus(left, -1), 0.5), half, half, false)
		}
	}
	return m.solve()
}

// between2 is where the left face of a wall meets the right face of the next.
func between2(w, next stub) place {
	a, b := ray(w.angle), ray(next.angle)
	p, q := place{}.plus(place{-a.u, a.f}, w.thickness/2), place{}.plus(place{-b.u, b.f}, -next.thickness/2)
	cross := a.f*b.u - a.u*b.f
	if math.Abs(cross) < 1e-9 { // straight on
		return p
	}
	r := q.plus(p, -1)
	return p.plus(a, (r.f*b.u-r.u*b.f)/cross)
}

// solve finds 2∫φ by conjugate gradients.
func (m *junctionMesh) solve() float64 {
	n := len(m.nodes)
	type entry struct {
		column int
		value  float64
	}
	rows := make([][]entry, n)
	load := make([]float64, n)
	stands := make([]int, n) // for each node
	for i := range stands {
		stands[i] = i
		if one, tied := m.face[i]; tied && one != i {
			stands[i], rows[i], m.held[i] = one, []entry{{i, 1}}, true
		}
	}
	for _, t := range m.triangles {
		a, b, c := m.nodes[t[0]], m.nodes[t[1]], m.nodes[t[2]]
		double := (b.f-a.f)*(c.u-a.u) - (b.u-a.u)*(c.f-a.f)
		grad := [3]place{{b.u - c.u, c.f - b.f}, {c.u - a.u, a.f - c.f}, {a.u - b.u, b.f - a.f}}
		for i := range 3 {
			row := stands[t[i]]
			load[row] += math.Abs(double) / 6
			for j := range 3 {
				k := (grad[i].f*grad[j].f + grad[i].u*grad[j].u) / (2 * math.Abs(double))
				column := stands[t[j]]
				at := slices.IndexFunc(rows[row], func(e entry) bool { return e.column == column })
				if at < 0 {
					rows[row] = append(rows[row], entry{column, k})
				} else {
					rows[row][at].value += k
				}
			}
		}
	}
	x, r, z, p, q := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i, area := range m.holes {
		load[i] += area
	}
	diagonal := make([]float64, n)
	for i, row := range rows {
		for _, e := range row {
			if e.column == i {
				diagonal[i] = e.value
			}
		}
		if !m.held[i] {
			r[i] = 2 * load[i]
		}
	}
	dot := func(a, b []float64) (sum float64) {
		for i := range a {
			sum += a[i] * b[i]
		}
		return sum
	}
	rho, first := 0.0, 0.0
	for step := range 20 * n {
		for i := range z {
			z[i] = r[i] / diagonal[i]
		}
		old := rho
		rho = dot(r, z)
		if step == 0 {
			first = rho
		}
		if rho <= 1e-20*first {
			break
		}
		for i := range p {
			if step == 0 {
				p[i] = z[i]
			} else {
				p[i] = z[i] + rho/old*p[i]
			}
		}
		for i, row := range rows {
			q[i] = 0
			if m.held[i] {
				continue
			}
			for _, e := range row {
				q[i] += e.value * p[e.column]
			}
		}
		alpha := rho / dot(p, q)
		for i := range x {
			x[i] += alpha * p[i]
			r[i] -= alpha * q[i]
		}
	}
	return 2 * dot(x, load)
}

// acrossWall are the places of the nodes across a wall, close together at both faces.
func acrossWall(n int) []float64 {
	half := graded(n/2, gradedBy)
	var across []float64
	for _, s := range half {
		across = append(across, s/2)
	}
	for i := len(half) - 2; i >= 0; i-- {
		across = append(across, 1-half[i]/2)
	}
	return across
}

// gainOf is what a junction adds to Σ b·t³/3 of its midlines, in mm⁴. What the mesh
// takes from a long wall, ⅓Σh³ of its length, is put back; the rest of the error
// falls with the square of the step.
func gainOf(stubs []stub, n int) float64 {
	gain := func(n int) float64 {
		share, across := 1.0, acrossWall(n)
		for i := range across[1:] {
			share -= math.Pow(across[i+1]-across[i], 3)
		}
		sum := torsionOf(stubs, n, false)
		for _, w := range stubs {
			sum -= w.length * math.Pow(w.thickness, 3) / 3 * share
		}
		return sum
	}
	return (4*gain(2*n) - gain(n)) / 3
}

// cornerStubs are two walls that enclose an angle, followed until the corner is forgotten.
func cornerStubs(angle, first, second float64) []stub {
	stubs := []stub{{0, first, 0}, {angle, second, 0}}
	return followed(stubs)
}

// followed lets every wall run three times the largest thickness beyond its corners.
func followed(stubs []stub) []stub {
	thickest := 0.0
	for _, w := range stubs {
		thickest = max(thickest, w.thickness)
	}
	for i := range stubs {
		d := ray(stubs[i].angle)
		for _, c := range [2]place{between2(stubs[i], stubs[(i+1)%len(stubs)]), between2(stubs[(i+len(stubs)-1)%len(stubs)], stubs[i])} {
			stubs[i].length = max(stubs[i].length, c.f*d.f+c.u*d.u+3*thickest)
		}
	}
	return stubs
}
