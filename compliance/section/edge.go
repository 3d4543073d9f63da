package section

// freeEdge is what a free edge takes from St Venant's constant in units of the
// wall's thickness to the fourth: half the 0.63/3 by which a long rectangle
// stays below b·t³/3 (Timoshenko & Goodier, Theory of Elasticity, 3rd ed.,
// art. 109: from memory).
const freeEdge = 0.105

// edgeLoss sums what the free edges take: the wall ends at which no other wall
// meets.
func (m *midline[T]) edgeLoss(p *Profile[T]) T {
	var loss T
	for i := range p.Walls {
		for _, node := range [2]int{p.Walls[i].From, p.Walls[i].To} {
			if p.walls(node) == 1 {
				t := m.paths[i].thickness
				loss += freeEdge * t * t * t * t
			}
		}
	}
	return loss
}

// walls counts the walls that meet at a node.
func (p *Profile[T]) walls(node int) int {
	count := 0
	for i := range p.Walls {
		if p.Walls[i].From == node || p.Walls[i].To == node {
			count++
		}
	}
	return count
}
