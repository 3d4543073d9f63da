package axlefile

import "testing"

func BenchmarkParse(b *testing.B) {
	f, err := Read("testdata/twistbeam.toml")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Parse("", f.source.text); err != nil {
			b.Fatal(err)
		}
	}
}
