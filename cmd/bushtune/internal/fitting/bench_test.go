package fitting

import (
	"context"
	"testing"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
)

func BenchmarkRig(b *testing.B) {
	file, study := demoFile(b)
	text, _ := demo.Rig(demo.Default)
	rows, err := axlefile.ReadRig("rig.csv", text, study)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Fit(context.Background(), file, rows, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
