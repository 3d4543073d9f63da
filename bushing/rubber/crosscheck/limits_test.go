package crosscheck

import (
	"slices"
	"testing"

	"bushtune/bushing/rubber"
)

// Every rate that was solved lies between the two limits that are proven for it:
// both are bounds of the same linear solid, so nothing may cross them but the
// elements' own error, which is upwards.
func TestSolvedRatesLieBetweenLimits(t *testing.T) {
	count := 0
	for _, plan := range Plans() {
		d := committed(t, &plan)
		for _, f := range slices.Concat(d.Fit, d.Edges, d.Check, d.Finer) {
			s, solved := f.Place.Sample(), f.Solved()
			b := rubber.Bush[float64]{
				Inner: 2 * s.Inside, Outer: 2 * s.Outside, Length: s.Length, VoidArc: s.Arc, VoidDepth: s.Depth,
				ShearModulus: 1, BulkModulus: s.Bulk, TemperatureFactor: 1, AgeingFactor: 1,
			}
			limits := rubber.Limits(&b, rubber.Choice{Compound: rubber.Given})
			for k, rate := range solved {
				count++
				if l := limits[k]; rate < l.Low*(1-exactly) || rate > l.High*(1+rubber.VoidedMeshError) {
					t.Errorf("%v, %s: solved %.5g, limits %.5g (%s) and %.5g (%s)", f.Place, motions[k].name, rate, l.Low, l.LowIs, l.High, l.HighIs)
				}
			}
		}
	}
	if count < 1000 {
		t.Errorf("only %d rates", count)
	}
}
