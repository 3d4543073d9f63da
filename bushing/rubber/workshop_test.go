package rubber

import (
	"testing"

	"bushtune/bushing/quantity"
)

// Every slot of a rubber bush that is a length, an angle or a hardness has a step
// that fits into its range many times; moduli, shares and factors have none.
func TestWorkshopSteps(t *testing.T) {
	ordered := 0
	for _, f := range Fields {
		step := WorkshopStep(f.Unit)
		switch f.Unit {
		case quantity.Millimetre, quantity.Degree, quantity.Hardness:
			ordered++
			if !(step > 0) || (f.Max-f.Min)/step < 50 {
				t.Errorf("%s: step %v for %v to %v", f.Name, step, f.Min, f.Max)
			}
		default:
			if step != 0 {
				t.Errorf("%s has a step of %v %s", f.Name, step, f.Unit.Name)
			}
		}
	}
	if ordered != 12 {
		t.Errorf("%d slots have a step", ordered)
	}
}
