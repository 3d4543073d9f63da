package show

import (
	"io"
	"strings"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/tuning"
)

// Wording words the wants of a study for answers that another package arranges.
type Wording struct{ view *view }

// NewWording looks up what the words need.
func NewWording(study *cases.Study, asked []tuning.Asked) *Wording {
	return &Wording{newView(study, asked)}
}

// Want is what a want asks for: "bump steer at most 1.00 deg/m".
func (w *Wording) Want(i int) string {
	a := &w.view.asked[i]
	return w.view.captionOf(a) + " " + w.view.wishUnit(a)
}

// Now is the number of a want as the study stands: "-0.13 deg/m toe-out".
func (w *Wording) Now(i int) string {
	a := &w.view.asked[i]
	f := w.view.figureOf(a)
	return strings.TrimSpace(f.Text + " " + f.Unit + " " + f.Words)
}

// Significant writes a value with so many significant digits at most.
func Significant(x float64, digits int) string { return significant(x, digits) }

// Rows are records of another package's own type.
type Rows[R rower] []R

// JSON writes the rows as an array with one object a line.
func (r Rows[R]) JSON(w io.Writer) error { return writeJSON(w, r) }

// CSV writes the rows under a line of column names.
func (r Rows[R]) CSV(w io.Writer) error { return writeCSV(w, r) }
