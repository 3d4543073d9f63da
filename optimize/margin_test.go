package optimize

import (
	"math"
	"testing"
)

func TestMargin(t *testing.T) {
	for _, test := range []struct {
		kind   Kind
		margin float64
	}{{AtLeast, -1}, {AtMost, 1}, {Target, -1}} {
		if got := (Want{Kind: test.kind, Value: 3}).Margin(2); got != test.margin {
			t.Errorf("%v: margin %v, want %v", test.kind, got, test.margin)
		}
	}
	for _, kind := range []Kind{MakeLarge, MakeSmall} {
		if got := (Want{Kind: kind}).Margin(2); !math.IsNaN(got) {
			t.Errorf("%v: margin %v", kind, got)
		}
	}
}
