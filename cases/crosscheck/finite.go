package crosscheck

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"

	"bushtune/bushing/exact"
	"bushtune/bushing/finiteelement"
)

// SweepFineness is the density of the committed sweeps, coarser than Fineness
// because each station takes a dozen solutions.
var SweepFineness = Density{Around: 30, Turn: 45, Along: 20, Grading: 0.7}

// WheelState is where a wheel stands at a station.
type WheelState struct {
	Centre  Point   `json:"centre_mm"`      // displacement
	Turn    Point   `json:"turn_rad"`       // rotation vector of the arm
	ToeIn   float64 `json:"toe_in_deg"`     // of the projected spin axis
	Camber  float64 `json:"camber_out_deg"` // top outward
	WindUp  float64 `json:"wind_up_deg"`    // about y
	PadLoad float64 `json:"pad_load_n"`     // vertical, that holds the height
}

// SweepAnswer is what the solver finds at one station.
type SweepAnswer struct {
	Station
	Wheels [2]WheelState `json:"wheels"` // left, right
}

// SweepReference holds one sweep of one axle.
type SweepReference struct {
	Solver   string        `json:"solver"`
	Axle     string        `json:"axle"`
	Sweep    string        `json:"sweep"`
	Density  Density       `json:"density"`
	Stops    Stops         `json:"bush_stops"`
	Stations []SweepAnswer `json:"stations"`
}

// NewSweepReference runs the solver.
func NewSweepReference(a Axle, s Stops, d Density, sweep Sweep) (*SweepReference, error) {
	version, err := finiteelement.Version()
	if err != nil {
		return nil, err
	}
	text, err := finiteelement.Run(SweepDeck(a, s, d, sweep))
	if err != nil {
		return nil, err
	}
	r := &SweepReference{Solver: version, Axle: a.Name, Sweep: sweep.Name, Density: d, Stops: s}
	r.Stations, err = parseSweep(text, sweep)
	return r, err
}

// parseSweep reads a table of displacements and one of forces a station.
func parseSweep(text []byte, sweep Sweep) ([]SweepAnswer, error) {
	tables, err := finiteelement.Tables(text)
	if err != nil {
		return nil, err
	}
	if len(tables) != 2*len(sweep.Stations) {
		return nil, fmt.Errorf("crosscheck: %d of %d stations solved", len(tables)/2, len(sweep.Stations))
	}
	var answers []SweepAnswer
	for i, station := range sweep.Stations {
		answer := SweepAnswer{Station: station}
		for side, base := range []int{0, rightSide} {
			moved, forces := tables[2*i].Rows, tables[2*i+1].Rows
			state := &answer.Wheels[side]
			*state = stateOf(side, vectorOf(moved, base+centreNode), vectorOf(moved, base+rotationNode))
			if station.Rise != nil {
				state.PadLoad = vectorOf(forces, base+centreNode)[2]
			}
		}
		answers = append(answers, answer)
	}
	return answers, nil
}

// vectorOf finds the row of a node; a missing one is not a number.
func vectorOf(rows []finiteelement.Row, node int) Point {
	for _, r := range rows {
		if r.Node == node {
			return r.Value
		}
	}
	return Point{math.NaN(), math.NaN(), math.NaN()}
}

// stateOf reads the angles off a rotation: of the spin axis, which points to the
// left before, as seen from above and from the rear, and of the arm's x axis
// as seen from the side.
func stateOf(side int, centre, turn Point) WheelState {
	r := rotation(turn)
	outward := [2]float64{1, -1}[side]
	spin := Point{r[0][1], r[1][1], r[2][1]}
	return WheelState{
		Centre: centre, Turn: turn,
		ToeIn:  math.Atan2(outward*spin[0], spin[1]) / degree,
		Camber: -outward * math.Atan2(spin[2], spin[1]) / degree,
		WindUp: math.Atan2(r[0][2], r[2][2]) / degree,
	}
}

// rotation is the matrix of a rotation vector (Rodrigues).
func rotation(v Point) (m exact.Mat3[float64]) {
	angle := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
	first, second := 1.0, 0.5
	if angle > 1e-9 {
		first, second = math.Sin(angle)/angle, (1-math.Cos(angle))/(angle*angle)
	}
	for i := range 3 {
		var unit Point
		unit[i] = 1
		once := cross(v, unit)
		twice := cross(v, once)
		for k := range 3 {
			m[k][i] = unit[k] + first*once[k] + second*twice[k]
		}
	}
	return m
}

// sweepFile is where the numbers of one sweep are kept.
func sweepFile(directory string, a Axle, sweep Sweep) string {
	return filepath.Join(directory, fmt.Sprintf("%s.%s.json", a.Name, sweep.Name))
}

// ReadSweep reads committed numbers from a directory.
func ReadSweep(directory string, a Axle, sweep Sweep) (*SweepReference, error) {
	r := &SweepReference{}
	return r, readJSON(sweepFile(directory, a, sweep), r)
}

// Write keeps the numbers in a directory.
func (r *SweepReference) Write(directory string, a Axle, sweep Sweep) error {
	return writeJSON(sweepFile(directory, a, sweep), r)
}

func readJSON(file string, to any) error {
	text, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(text, to); err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	return nil
}

func writeJSON(file string, from any) error {
	text, err := json.MarshalIndent(from, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(file, append(text, '\n'), 0o644)
}
