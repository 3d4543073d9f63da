package making

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestNearestIsTheNearest asks for rates that no part has together, as targets and as
// limits, and looks at a grid over the limits: nowhere is the largest miss smaller than
// that of the part that is shown, in full digits, and steps cost no more than they may. The miss that is
// told is that of the part.
func TestNearestIsTheNearest(t *testing.T) {
	random := rand.New(rand.NewPCG(15, 16))
	missed := 0
	for n := range 20 {
		f := []*family{&looser[0], &families[0]}[n%2]
		middle := make([]float64, len(f.free))
		for i, l := range f.limits {
			middle[i] = (l[0] + l[1]) / 2
		}
		rates := ratesOf(t, f, middle)
		text, _, _ := strings.Cut(f.text(nil, rates), "[wanted]")
		text += "[wanted]\n"
		for i, name := range f.wanted {
			rate := rates[i] * math.Exp(1.2*(random.Float64()-0.5)*float64(1+i))
			switch random.IntN(3) {
			case 0:
				text += fmt.Sprintf("%s = { target = %v, within = %v }\n", name, rate, rate*(0.01+0.1*random.Float64()))
			case 1:
				text += fmt.Sprintf("%s = { at_least = %v }\n", name, rate)
			default:
				text += fmt.Sprintf("%s = { at_most = %v }\n", name, rate)
			}
		}
		o := made(t, text)
		_, told := o.Worst()
		b := newBridge(o.File)
		least, at := math.Inf(1), []float64(nil)
		const points = 25
		x := make([]float64, 3)
		for k := range points * points * points {
			for i, l := range f.limits {
				x[i] = l[0] + (l[1]-l[0])*float64(k/int(math.Pow(points, float64(i)))%points)/(points-1)
			}
			if miss := b.missAt(x); miss < least {
				least, at = miss, append([]float64(nil), x...)
			}
		}
		if least < o.Full-reachedTolerance || told > o.Full+worthRounding[2]+reachedTolerance {
			t.Errorf("told %.4f at %v, %.4f in full digits; %.4f exists at %v\n%s", told, o.X, o.Full, least, at, text)
		}
		if o.Reached != (told <= reachedTolerance) {
			t.Errorf("reached %v with a largest miss of %v", o.Reached, told)
		}
		if !o.Reached {
			missed++
		}
	}
	if missed < 8 {
		t.Errorf("only %d problems cannot be reached, which shows little", missed)
	}
}
