package rubber_test

import (
	"fmt"

	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
)

// A bush of 20, 40 and 40 mm in natural rubber of 55 IRHD.
func ExampleBush_Rates() {
	b := rubber.Bush[float64]{Inner: 20, Outer: 40, Length: 40, Hardness: 55, TemperatureFactor: 1, AgeingFactor: 1}
	r := b.Rates(rubber.Choice{})
	fmt.Printf("torsion %.4f N·m/deg, axial %.0f N/mm, radial over axial %.0f\n",
		r.Torsion/quantity.NewtonMetrePerDegree.Factor, r.Axial, r.Soft/r.Axial)

	r = b.Rates(rubber.Choice{Free: true})
	fmt.Printf("not bonded: torsion %g, axial %g, radial over the bonded axial %.1f\n", r.Torsion, r.Axial, r.Soft/277)
	// Output:
	// torsion 0.9475 N·m/deg, axial 277 N/mm, radial over axial 7
	// not bonded: torsion 0, axial 0, radial over the bonded axial 1.7
}

// The derivative of torsion by the inner diameter, exact.
func ExampleBush_Rates_derivative() {
	b := rubber.Bush[complex128]{Inner: exact.Seed(20), Outer: 40, Length: 40, Hardness: 55, TemperatureFactor: 1, AgeingFactor: 1}
	r := b.Rates(rubber.Choice{})
	fmt.Printf("%.4f N·m/deg for a millimetre\n", exact.Derivative(r.Torsion)/quantity.NewtonMetrePerDegree.Factor)
	// Output: 0.1263 N·m/deg for a millimetre
}

// What is wrong is told by the slot to change.
func ExampleBush_Check() {
	b := rubber.Bush[float64]{Inner: 20, Outer: 21, Length: 40, Hardness: 80}
	fmt.Println(b.Check(rubber.Choice{}))
	// Output:
	// hardness is outside its table: natural rubber has published moduli from 30 to 75 IRHD (Lindley), not at 80
	// outer_diameter must be at least 22 mm: inner_diameter and 1 mm of rubber on both sides
}

// Every rate lies between two bounds of linear elasticity; torsion is exact.
func ExampleLimits() {
	b := rubber.Bush[float64]{Inner: 20, Outer: 40, Length: 40, Hardness: 55, TemperatureFactor: 1, AgeingFactor: 1}
	radial, axial := rubber.Limits(&b, rubber.Choice{})[0], rubber.Limits(&b, rubber.Choice{})[1]
	fmt.Printf("radial: %.0f to %.0f N/mm, above: %s\n", radial.Low, radial.High, radial.HighIs)
	fmt.Printf("axial: %.0f to %.0f N/mm\n", axial.Low, axial.High)
	// Output:
	// radial: 682 to 4286 N/mm, above: endless bush: plane strain
	// axial: 269 to 294 N/mm
}

// The block of 50×50×20 mm in natural rubber of 60 IRHD.
func ExampleNewBlock() {
	m := rubber.NaturalModuli(60.0)
	p := rubber.NewBlock(50.0, 50, 20)
	c := rubber.Choice{}
	fmt.Printf("shape factor %.3f, compression %.1f N/mm, shear %.1f N/mm\n", p.Shape, p.Compression(&m, c), p.Shear(&m, c))
	// Output: shape factor 0.625, compression 799.5 N/mm, shear 132.5 N/mm
}

// One path shows any kind of part.
func ExampleParts() {
	for _, p := range rubber.Parts() {
		fmt.Printf("%s: %s;", p.Name, p.Meaning)
		for _, n := range p.Numbers[:2] {
			fmt.Printf(" %s (%s)", n.Name, n.Unit.Name)
		}
		fmt.Println()
	}
	// Output:
	// bush: cylindrical bush between two sleeves; soft (N/mm) axial (N/mm)
	// block: rectangular block between two plates; compression (N/mm) shear (N/mm)
	// disc: round block between two plates; compression (N/mm) shear (N/mm)
	// ring: flat ring between two plates; compression (N/mm) shear (N/mm)
	// strip: long strip between two plates, that bulges across its width only; compression (N/mm) shear (N/mm)
	// inclined_pair: two equal blocks whose axes of compression lean towards each other; vertical (N/mm) lateral (N/mm)
}
