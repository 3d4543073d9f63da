package rubber

import (
	"testing"

	"bushtune/bushing/exact"
)

// All rates of one bush from its dimensions: at most 3 µs, nothing allocated.

func benchmarkRates(b *testing.B, bush Bush[float64]) {
	b.ReportAllocs()
	for b.Loop() {
		bush.Rates(Choice{})
	}
}

func BenchmarkBushRates(b *testing.B) {
	b.Run("plain", func(b *testing.B) { benchmarkRates(b, half()) })
	b.Run("voided", func(b *testing.B) { benchmarkRates(b, voided()) })
	b.Run("voids, sleeve and collars", func(b *testing.B) {
		bush := sleeved()
		bush.VoidArc, bush.VoidDepth = 90*degree, 2
		bush.StopGap, bush.StopDiameter, bush.StopThick = 2, 44, 6
		benchmarkRates(b, bush)
	})
}

func BenchmarkBushRatesDerivative(b *testing.B) {
	slots := make([]complex128, len(Fields))
	for i, s := range examples["bush"] {
		slots[i] = complex(s, 0)
	}
	slots[1] = exact.Seed(40)
	bush := New(slots)
	b.ReportAllocs()
	for b.Loop() {
		bush.Rates(Choice{})
	}
}

func TestRatesDoNotAllocate(t *testing.T) {
	plain, voids, split := half(), voided(), sleeved()
	var r Rates[float64]
	for name, bush := range map[string]*Bush[float64]{"plain": &plain, "voided": &voids, "sleeve": &split} {
		if n := testing.AllocsPerRun(50, func() { r = bush.Rates(Choice{}) }); n != 0 {
			t.Errorf("%s: %g allocations", name, n)
		}
	}
	_ = r
}
