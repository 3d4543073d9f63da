package rubber

import (
	"math"
	"testing"

	"bushtune/bushing"
)

const degree = math.Pi / 180

func strainOf(t *testing.T, list []Strain, what string) Strain {
	t.Helper()
	for _, s := range list {
		if s.What == what {
			return s
		}
	}
	t.Fatalf("no strain %q in %+v", what, list)
	return Strain{}
}

// half is a bush whose inner radius is half the outer one: 10 and 20 mm.
func half() Bush[float64] {
	b := natural55()
	b.Inner, b.Outer, b.Length = 20, 40, 40
	return b
}

// voided has voids of 90 deg and 4 mm; sleeved a sleeve in the middle of the wall.
func voided() Bush[float64] {
	b := half()
	b.VoidArc, b.VoidDepth = 90*degree, 4
	return b
}

func sleeved() Bush[float64] {
	b := half()
	b.SleeveDiameter, b.SleeveWall = 29, 1
	return b
}

// Torsion of a bush with a/b = 0.5, γ = 2φ·b²/(b² − a²) worked out by hand: 15 deg give
// 0.698, and half is reached at 10.74 deg.
func TestTorsionShear(t *testing.T) {
	b := half()
	at := func(angle float64) Strain {
		return strainOf(t, Strains(&b, [6]float64{bushing.Torsion: angle}), "shear in torsion")
	}
	if got := at(15 * degree).Value; math.Abs(got-0.698) > 5e-4 {
		t.Errorf("γ = %.4f at 15 deg, want 0.698", got)
	}
	if s := at(10.74 * degree); math.Abs(s.Value-s.Limit) > 5e-4 || s.Limit != 0.5 {
		t.Errorf("γ = %.4f at 10.74 deg, limit %g", s.Value, s.Limit)
	}
}

// The shear at the inner face carries the whole load: stress times area, and arm,
// give the rates of a ring without end loss.
func TestShearCarriesTheLoad(t *testing.T) {
	b := half()
	m := NaturalModuli(b.Hardness)
	c := b.outerRing(&m)
	face := 2 * math.Pi * c.Inside * c.Length * c.G
	if got, want := face*c.Inside*c.torsionShear(1), c.Torsion(); !near(got, want, digits) {
		t.Errorf("moment of the stress %g, rate in torsion %g", got, want)
	}
	long := c
	long.Length = 1e9 // of no matter: end loss over length
	if got, want := face/c.Length*long.Length*c.axialShear(1), long.Axial(); !near(got, want, 1e-7) {
		t.Errorf("force of the stress %g, axial rate %g", got, want)
	}
	// tilt: stress G·γ·cos θ, arm a·cos θ, over the face
	if got, want := face*c.Inside/2*c.tiltingShear(1), c.tiltShear(); !near(got, want, digits) {
		t.Errorf("moment of the stress %g, rate of a tilt in shear %g", got, want)
	}
}

// One direction at a time, by hand: wall 10 mm, length 40 mm, a = 10, b = 20.
func TestStrainsByHand(t *testing.T) {
	const press, ends = "compression of the wall, middle", "compression of the wall, ends"
	const void, legs = "compression at a closed void", "shear of the legs beside the voids"
	const along, torsion, all = "shear along the axis", "shear in torsion", "shear combined"
	for _, c := range []struct {
		name   string
		bush   Bush[float64]
		travel [6]float64
		want   map[string]float64
	}{
		{"soft", half(), [6]float64{1.5}, map[string]float64{press: 0.15, ends: 0.15, along: 0, torsion: 0, all: 0}},
		{"stiff", half(), [6]float64{0, 0, -0.6}, map[string]float64{press: 0.06, ends: 0.06}},
		{"both radial", half(), [6]float64{0.3, 0, 0.4}, map[string]float64{press: 0.05, ends: 0.05}},
		{"tilt about soft", half(), [6]float64{0, 0, 0.4, 0.03, 0, 0}, map[string]float64{press: 0.04, ends: 0.1, along: 0.03 * 5 / 3}},
		{"tilt about stiff", half(), [6]float64{0.4, 0, 0, 0, 0, -0.03}, map[string]float64{press: 0.04, ends: 0.1, along: 0.05, all: 0.05}},
		{"axial", half(), [6]float64{0, 2, 0, 0, 0, 0}, map[string]float64{press: 0, along: 0.2 / math.Ln2, all: 0.2 / math.Ln2}},
		{"torsion", half(), [6]float64{0, 0, 0, 0, 0.1, 0}, map[string]float64{torsion: 0.8 / 3, along: 0, all: 0.8 / 3}},
		{"axial and torsion", half(), [6]float64{0, 2 * math.Ln2, 0, 0, 0.05625, 0}, map[string]float64{along: 0.2, torsion: 0.15, all: 0.25}},
		{"soft, void open", voided(), [6]float64{3}, map[string]float64{press: 0, ends: 0, void: 0, legs: 0.3 / math.Ln2, all: 0.3 / math.Ln2}},
		{"soft, void closed", voided(), [6]float64{-4.6}, map[string]float64{press: 0, void: 0.1, legs: 0.46 / math.Ln2}},
		{"closed by tilt", voided(), [6]float64{4, 0, 0, 0, 0, 0.03}, map[string]float64{void: 0.1, press: 0}},
		{"stiff with voids", voided(), [6]float64{0, 0, 1, 0.025, 0, 0}, map[string]float64{press: 0.1, ends: 0.15, void: 0, legs: 0}},
		{"legs and torsion", voided(), [6]float64{2 * math.Ln2, 0, 0, 0, -0.05625, 0}, map[string]float64{legs: 0.2, torsion: 0.15, all: 0.35}},
	} {
		list := Strains(&c.bush, c.travel)
		for what, want := range c.want {
			if got := strainOf(t, list, what); math.Abs(got.Value-want) > digits {
				t.Errorf("%s: %s %.6g, want %.6g", c.name, what, got.Value, want)
			}
		}
	}
}

// Limits are Lindley's, average design limits: 15 % compression, 50 % shear.
func TestStrainLimits(t *testing.T) {
	b := voided()
	b.StopDiameter, b.StopThick, b.StopGap = 50, 5, 2
	compressions, shears := 0, 0
	for _, s := range Strains(&b, [6]float64{}) {
		switch s.Limit {
		case 0.15:
			compressions++
		case 0.50:
			shears++
		}
		if s.Value != 0 {
			t.Errorf("%s is %g at rest", s.What, s.Value)
		}
	}
	if compressions != 4 || shears != 4 {
		t.Errorf("%d compressions and %d shears, want 4 and 4", compressions, shears)
	}
	plain := half()
	if got := len(Strains(&plain, [6]float64{})); got != 5 {
		t.Errorf("%d indicators of a plain bush, want 5: it has no voids and no stops", got)
	}
}

// A collar is pressed by what its gap leaves; a tilt presses it at its mean diameter.
func TestEndStopCompression(t *testing.T) {
	b := half()
	b.StopDiameter, b.StopThick, b.StopGap = 40, 5, 2
	for _, c := range []struct {
		travel [6]float64
		want   float64
	}{
		{[6]float64{bushing.Axial: 1.9}, 0},
		{[6]float64{bushing.Axial: 2.5}, 0.1},
		{[6]float64{bushing.Axial: -2.5}, 0.1},
		{[6]float64{bushing.Axial: 2, bushing.ConeSoft: 0.04}, 0.12},
	} {
		if got := strainOf(t, Strains(&b, c.travel), "compression of an end stop"); math.Abs(got.Value-c.want) > digits {
			t.Errorf("%v: %g, want %g", c.travel, got.Value, c.want)
		}
	}
}

// Signs of travel do not matter, and strains grow in proportion.
func TestStrainsAreEvenAndLinear(t *testing.T) {
	for _, b := range []Bush[float64]{half(), voided(), sleeved()} {
		travel := [6]float64{0.2, 0.5, 0.4, 0.01, 0.06, 0.02} // void open
		one := Strains(&b, travel)
		var back, double [6]float64
		for i, v := range travel {
			back[i], double[i] = -v, 2*v
		}
		mirrored, twice := Strains(&b, back), Strains(&b, double)
		for i := range one {
			if one[i] != mirrored[i] {
				t.Errorf("%s: %g and %g with all signs turned", one[i].What, one[i].Value, mirrored[i].Value)
			}
			if !near(twice[i].Value, 2*one[i].Value, digits) {
				t.Errorf("%s: %g, of twice the travel %g", one[i].What, one[i].Value, twice[i].Value)
			}
		}
	}
}

// Behind an intermediate sleeve both rings carry the same load: travels add up, the
// shares carry equal loads, and the inner ring shears more.
func TestSleeveSharesTravel(t *testing.T) {
	b := sleeved()
	b.VoidArc, b.VoidDepth = 80*degree, 2
	m := NaturalModuli(b.Hardness)
	outer, inner := b.outerRing(&m), b.innerRing(&m)
	outside, inside := outer.Voided(b.VoidArc, b.VoidDepth, b.voidRadius(&outer)), inner.plain()
	travel := [6]float64{0.3, 0.8, 0.2, 0.01, 0.05, 0.02}
	outerTravel, innerTravel := shareOut(travel, outside.Six(), inside.Six())
	for i := range travel {
		if !near(outerTravel[i]+innerTravel[i], travel[i], digits) || !near(outerTravel[i]*outside.Six()[i], innerTravel[i]*inside.Six()[i], 10*digits) {
			t.Errorf("direction %d: %g and %g of %g", i, outerTravel[i], innerTravel[i], travel[i])
		}
	}
	got := strainOf(t, Strains(&b, travel), "shear in torsion").Value
	if want := inner.torsionShear(innerTravel[bushing.Torsion]); want < outer.torsionShear(outerTravel[bushing.Torsion]) || !near(got, want, digits) {
		t.Errorf("torsion %g, of the inner ring %g", got, want)
	}
}

// Without voids a ring split by a sleeve of no thickness shears in torsion as the
// whole: the moment is the same at every radius.
func TestThinSleeveChangesNoTorsion(t *testing.T) {
	whole, split := half(), half()
	split.SleeveDiameter = 31
	turn := [6]float64{bushing.Torsion: 0.1}
	a, b := strainOf(t, Strains(&whole, turn), "shear in torsion"), strainOf(t, Strains(&split, turn), "shear in torsion")
	if !near(a.Value, b.Value, digits) {
		t.Errorf("%g whole, %g split", a.Value, b.Value)
	}
}
