package rubber

import (
	"math"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// examples are slots of every part, in internal units, inside its range. At rows of
// the table of hardness the second derivative jumps: 57 is none.
var examples = map[string][]float64{
	"bush":          {20, 40, 40, 57, 1.5, 4, 1.5, 0, 0, 2, 44, 6, 0.8, 1000, 0.5, 1.1, 0.9},
	"block":         {60, 40, 12, 57, 0.8, 1000, 0.5, 1.1, 0.9},
	"disc":          {50, 12, 57, 0.8, 1000, 0.5, 1.1, 0.9},
	"ring":          {60, 20, 15, 57, 0.8, 1000, 0.5, 1.1, 0.9},
	"strip":         {300, 40, 12, 57, 0.8, 1000, 0.5, 1.1, 0.9},
	"inclined_pair": {60, 40, 12, 150, 0.6, 57, 0.8, 1000, 0.5, 1.1, 0.9},
}

// choices are all compounds, bonded; polyurethane has its own range of hardness.
func choices() []Choice { return []Choice{{}, {Compound: Polyurethane}, {Compound: Given}} }

func exampleOf(t *testing.T, p *Part, c Choice) []float64 {
	t.Helper()
	slots := slices.Clone(examples[p.Name])
	if len(slots) != len(p.Fields) {
		t.Fatalf("%s: %d slots for %d fields", p.Name, len(slots), len(p.Fields))
	}
	if c.Compound == Polyurethane {
		slots[fieldOf(p, "hardness")] = 62
	}
	if err := p.Check(slots, c); err != nil {
		t.Fatalf("%s, %s: %v", p.Name, CompoundNames[c.Compound], err)
	}
	return slots
}

func fieldOf(p *Part, name string) int {
	return slices.IndexFunc(p.Fields, func(f quantity.Field) bool { return f.Name == name })
}

// Every derivative of every number of every part by every slot is that of
// extrapolated central differences, and values are the same over both scalars.
func TestPartDerivatives(t *testing.T) {
	const share = 1e-4 // of a slot, step of differences
	for _, p := range Parts() {
		for _, c := range choices() {
			slots := exampleOf(t, p, c)
			n := len(p.Numbers)
			at := func(slot int, step float64) []float64 {
				moved, into := slices.Clone(slots), make([]float64, n)
				moved[slot] += step
				p.Values(moved, c, into)
				return into
			}
			plain := at(0, 0)
			for slot := range slots {
				if slots[slot] == 0 {
					continue // no sleeve: its slots act only together
				}
				lifted, into := make([]complex128, len(slots)), make([]complex128, n)
				for i, s := range slots {
					lifted[i] = complex(s, 0)
				}
				lifted[slot] = exact.Seed(slots[slot])
				p.Lifted(lifted, c, into)
				h := share * slots[slot]
				wideUp, wideDown, up, down := at(slot, h), at(slot, -h), at(slot, h/2), at(slot, -h/2)
				for k := range into {
					slope := (4*(up[k]-down[k])/h - (wideUp[k]-wideDown[k])/(2*h)) / 3
					if !near(real(into[k]), plain[k], digits) {
						t.Errorf("%s, %s: %.15g in complex, %.15g in real", p.Name, p.Numbers[k].Name, real(into[k]), plain[k])
					}
					if got := exact.Derivative(into[k]); math.Abs(got-slope) > differences*max(math.Abs(slope), math.Abs(plain[k]/slots[slot])) {
						t.Errorf("%s, %s: ∂%s/∂%s = %.10g, differences %.10g", p.Name, CompoundNames[c.Compound], p.Numbers[k].Name, p.Fields[slot].Name, got, slope)
					}
				}
			}
		}
	}
}

// Numbers lie between their limits; bands hold 1 and name a source; each list has
// one entry for a number.
func TestPartAnswers(t *testing.T) {
	for _, p := range Parts() {
		for _, c := range choices() {
			slots := exampleOf(t, p, c)
			into := make([]float64, len(p.Numbers))
			p.Values(slots, c, into)
			limits, bands := p.Limits(slots, c), p.Bands(slots, c, D2)
			if len(limits) != len(into) || len(bands) != len(into) {
				t.Fatalf("%s: %d numbers, %d limits, %d bands", p.Name, len(into), len(limits), len(bands))
			}
			for k, v := range into {
				if l := limits[k]; l != (Between{}) && !(l.Low <= v*(1+digits) && v*(1-digits) <= l.High && l.LowIs != "" && l.HighIs != "") {
					t.Errorf("%s: %s %.5g is not between %+v", p.Name, p.Numbers[k].Name, v, l)
				}
				for _, b := range bands[k] {
					if !(b.Low <= 1 && 1 <= b.High && b.Low > 0) || b.Source == "" {
						t.Errorf("%s: %s has band %+v", p.Name, p.Numbers[k].Name, b)
					}
				}
			}
		}
	}
}

// All parts end with the same slots of the compound, and no two have a name in
// common; numbers and fields have names and meanings.
func TestPartTables(t *testing.T) {
	names := map[string]bool{}
	for _, p := range Parts() {
		if names[p.Name] || p.Meaning == "" {
			t.Errorf("part %q: named twice, or without meaning", p.Name)
		}
		names[p.Name] = true
		for _, f := range slices.Concat(p.Fields, p.Numbers) {
			if f.Name == "" || f.Meaning == "" || f.Unit.Factor == 0 {
				t.Errorf("%s: %+v is not whole", p.Name, f)
			}
		}
		if p == BushPart {
			continue
		}
		tail := p.Fields[len(p.Fields)-len(compoundFields):]
		for i, f := range compoundFields {
			if tail[i] != f {
				t.Errorf("%s: slot %q where %q should be", p.Name, tail[i].Name, f.Name)
			}
		}
	}
}

// newCompound reads the slots that compoundFields list.
func TestCompoundSlots(t *testing.T) {
	names := []string{"hardness", "shear_modulus", "bulk_modulus", "range_share", "temperature_factor", "ageing_factor"}
	for i, f := range compoundFields {
		if f.Name != names[i] {
			t.Fatalf("slot %d is %q, want %q", i, f.Name, names[i])
		}
	}
	b := newCompound([]float64{1, 2, 3, 4, 5, 6})
	if got := [6]float64{b.Hardness, b.ShearModulus, b.BulkModulus, b.RangeShare, b.TemperatureFactor, b.AgeingFactor}; got != [6]float64{1, 2, 3, 4, 5, 6} {
		t.Errorf("compound %v", got)
	}
}

// What is wrong with a pad or a pair names its slot.
func TestPartChecks(t *testing.T) {
	for _, e := range []struct {
		part   *Part
		slot   string
		to     float64
		choice Choice
		wrong  string
		says   string
	}{
		{BlockPart, "thickness", 1, Choice{}, "thickness", "from 1.2 to 48 mm"},
		{BlockPart, "length", 170, Choice{}, "length", "strip"},
		{StripPart, "length", 150, Choice{}, "length", "block"},
		{DiscPart, "thickness", 60, Choice{}, "thickness", "from 1.25 to 50 mm"},
		{RingPart, "inner_diameter", 59, Choice{}, "outer_diameter", "at least 61 mm"},
		{BlockPart, "hardness", 76, Choice{}, "hardness", "30 to 75"},
		{InclinedPairPart, "tilt", 0.5, Choice{Free: true}, "bonded", "must be true"},
		{InclinedPairPart, "length", 200, Choice{}, "length", "times as long"},
	} {
		slots := slices.Clone(examples[e.part.Name])
		slots[fieldOf(e.part, e.slot)] = e.to
		err := e.part.Check(slots, e.choice)
		if got := slotsOf(t, err); !slices.Equal(got, []string{e.wrong}) || !strings.Contains(err.Error(), e.says) {
			t.Errorf("%s with %s %g: %v", e.part.Name, e.slot, e.to, err)
		}
	}
}

// A bush without void_radius says which radius is assumed and what square corners would
// change; with one it says nothing.
func TestAssumedRound(t *testing.T) {
	b := Bush[float64]{Inner: 24, Outer: 56, Length: 50, Hardness: 55, VoidArc: 1.5, VoidDepth: 6, TemperatureFactor: 1, AgeingFactor: 1}
	if got := b.RoundAssumed(Choice{}); !strings.Contains(got, "3 mm") || !strings.Contains(got, "soft 7 %, stiff 6 % and torsion 6 % softer") {
		t.Error(got)
	}
	round, given := b.Rates(Choice{}), b
	given.VoidRadius = 3
	if got := given.Rates(Choice{}); got != round || given.RoundAssumed(Choice{}) != "" {
		t.Errorf("%+v with the full radius, %+v without: %q", got, round, given.RoundAssumed(Choice{}))
	}
	given.VoidRadius = 3.1
	if err := given.Check(Choice{}); err == nil || !strings.Contains(err.Error(), "at most 3 mm, half of void_depth") {
		t.Error(err)
	}
	given.VoidArc, given.VoidDepth = 0, 0
	if err := given.Check(Choice{}); err == nil || !strings.Contains(err.Error(), "needs void_arc") {
		t.Error(err)
	}
}

// Warnings say what a bush or a pad holds by friction alone, and what may buckle.
func TestPartWarnings(t *testing.T) {
	for _, p := range Parts() {
		slots := exampleOf(t, p, Choice{})
		if w := p.Warnings(slots, Choice{}); p == BushPart && w != nil {
			t.Errorf("bush: %v", w)
		}
		if p == InclinedPairPart {
			continue
		}
		if w := strings.Join(p.Warnings(slots, Choice{Free: true}), " "); !strings.Contains(w, "not bonded") {
			t.Errorf("%s, free: %q", p.Name, w)
		}
	}
}
