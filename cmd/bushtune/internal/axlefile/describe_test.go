package axlefile

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"bushtune/compliance"
)

func TestDescribe(t *testing.T) {
	d := readTwistBeam(t).Describe()
	both := []compliance.Side{compliance.Left, compliance.Right}
	want := []Existence{
		{Name: "bush.pivot", Sides: both, From: "vehicle", To: "arm.left"},
		{Name: "link.toe", Sides: both, From: "vehicle", To: "arm.left"},
		{Name: "spring.coil", Sides: both, From: "vehicle", To: "arm.left"},
		{Name: "beam.cross", Kind: "V", Sides: []compliance.Side{compliance.Centre}, From: "arm.left", To: "arm.right"},
	}
	if !reflect.DeepEqual(d.Elements, want) {
		t.Errorf("elements %+v", d.Elements)
	}
	if len(d.Bodies) != 1 || d.Bodies[0].Name != "arm" || len(d.Bodies[0].Sides) != 2 {
		t.Errorf("bodies %+v", d.Bodies)
	}
	if d.Wheels != [2]string{"arm.left", "arm.right"} {
		t.Errorf("wheels on %v", d.Wheels)
	}
	if !slices.Equal(d.Overrides, []string{"bush.pivot.right.soft"}) {
		t.Errorf("overrides %v", d.Overrides)
	}
	if d.StaticLoad < 2353 || d.StaticLoad > 2354 { // 1200 kg · 0.4 · 9.80665 m/s² / 2 = 2353.6 N
		t.Errorf("static load %v N", d.StaticLoad)
	}
	if len(d.Search) != 6 || d.Title != "test twist beam" {
		t.Errorf("%d parameters, title %q", len(d.Search), d.Title)
	}
}

func TestDescribeNamesOwnCasesAndStates(t *testing.T) {
	f, err := Read("testdata/example.toml")
	if err != nil {
		t.Fatal(err)
	}
	d := f.Describe()
	if !slices.Equal(d.Cases, []string{"kerb"}) || !slices.Equal(d.States, []string{"ramp"}) {
		t.Errorf("cases %v, states %v", d.Cases, d.States)
	}
}

// TestSectionIsThatOfTheLines: a beam whose section is given by the constants that
// are described answers as the drawn one.
func TestSectionIsThatOfTheLines(t *testing.T) {
	drawn := readTwistBeam(t)
	d := drawn.Describe()
	if len(d.Sections) != 1 || d.Sections[0].Beam != "beam.cross" {
		t.Fatalf("sections %+v", d.Sections)
	}
	first := compliance.Beam.FieldIndex(compliance.SectionFields()[0].Name)
	numbers := drawn.Axle.Clone()
	for i := range numbers.Elements {
		if e := &numbers.Elements[i]; e.Kind.Table == compliance.Beam.Table {
			e.Kind, e.Slots = compliance.Beam, append(slices.Clone(e.Slots[:first]), d.Sections[0].Values...)
		}
	}
	var answers [2]*compliance.Solver
	for i, axle := range []*compliance.Axle{drawn.Axle, numbers} {
		s, err := compliance.NewSolver(axle)
		if err != nil {
			t.Fatal(err)
		}
		answers[i] = s
	}
	const rounding = 1e-9 // of the largest entry: condition numbers up to 1e6
	a, b := answers[0].Compliance(), answers[1].Compliance()
	for i := range a {
		if math.Abs(a[i]-b[i]) > rounding*slices.Max(a[:]) {
			t.Errorf("entry %d: %v drawn, %v by its constants", i, a[i], b[i])
		}
	}
	if again := (&File{Axle: numbers, elements: map[string]*part{}}).Describe().Sections[0].Values; !slices.Equal(again, d.Sections[0].Values) {
		t.Errorf("constants %v read again are %v", d.Sections[0].Values, again)
	}
}

func TestEveryKindHasATableInTheFile(t *testing.T) {
	for _, k := range compliance.Kinds() {
		if !slices.Contains(sectionNames(), k.Table) {
			t.Errorf("no table for %s", k.Table)
		}
		keys := withShape(elementKeys(k))
		p := &part{path: k.Table, keys: keys}
		numbers := p.numbers()
		for i, f := range k.Fields {
			if !slices.Contains(numbers, f.Name) {
				t.Errorf("%s %s: %s is no parameter", k.Table, k.Variant, f.Name)
			}
			if p.fieldAt(i).Name != f.Name {
				t.Errorf("%s %s: slot %d is %s, want %s", k.Table, k.Variant, i, p.fieldAt(i).Name, f.Name)
			}
		}
	}
}
