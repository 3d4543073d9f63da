package section

import (
	"fmt"

	"bushtune/bushing/exact"
)

// The three shear problems that a section poses. Each is solved for a unit
// cause and a shear modulus of one.
const (
	twisting = iota // unit rate of twist about the centroid
	forward         // bending stress that grows by f per length of beam
	upward          // bending stress that grows by u per length of beam
	causes          // how many there are
)

// perCause holds one value for each of the three problems.
type perCause[T exact.Number] [causes]T

// network is the midline as a circuit. The axial displacement w of the nodes
// (the warping) is the voltage, the shear flow q the current, and a wall of
// thickness t and length l the conductance t/l: with q = t(dw/ds + r) for the
// tangent's lever r of a unit twist, and dq/ds = −t·g for the bending stress
// g, its ends obey
//
//	q(0) = t/l·(w(l) − w(0) + drop)    drop = ∫r ds + ∫∫g ds ds
//	q(l) = q(0) − t∫g ds
//
// exactly, and the flows at a node sum to zero. As w has one value at a node,
// the twist of every closed cell is right without choosing redundant flows:
// this is the displacement method for the cells of Bredt (1896) and for the
// shear flow in Megson, Aircraft Structures for Engineering Students, ch. 17
// to 20; the energy form is in Pilkey, Analysis and Design of Elastic Beams,
// 2002.
type network[T exact.Number] struct {
	conductance []T           // nodes × nodes, mm⁰
	supply      []perCause[T] // what the walls' drops and stresses feed into each node
	warping     []perCause[T] // axial displacement of each node, zero at node 0
}

// join adds a wall with a given drop and given flow lost on its way.
func (n *network[T]) join(w *Wall[T], conductance T, drop, lost perCause[T]) {
	nodes := len(n.supply)
	n.conductance[w.From*nodes+w.To] += conductance
	n.conductance[w.To*nodes+w.From] += conductance
	for c := range drop {
		n.supply[w.From][c] += conductance * drop[c]
		n.supply[w.To][c] += lost[c] - conductance*drop[c]
	}
}

// solve finds the warping of the nodes. It removes node after node, the last
// one first, and shares its conductances among its neighbours (star–mesh
// transformation): Gaussian elimination without any subtraction, so no
// accuracy is lost between thick and thin walls. A node left without a
// neighbour is an error.
func (n *network[T]) solve() error {
	nodes := len(n.supply)
	for k := nodes - 1; k > 0; k-- {
		row := n.conductance[k*nodes : k*nodes+k]
		var total T
		for _, g := range row {
			total += g
		}
		if exact.Real(total) == 0 {
			return fmt.Errorf("section: no wall leads from node %d to node 0: the profile is in pieces", k)
		}
		n.conductance[k*nodes+k] = total
		n.share(k, row)
	}
	for k := 1; k < nodes; k++ {
		n.recover(k)
	}
	return nil
}

// share removes node k: each neighbour takes its part of the supply and of the
// other conductances.
func (n *network[T]) share(k int, row []T) {
	nodes := len(n.supply)
	total := n.conductance[k*nodes+k]
	for i, g := range row {
		if g == 0 {
			continue
		}
		part := g / total
		for c, s := range n.supply[k] {
			n.supply[i][c] += part * s
		}
		for j, h := range row {
			if j != i {
				n.conductance[i*nodes+j] += part * h
			}
		}
	}
}

// recover finds the warping of node k from that of the nodes before it.
func (n *network[T]) recover(k int) {
	nodes := len(n.supply)
	current := n.supply[k]
	for j, g := range n.conductance[k*nodes : k*nodes+k] {
		for c := range current {
			current[c] += g * n.warping[j][c]
		}
	}
	for c := range current {
		n.warping[k][c] = current[c] / n.conductance[k*nodes+k]
	}
}
