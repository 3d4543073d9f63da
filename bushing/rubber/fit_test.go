package rubber_test

import (
	"bytes"
	"flag"
	"fmt"
	"go/format"
	"math"
	"os"
	"testing"

	"bushtune/bushing/rubber"
	"bushtune/bushing/rubber/crosscheck"

	"gonum.org/v1/gonum/mat"
)

var renew = flag.Bool("renew", false, "fit the corrections again and write coefficients.go; three times, as those of voids build on the plain ones, those of round corners on both")

// kept reads committed finite-element data.
func kept(t *testing.T, file string) *crosscheck.Data {
	t.Helper()
	d, err := crosscheck.Read("../../testdata/fe/" + file)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func plainData(t *testing.T) *crosscheck.Data { return kept(t, "rubber-plain.json") }
func voidData(t *testing.T) *crosscheck.Data  { return kept(t, "rubber-voids.json") }
func roundData(t *testing.T) *crosscheck.Data { return kept(t, "rubber-round-voids.json") }

// cylinder is the bush of a figure: outer radius 1 mm, shear modulus 1 MPa.
func cylinder(s *crosscheck.Sample) rubber.Cylinder[float64] {
	return rubber.Cylinder[float64]{Inside: s.Inside, Outside: s.Outside, Length: s.Length, G: 1, Bulk: s.Bulk}
}

// observation is what one bush says of one correction: what finite elements say
// over what is derived, as a logarithm, and the terms of the polynomial.
type observation struct {
	terms []float64
	log   float64
}

// observations are those of the corrections in the order of rubber.Coefficients.
func observations(plain, voided, round []crosscheck.Figure) (all [14][]observation) {
	for _, f := range plain {
		s := f.Place.Sample()
		c := cylinder(&s)
		derived, terms := rubber.PlainDerived(&c)
		for i, rate := range []int{0, 3} {
			all[i] = append(all[i], observation{terms, math.Log(f.Solved()[rate] / derived[i])})
		}
	}
	for _, f := range voided {
		s := f.Place.Sample()
		c := cylinder(&s)
		derived, terms := rubber.VoidDerived(&c, s.Arc, s.Depth)
		for i, rate := range f.Solved() {
			all[2+i] = append(all[2+i], observation{terms, math.Log(rate / derived[i])})
		}
	}
	for _, f := range round {
		s := f.Place.Sample()
		c := cylinder(&s)
		square, terms := rubber.RoundDerived(&c, s.Arc, s.Depth, s.Radius)
		for i, rate := range f.Solved() {
			all[8+i] = append(all[8+i], observation{terms, math.Log(rate / square[i])})
		}
	}
	return all
}

// leastSquares fits the polynomial to the observations.
func leastSquares(t *testing.T, set []observation) []float64 {
	t.Helper()
	a, y := mat.NewDense(len(set), len(set[0].terms), nil), mat.NewVecDense(len(set), nil)
	for i, o := range set {
		a.SetRow(i, o.terms)
		y.SetVec(i, o.log)
	}
	var fitted mat.VecDense
	if err := fitted.SolveVec(a, y); err != nil {
		t.Fatal(err)
	}
	return fitted.RawVector().Data
}

// coefficientRounding is how far a coefficient, kept to six decimals, may lie from
// the fit.
const coefficientRounding = 2e-6

// TestCoefficients fits the corrections again to the committed data.
func TestCoefficients(t *testing.T) {
	sets := observations(plainData(t).Fit, voidData(t).Fit, roundData(t).Fit)
	var fitted [][]float64
	for i, kept := range rubber.Coefficients() {
		fitted = append(fitted, leastSquares(t, sets[i]))
		for j, k := range kept {
			if math.Abs(fitted[i][j]-k) > coefficientRounding && !*renew {
				t.Errorf("correction %d, coefficient %d: %.7f, fitted %.7f", i, j, k, fitted[i][j])
			}
		}
	}
	if *renew {
		writeCoefficients(t, fitted)
	}
}

func writeCoefficients(t *testing.T, fitted [][]float64) {
	t.Helper()
	out := &bytes.Buffer{}
	out.WriteString("package rubber\n\n// Written by go test ./bushing/rubber -run TestCoefficients -renew from\n// testdata/fe/rubber*.json, own finite elements, not published.\n\n")
	row := func(k []float64) {
		out.WriteString("{\n")
		for i, x := range k {
			fmt.Fprintf(out, "%.6f,", x)
			if i%7 == 6 || i == len(k)-1 {
				out.WriteString("\n")
			}
		}
		out.WriteString("}")
	}
	for i, name := range []string{"radialCoefficients", "conicalCoefficients"} {
		fmt.Fprintf(out, "// %s are those of plainTerms.\nvar %s = [plainTerms]float64", name, name)
		row(fitted[i])
		out.WriteString("\n\n")
	}
	for i, of := range []string{"void", "round"} {
		fmt.Fprintf(out, "// %[1]sCoefficients are those of %[1]sTerms, in order of bushing.Direction.\nvar %[1]sCoefficients = [6][%[1]sTerms]float64{\n", of)
		for _, k := range fitted[2+6*i : 8+6*i] {
			row(k)
			out.WriteString(",\n")
		}
		out.WriteString("}\n\n")
	}
	text, err := format.Source(out.Bytes())
	if err == nil {
		err = os.WriteFile("coefficients.go", text, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}
