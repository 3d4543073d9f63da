package rubber

import "bushtune/bushing/exact"

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
	collar := NewRing(b.StopDiameter, b.Inner, b.StopThick)
	rate := collar.Compression(m, c)
	if exact.Real(b.StopGap) != 0 {
		r.EndGap, r.EndSnubber = b.StopGap, rate
		return
	}
	middle := (b.StopDiameter + b.Inner) / 2
	tilt := rate * middle * middle / 8
	r.Axial += rate
	r.ConeSoft += tilt
	r.ConeStiff += tilt
}
