package sheet

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
)

// byDimensions is a rigid axle whose bushes are given by their dimensions.
func byDimensions(t testing.TB, keys, wants string) *Sheet {
	t.Helper()
	rubber := "rubber = { inner_diameter = 24, outer_diameter = 56, length = 50, hardness = 55, compound = \"natural\", bonded = true" + keys + " }\n"
	return sheetsOf(t, fmt.Sprintf(plainAxle, rubber+"base = \"lateral\"")+wants)[0]
}

// A bush given by dimensions shows them with the published tolerance, its compound,
// the sources of its error and its strains; one given by rates none of them.
func TestSheetOfABushByDimensions(t *testing.T) {
	s := byDimensions(t, ", void_arc = 90, void_depth = 6", "")
	text := markdown(t, Pages{s})
	tables := markdownTables(t, text)
	find := func(first string) []string {
		for _, table := range tables {
			for _, row := range table {
				if row[0] == first {
					return row
				}
			}
		}
		t.Errorf("no row %q", first)
		return make([]string, 8)
	}
	// ISO 3302-1 class M3: 16 to 25 mm ±0.50 and ±0.80, 40 to 63 mm ±0.80 and ±1.30, 4 to 6.3 mm ±0.25 and ±0.40
	for first, want := range map[string]string{
		"rubber on the inner sleeve, diameter":                "24 mm ±0.50 ±0.80",
		"length of the rubber":                                "50 mm ±0.80 ±1.30",
		"each of two voids: radial depth, middle of the wall": "6 mm ±0.25 ±0.40",
		"each of two voids: angle about the axis":             "90 deg  ",
	} {
		if got := strings.Join(find(first)[1:5], " "); got != want {
			t.Errorf("%s: %q, want %q", first, got, want)
		}
	}
	for _, want := range []string{"Lindley's table", "0.81 MPa", "0.989 MPa", "own finite elements", "hardness ±2", "RMA class D2", "Bonded to both sleeves", "The voids are centred there"} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if got := find("shear in torsion"); got[1] != "50" || got[4] == "" {
		t.Errorf("strain in torsion: %v", got)
	}
	sections := map[string]int{}
	for _, r := range s.rows() {
		sections[r.Section]++
		if r.Section == "band" && !(*r.Low <= *r.Value && *r.Value <= *r.High) {
			t.Errorf("%s is not inside its band: %+v", r.Item, r)
		}
	}
	if sections["dimension"] != 6 || sections["band"] < 24 || sections["strain"] < 5 {
		t.Errorf("rows by section: %v", sections)
	}
	other := markdown(t, Pages{sheetOf(t, "")})
	for _, not := range []string{"Strains of the rubber", "How sure these rates are", "ISO 3302"} {
		if strings.Contains(other, not) {
			t.Errorf("a bush given by rates has %q", not)
		}
	}
	if !strings.Contains(other, "open, the supplier's choice") {
		t.Error("a bush given by rates does not leave its dimensions to the supplier")
	}
}

// The sheet's rates are those of the package, its tolerance that of the bush's own
// hardness and wall, its strains those of the cases.
func TestSheetTakesRatesAndStrainsFromTheRubber(t *testing.T) {
	s := byDimensions(t, ", void_arc = 90, void_depth = 6", "")
	r := s.rubber.Rates(rubber.Choice{})
	for d, want := range r.Six() {
		if got := s.rate(bushing.Direction(d)); got != want || got <= 0 {
			t.Errorf("%s: %g, want %g", directionWords[d], got, want)
		}
	}
	if hardness, wall, given := s.material(); hardness != 55 || wall != 16 || !given {
		t.Errorf("material %g Shore A, wall %g mm", hardness, wall)
	}
	thin := byDimensions(t, ", sleeve_diameter = 44, sleeve_wall = 2", "")
	if _, most := thin.tolerance(); most != 0.20 { // wall of 5 mm: the second column of class D2
		t.Errorf("tolerance of a wall of 5 mm is %g, want 0.20", most)
	}
	for _, worst := range s.strains(false) {
		largest := 0.0
		for i := range s.loads {
			for _, e := range rubber.Strains(s.rubber, s.loads[i].load.Travel) {
				if e.What == worst.What {
					largest = max(largest, e.Value)
				}
			}
		}
		if worst.Value != largest {
			t.Errorf("%s: %g, the largest of the cases is %g", worst.What, worst.Value, largest)
		}
	}
}

// At full size the strains are those that solve tells, from the free shape.
func TestStrainsAtFullSizeAreTheStudys(t *testing.T) {
	s := demoPages(t, "estate-rubber")[0]
	largest := map[string]float64{}
	study := s.axle.Study
	for _, b := range study.BushLoads() {
		if !strings.HasPrefix(b.Case, "state_") {
			continue
		}
		for _, u := range study.Strains(&b) {
			largest[u.What] = max(largest[u.What], u.Value)
		}
	}
	worst := s.strains(true)
	if len(worst) == 0 || len(worst) != len(largest) {
		t.Fatalf("%d indicators, %d of the study", len(worst), len(largest))
	}
	for _, w := range worst {
		if got := 100 * w.Value; math.Abs(got-largest[w.What]) > 1e-9*largest[w.What] {
			t.Errorf("%s: %g %%, the study says %g %%", w.What, got, largest[w.What])
		}
	}
}

// The leeway of a bush by dimensions is that of the same rates written one by one.
func TestLeewayOfABushByDimensions(t *testing.T) {
	want := "[want.strip]\nnumber = \"longitudinal_compliance\"\nat_most = 5.0\n"
	s := byDimensions(t, ", void_arc = 90, void_depth = 6", want)
	rates := ""
	for d, name := range bushing.DirectionNames {
		rates += fmt.Sprintf("%s = %.17g\n", name, unitsOf(bushing.Direction(d)).rate.Written(s.rate(bushing.Direction(d))))
	}
	soft := &s.laws[bushing.Soft]
	rates += fmt.Sprintf("soft_gap = %.17g\nsoft_snubber = %.17g\n", soft.GapPlus, soft.Snubber)
	plain := sheetsOf(t, fmt.Sprintf(plainAxle, rates+"base = \"lateral\"")+want)[0]
	if len(s.leeways) != len(plain.leeways) {
		t.Fatalf("%d and %d leeways", len(s.leeways), len(plain.leeways))
	}
	ended := 0
	for i := range s.leeways {
		a, b := &s.leeways[i].leeway, &plain.leeways[i].leeway
		if math.Abs(a.Softer.Factor-b.Softer.Factor) > 1e-9*b.Softer.Factor || math.Abs(a.Stiffer.Factor-b.Stiffer.Factor) > 1e-9*b.Stiffer.Factor {
			t.Errorf("%s: %g to %g, by rates %g to %g", s.leeways[i].what, a.Softer.Factor, a.Stiffer.Factor, b.Softer.Factor, b.Stiffer.Factor)
		}
		if !a.Softer.Open() {
			ended++
		}
	}
	// 1 kN on each of two wheels over two bushes: 1000/soft mm/kN, so the want ends at
	// soft = 1000/5, short of it by the hundredth of a step that still counts as met
	if got, want := s.leeways[0].leeway.Softer.Factor, 1000/5.001/s.rate(bushing.Soft); ended == 0 || math.Abs(got/want-1) > 1e-9 {
		t.Errorf("soft radial alone ends at %.12g, the closed form says %.12g", got, want)
	}
}
