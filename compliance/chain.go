package compliance

import (
	"fmt"

	"bushtune/bushing/exact"
)

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

// outerEnds is what a piece of a chain knows of the ends of its chain: the
// condition beyond its from end and beyond its to end, and which share of the
// piece, from its from end on, is nearer to the first.
type outerEnds struct {
	ends  [2]Warping
	share float64
	chain bool
}

// nearEnds are the ends that hold the warping of a beam, its own or those of its
// chain.
func (e *Element) nearEnds() outerEnds {
	if e.Choice.Ends[0] != Continuous && e.Choice.Ends[1] != Continuous {
		return outerEnds{ends: e.Choice.Ends, share: 0.5}
	}
	near := e.outer
	near.chain = true
	return near
}

// rim is a share of a piece too small to stand for itself.
const rim = 1e-6

// findOuterEnds tells every piece of a chain of the outer ends of its chain. The
// middle of a chain stays where it was at that time, as the axle's centre does.
func (a *Axle) findOuterEnds() {
	for i := range a.Elements {
		e := &a.Elements[i]
		if e.Kind.Table != Beam.Table {
			continue
		}
		first, before := a.follow(i, 0)
		last, after := a.follow(i, 1)
		length := e.beamLength()
		e.outer = outerEnds{ends: [2]Warping{first, last}, share: 1}
		if first != last {
			e.outer.share = ((before+length+after)/2 - before) / length
			if e.outer.share < rim { // or it is rounding
				e.outer.share = 0
			} else if e.outer.share > 1-rim {
				e.outer.share = 1
			}
		}
	}
}

// follow goes along a chain from one end of a piece and returns the condition of
// the outer end and its distance; a ring of pieces has none, and counts as free.
func (a *Axle) follow(piece, end int) (outer Warping, distance float64) {
	for range a.Elements {
		e := &a.Elements[piece]
		if e.Choice.Ends[end] != Continuous {
			return e.Choice.Ends[end], distance
		}
		body, next, there := e.body(end), -1, 0
		a.eachContinuous(func(element, other, at int) {
			if at == body && (element != piece || other != end) {
				next, there = element, other
			}
		})
		if next < 0 {
			break
		}
		piece, end = next, 1-there
		distance += a.Elements[piece].beamLength()
	}
	return Free, 0
}

// body is that of the from end (0) or the to end (1).
func (e *Element) body(end int) int { return [2]int{e.From, e.To}[end] }

// beamLength is the length of a beam in mm.
func (e *Element) beamLength() float64 {
	start, end := beamEnds[float64](e.Slots)
	return exact.Vec[float64](start).Sub(end).Norm()
}
