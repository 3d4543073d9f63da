package crosscheck

import (
	"flag"
	"fmt"
	"testing"

	"bushtune/cases"
	"bushtune/compliance"
)

// renew solves all axles again and writes the reference numbers.
var renew = flag.Bool("renew", false, "solve all axles and write testdata/fe")

// referenceDirectory keeps the committed numbers.
const referenceDirectory = "../../testdata/fe"

func bothEnds() []Ends { return []Ends{Primary, BuiltIn} }

func TestRenew(t *testing.T) {
	if !*renew {
		t.Skip("run with -renew to solve all axles and write the reference numbers")
	}
	for _, a := range Axles() {
		for _, e := range bothEnds() {
			r, err := NewReference(a, e, Fineness)
			if err != nil {
				t.Fatal(err)
			}
			if err := r.Write(referenceDirectory, a); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// TestCommitted holds the compliance model against the committed numbers.
func TestCommitted(t *testing.T) {
	for _, a := range Axles() {
		for _, e := range bothEnds() {
			t.Run(fmt.Sprintf("%s/%s", a.Name, e), func(t *testing.T) {
				r, err := ReadReference(referenceDirectory, a, e)
				if err != nil {
					t.Fatal(err)
				}
				for _, miss := range against(t, r, a) {
					t.Error(miss)
				}
			})
		}
	}
}

// against predicts all cases of a reference and lists what disagrees.
func against(t *testing.T, r *Reference, a Axle) []Miss {
	t.Helper()
	model, err := a.Compliance(r.Ends)
	if err != nil {
		t.Fatal(err)
	}
	return disagreements(t, r, model)
}

func disagreements(t *testing.T, r *Reference, model *compliance.Axle) []Miss {
	t.Helper()
	s, err := compliance.NewSolver(model)
	if err != nil {
		t.Fatal(err)
	}
	loadCases := cases.BuiltIn()
	if len(r.Answers) != len(loadCases) {
		t.Fatalf("%d answers for %d cases", len(r.Answers), len(loadCases))
	}
	var misses []Miss
	for i, c := range loadCases {
		misses = append(misses, Compare(newAnswer(c, Predict(s, c)), r.Answers[i])...)
	}
	return misses
}
