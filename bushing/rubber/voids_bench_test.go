package rubber

import "testing"

func BenchmarkVoided(b *testing.B) {
	c := Cylinder[float64]{Inside: 12, Outside: 28, Length: 50, G: 0.81, Bulk: 1090}
	b.ReportAllocs()
	for b.Loop() {
		c.Voided(1.5, 6)
	}
}
