package crosscheck

import (
	"encoding/json"
	"math"
	"path/filepath"
	"slices"
	"testing"
)

// TestHalton: the first numbers in bases 2 and 3, as every textbook has them.
func TestHalton(t *testing.T) {
	for base, want := range map[int][]float64{
		2: {1. / 2, 1. / 4, 3. / 4, 1. / 8, 5. / 8},
		3: {1. / 3, 2. / 3, 1. / 9, 4. / 9, 7. / 9},
	} {
		for i, w := range want {
			if got := radicalInverse(i+1, base); math.Abs(got-w) > 1e-15 {
				t.Errorf("base %d, number %d: %g, want %g", base, i+1, got, w)
			}
		}
	}
}

// TestPlaces: all lie in the range, every corner and the middle of every edge are
// there, no bush stands twice.
func TestPlaces(t *testing.T) {
	const rounding = 5e-3 // places have three figures
	for _, p := range Plans() {
		seen := map[Place]bool{}
		corners, edges := 0, 0
		for _, place := range slices.Concat(p.fitPlaces(), p.edgePlaces(), p.checkPlaces()) {
			if seen[place] {
				t.Errorf("%s: %v stands twice", p.File, place)
			}
			seen[place] = true
			inside := 0
			for i, x := range place {
				if x < p.Low[i]*(1-rounding) || x > p.High[i]*(1+rounding) {
					t.Errorf("%s: %v lies outside", p.File, place)
				}
				if x != p.Low[i] && x != p.High[i] {
					inside++
				}
			}
			switch inside {
			case 0:
				corners++
			case 1:
				edges++
			}
		}
		free := 0
		for i := range p.Low {
			if p.Low[i] != p.High[i] {
				free++
			}
		}
		if corners != 1<<free || edges != free<<(free-1) {
			t.Errorf("%s: %d corners and %d edges, want %d and %d", p.File, corners, edges, 1<<free, free<<(free-1))
		}
	}
}

func TestSampleOfPlace(t *testing.T) {
	s := Place{0.6, 5, 90, 0.25, 1200}.Sample()
	want := Sample{Inside: 0.6, Outside: 1, Length: 2, Arc: math.Pi / 2, Depth: 0.1, Bulk: 1200}
	for i, x := range [][2]float64{
		{s.Inside, want.Inside}, {s.Outside, want.Outside}, {s.Length, want.Length}, {s.Arc, want.Arc}, {s.Depth, want.Depth}, {s.Bulk, want.Bulk},
	} {
		if math.Abs(x[0]-x[1]) > 1e-12 {
			t.Errorf("number %d: %g, want %g", i, x[0], x[1])
		}
	}
	f := Figure{Place{0.6, 5, 90, 0.25, 1200}, Rates{1, 2, 3, 4, 5, 6}}
	if got := f.Solved(); got != (Rates{s.Length, 2 * s.Length, 3 * s.Length, 4, 5, 6}) {
		t.Errorf("solved %v", got)
	}
}

// TestFileOfData: what is written is read again.
func TestFileOfData(t *testing.T) {
	d := &Data{Note: note, Solver: "S", Density: live, Columns: columns,
		Fit:   []Figure{{Place{0.5, 4, 0, 0, 1000}, Rates{1.5, 2, 3, 4, 5, 6e5}}, {Place{0.5, 4, 90, 0.5, 1000}, Rates{1, 2, 3, 4, 5, 6}}},
		Edges: []Figure{{Place{0.6, 4, 0, 0, 1000}, Rates{1, 2, 3, 4, 5, 6}}},
		Check: []Figure{{Place{0.7, 4, 0, 0, 1000}, Rates{1, 2, 3, 4, 5, 6}}}, Finer: []Figure{},
	}
	file := filepath.Join(t.TempDir(), "data.json")
	if err := d.Write(file); err != nil {
		t.Fatal(err)
	}
	got, err := Read(file)
	if err != nil {
		t.Fatal(err)
	}
	one, _ := json.Marshal(d)
	two, _ := json.Marshal(got)
	if string(one) != string(two) {
		t.Errorf("read %s, written %s", two, one)
	}
	if _, err := Read(filepath.Join(t.TempDir(), "none.json")); err == nil {
		t.Error("a file that is not there is read")
	}
}
