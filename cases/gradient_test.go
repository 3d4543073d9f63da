package cases

import (
	"math"
	"slices"
	"testing"

	"bushtune/compliance"
)

// What is left of Richardson differences: a share of the slope, and rounding of
// the numbers themselves, a share of everything they are summed from over the step.
const (
	gradientTolerance  = 1e-8
	differenceRounding = 1e-12
)

// absentAtZero are slots for which zero stands for an absent part or load: there
// the model itself changes.
var absentAtZero = map[string]bool{"bracket": true, "rod_rate": true, "load": true, "tightened_at": true,
	"preload.x": true, "preload.y": true, "preload.z": true, "start.x": true,
	"soft_gap_back": true, "axial_gap_back": true, "stiff_gap_back": true,
	"rubber.void_arc": true, "rubber.void_depth": true, "rubber.void_radius": true, "rubber.sleeve_diameter": true, "rubber.sleeve_wall": true,
	"rubber.stop_gap": true, "rubber.stop_diameter": true, "rubber.stop_thickness": true,
	"rubber.shear_modulus": true, "rubber.bulk_modulus": true, "rubber.range_share": true}

// movable lists every slot that is not absent.
func movable(s *Study) []compliance.Slot {
	axle := s.Solver().Axle()
	var slots []compliance.Slot
	for i := range axle.Elements {
		for j, f := range axle.Elements[i].Kind.Fields {
			if axle.Elements[i].Slots[j] != 0 || !absentAtZero[f.Name] {
				slots = append(slots, compliance.Slot{Element: i, Index: j})
			}
		}
	}
	for _, wheel := range []int{compliance.LeftWheel, compliance.RightWheel} {
		for j := range compliance.WheelFields {
			slots = append(slots, compliance.Slot{Element: wheel, Index: j})
		}
	}
	return slots
}

// linear lists the numbers that are found by small movements: all but those of states,
// of which TestSlopesOfGoalsAgreeWithDifferences tells.
func linear(s *Study) (indices []int) {
	for i := range s.numbers {
		if s.numbers[i].state < 0 {
			indices = append(indices, i)
		}
	}
	return indices
}

// Every linear number by every slot: exact gradients against Richardson differences of
// the whole study.
func TestGradientsAgreeWithDifferences(t *testing.T) {
	for name, s := range studies(t) {
		slots := movable(s)
		indices := linear(s)
		out := make([][]float64, len(indices))
		gross := make([]float64, len(indices))
		for k, i := range indices {
			out[k], gross[k] = make([]float64, len(slots)), grossOf(s, i)
		}
		s.Gradient(indices, slots, out)
		for j, slot := range slots {
			value := s.Solver().Axle().Value(slot)
			field := s.Solver().Axle().Field(slot)
			step := 1e-3 * max(1, math.Abs(value))
			if field.Unit.Factor < 1 {
				step = 1e-3
			}
			if field.Name == "hub_camber" || field.Name == "hub_toe" {
				step = 1e-9
			}
			want := differences(t, s, slot, value, step)
			for k, i := range indices {
				if n := &s.numbers[i]; math.Abs(out[k][j]-want[k]) > gradientTolerance*math.Abs(want[k])+differenceRounding*gross[k]/step {
					t.Errorf("%s: %s in %s by %s of element %d: %.12g, differences %.12g", name, n.Name, n.Case, field.Name, slot.Element, out[k][j], want[k])
				}
			}
		}
	}
}

// grossOf is everything a number is summed from, without signs: Σ|a|·√(C·C)·|f|
// of each answer with its weight, before the pads take away what they hold.
func grossOf(s *Study, i int) float64 {
	s.weigh([]int{i})
	c := s.Solver().Compliance()
	sum := 0.0
	for _, w := range s.room.weights {
		if w.answer == byTrack {
			continue
		}
		a := &s.answers[w.answer]
		reading := withoutSigns(s, a.sensor.terms, a.sensor.share)
		loads := withoutSigns(s, a.load.terms, a.load.pads)
		for p, left := range reading {
			for q, right := range loads {
				sum += math.Abs(w.value*a.scale*left*right) * math.Sqrt(c[p*(compliance.Ports+1)]*c[q*(compliance.Ports+1)])
			}
		}
	}
	return sum
}

// withoutSigns adds up the sizes of the vectors of a reading or load.
func withoutSigns(s *Study, terms []term, pads [2]float64) (sum compliance.Port) {
	terms = slices.Clone(terms)
	for w, f := range pads {
		terms = append(terms, term{w, patchZ, f})
	}
	for _, t := range terms {
		for i, v := range s.rig.vectors[t.wheel][t.direction] {
			sum[6*t.wheel+i] += math.Abs(t.factor * v)
		}
	}
	return sum
}

// differences are derivatives of all numbers by one slot.
func differences(t *testing.T, s *Study, slot compliance.Slot, value, step float64) []float64 {
	t.Helper()
	return extrapolated(step, func(x float64) []float64 {
		s.Set(slot, value+x)
		return allValues(t, s)
	})
}

// allValues solves the study and reads every linear number.
func allValues(t *testing.T, s *Study) []float64 {
	t.Helper()
	if err := s.Update(); err != nil {
		t.Fatal(err)
	}
	var all []float64
	for _, i := range linear(s) {
		all = append(all, s.Value(i))
	}
	return all
}

// extrapolated is the derivative of f at zero by central differences of four
// steps, extrapolated three times (Richardson): error of order step⁸. It ends
// with f at zero.
func extrapolated(step float64, f func(float64) []float64) []float64 {
	var d [4][]float64
	for k := range d {
		h := step / float64(int(1)<<k)
		up, down := f(h), f(-h)
		d[k] = make([]float64, len(up))
		for i := range up {
			d[k][i] = (up[i] - down[i]) / (2 * h)
		}
	}
	for order := 1; order < len(d); order++ {
		share := math.Pow(4, float64(order))
		for k := len(d) - 1; k >= order; k-- {
			for i := range d[k] {
				d[k][i] = (share*d[k][i] - d[k-1][i]) / (share - 1)
			}
		}
	}
	f(0)
	return d[len(d)-1]
}
