package compliance

import "fmt"

// BrokenChain is the error of a continuous beam end from which warping does not
// pass on to exactly one other.
type BrokenChain struct {
	Element int    // index into Axle.Elements
	End     int    // 0 at from, 1 at to
	label   string // of the element
	body    string // where the end is
	ends    int    // continuous ends there; 0 on the vehicle
}

// Error says what is wrong and what would be right.
func (b *BrokenChain) Error() string { return b.label + ": " + b.Reason() }

// Reason is the error without the element.
func (b *BrokenChain) Reason() string {
	end := [2]string{"from", "to"}[b.End]
	switch b.ends {
	case 0:
		return fmt.Sprintf("its %s end is on the vehicle and cannot be continuous; use primary or built-in", end)
	case 1:
		return fmt.Sprintf("its %s end is continuous at %s, but no other beam goes on there; both ends must say continuous", end, b.body)
	}
	return fmt.Sprintf("its %s end is one of %d that are continuous at %s; warping passes on from one beam to one other", end, b.ends, b.body)
}

// BrokenChains lists the ends of beams that are continuous and lead nowhere, in
// the order of the elements.
func (a *Axle) BrokenChains() []*BrokenChain {
	_, broken := a.chains()
	return broken
}

// chains tells at which bodies two continuous ends meet, and which do not.
func (a *Axle) chains() (joints []bool, broken []*BrokenChain) {
	ends := make([]int, len(a.Bodies))
	a.eachContinuous(func(_, _, body int) {
		if body != Vehicle {
			ends[body]++
		}
	})
	joints = make([]bool, len(a.Bodies))
	a.eachContinuous(func(element, end, body int) {
		fault := &BrokenChain{Element: element, End: end, label: a.Elements[element].Label()}
		if body != Vehicle {
			fault.body, fault.ends = a.Bodies[body].Label(), ends[body]
			joints[body] = ends[body] == 2
		}
		if fault.ends != 2 {
			broken = append(broken, fault)
		}
	})
	return joints, broken
}

// eachContinuous visits every continuous end of a beam.
func (a *Axle) eachContinuous(visit func(element, end, body int)) {
	for i := range a.Elements {
		e := &a.Elements[i]
		for end, body := range [2]int{e.From, e.To} {
			if e.Kind.Table == Beam.Table && e.Choice.Ends[end] == Continuous {
				visit(i, end, body)
			}
		}
	}
}
