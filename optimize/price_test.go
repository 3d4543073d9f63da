package optimize_test

import (
	"math"
	"testing"

	"bushtune/optimize"
)

const (
	// priceShift is how far a limit (in its scale) or bound (in its range) is
	// moved to measure its price by central differences: their error is of the
	// order of the square, that of re-solving of 1e-9/priceShift.
	priceShift     = 1e-4
	priceTolerance = 2e-5
)

// priced is the quantity that a result's prices count in.
func priced(r *optimize.Result) float64 {
	if r.Prices.Number < 0 {
		return r.After.Aim
	}
	return r.After.Values[r.Prices.Number]
}

// shifted copies p with the want's limit (and its partner in an equality) moved.
func shifted(p *optimize.Problem, want int, by float64) *optimize.Problem {
	q := *p
	q.Wants = append([]optimize.Want(nil), p.Wants...)
	old := p.Wants[want]
	for i := range q.Wants {
		if w := &q.Wants[i]; w.Number == old.Number && w.Value == old.Value && w.Kind != optimize.MakeSmall {
			w.Value += by
		}
	}
	return &q
}

// stretched copies p with one bound moved.
func stretched(p *optimize.Problem, b optimize.ActiveBound, by float64) *optimize.Problem {
	q := *p
	q.Parameters = append([]optimize.Parameter(nil), p.Parameters...)
	r := &q.Parameters[b.Parameter]
	if b.Upper {
		r.Upper += by
	} else {
		r.Lower += by
	}
	r.Start = math.Min(math.Max(r.Start, r.Lower), r.Upper)
	return &q
}

// checkPrices compares every price with re-solved problems.
func checkPrices(t *testing.T, p *optimize.Problem) {
	t.Helper()
	o := optimize.Options{Seed: 5}
	r := solve(t, p, o)
	if !r.Prices.Given {
		t.Fatalf("no prices: %s (%v: %s)", r.Prices.Reason, r.Status, r.Reason)
	}
	agree := func(what string, price, measured, size float64) {
		t.Helper()
		if math.Abs(price-measured) > priceTolerance*math.Max(size, math.Abs(measured)) {
			t.Errorf("%s: price %.8g, re-solved %.8g", what, price, measured)
		}
		t.Logf("%s: price %.8g, re-solved %.8g", what, price, measured)
	}
	checked := 0
	for _, l := range r.Limits {
		if l.Multiplier == 0 {
			continue
		}
		h := priceShift * p.Wants[l.Want].Scale
		up, down := solve(t, shifted(p, l.Want, h), o), solve(t, shifted(p, l.Want, -h), o)
		agree(p.Wants[l.Want].Name, l.Price, (priced(up)-priced(down))/(2*h), 1/p.Wants[l.Want].Scale)
		checked++
	}
	for _, b := range r.Bounds {
		q := p.Parameters[b.Parameter]
		h := priceShift * (q.Upper - q.Lower) / 10
		up, down := solve(t, stretched(p, b, h), o), solve(t, stretched(p, b, -h), o)
		agree("bound of "+q.Name, b.Price, (priced(up)-priced(down))/(2*h), 1/(q.Upper-q.Lower))
		checked++
	}
	if checked == 0 {
		t.Error("nothing held the result back: no price was checked")
	}
}

func TestPricesOfPublishedProblems(t *testing.T) {
	held := map[string]bool{"2": true, "12": true, "31": true, "35": true, "43": true, "65": true, "66": true, "71": true, "76": true, "100": true}
	for _, p := range hockSchittkowski() {
		if held[p.name] {
			t.Run(p.name, func(t *testing.T) { checkPrices(t, p.problem()) })
		}
	}
}

// tradeOff: stiffness k against travel 1/k, in odd units, scales and weights.
func tradeOff(kind optimize.Kind, extra ...optimize.Want) *optimize.Problem {
	f := func(x []complex128) []complex128 {
		return []complex128{(1000 + 3*x[1]) / x[0], 0.02*x[0] + x[1]*x[1], -(1000 + 3*x[1]) / x[0]}
	}
	wants := append([]optimize.Want{
		{Name: "large", Number: 0, Kind: optimize.MakeLarge, Scale: 0.1, Weight: 3},
		{Name: "stiff", Number: 1, Kind: optimize.AtLeast, Value: 20, Scale: 0.5},
	}, extra...)
	if kind == optimize.MakeSmall {
		wants[0] = optimize.Want{Name: "small", Number: 2, Kind: kind, Scale: 0.1, Weight: 3}
	}
	return numbers(f, []optimize.Parameter{
		{Name: "k", Lower: 300, Upper: 3000, Start: 1500, Scale: optimize.Log},
		{Name: "y", Lower: -2, Upper: 3, Start: 0.5}}, wants...)
}

func TestPricesInUnits(t *testing.T) {
	for name, p := range map[string]*optimize.Problem{
		"make large": tradeOff(optimize.MakeLarge),
		"make small": tradeOff(optimize.MakeSmall),
		"at most": tradeOff(optimize.MakeLarge,
			optimize.Want{Name: "travel", Number: 0, Kind: optimize.AtMost, Value: 1.1, Scale: 0.1}),
		"in cost": tradeOff(optimize.MakeLarge,
			optimize.Want{Name: "aim", Number: 1, Kind: optimize.Target, Value: 18, Scale: 2}),
	} {
		t.Run(name, func(t *testing.T) { checkPrices(t, p) })
	}
}

// Stiffness at least b, as soft as may be: the travel 1000/k at k = b has the
// price −1000/b².
func TestPriceClosedForm(t *testing.T) {
	f := func(x []complex128) []complex128 { return []complex128{1000 / x[0], x[0]} }
	p := numbers(f, []optimize.Parameter{{Name: "k", Lower: 100, Upper: 5000, Start: 2000, Scale: optimize.Log}},
		optimize.Want{Name: "travel", Number: 0, Kind: optimize.MakeLarge, Scale: 0.1},
		optimize.Want{Name: "stiff", Number: 1, Kind: optimize.AtLeast, Value: 800, Scale: 10})
	r := solve(t, p, optimize.Options{Seed: 1})
	want := -1000.0 / (800 * 800)
	if r.Prices.Number != 0 || len(r.Limits) != 1 || math.Abs(r.Limits[0].Price/want-1) > closedForm {
		t.Errorf("%+v, want a price of %g", r.Limits, want)
	}
}

// Three limits meet where two fix both parameters: the price is not unique.
func TestNoPriceWhereNotUnique(t *testing.T) {
	f := func(x []complex128) []complex128 {
		return []complex128{x[0] + x[1], x[0], x[1], x[0] + 2*x[1]}
	}
	p := numbers(f, []optimize.Parameter{between("x", -5, 5), between("y", -5, 5)},
		optimize.Want{Kind: optimize.MakeSmall, Scale: 1},
		optimize.Want{Number: 1, Kind: optimize.AtLeast, Value: 1, Scale: 1},
		optimize.Want{Number: 2, Kind: optimize.AtLeast, Value: 1, Scale: 1},
		optimize.Want{Number: 3, Kind: optimize.AtLeast, Value: 3, Scale: 1})
	r := solve(t, p, optimize.Options{Seed: 1})
	if r.Status != optimize.Converged || r.Prices.Given || r.Prices.Reason == "" {
		t.Errorf("%v, prices %+v", r.Status, r.Prices)
	}
}
