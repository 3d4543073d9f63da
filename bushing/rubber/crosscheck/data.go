package crosscheck

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"

	"bushtune/bushing/rubber"
)

// Place is a bush without units: the ratio of the radii, the length by the wall,
// the arc of each void in degrees, its depth by the wall (both 0: no void), the bulk
// by the shear modulus, and the radius of the corners of the voids by the largest one
// that fits (0: square corners, 1: full round).
type Place [6]float64

// Sample is the bush of outer radius 1 mm.
func (p Place) Sample() Sample {
	wall := 1 - p[0]
	s := Sample{
		Inside: p[0], Outside: 1, Length: p[1] * wall,
		Arc: p[2] * math.Pi / 180, Depth: p[3] * wall, Bulk: p[4],
	}
	c := rubber.Cylinder[float64]{Inside: s.Inside, Outside: s.Outside}
	s.Radius = p[5] * c.FullRound(s.Arc, s.Depth)
	return s
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
	// Edges are the middles of the edges of the range. The fit does not see them.
	Edges []Figure `json:"edges"`
	Check []Figure `json:"check"`
	// Finer are a few bushes of Fit with half as many bricks again each way.
	Finer []Figure `json:"finer"`
}

// note marks the committed numbers.
const note = "own finite-element check, not published"

var columns = []string{
	"inner by outer radius", "length by wall", "arc of each void, degrees", "depth of void by wall", "bulk by shear modulus", "radius of the void's corners by the largest",
	"soft/(G L)", "axial/(G L)", "stiff/(G L)", "cone about soft/(G b^3)", "torsion/(G b^3)", "cone about stiff/(G b^3)",
}

// MarshalJSON writes a figure as one row of numbers.
func (f Figure) MarshalJSON() ([]byte, error) {
	var row []string
	for _, x := range append(f.Place[:], f.Rates[:]...) {
		row = append(row, fmt.Sprintf("%.5g", x))
	}
	return []byte("[" + strings.Join(row, ",") + "]"), nil
}

// UnmarshalJSON reads such a row.
func (f *Figure) UnmarshalJSON(text []byte) error {
	var row [len(f.Place) + len(f.Rates)]float64
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

// Write keeps the data, one bush a line.
func (d *Data) Write(file string) error {
	text, err := json.Marshal(d)
	if err != nil {
		return err
	}
	lines := strings.NewReplacer("[[", "[\n[", "],[", "],\n[", "]],", "]\n],\n", "]]}", "]\n]}\n").Replace(string(text))
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
