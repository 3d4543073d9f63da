package section

// freeEdge is what a free edge takes from St Venant's constant in units of the
// wall's thickness to the fourth: half the 0.63/3 by which a long rectangle
// stays below b·t³/3 (Timoshenko & Goodier, Theory of Elasticity, 3rd ed.,
// art. 109: from memory).
const freeEdge = 0.105
