package axlefile

import (
	"fmt"
	"math"
)

// Round is the value that Edit writes for x: six significant digits, inside the
// limits.
func (d *Dimension) Round(x float64) float64 {
	if !d.Free() {
		return d.From
	}
	return min(max(rounded(x), d.From), d.To)
}

// Edit returns the text of the part file with every free dimension set to x, in
// the order of Dimensions and in written units, rounded by Round. Comments, order
// and spacing stay.
func (f *PartFile) Edit(x []float64) ([]byte, error) {
	if len(x) != len(f.Dimensions) {
		panic(fmt.Sprintf("axlefile: %d values for %d dimensions", len(x), len(f.Dimensions)))
	}
	ed := &editor{document: f.source}
	for i := range f.Dimensions {
		if d := &f.Dimensions[i]; d.Free() {
			ed.changes = append(ed.changes, change{d.place, shortest(d.Round(x[i]))})
		}
	}
	text := ed.apply()
	return text, f.compare(text, x)
}

// compare reads the edited text and holds it against what was chosen.
func (f *PartFile) compare(text []byte, x []float64) error {
	again, err := ParsePart(f.Name, text)
	if err != nil {
		return fmt.Errorf("the edited file cannot be read again: %w", err)
	}
	for i := range f.Dimensions {
		want, d := f.Dimensions[i].Round(x[i]), &again.Dimensions[i]
		if d.Free() || math.Abs(d.From-want) > rewriteTolerance*math.Abs(want) {
			return fmt.Errorf("%s reads as %g instead of %g after editing", d.Field.Name, d.From, want)
		}
	}
	return nil
}
