package crosscheck

import (
	"flag"
	"fmt"
	"math"
	"os"
	"testing"

	"bushtune/bushing/finiteelement"
	"bushtune/cases"
)

// referenceDirectory keeps the committed numbers.
const referenceDirectory = "../../testdata/fe"

func bothEnds() []Ends { return []Ends{Primary, BuiltIn} }

func committed(t *testing.T, a Axle, e Ends) *Reference {
	t.Helper()
	r, err := ReadReference(referenceDirectory, a, e)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestMain solves all axles again and writes the reference numbers first, if asked:
// go test ./cases/crosscheck -renew
func TestMain(m *testing.M) {
	renew := flag.Bool("renew", false, "solve all axles and write testdata/fe")
	flag.Parse()
	if *renew {
		if err := renewReferences(); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	os.Exit(m.Run())
}

func renewReferences() error {
	if err := renewFinite(); err != nil {
		return err
	}
	if err := renewPreload(); err != nil {
		return err
	}
	for _, a := range Axles() {
		for _, e := range bothEnds() {
			r, err := NewReference(a, e, Fineness)
			if err != nil {
				return err
			}
			if err := r.Write(referenceDirectory, a); err != nil {
				return err
			}
		}
	}
	return nil
}

// TestCommitted holds the compliance model against the committed numbers.
func TestCommitted(t *testing.T) {
	for _, a := range Axles() {
		for _, e := range bothEnds() {
			t.Run(fmt.Sprintf("%s/%s", a.Name, e), func(t *testing.T) {
				for _, miss := range disagreements(t, a, committed(t, a, e), nil) {
					t.Error(miss)
				}
			})
		}
	}
}

// liveDensity is coarser than Fineness, so that all axles are solved in a minute
// or two.
var liveDensity = Density{Around: 30, Turn: 45, Along: 20, Grading: 0.7}

// meshTolerance is how much the two densities may differ: to a figure itself, or
// to a tenth of it of the largest like figure. Measured at
// most 0.12 %, in the twist of the tilted U.
const meshTolerance = 0.002

// TestLive solves all axles and holds both the compliance model and the
// committed numbers against the answer; the two densities of mesh differ, so the
// latter says that the mesh is fine enough.
func TestLive(t *testing.T) {
	finiteelement.Live(t)
	for _, a := range Axles() {
		for _, e := range bothEnds() {
			t.Run(fmt.Sprintf("%s/%s", a.Name, e), func(t *testing.T) {
				t.Parallel()
				live(t, a, e)
			})
		}
	}
}

func live(t *testing.T, a Axle, e Ends) {
	solved, err := NewReference(a, e, liveDensity)
	if err != nil {
		t.Fatal(err)
	}
	for _, miss := range disagreements(t, a, solved, nil) {
		t.Error(miss)
	}
	kept := committed(t, a, e)
	for i, answer := range solved.Answers {
		for _, miss := range Compare(answer, kept.Answers[i], meshTolerance, meshTolerance/10) {
			t.Errorf("other mesh: %s", miss)
		}
	}
	for i := range kept.Member {
		got, want := solved.Member[i][i], kept.Member[i][i]
		if math.Abs(got/want-1) > meshTolerance {
			t.Errorf("other mesh: flexibility %d of the cross-member: %g, committed %g", i, got, want)
		}
	}
}

// disagreements predicts all cases of a reference, the beam of the model changed
// first, and lists what disagrees.
func disagreements(t *testing.T, a Axle, r *Reference, change func(*part)) []Miss {
	t.Helper()
	model, err := a.Compliance(r.Ends)
	if err != nil {
		t.Fatal(err)
	}
	changeBeam(model, change)
	s, err := cases.NewStudy(model, cases.UnknownVehicle(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	loadCases := cases.BuiltIn()
	if len(r.Answers) != len(loadCases) {
		t.Fatalf("%d answers for %d cases", len(r.Answers), len(loadCases))
	}
	var misses []Miss
	for i, c := range loadCases {
		if r.Answers[i].Case != c.Name {
			t.Fatalf("answer %d is to %q, not to %q: renew the numbers", i, r.Answers[i].Case, c.Name)
		}
		answer, err := Predict(s, c)
		if err != nil {
			t.Fatal(err)
		}
		misses = append(misses, Compare(answer, r.Answers[i], relativeTolerance, caseTolerance)...)
	}
	return misses
}

// control leaves out one part of the beam's theory.
type control struct {
	name, axle string
	ends       Ends
	change     func(*part)
}

// zero clears fields of a beam.
func zero(fields ...string) func(*part) {
	return func(p *part) {
		for _, name := range fields {
			p.set(name, 0)
		}
	}
}

// merge puts one point of the section at another.
func merge(moved, kept string) func(*part) {
	return func(p *part) {
		p.set(moved+".f", p.get(kept+".f"))
		p.set(moved+".u", p.get(kept+".u"))
	}
}

var controls = []control{
	{"centroid at the shear centre", "v-down", Primary, merge("centroid", "shear_centre")},
	{"shear centre at the centroid", "v-down", Primary, merge("shear_centre", "centroid")},
	{"principal axes not turned", "v-unequal", BuiltIn, zero("inertia_mixed")},
	{"principal axes not turned", "u-tilted-35", BuiltIn, zero("inertia_mixed")},
	{"no shear flexibility", "u-tilted-35", Primary, zero("shear_forward", "shear_up", "shear_mixed")},
	{"shear flexibility without its mixed term", "u-tilted-35", Primary, zero("shear_mixed")},
	{"no warping", "u-down", Primary, zero("warping_constant")},
	{"no warping", "v-down", Primary, zero("warping_constant")},
}

// TestNegativeControls: the check of whole axles must fail when a part of the
// beam's theory is left out.
func TestNegativeControls(t *testing.T) {
	for _, c := range controls {
		a := axleNamed(t, c.axle)
		misses := disagreements(t, a, committed(t, a, c.ends), c.change)
		if len(misses) == 0 {
			t.Errorf("%s, %s: the check does not notice", c.name, c.axle)
			continue
		}
		t.Logf("%s, %s: %d figures disagree, first %s", c.name, c.axle, len(misses), misses[0])
	}
}

func axleNamed(t *testing.T, name string) Axle {
	t.Helper()
	for _, a := range Axles() {
		if a.Name == name {
			return a
		}
	}
	t.Fatalf("no axle %q", name)
	return Axle{}
}
