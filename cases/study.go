package cases

import "bushtune/compliance"

// Study is one axle under all cases: change slots with Set, call Update, read
// values. Not safe for use by two goroutines.
type Study struct {
	solver  *compliance.Solver
	vehicle Vehicle
}

// NewStudy makes a study of the built-in cases and states, the custom cases and
// the author's own states. The axle's static load is that of the vehicle.
func NewStudy(axle *compliance.Axle, vehicle Vehicle, custom []Case, states []State) (*Study, error) {
	panic("cases: being written")
}

// Set changes one slot of the axle, in internal units; Update makes it count.
func (s *Study) Set(slot compliance.Slot, value float64) { s.solver.Set(slot, value) }

// Update solves the axle and every case for the present slots.
func (s *Study) Update() error { panic("cases: being written") }

// Solver is the model under the study.
func (s *Study) Solver() *compliance.Solver { return s.solver }

// Numbers lists every number that can be read, named ones first.
func (s *Study) Numbers() []Number { panic("cases: being written") }

// Absent lists the numbers that are not offered and what they need.
func (s *Study) Absent() []Absent { panic("cases: being written") }

// Find returns the index of a number in Numbers. An empty caseName or where
// means the first one the number has. The error names the nearest names.
func (s *Study) Find(number, caseName, where string) (int, error) { panic("cases: being written") }

// OtherTurn returns the same number in the turn the other way, if the axle is
// run both ways: a want that names no turn holds for both.
func (s *Study) OtherTurn(index int) (int, bool) { panic("cases: being written") }

// Value is the number in internal units.
func (s *Study) Value(index int) float64 { panic("cases: being written") }

// Gradient writes out[k][j] = ∂Value(indices[k])/∂slots[j] in internal units.
func (s *Study) Gradient(indices []int, slots []compliance.Slot, out [][]float64) {
	panic("cases: being written")
}

// Parts splits a number into the signed parts of every rate of every element;
// they sum to it. It is nil if the number has no additive parts.
func (s *Study) Parts(index int) []NumberPart { panic("cases: being written") }

// ElementParts is Parts with the lines of each element added up.
func (s *Study) ElementParts(index int) []NumberPart { panic("cases: being written") }

// Figure is one number ready to print.
func (s *Study) Figure(index int) Figure { panic("cases: being written") }

// Figures are all numbers that have a name of their own, ready to print.
func (s *Study) Figures() []Figure { panic("cases: being written") }

// Cases and States are what the study runs, in order.
func (s *Study) Cases() []Case   { panic("cases: being written") }
func (s *Study) States() []State { panic("cases: being written") }

// BushLoads lists load and travel of every bush in every case and state.
func (s *Study) BushLoads() []BushLoad { panic("cases: being written") }

// Warnings are footnotes to the answer.
func (s *Study) Warnings() []string { panic("cases: being written") }
