package section_test

import (
	"testing"

	"bushtune/bushing/exact"
	. "bushtune/compliance/section"
)

// benchmark draws a profile and computes its constants.
func benchmark[T exact.Number](b *testing.B, draw func(p *Profile[T])) {
	var p Profile[T]
	b.ReportAllocs()
	for b.Loop() {
		p.Clear()
		draw(&p)
		if _, err := p.Constants(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPressedV(b *testing.B) {
	benchmark(b, func(p *Profile[float64]) { p.DrawV(80, 60, 30, 30*degree, 5) })
}

func BenchmarkPressedVDerivative(b *testing.B) {
	benchmark(b, func(p *Profile[complex128]) { p.DrawV(80, 60, 30, 30*degree, exact.Seed(5)) })
}

func BenchmarkBox(b *testing.B) {
	benchmark(b, func(p *Profile[float64]) { p.DrawBox(90, 60, 3) })
}
