package axlefile

import (
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
	if len(d.Bodies) != 1 || d.Bodies[0].Name != "arm" || len(d.Bodies[0].Sides) != 2 || d.Freedoms != 12 {
		t.Errorf("bodies %+v, %d freedoms", d.Bodies, d.Freedoms)
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
	if len(d.Search) != 6 || len(d.Wants) != 2 || d.Title != "test twist beam" {
		t.Errorf("%d parameters, %d wants, title %q", len(d.Search), len(d.Wants), d.Title)
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
