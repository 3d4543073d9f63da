package crosscheck

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"

	"bushtune/bushing/finiteelement"
	"bushtune/bushing/rubber"
)

// Place is a bush without units: the ratio of the radii, the length by the wall,
// the arc of each void in degrees, its depth by the wall (both 0: no void), and
// the bulk by the shear modulus.
type Place [5]float64

// Sample is the bush of outer radius 1 mm.
func (p Place) Sample() Sample {
	wall := 1 - p[0]
	return Sample{
		Inside: p[0], Outside: 1, Length: p[1] * wall,
		Arc: p[2] * math.Pi / 180, Depth: p[3] * wall, Bulk: p[4],
	}
}

// Figure is a bush and its rates without units: those along an axis by G·L, those
// about an axis by G·b³, in order of bushing.Direction.
type Figure struct {
	Place Place
	Rates Rates
}

// Data are the bushes that the corrections are fitted to, and others that the
// errors of the corrections are taken from.
type Data struct {
	Note    string   `json:"note"`
	Solver  string   `json:"solver"`
	Density Density  `json:"density"`
	Columns []string `json:"columns"`
	Fit     []Figure `json:"fit"`
	Check   []Figure `json:"check"`
}

// note marks the committed numbers.
const note = "own finite-element check, not published"

var columns = []string{
	"inner by outer radius", "length by wall", "arc of each void, degrees", "depth of void by wall", "bulk by shear modulus",
	"soft/(G L)", "axial/(G L)", "stiff/(G L)", "cone about soft/(G b^3)", "torsion/(G b^3)", "cone about stiff/(G b^3)",
}

// MarshalJSON writes a figure as one row of numbers.
func (f Figure) MarshalJSON() ([]byte, error) {
	var row []string
	for _, x := range append(f.Place[:], f.Rates[:]...) {
		row = append(row, fmt.Sprintf("%.6g", x))
	}
	return []byte("[" + strings.Join(row, ",") + "]"), nil
}

// UnmarshalJSON reads such a row.
func (f *Figure) UnmarshalJSON(text []byte) error {
	var row [11]float64
	err := json.Unmarshal(text, &row)
	copy(f.Place[:], row[:])
	copy(f.Rates[:], row[len(f.Place):])
	return err
}

// NewFigure asks the finite-element solver.
func NewFigure(p Place, d Density) (Figure, error) {
	s := p.Sample()
	rates, err := s.Solve(d)
	for _, along := range []int{0, 1, 2} {
		rates[along] /= s.Length
	}
	return Figure{p, rates}, err
}

// Solved are the rates with units, of outer radius 1 mm and shear modulus 1 MPa.
func (f *Figure) Solved() Rates {
	s, r := f.Place.Sample(), f.Rates
	return Rates{r[0] * s.Length, r[1] * s.Length, r[2] * s.Length, r[3], r[4], r[5]}
}

// Plan is what a set of data covers.
type Plan struct {
	File       string
	Low, High  Place
	Fit, Check int // number of bushes besides the corners, and of independent ones
	Density    Density
}

// Plans lists both sets: the ranges are those that package rubber states.
func Plans() []Plan {
	return []Plan{
		{"rubber-plain.json", planPlace(rubber.PlainRange, 0), planPlace(rubber.PlainRange, 1), 60, 30, Density{Skin: 3, Void: 4, Arc: 2, Leg: 3, Along: 7, Ratio: 3}},
		{"rubber-voids.json", planPlace(rubber.VoidRange, 0), planPlace(rubber.VoidRange, 1), 200, 60, Density{Skin: 4, Void: 3, Arc: 4, Leg: 4, Along: 5, Ratio: 4}},
	}
}

func planPlace(r [5][2]float64, end int) (p Place) {
	for i := range p {
		p[i] = r[i][end]
	}
	return p
}

// at is the place at shares 0…1 of the ranges: ratios that reach over a decade by
// their logarithm, and to three figures, as they are kept.
func (p *Plan) at(share [5]float64) (place Place) {
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
		var share [5]float64
		used := true
		for i := range share {
			share[i] = float64(corner >> i & 1)
			used = used && (share[i] == 0 || p.High[i] > p.Low[i])
		}
		if used {
			places = append(places, p.at(share))
		}
	}
	for n := range p.Fit {
		var share [5]float64
		for i, base := range []int{2, 3, 7, 11, 5} {
			share[i] = radicalInverse(n+1, base)
		}
		places = append(places, p.at(share))
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
	for range p.Check {
		var share [5]float64
		for i := range share {
			share[i] = rng.Float64()
		}
		places = append(places, p.at(share))
	}
	return places
}

// Solve asks the solver for every bush of a plan, telling of each.
func (p *Plan) Solve(told func(Figure)) (*Data, error) {
	version, err := finiteelement.Version()
	if err != nil {
		return nil, err
	}
	d := &Data{Note: note, Solver: version, Density: p.Density, Columns: columns}
	for _, set := range []struct {
		into   *[]Figure
		places []Place
	}{{&d.Fit, p.fitPlaces()}, {&d.Check, p.checkPlaces()}} {
		for _, place := range set.places {
			f, err := NewFigure(place, p.Density)
			if err != nil {
				return nil, fmt.Errorf("%v: %w", place, err)
			}
			told(f)
			*set.into = append(*set.into, f)
		}
	}
	return d, nil
}

// Write keeps the data, one bush a line.
func (d *Data) Write(file string) error {
	text, err := json.Marshal(d)
	if err != nil {
		return err
	}
	lines := strings.NewReplacer("[[", "[\n[", "],[", "],\n[", "]],", "]\n],\n", "]]}", "]\n]}\n", ",\"", ",\n\"").Replace(string(text))
	return os.WriteFile(file, []byte(lines), 0o644)
}

// Read reads committed data.
func Read(file string) (*Data, error) {
	text, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	d := &Data{}
	return d, json.Unmarshal(text, d)
}
