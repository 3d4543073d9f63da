package cases

import (
	"math"

	"bushtune/bushing"
)

// voidClosed is how many times its rate at the design position a bush line must
// have before its void counts as closed.
const voidClosed = 2

// toeTurned says that more load no longer turns the outer wheel the way it did.
const toeTurned = "toe of the outer wheel turns"

// linesOfBush are the directions in which a void can close.
const linesOfBush = int(bushing.Stiff) + 1

// stiffening is, for every bush and its translational lines, the rate at the
// present posture over that at the design position.
func (f *FullSize) stiffening() []float64 {
	all := make([]float64, 0, linesOfBush*len(f.study.bushes))
	for i := range f.study.bushes {
		element := f.study.bushes[i].element
		for l := range linesOfBush {
			ratio := 1.0
			if rest := f.study.rig.solver.Rate(element, l); rest != 0 {
				ratio = f.mover.LineRate(element, l) / rest
			}
			all = append(all, ratio)
		}
	}
	return all
}

// runsOut lists the loads at which the toe of the outer wheel turns round, and at
// which each void closes.
func (w *sweeping) runsOut() ([]RunOut, error) {
	var all []RunOut
	for n := 1; n < len(w.shares); n++ {
		if w.slopes[n-1]*w.slopes[n] < 0 {
			turn, err := w.toeTurns(n)
			if err != nil {
				return nil, err
			}
			all = append(all, turn)
		}
		for line := range w.stiffer[n] {
			before, after := w.stiffer[n-1][line], w.stiffer[n][line]
			if before < voidClosed && after >= voidClosed {
				at := w.shares[n-1] + (voidClosed-before)/(after-before)*(w.shares[n]-w.shares[n-1])
				all = append(all, w.runOut("void closes", at, line, after))
			}
		}
	}
	return all, nil
}

// runOut names a bush line.
func (w *sweeping) runOut(what string, share float64, line int, ratio float64) RunOut {
	return RunOut{What: what, X: w.x(share), Element: w.f.study.bushes[line/linesOfBush].label,
		Line: bushing.DirectionNames[line%linesOfBush], Stiffer: ratio}
}

// toeTurns finds between two points where the slope of the outer wheel's toe is
// zero, by the Illinois form of false position, and names the bush line that has
// stiffened most until there.
func (w *sweeping) toeTurns(n int) (RunOut, error) {
	const most, enough = 40, 1e-7
	a, b, fa, fb := w.shares[n-1], w.shares[n], w.slopes[n-1], w.slopes[n]
	for range most {
		if b-a <= enough*w.to {
			break
		}
		c := (a*fb - b*fa) / (fb - fa)
		if err := w.goTo(c); err != nil {
			return RunOut{}, err
		}
		fc := w.rateHere().wheels[w.on.Outer].along[toe]
		if math.Abs(fc) <= enough*math.Max(math.Abs(w.slopes[n-1]), math.Abs(w.slopes[n])) {
			break
		}
		if fc*fb < 0 {
			a, fa, b, fb = b, fb, c, fc
		} else {
			fa /= 2
			b, fb = c, fc
		}
		if b < a {
			a, b, fa, fb = b, a, fb, fa
		}
	}
	stiffest, ratio := -1, 1.0
	for line, r := range w.f.stiffening() {
		if r > ratio*(1+enough) {
			stiffest, ratio = line, r
		}
	}
	if stiffest < 0 {
		return RunOut{What: toeTurned, X: w.x(w.share)}, nil
	}
	return w.runOut(toeTurned, w.share, stiffest, ratio), nil
}
