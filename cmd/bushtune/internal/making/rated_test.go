package making

import (
	"fmt"
	"math"
	"testing"

	"bushtune/bushing/rubber"
)

// TestStifferCompoundRaisesAllRates: rates of an incompressible bush follow the
// modulus; with the bulk modulus in it the radial rates follow a little less.
func TestStifferCompoundRaisesAllRates(t *testing.T) {
	of := func(shear float64) []float64 {
		file := parsePart(t, fmt.Sprintf("[part]\ncompound = \"given\"\nshear_modulus = %v\nbulk_modulus = 1000\ninner_diameter = 24\nouter_diameter = 56\nlength = 50\n", shear))
		return Rate(file, newBridge(file).whole(nil), 0).Values
	}
	soft, stiff := of(0.8), of(1.6)
	for i, v := range soft {
		if v == 0 {
			continue
		}
		if ratio := stiff[i] / v; ratio > 2+1e-12 || ratio < 1.9 {
			t.Errorf("number %d rises %v times for twice the modulus", i, ratio)
		}
	}
	if ratio := stiff[4] / soft[4]; math.Abs(ratio-2) > 1e-12 {
		t.Errorf("torsion rises %v times for twice the modulus", ratio)
	}
}

// TestFivePointsOfHardness: by Gent's relation ×1.21 to ×1.23 from 40 to 60 Shore A
// (his formula); by Lindley's rows 40 and 45, 0.45 and 0.54 MPa, ×1.20.
func TestFivePointsOfHardness(t *testing.T) {
	at := func(hardness float64) Compound {
		file := parsePart(t, fmt.Sprintf("[part]\nhardness = %v\ninner_diameter = 24\nouter_diameter = 56\nlength = 50\n", hardness))
		return Rate(file, newBridge(file).whole(nil), 0).Compound
	}
	for h := 40.0; h <= 60; h += 5 {
		if f := at(h).HarderGent; f < 1.205 || f > 1.235 {
			t.Errorf("%v Shore A: ×%v by Gent", h, f)
		}
	}
	if f := at(40).HarderLindley; math.Abs(f-0.54/0.45) > 1e-12 {
		t.Errorf("40 IRHD: ×%v by Lindley", f)
	}
	if c := at(72); c.HarderLindley != 0 || c.Lindley == 0 {
		t.Errorf("72 IRHD: 77 is beyond Lindley's table, but ×%v is told", c.HarderLindley)
	}
}

// TestClassesWiden: a coarser class allows more, and nothing else changes.
func TestClassesWiden(t *testing.T) {
	file := parsePart(t, "[part]\ninner_diameter = 24\nouter_diameter = 56\nlength = 50\n")
	last := 0.0
	for class := rubber.D1; class <= rubber.D3; class++ {
		worst := rubber.WorstBand(Rate(file, newBridge(file).whole(nil), class).Bands[0])
		if worst.High <= last {
			t.Errorf("%s allows %v, the finer class %v", rubber.ClassNames[class], worst.High, last)
		}
		last = worst.High
	}
}

// TestPolyurethaneIsARange: both ends, and the middle between them.
func TestPolyurethaneIsARange(t *testing.T) {
	file := parsePart(t, "[part]\ncompound = \"polyurethane\"\nbonded = true\nhardness = 80\ninner_diameter = 24\nouter_diameter = 56\nlength = 50\n")
	r := Rate(file, newBridge(file).whole(nil), 0)
	// RMA's limits at 80 Shore A: 430 to 795 lbf/in², so torsion, which is linear in G,
	// spans their ratio.
	if got, want := r.Stiffest[4]/r.Softest[4], 795.0/430; math.Abs(got/want-1) > 1e-12 {
		t.Errorf("torsion spans %v, want %v", got, want)
	}
	if got, want := r.Values[4], math.Sqrt(r.Softest[4]*r.Stiffest[4]); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("the middle is %v, want %v", got, want)
	}
}
