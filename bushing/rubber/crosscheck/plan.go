package crosscheck

import (
	"fmt"
	"math"
	"math/rand/v2"

	"bushtune/bushing/finiteelement"
	"bushtune/bushing/rubber"
)

// Plan is what a set of data covers.
type Plan struct {
	File       string
	Low, High  Place
	Fit, Check int // number of bushes besides the corners, and of independent ones
	Density    Density
}

// Plans lists the sets: the ranges are those that package rubber states.
func Plans() []Plan {
	square, round := [2]float64{}, rubber.RoundRange
	return []Plan{
		planOf("rubber-plain.json", rubber.PlainRange, square, 60, 30, Density{Skin: 3, Void: 4, Arc: 2, Leg: 3, Along: 7, Ratio: 3}),
		planOf("rubber-voids.json", rubber.VoidRange, square, 150, 50, Density{Skin: 4, Void: 3, Arc: 4, Leg: 4, Along: 5, Ratio: 4}),
		planOf("rubber-round-voids.json", rubber.VoidRange, round, 320, 60, Density{Skin: 3, Void: 2, Arc: 4, Leg: 4, Along: 5, Ratio: 3}),
	}
}

// planOf has the ranges of package rubber and that of the roundness.
func planOf(file string, r [5][2]float64, round [2]float64, fit, check int, d Density) Plan {
	p := Plan{File: file, Fit: fit, Check: check, Density: d}
	for i, limits := range append(r[:], round) {
		p.Low[i], p.High[i] = limits[0], limits[1]
	}
	return p
}

// at is the place at shares 0…1 of the ranges: ratios that reach over a decade by
// their logarithm, and to three figures, as they are kept.
func (p *Plan) at(share [6]float64) (place Place) {
	for i, s := range share {
		low, high := p.Low[i], p.High[i]
		if i == 1 || i == 4 {
			place[i] = low * math.Pow(high/low, s)
		} else {
			place[i] = low + s*(high-low)
		}
		scale := math.Pow(10, 2-math.Floor(math.Log10(math.Max(place[i], 1e-9))))
		place[i] = math.Round(place[i]*scale) / scale
	}
	return place
}

// fitPlaces are the corners of the ranges and a Halton sequence inside (Halton,
// Numerische Mathematik 2, 1960: bases 2, 3, 5, 7, 11).
func (p *Plan) fitPlaces() (places []Place) {
	for corner := range 1 << len(p.Low) {
		if share, ok := p.corner(corner); ok {
			places = append(places, p.at(share))
		}
	}
	for n := range p.Fit {
		var share [6]float64
		for i, base := range []int{2, 3, 7, 11, 5, 13} {
			share[i] = radicalInverse(n+1, base)
		}
		places = append(places, p.at(share))
	}
	return places
}

// corner has the shares 0 or 1 that the bits of a number say; false: a range of no
// width has no upper end.
func (p *Plan) corner(bits int) (share [6]float64, ok bool) {
	for i := range share {
		share[i] = float64(bits >> i & 1)
		if share[i] == 1 && p.High[i] == p.Low[i] {
			return share, false
		}
	}
	return share, true
}

// edgePlaces are the middles of all edges from corner to corner: there a fit that
// knows the corners and the inside strays most.
func (p *Plan) edgePlaces() (places []Place) {
	for middle := range p.Low {
		if p.High[middle] == p.Low[middle] {
			continue
		}
		for corner := range 1 << len(p.Low) {
			share, ok := p.corner(corner)
			if ok && share[middle] == 0 {
				share[middle] = 0.5
				places = append(places, p.at(share))
			}
		}
	}
	return places
}

// radicalInverse mirrors the digits of n at the point.
func radicalInverse(n, base int) (x float64) {
	for place := 1 / float64(base); n > 0; n /= base {
		x += place * float64(n%base)
		place /= float64(base)
	}
	return x
}

// checkPlaces are random, of a fixed seed.
func (p *Plan) checkPlaces() (places []Place) {
	rng := rand.New(rand.NewPCG(1, 2))
	for n := range p.Check {
		var share [6]float64
		for i := range share {
			if i < 5 || p.High[i] > 0 {
				share[i] = rng.Float64()
			}
		}
		if n%2 == 1 && p.High[5] > 0 {
			share[5] = 1 // as a void is without a radius of its own
		}
		places = append(places, p.at(share))
	}
	return places
}

// finerPlaces are the last corner and three bushes from inside.
func (p *Plan) finerPlaces() []Place {
	fit := p.fitPlaces()
	corners, inside := fit[:len(fit)-p.Fit], fit[len(fit)-p.Fit:]
	return []Place{corners[len(corners)-1], inside[0], inside[1], inside[2]}
}

// finer has half as many bricks again.
func (d Density) finer() Density {
	for _, n := range []*int{&d.Skin, &d.Void, &d.Arc, &d.Leg, &d.Along} {
		*n = (3**n + 1) / 2
	}
	d.Ratio = math.Pow(d.Ratio, 2./3) // the same share of the way, in more steps
	return d
}

// Solve asks the solver for every bush of a plan, telling of each.
func (p *Plan) Solve(told func(Figure)) (*Data, error) {
	version, err := finiteelement.Version()
	if err != nil {
		return nil, err
	}
	d := &Data{Note: note, Solver: version, Density: p.Density, Columns: columns}
	for _, set := range []struct {
		into    *[]Figure
		places  []Place
		density Density
	}{
		{&d.Fit, p.fitPlaces(), p.Density},
		{&d.Edges, p.edgePlaces(), p.Density},
		{&d.Check, p.checkPlaces(), p.Density},
		{&d.Finer, p.finerPlaces(), p.Density.finer()},
	} {
		for _, place := range set.places {
			f, err := NewFigure(place, set.density)
			if err != nil {
				return nil, fmt.Errorf("%v: %w", place, err)
			}
			told(f)
			*set.into = append(*set.into, f)
		}
	}
	return d, nil
}
