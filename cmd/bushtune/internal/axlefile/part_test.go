package axlefile

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bushtune/bushing/rubber"
	"bushtune/optimize"
)

// TestPartMistakes reads every file of testdata/partmistakes and holds all that is
// said about it against the text of the same name.
func TestPartMistakes(t *testing.T) {
	files, err := filepath.Glob("testdata/partmistakes/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatal("no files", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			_, err = ParsePart(filepath.Base(file), text)
			var mistakes Mistakes
			if !errors.As(err, &mistakes) {
				t.Fatalf("no mistakes, but %v", err)
			}
			checkPlaces(t, mistakes, text)
			golden(t, strings.TrimSuffix(file, ".toml")+".txt", mistakes.Error()+"\n")
		})
	}
}

const goodPart = `# the pivot of an invented axle
title = "pivot"   # kept

[part]
compound = "given"   # measured
shear_modulus = 0.9
inner_diameter = { from = 20, to = 28 }   # bolt
outer_diameter = { from = 50, to = 56 }
length   =   50
[wanted]
torsion = { target = 2.5, within = 0.1 }
axial = { at_least = 250, at_most = 400 }
stiff = 2000
`

func TestPartIsRead(t *testing.T) {
	f, err := ParsePart("pivot.toml", []byte(goodPart))
	if err != nil {
		t.Fatal(err)
	}
	if f.Title != "pivot" || f.Part.Name != "bush" || f.Choice != (rubber.Choice{Compound: rubber.Given}) {
		t.Errorf("title %q, part %q, choice %+v", f.Title, f.Part.Name, f.Choice)
	}
	inner, length, hardness := f.Dimensions[0], f.Dimensions[2], f.Dimensions[3]
	if !inner.Free() || inner.From != 20 || inner.To != 28 || inner.Line != 7 {
		t.Errorf("inner_diameter %+v", inner)
	}
	if length.Free() || !length.Given || length.From != 50 || hardness.Given {
		t.Errorf("length %+v, hardness %+v", length, hardness)
	}
	const torsion, axial, stiff = 4, 1, 2
	want := []WantedRate{
		{torsion, 11, optimize.Target, 2.5, 0.1},
		{axial, 12, optimize.AtLeast, 250, 250 * withinShare},
		{axial, 12, optimize.AtMost, 400, 400 * withinShare},
		{stiff, 13, optimize.Target, 2000, 2000 * withinShare},
	}
	if len(f.Wanted) != len(want) {
		t.Fatalf("%+v", f.Wanted)
	}
	for i := range want {
		if f.Wanted[i] != want[i] {
			t.Errorf("wanted %+v, want %+v", f.Wanted[i], want[i])
		}
	}
}

// Only the limits give way to the chosen numbers; everything else stays, and the
// new file is a part without freedom.
func TestPartEditKeepsTheRest(t *testing.T) {
	f, err := ParsePart("pivot.toml", []byte(goodPart))
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float64, len(f.Dimensions))
	x[0], x[1] = 23.45678912, 60
	got, err := f.Edit(x)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.NewReplacer("{ from = 20, to = 28 }", "23.4568", "{ from = 50, to = 56 }", "56").Replace(goodPart)
	if string(got) != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

// A polyurethane is designed in the middle of its range unless the file says where.
func TestPolyurethaneIsMadeInTheMiddle(t *testing.T) {
	const text = "[part]\ncompound = \"polyurethane\"\nbonded = true\nhardness = 80\ninner_diameter = 24\nouter_diameter = 50\nlength = 50\n"
	for add, want := range map[string]float64{"": middleShare, "range_share = 0\n": 0, "range_share = 0.9\n": 0.9} {
		f, err := ParsePart("part.toml", []byte(text+add))
		if err != nil {
			t.Fatal(err)
		}
		if got := f.Dimensions[RangeShare(f.Part)].From; got != want {
			t.Errorf("%q: %v, want %v", add, got, want)
		}
	}
}

// FuzzReadPart wants of any text either a part or printable mistakes on lines that
// exist, never a panic; and of a part that it can be edited.
func FuzzReadPart(f *testing.F) {
	f.Add([]byte(goodPart))
	for _, pattern := range []string{"testdata/partmistakes/*.toml", "../demo/parts/*.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatal("no seeds", err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		file, err := ParsePart("fuzz.toml", text)
		if err == nil {
			x := make([]float64, len(file.Dimensions))
			for i := range x {
				x[i] = (file.Dimensions[i].From + file.Dimensions[i].To) / 2
			}
			if _, err := file.Edit(x); err != nil {
				t.Fatal(err)
			}
			return
		}
		var mistakes Mistakes
		if !errors.As(err, &mistakes) || len(mistakes) == 0 {
			t.Fatalf("an error without mistakes: %v", err)
		}
		checkPlaces(t, mistakes, text)
	})
}
