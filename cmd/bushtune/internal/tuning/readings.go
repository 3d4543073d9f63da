package tuning

import (
	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
)

// Readings are numbers of a study as functions of the parameters of a file.
type Readings struct{ bridge *bridge }

// NewReadings prepares the numbers; the same one twice is computed once. Study is
// changed by what is evaluated.
func NewReadings(study *cases.Study, parameters []axlefile.Parameter, goals []cases.Goal) (r *Readings, places []int, err error) {
	r = &Readings{&bridge{study: study, parameters: parameters}}
	for _, g := range goals {
		places = append(places, r.bridge.add(g, quantity.None))
	}
	return r, places, r.bridge.prepare()
}

// Count is how many different numbers there are.
func (r *Readings) Count() int { return len(r.bridge.goals) }

// Move sets the parameters, in written units, and solves the axle.
func (r *Readings) Move(x []float64) error { return r.bridge.move(x) }

// Evaluate is an optimize.Evaluator: numbers in internal units, parameters in
// written ones.
func (r *Readings) Evaluate(x, values []float64, jacobian *mat.Dense) error {
	return r.bridge.evaluate(x, values, jacobian)
}
