package finiteelement

import (
	"slices"
	"strings"
	"testing"
)

// printed is what the solver prints for two steps.
const printed = `
 displacements (vx,vy,vz) for set POSE and time  0.1000000E+01

         1  1.000000E+00  2.000000E+00  3.000000E+00
        12 -1.000000E-03 -2.000000E-03 -3.000000E-03

 forces (fx,fy,fz) for set POSE and time  0.2000000E+01

         1  7.000000E+00  8.000000E+00  9.000000E+00
`

func TestTables(t *testing.T) {
	tables, err := Tables([]byte(printed))
	if err != nil {
		t.Fatal(err)
	}
	want := []Table{
		{"displacements", []Row{{1, [3]float64{1, 2, 3}}, {12, [3]float64{-1e-3, -2e-3, -3e-3}}}},
		{"forces", []Row{{1, [3]float64{7, 8, 9}}}},
	}
	same := func(a, b Table) bool { return a.Quantity == b.Quantity && slices.Equal(a.Rows, b.Rows) }
	if !slices.EqualFunc(tables, want, same) {
		t.Errorf("got %v, want %v", tables, want)
	}
}

func TestTablesRefuse(t *testing.T) {
	for name, row := range map[string]string{
		"not a node":   " x 1.0 1.0 1.0",
		"not a number": " 1 1.0 ***** 1.0",
	} {
		text := strings.SplitAfter(printed, "E+01\n")[0] + row + "\n"
		if _, err := Tables([]byte(text)); err == nil {
			t.Errorf("%s: accepted %q", name, row)
		}
	}
}

// TestWriteList: ten numbers a line, a comma where it goes on.
func TestWriteList(t *testing.T) {
	out := &strings.Builder{}
	WriteList(out, []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12})
	if want := "1,2,3,4,5,6,7,8,9,10,\n11,12\n"; out.String() != want {
		t.Errorf("got %q, want %q", out, want)
	}
}
