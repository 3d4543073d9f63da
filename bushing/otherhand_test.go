package bushing

import "testing"

// TestOtherHandOfCurves: in a mirror across the soft radial, what is along it or about
// the other two axes turns its sign, the rest stays.
func TestOtherHandOfCurves(t *testing.T) {
	table, err := NewTable([][2]float64{{-2, -500}, {0, 0}, {1, 900}, {3, 1000}})
	if err != nil {
		t.Fatal(err)
	}
	var c Curves
	for d := range c.Tables {
		c.Tables[d] = table
	}
	other := c.OtherHand()
	load := func(t *Table, x float64) float64 { return (&Law[float64]{Table: t}).Load(x) }
	for d, mirrored := range map[Direction]bool{Soft: true, Axial: false, Stiff: false, ConeSoft: false, Torsion: true, ConeStiff: true} {
		for _, x := range []float64{-2.5, -1, 0.5, 2, 4} {
			want := load(table, x)
			if mirrored {
				want = -load(table, -x)
			}
			if got := load(other.Tables[d], x); got != want {
				t.Errorf("%s: load at %v is %v, want %v", DirectionNames[d], x, got, want)
			}
		}
	}
	if !other.OtherHand().Equal(&c) || other.Equal(&c) || (*Curves)(nil).OtherHand() != nil {
		t.Error("twice is not the same, or once is")
	}
}
