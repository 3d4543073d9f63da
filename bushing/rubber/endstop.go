package rubber

import "bushtune/bushing/exact"

// collar is the flat ring at one end.
func (b *Bush[T]) collar() Pad[T] { return NewRing(b.StopDiameter, b.Inner, b.StopThick) }

// addEndStops adds the collars to the rates. A collar presses and does not pull,
// so along the axis one of them acts at a time. With a gap its rate waits behind
// the gap; without one the collars touch, not pressed together, and the rate
// counts from the middle position on. Then they stand against tilting too: each
// is pressed on one half of its circumference, both together as one whole ring,
// ∫ K/2π·(Dm/2·cos φ)² dφ = K·Dm²/8.
func (b *Bush[T]) addEndStops(r *Rates[T], m *Moduli[T], c Choice) {
	if exact.Real(b.StopThick) == 0 {
		return
	}
	collar := b.collar()
	rate := collar.Compression(m, c)
	if exact.Real(b.StopGap) != 0 {
		r.EndGap, r.EndSnubber = b.StopGap, rate
		return
	}
	tilt := rate * collarArm(b)
	r.Axial += rate
	r.ConeSoft += tilt
	r.ConeStiff += tilt
}

// collarArm is the rate against tilting of two touching collars over the rate of
// one, mm².
func collarArm[T exact.Number](b *Bush[T]) T {
	middle := (b.StopDiameter + b.Inner) / 2
	return middle * middle / 8
}
