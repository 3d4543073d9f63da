package bushing

import "slices"

// OtherHand are the curves of the mirror image of a bush across its soft radial:
// along it, and about the other two axes, plus and minus change places.
func (c *Curves) OtherHand() *Curves {
	if c == nil {
		return nil
	}
	other := *c
	for _, d := range [3]Direction{Soft, Torsion, ConeStiff} {
		if t := c.Tables[d]; t != nil {
			other.Tables[d] = t.mirror
		}
	}
	return &other
}

// Equal tells whether two sets of curves hold the same points.
func (c *Curves) Equal(other *Curves) bool {
	if c.Elliptical != other.Elliptical {
		return false
	}
	for d := range c.Tables {
		a, b := c.Tables[d], other.Tables[d]
		if (a == nil) != (b == nil) || a != nil && (!slices.Equal(a.x, b.x) || !slices.Equal(a.y, b.y)) {
			return false
		}
	}
	return true
}
