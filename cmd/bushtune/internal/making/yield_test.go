package making

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"bushtune/bushing/rubber"
)

// yieldDigits is how near a share of parts must come: what is printed is whole percent.
const yieldDigits = 0.005

// TestYieldInClosedForm: torsion is proportional to the length (Adkins & Gent), which
// scatters evenly by 1.3 mm, ISO 3302-1 M3 of 40 to 63 mm across the closure; with a
// hardness that holds, the share above a limit is a ratio of lengths. Torsion goes with G,
// so with hardness alone the share is that of the points of hardness with more.
func TestYieldInClosedForm(t *testing.T) {
	torsion := func(length float64) float64 { // N·m/deg, G of 55 IRHD 0.81 MPa
		a, b := 12.0*12, 28.0*28
		return 4 * math.Pi * 0.81 * length * a * b / (b - a) / 1e3 * math.Pi / 180
	}
	const text = "[part]\ninner_diameter = 24\nouter_diameter = 56\nlength = 48\nhardness = 55\n[wanted]\n"
	of := func(wanted string, s rubber.Scatter) *Yield {
		file := parsePart(t, text+wanted)
		return YieldOf(file, newBridge(file).whole(nil), s)
	}
	y := of(fmt.Sprintf("torsion = { at_least = %v, at_most = %v }", torsion(48.5), torsion(49)), rubber.Scatter{Mould: rubber.M3})
	for i, want := range []float64{(49.3 - 48.5) / 2.6, (49 - 46.7) / 2.6, (49 - 48.5) / 2.6} {
		if got := append(y.Each, y.All)[i]; math.Abs(got-want) > yieldDigits {
			t.Errorf("share %d: %.4f of the parts, want %.4f", i, got, want)
		}
	}
	// 56.5 IRHD and more of 50 to 60, and lengths that are drawn with them: M1, ±0.35 mm.
	limit := torsion(48) * rubber.NaturalModuli(56.5).G / 0.81
	if y := of(fmt.Sprintf("torsion = { at_least = %v }", limit), rubber.Scatter{Hardness: 5}); math.Abs(y.All-0.35) > 0.01 {
		t.Errorf("above 56.5 of 50 to 60 IRHD: %.4f of the parts, want about 0.35", y.All)
	}
}

// TestYieldAgainstChance compares with parts that are drawn by chance, of every shape that
// is known by its dimensions.
func TestYieldAgainstChance(t *testing.T) {
	random := rand.New(rand.NewPCG(17, 18))
	s := rubber.Scatter{Hardness: 5, Mould: rubber.M3}
	for shape, text := range every {
		file := parsePart(t, text)
		o := made(t, text)
		y := YieldOf(file, o.X, s)
		b := newBridge(file)
		slots := append([]float64(nil), b.slotsAt(b.freeOf(o.X))...)
		off := file.Part.Tolerances(slots, file.Choice, s)
		shares, part := make([]float64, len(slots)), make([]float64, len(slots))
		each, all := make([]float64, len(file.Wanted)), 0.0
		const parts = 100000
		for range parts {
			for i := range shares {
				shares[i] = 2*random.Float64() - 1
			}
			file.Part.WithScatter(slots, off, shares, file.Choice, s, part)
			file.Part.Values(part, file.Choice, b.values)
			got := b.judge(b.values)
			for i, g := range got {
				if g.Reached {
					each[i] += 1. / parts
				}
			}
			if allReached(got) {
				all += 1. / parts
			}
		}
		t.Logf("%s: %.3f, by chance %.3f; all %.3f, %.3f", shape, y.Each, each, y.All, all)
		for i := range each {
			if math.Abs(each[i]-y.Each[i]) > yieldDigits {
				t.Errorf("%s, want %d: %.4f of the parts, by chance %.4f", shape, i, y.Each[i], each[i])
			}
		}
		if math.Abs(all-y.All) > yieldDigits {
			t.Errorf("%s: all wants %.4f of the parts, by chance %.4f", shape, y.All, all)
		}
	}
}

// TestYieldOfGivenModuli: moduli that are given scatter as a maker's points of hardness
// say, 1.205 for five.
func TestYieldOfGivenModuli(t *testing.T) {
	file := parsePart(t, "[part]\ncompound = \"given\"\nshear_modulus = 1\ninner_diameter = 24\nouter_diameter = 56\nlength = 48\n[wanted]\ntorsion = 1\n")
	y := YieldOf(file, newBridge(file).whole(nil), rubber.Scatter{Hardness: 5, Mould: rubber.M1})
	if ratio, want := y.Hi[0]/y.Low[0], 1.205*1.205*48.35/47.65; math.Abs(ratio/want-1) > 0.01 {
		t.Errorf("torsion spans %.4f, want %.4f", ratio, want)
	}
}
