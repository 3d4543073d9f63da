package crosscheck

import (
	"math"

	"bushtune/compliance/section"
)

// station is one point of a sampled midline.
type station struct {
	at     section.Point[float64] // f along x, u along z
	normal section.Point[float64] // unit normal; direction of travel × normal = +y
}

// sample returns 2n+1 stations on n elements: corners at even places, middles at
// odd ones. The profile is one chain of walls, each beginning where the last
// one ends.
func sample(p *section.Profile[float64], d Density) []station {
	stations := []station{stationAt(p, 0, 0)}
	for i, wall := range p.Walls {
		elements := math.Max(p.Length(i)/d.Around, math.Abs(wall.Angle)/(d.Turn*degree))
		halves := 2 * int(math.Ceil(elements-1e-9))
		for n := range halves {
			stations = append(stations, stationAt(p, i, float64(n+1)/float64(halves)))
		}
	}
	return stations
}

func stationAt(p *section.Profile[float64], wall int, fraction float64) station {
	at, tangent := p.Along(wall, fraction)
	return station{at, section.Point[float64]{F: tangent.U, U: -tangent.F}}
}

// closed tells whether the chain of walls ends where it begins.
func closed(p *section.Profile[float64]) bool {
	return p.Walls[0].From == p.Walls[len(p.Walls)-1].To
}
