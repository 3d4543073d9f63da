package quantity

import (
	"testing"
)

func TestReadRoundsToATenthOfTheStep(t *testing.T) {
	toe := Signs{"toe-in", "toe-out"}
	for _, c := range []struct {
		value, step float64
		text, words string
	}{
		{-0.0364, 0.01, "-0.036", "toe-out"},
		{0.0204, 0.01, "0.020", "toe-in"},
		{-0.0004, 0.01, "0.000", ""}, // no sign for zero, in digits or in words
		{0.0005001, 0.01, "0.001", "toe-in"},
		{1.234, 0.1, "1.23", "toe-in"},
		{1234.4, 10, "1234", "toe-in"},
		{130.74, 5, "130.7", "toe-in"},
		{0.5, 100, "0", ""},
	} {
		r := toe.Read(c.value, c.step)
		if r.Text != c.text || r.Words != c.words {
			t.Errorf("%g with step %g reads %q %q, want %q %q", c.value, c.step, r.Text, r.Words, c.text, c.words)
		}
		if (r.Value == 0) != (r.Words == "") {
			t.Errorf("%g: value %g has the word %q", c.value, r.Value, r.Words)
		}
	}
}

func TestWrittenUndoesFactor(t *testing.T) {
	for _, u := range []Unit{Percent, DegreePerMetre, DegreePerKilonewton, Kilogram, Gravity} {
		if got := u.Written(3.25 * u.Factor); got < 3.25-1e-12 || got > 3.25+1e-12 {
			t.Errorf("%s: 3.25 comes back as %g", u.Name, got)
		}
	}
	if got := DegreePerMetre.Factor * 1000; got != Degree.Factor {
		t.Errorf("a degree per metre is %g rad over 1000 mm", got)
	}
}
