package rubber

import (
	"testing"

	"bushtune/bushing"
)

// Three sources, each as its own page says: the formula's stated error, Lindley's
// ±2 IRHD through every modulus, the class of the tolerance.
func TestBandsOfABush(t *testing.T) {
	b := voided() // wall 10 mm, 55 IRHD: RMA D2, 11 to 14 %
	bands := Bands(&b, Choice{}, D2)
	soft, stiff := b, b
	soft.Hardness, stiff.Hardness = 53, 57
	own, low, high := b.Rates(Choice{}), soft.Rates(Choice{}), stiff.Rates(Choice{})
	rates, lows, highs := own.Six(), low.Six(), high.Six()
	for i, list := range bands {
		name := bushing.DirectionNames[i]
		if got, want := bandOf(list, againstElements), FitErrors(true)[i]; !near(got.High, 1+want, digits) || !near(got.Low, 1-want, digits) {
			t.Errorf("%s: %+v, stated error %g", name, got, want)
		}
		if got := bandOf(list, ofHardness); !near(got.Low, lows[i]/rates[i], digits) || !near(got.High, highs[i]/rates[i], digits) || !(got.Low < 1 && 1 < got.High) {
			t.Errorf("%s: %+v of ±2 IRHD", name, got)
		}
		if got := bandOf(list, "RMA class D2 of rates, ±11 to ±14 %"); !near(got.Low, 0.86, digits) || !near(got.High, 1.14, digits) {
			t.Errorf("%s: class %+v in %v", name, got, list)
		}
		worst := WorstBand(list)
		product := [2]float64{1, 1}
		for _, b := range list {
			product[0] *= b.Low
			product[1] *= b.High
		}
		if len(list) != 3 || worst.Low != product[0] || worst.High != product[1] {
			t.Errorf("%s: %d bands, worst %+v", name, len(list), worst)
		}
	}
}

// Torsion is exact without voids, given moduli scatter by nothing, and the class
// goes by the thinner ring.
func TestBandsThatAreLeftOut(t *testing.T) {
	b := half()
	b.ShearModulus = 1
	bands := Bands(&b, Choice{Compound: Given}, D1)
	if list := bands[bushing.Torsion]; len(list) != 1 || list[0] != (Band{"RMA class D1 of rates", 0.9, 1.1}) {
		t.Errorf("torsion of given moduli: %v", list)
	}
	split := sleeved()
	if got := bandOf(Bands(&split, Choice{}, D1)[bushing.Torsion], "RMA class D1 of rates"); got.High != 1.15 {
		t.Errorf("class of rings of 4 and 5 mm: %+v, want 15 %%", got)
	}
}

// A polyurethane's band is its whole range, wherever its share lies.
func TestBandOfPolyurethane(t *testing.T) {
	b := half()
	b.Hardness, b.RangeShare = 80, 0.5
	c := Choice{Compound: Polyurethane}
	got := bandOf(Bands(&b, c, D3)[bushing.Torsion], ofPolyurethane)
	low, high := ModuliRange(&b, c)
	g := b.Moduli(c).G
	if !near(got.Low, low.G/g, digits) || !near(got.High, high.G/g, digits) {
		t.Errorf("%+v, moduli %g to %g of %g", got, low.G, high.G, g)
	}
}

// Of touching collars, the axial rate takes the errors of both parts by their shares,
// those of one source in one band.
func TestBandsWithCollars(t *testing.T) {
	b, bare := collared(0), half()
	own, all := bare.Rates(Choice{}).Axial, b.Rates(Choice{}).Axial
	share, stated := own/all, FitErrors(false)[bushing.Axial]
	collar := b.collar()
	factor := func(of []float64) float64 { return between(elementErrors.shape, of, collar.Shape) }
	got := Bands(&b, Choice{}, D1)[bushing.Axial][0]
	low, high := 1-share*stated-(1-share)*(1-factor(elementErrors.low)), 1+share*stated+(1-share)*(factor(elementErrors.high)-1)
	if got.Source != againstElements || !near(got.Low, low, digits) || !near(got.High, high, digits) {
		t.Errorf("%+v, want %g to %g", got, low, high)
	}
}

// Every band of a rate has a source of its own, of whatever bush.
func TestBandsTellEachSourceOnce(t *testing.T) {
	touching, free := collared(0), collared(0)
	voids := voided()
	split := sleeved()
	for _, e := range []struct {
		b Bush[float64]
		c Choice
	}{{touching, Choice{}}, {free, Choice{Free: true}}, {voids, Choice{}}, {split, Choice{}}} {
		for d, bands := range Bands(&e.b, e.c, D2) {
			seen := map[string]bool{}
			for _, b := range bands {
				if seen[b.Source] {
					t.Errorf("%+v %s: %q twice in %+v", e.b, bushing.DirectionNames[d], b.Source, bands)
				}
				seen[b.Source] = true
			}
		}
	}
}

// A closed void's rate has the error of its one number, and the range of what one
// number stands for.
func TestBandsOfAClosedVoid(t *testing.T) {
	b := voided()
	list := closedBands(&b, Choice{}, D2)
	if got := bandOf(list, ofClosing); got.Low != ClosedLow || got.High != ClosedHigh {
		t.Errorf("%+v", got)
	}
	if got := bandOf(list, againstElements); !near(got.High, 1+SnubberError, digits) {
		t.Errorf("%+v, stated %g", got, SnubberError)
	}
	softer := b
	softer.Hardness -= HardnessScatter
	if got, want := bandOf(list, ofHardness).Low, softer.Rates(Choice{}).VoidSnubber/b.Rates(Choice{}).VoidSnubber; !near(got, want, digits) {
		t.Errorf("low %g, want %g", got, want)
	}
}
