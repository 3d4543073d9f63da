package section

import (
	"math"
	"testing"
)

// solved returns the midline of a profile with its shear flows.
func solved(t *testing.T, p *Profile[float64]) *midline[float64] {
	t.Helper()
	m := midline[float64]{paths: make([]path[float64], len(p.Walls)), stations: make([]station[float64], p.stations())}
	m.follow(p)
	nodes := len(p.Nodes)
	n := network[float64]{make([]float64, nodes*nodes), make([]perCause[float64], nodes), make([]perCause[float64], nodes)}
	if err := m.flow(p, &n); err != nil {
		t.Fatal(err)
	}
	return &m
}

// finned is a closed cell with a common wall, a bent wall and two fins.
func finned() *Profile[float64] {
	var p Profile[float64]
	p.DrawBox(90, 50, 3)
	p.AddArc(0, 2, 2, 0.8)
	p.AddArc(1, p.AddNode(80, 60), 4, -1.2)
	p.AddWall(3, p.AddNode(-70, -10), 5)
	return &p
}

// Shear flow is in balance: it adds up to the force ∫g·(f,u) dA that its cause
// stands for, its moment passes through the shear centre (which the package
// finds from the warping instead: reciprocity), and it vanishes at free edges.
func TestShearFlowBalance(t *testing.T) {
	const balance = 1e-12
	p := finned()
	m := solved(t, p)
	c, err := p.Constants()
	if err != nil {
		t.Fatal(err)
	}
	var force [2]Point[float64]
	var moment Point[float64]
	for i := range m.paths {
		line := &m.paths[i]
		for j := line.first; j < line.last; j++ {
			s := &m.stations[j]
			q := line.shearFlow(s)
			force[0] = force[0].plus(s.tangent.times(q.F * s.piece))
			force[1] = force[1].plus(s.tangent.times(q.U * s.piece))
			moment = moment.plus(q.times(s.at.cross(s.tangent) * s.piece))
		}
	}
	i := c.SecondMoment
	size := i.FF + i.UU
	lever := c.ShearCentre.minus(c.Centroid)
	for name, off := range map[string]float64{
		"force of cause f, along f": force[0].F - i.FF,
		"force of cause f, along u": force[0].U - i.FU,
		"force of cause u, along f": force[1].F - i.FU,
		"force of cause u, along u": force[1].U - i.UU,
		"moment of cause f":         (moment.F - lever.cross(force[0])) / 50,
		"moment of cause u":         (moment.U - lever.cross(force[1])) / 50,
	} {
		if math.Abs(off) > balance*size {
			t.Errorf("%s is off by %g of %g", name, off, size)
		}
	}
	for _, fin := range []int{5, 6} {
		end := m.paths[fin].end()
		if q := m.paths[fin].shearFlow(&end); math.Hypot(q.F, q.U) > balance*size {
			t.Errorf("wall %d: flow %v at its free edge", fin, q)
		}
		if q := m.paths[fin].flow[twisting]; math.Abs(q) > balance*size {
			t.Errorf("wall %d: torsional flow %g in a fin", fin, q)
		}
	}
}

// The warping at unit twist is continuous: walking along any wall from its
// first node ends at the warping of its second node.
func TestWarpingIsContinuous(t *testing.T) {
	const closing = 1e-11
	p := finned()
	m := solved(t, p)
	at := map[int]float64{}
	for i, w := range p.Walls {
		line := &m.paths[i]
		start, end := line.station(0), line.end()
		for node, s := range map[int]*station[float64]{w.From: &start, w.To: &end} {
			warping := line.warpingAt(s)
			if known, ok := at[node]; ok && math.Abs(known-warping) > closing*2000 {
				t.Errorf("node %d: warping %g and %g", node, known, warping)
			}
			at[node] = warping
		}
	}
}

// Walls of 0.01 and 1000 mm beside each other: the elimination never
// subtracts, so St Venant's constant of the thin cell keeps its digits.
func TestThickBesideThin(t *testing.T) {
	const b, h, thin, thick = 80.0, 50.0, 0.01, 1000.0
	var p Profile[float64]
	p.DrawBox(b, h, thin)
	p.AddWall(0, p.AddNode(200, 0), thick)
	m := solved(t, &p)
	flow := 2 * b * h * thin / (2 * (b + h))
	for i := range 4 {
		if q := m.paths[i].flow[twisting]; math.Abs(q-flow) > 1e-13*flow {
			t.Errorf("wall %d: flow %v, want %v", i, q, flow)
		}
	}
}
