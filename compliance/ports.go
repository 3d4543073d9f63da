package compliance

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"

	"bushtune/bushing/exact"
)

// Ports is the number of rows of the wheel compliance matrix: three
// displacements and three rotations at each wheel centre, left wheel first.
const Ports = 12

// PortNames are the words for the rows and columns, in order: as a column a
// force (N) or moment (N·mm), as a row a displacement (mm) or rotation (rad),
// in vehicle axes at the wheel centre.
var PortNames = [Ports]string{
	"left x", "left y", "left z", "left rx", "left ry", "left rz",
	"right x", "right y", "right z", "right rx", "right ry", "right rz",
}

// Port is a vector over the ports: loads, or motions of the wheels.
type Port [Ports]float64

// Dot is the work of loads (N, N·mm) on motions (mm, rad), in N·mm.
func (p *Port) Dot(q *Port) float64 {
	sum := 0.0
	for i := range p {
		sum += p[i] * q[i]
	}
	return sum
}

// condensePorts finds C = Bᵀ·K⁻¹·B + D, with D what the hubs give.
func (s *Solver) condensePorts() {
	s.moved, s.strained = false, false
	s.portLoads(s.ports)
	y := blas64.General{Rows: s.size, Cols: Ports, Stride: Ports, Data: s.ports}
	blas64.Trsm(blas.Left, blas.Trans, 1, s.triangle, y)
	gram(s.ports, s.size, &s.compliance)
	for wheel := range s.hubs {
		for i, row := range s.hubs[wheel].give {
			for j, give := range row {
				s.compliance[(6*wheel+3+hubAxes[i])*Ports+6*wheel+3+hubAxes[j]] += give
			}
		}
	}
}

// portLoads writes B, the wheel wrenches about the axle's centre as the hubs hand
// them on.
func (s *Solver) portLoads(b []float64) []float64 {
	clear(b)
	for wheel := range s.axle.Wheels {
		s.placePorts(wheel, b)
	}
	return b
}

// placePorts writes the six columns of one wheel: force and moment at the wheel
// centre as a wrench about the axle's centre, moments as its hub hands them on.
func (s *Solver) placePorts(wheel int, b []float64) {
	r := s.wheelCentre(wheel)
	row := func(i int) []float64 { return b[(6*s.axle.Wheels[wheel].Body+i)*Ports+6*wheel:] }
	for i := range 3 {
		row(i)[i] = 1
		for j, v := range s.hubs[wheel].onCarrier(unit(i)) {
			row(3 + j)[3+i] = v
		}
	}
	row(3)[1], row(3)[2] = -r[2], r[1]
	row(4)[0], row(4)[2] = r[2], -r[0]
	row(5)[0], row(5)[1] = -r[1], r[0]
}

// wheelCentre is the centre of a wheel from the axle's centre, in mm.
func (s *Solver) wheelCentre(wheel int) exact.Vec[float64] {
	w := s.axle.Wheels[wheel].Slots
	return sided(exact.Vec[float64]{w[0], w[1], w[2]}, wheel).Sub(s.centre)
}

// gram writes the symmetric product yᵀ·y of an n×12 matrix.
func gram(y []float64, n int, c *[Ports * Ports]float64) {
	clear(c[:])
	for k := range n {
		row := (*[Ports]float64)(y[k*Ports:])
		for i, a := range row {
			if a == 0 {
				continue
			}
			out := (*[Ports]float64)(c[i*Ports:])
			for j := i; j < Ports; j++ {
				out[j] += a * row[j]
			}
		}
	}
	for i := range Ports {
		for j := range i {
			c[i*Ports+j] = c[j*Ports+i]
		}
	}
}

// Compliance returns the 12×12 wheel compliance matrix C by rows, pads floating:
// motion of the wheels from loads on them, rows and columns as PortNames, in mm
// and rad per N and N·mm. Symmetric and positive semi-definite.
func (s *Solver) Compliance() *[Ports * Ports]float64 { return &s.compliance }

// Motion returns the motion of the wheels (mm, rad) under loads (N, N·mm), pads
// floating: C·p.
func (s *Solver) Motion(p *Port) Port {
	var q Port
	for j, load := range p {
		if load == 0 {
			continue
		}
		row := (*[Ports]float64)(s.compliance[j*Ports:]) // C is symmetric: row j is column j
		for i := range q {
			q[i] += load * row[i]
		}
	}
	return q
}
