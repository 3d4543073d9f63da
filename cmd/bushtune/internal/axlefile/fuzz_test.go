package axlefile

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// FuzzRead wants of any text either a file or printable mistakes on lines that
// exist, never a panic; and of a file that an edit to its own values changes
// nothing, and one to its bounds reads back or is refused.
func FuzzRead(f *testing.F) {
	seeds := 0
	for _, pattern := range []string{"testdata/*.toml", "testdata/mistakes/*.toml", "../demo/*.toml", "../demo/*/*.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
			seeds++
		}
	}
	if seeds == 0 {
		f.Fatal("no seeds")
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		file, err := Parse("fuzz.toml", text)
		if err == nil {
			editAll(t, file)
			return
		}
		var mistakes Mistakes
		if !errors.As(err, &mistakes) || len(mistakes) == 0 {
			t.Fatalf("an error without mistakes: %v", err)
		}
		checkPlaces(t, mistakes, text)
	})
}

// editAll edits a file to its present values and to both ends of its bounds.
func editAll(t *testing.T, file *File) {
	t.Helper()
	starts, ends := make([]float64, len(file.Search)), make([]float64, len(file.Search))
	for i, p := range file.Search {
		starts[i], ends[i] = p.Start, p.To
	}
	same, err := file.Edit(starts)
	if err != nil || string(same) != string(file.source.text) {
		t.Fatalf("editing to the present values: %v\n%s", err, same)
	}
	if _, err := file.Edit(ends); err != nil {
		var mistakes Mistakes // a geometry that cannot be, told by the reader
		if !errors.As(err, &mistakes) {
			t.Fatal(err)
		}
	}
	file.Describe()
}
