package axlefile

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/compliance"
)

const twoParts = `title = "two"
[part.A-1]
price = 2
outer_diameter = 56
length = 50
soft = 600
axial = 900
stiff = 2500
cone_soft = 5
torsion = 2
cone_stiff = 6
soft_gap = 4
soft_snubber = 3000
max_radial_load = 8000

[part.B-2]
soft_curve = [[0, 0], [1, 500], [3, 2500]]
axial = 800
stiff = 2000
cone_soft = 4
torsion = 1.5
cone_stiff = 4.5
`

const twoRows = `# as a spreadsheet leaves it
name;price;outer_diameter [mm];length [mm];soft [N/mm];soft_curve;axial [N/mm];stiff [N/mm];cone_soft [N·m/deg];torsion [Nm/deg];cone_stiff;soft_gap [mm];soft_snubber;max_radial_load [N];
A-1;2;56;50;600;;900;2500;5;2;6;4;3000;8000;
B-2;;;;;0:0 1:500 3:2500;800;2000;4;1.5;4.5;;;;
`

func catalogueOf(t *testing.T, name, text string) *Catalogue {
	t.Helper()
	c, err := ParseCatalogue(name, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// number reads a slot of a part in its written unit.
func (p *Part) number(field string) float64 { return p.written(compliance.Bush.FieldIndex(field)) }

func TestCatalogue(t *testing.T) {
	c := catalogueOf(t, "shelf.toml", twoParts)
	if c.Title != "two" || len(c.Parts) != 2 {
		t.Fatalf("%q, %d parts", c.Title, len(c.Parts))
	}
	a, b := &c.Parts[0], &c.Parts[1]
	if a.Name != "A-1" || a.Price != 2 || a.Outer != 56 || a.Length != 50 || a.Line != 2 || a.Curves != nil {
		t.Errorf("%+v", a)
	}
	for field, want := range map[string]float64{"soft": 600, "cone_soft": 5, "torsion": 2, "soft_gap": 4, "max_radial_load": 8000, "snubber_run": 1} {
		if got := a.number(field); got != want {
			t.Errorf("%s = %v, want %v", field, got, want)
		}
	}
	if got, want := a.Slots[compliance.Bush.FieldIndex("torsion")], 2*180000/math.Pi; math.Abs(got/want-1) > 1e-14 {
		t.Errorf("torsion is %v N·mm/rad, want %v", got, want)
	}
	if b.Price != 0 || b.Curves == nil || b.Curves.Tables[bushing.Soft] == nil || b.number("soft") != 0 {
		t.Errorf("%+v", b)
	}
}

// The same catalogue as a table, with semicolons or with commas.
func TestCatalogueAsTable(t *testing.T) {
	want := catalogueOf(t, "shelf.toml", twoParts)
	for name, text := range map[string]string{
		"shelf.csv": twoRows, "commas.CSV": strings.ReplaceAll(twoRows, ";", ","), "mark.csv": "\xef\xbb\xbf" + twoRows,
		"crlf.csv": strings.ReplaceAll(twoRows, "\n", "\r\n"),
	} {
		got := catalogueOf(t, name, text)
		for i := range want.Parts {
			w, g := want.Parts[i], got.Parts[i]
			w.Line = g.Line
			if !reflect.DeepEqual(w, g) {
				t.Errorf("%s: %+v, want %+v", name, g, w)
			}
		}
	}
}

// TestCatalogueMistakes holds all that is said of the catalogues in
// testdata/catalogues against texts.
func TestCatalogueMistakes(t *testing.T) {
	var files []string
	for _, pattern := range []string{"testdata/catalogues/*.toml", "testdata/catalogues/*.csv"} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			t.Fatal("no files", pattern, err)
		}
		files = append(files, found...)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, err = ParseCatalogue(filepath.Base(file), text)
		var mistakes Mistakes
		if !errors.As(err, &mistakes) {
			t.Fatalf("%s: no mistakes, but %v", file, err)
		}
		checkPlaces(t, mistakes, text)
		golden(t, file+".txt", mistakes.Error()+"\n")
	}
}

// A part may hold every number of a bush that does not belong to its place.
func TestCatalogueKeysAreThoseOfABush(t *testing.T) {
	for _, k := range elementKeys(compliance.Bush) {
		if has := find(stockKeys(), k.name) != nil; has == ofPlace(k.name) {
			t.Errorf("%s: of the place %v, key of a part %v", k.name, ofPlace(k.name), has)
		}
	}
}

func FuzzCatalogue(f *testing.F) {
	f.Add("a.toml", []byte(twoParts))
	f.Add("a.csv", []byte(twoRows))
	f.Fuzz(func(t *testing.T, name string, text []byte) {
		c, err := ParseCatalogue(name, text)
		var mistakes Mistakes
		switch {
		case err == nil && len(c.Parts) == 0:
			t.Error("no parts and no mistake")
		case err != nil && !errors.As(err, &mistakes):
			t.Errorf("no mistakes, but %v", err)
		}
	})
}
