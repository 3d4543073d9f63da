package finiteelement

import (
	"strings"
	"testing"
)

// oneBrick stretches a bar of 1 × 1 × 2 mm by 0.01 mm: one brick of E = 200 MPa
// without Poisson's effect.
func oneBrick() []byte {
	out := &strings.Builder{}
	out.WriteString("*NODE\n")
	numbers := []int{1}
	for i, place := range BrickOrder {
		WriteNode(out, i+1, [3]float64{float64(place[0]) / 2, float64(place[1]) / 2, float64(place[2])})
		numbers = append(numbers, i+1)
	}
	out.WriteString("*ELEMENT,TYPE=C3D20R,ELSET=ALL\n")
	WriteList(out, numbers)
	out.WriteString("*NSET,NSET=TOP\n5,6,7,8,13,14,15,16\n*NSET,NSET=FOOT\n1,2,3,4,9,10,11,12\n" +
		"*MATERIAL,NAME=M\n*ELASTIC\n200.,0.\n*SOLID SECTION,ELSET=ALL,MATERIAL=M\n" +
		"*STEP\n*STATIC\n*BOUNDARY\nFOOT,1,3,0.\nTOP,1,2,0.\nTOP,3,3,0.01\n*NODE PRINT,NSET=TOP\nRF\n*END STEP\n")
	return []byte(out.String())
}

func TestRun(t *testing.T) {
	Live(t)
	text, err := Run(oneBrick())
	if err != nil {
		t.Fatal(err)
	}
	tables, err := Tables(text)
	if err != nil || len(tables) != 1 || len(tables[0].Rows) != 8 {
		t.Fatalf("printed: %v, %v", tables, err)
	}
	force := 0.0
	for _, r := range tables[0].Rows {
		force += r.Value[2]
	}
	if force < 0.99999 || force > 1.00001 { // E·A·u/l by hand; seven figures are printed
		t.Errorf("force of the stretched bar %g N, want 1", force)
	}
}

// TestRunReports: a deck that the solver refuses is an error with its words.
func TestRunReports(t *testing.T) {
	Live(t)
	_, err := Run([]byte("*NODE\n1,0.,0.,0.\n*ELEMENT,TYPE=NOSUCH,ELSET=E\n1,1\n*STEP\n*STATIC\n*END STEP\n"))
	if err == nil || !strings.Contains(err.Error(), "ERROR") {
		t.Errorf("got %v, want the solver's own words", err)
	}
}

func TestVersion(t *testing.T) {
	Live(t)
	version, err := Version()
	if err != nil || !strings.HasPrefix(version, "CalculiX ") {
		t.Errorf("%q, %v", version, err)
	}
}
