package optimize

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// norris are the 36 pairs y, x of the linear regression Norris of the NIST Statistical
// Reference Datasets (J. Norris, calibration of ozone monitors); y = b0 + b1·x.
var norris = [][2]float64{{0.1, 0.2}, {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1}, {228.1, 226.5}, {668.5, 666.3},
	{998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4}, {0.1, 0.6}, {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0},
	{448.9, 447.5}, {10.8, 11.6}, {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3}, {0.6, 0.3},
	{557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0}, {10.2, 11.1}, {117.6, 118.3}, {228.9, 229.2},
	{668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}}

// Certified values of the constant and of its standard deviation.
const (
	norrisConstant  = -0.262323073774029
	norrisDeviation = 0.232818234301152
)

// proportional is y = b·x for Norris' data, with groups that scatter alike.
func proportional(groups int) *FitProblem {
	p := &FitProblem{Parameters: []Parameter{{Name: "b", Lower: -10, Upper: 10, Start: 2}}}
	for i, pair := range norris {
		p.Observations = append(p.Observations, Observation{Value: pair[0], Deviation: 1, Group: i % groups})
	}
	p.Evaluate = func(x, values []float64, jacobian *mat.Dense) error {
		for i, pair := range norris {
			if values[i] = x[0] * pair[1]; jacobian != nil {
				jacobian.Set(i, 0, pair[1])
			}
		}
		return nil
	}
	return p
}

// TestAddedTermIsThatOfTheWholeFit: the constant that a line through nothing does not
// have is the certified one, and so are its standard error and the freedom of its test.
func TestAddedTermIsThatOfTheWholeFit(t *testing.T) {
	f, err := Fit(context.Background(), proportional(1), FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	ones := make([]float64, len(norris))
	for i := range ones {
		ones[i] = 1
	}
	a, ok := f.Added(ones)
	if !ok || math.Abs(a.Value/norrisConstant-1) > 1e-9 || math.Abs(a.Error/norrisDeviation-1) > 1e-9 || math.Abs(a.Freedom-34) > 1e-9 {
		t.Errorf("%+v, %v", a, ok)
	}
	// of Student's t with 34 degrees of freedom, 1.1267: between the 20 % point 1.307
	// and the 30 % point 1.052 of any table
	if a.Chance < 0.2 || a.Chance > 0.3 {
		t.Errorf("chance %v", a.Chance)
	}
}

// TestAddedTermThatIsThereAlready: what a parameter does already is no term of its own.
func TestAddedTermThatIsThereAlready(t *testing.T) {
	f, err := Fit(context.Background(), proportional(1), FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	same := make([]float64, len(norris))
	for i, pair := range norris {
		same[i] = -3 * pair[1]
	}
	if a, ok := f.Added(same); ok {
		t.Errorf("%+v", a)
	}
}

// TestAddedTermInItsGroup: a term of one group of two has the scatter of that group.
func TestAddedTermInItsGroup(t *testing.T) {
	p := proportional(2)
	for i := range p.Observations {
		if i%2 == 1 {
			p.Observations[i].Value = 3*norris[i][1] + 1000*float64(i%3-1) // the other group scatters widely
		}
	}
	f, err := Fit(context.Background(), p, FitOptions{})
	if err != nil {
		t.Fatal(err)
	}
	ones := make([]float64, len(norris))
	for i := 0; i < len(ones); i += 2 {
		ones[i] = 1
	}
	a, ok := f.Added(ones)
	if !ok || a.Error > 0.5 || math.Abs(a.Freedom-16) > 0.1 {
		t.Errorf("%+v, %v", a, ok)
	}
}
