package making

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/axlefile"
)

const (
	// sameDimension is how near a dimension must come to the one that the rates
	// were computed from, as a share of it: what the project promises.
	sameDimension = 1e-6
	// sameRate is how near the rates of a found part must come: a search ends with
	// a miss below a millionth of what a rate may be off, 2 % of it.
	sameRate = 1e-7
)

// family is a kind of bush whose dimensions follow from as many rates: which
// dimensions are free between which limits, and which numbers are wanted.
type family struct {
	name   string
	twin   bool // another part has the same rates, for every part
	fixed  string
	free   []string
	limits [][2]float64
	wanted []string
}

var families = []family{
	{"plain", false, "outer_diameter = 56",
		[]string{"inner_diameter", "length", "hardness"}, [][2]float64{{20, 36}, {36, 70}, {42, 68}},
		[]string{"torsion", "axial", "stiff"}},
	{"plain, outer diameter too", false, "",
		[]string{"inner_diameter", "outer_diameter", "length", "hardness"}, [][2]float64{{20, 26}, {46, 60}, {40, 64}, {42, 68}},
		[]string{"torsion", "axial", "stiff", "cone_stiff"}},
	{"voided", false, "outer_diameter = 60\nvoid_depth = 6",
		[]string{"inner_diameter", "length", "hardness", "void_arc"}, [][2]float64{{24, 30}, {40, 60}, {45, 65}, {70, 110}},
		[]string{"torsion", "axial", "stiff", "soft"}},
	{"block, whose length and width change places", true, "shape = \"block\"\nhardness = 55\nthickness = 15",
		[]string{"length", "width"}, [][2]float64{{30, 70}, {30, 70}},
		[]string{"compression", "shear"}},
}

// text writes a part file; without wanted rates every dimension is fixed at x.
func (f *family) text(x []float64, rates []float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "[part]\n%s\n", f.fixed)
	for i, name := range f.free {
		if rates == nil {
			fmt.Fprintf(&b, "%s = %v\n", name, x[i])
		} else {
			fmt.Fprintf(&b, "%s = { from = %v, to = %v }\n", name, f.limits[i][0], f.limits[i][1])
		}
	}
	if rates != nil {
		b.WriteString("[wanted]\n")
		for i, name := range f.wanted {
			fmt.Fprintf(&b, "%s = %v\n", name, rates[i])
		}
	}
	return b.String()
}

func parsePart(t testing.TB, text string) *axlefile.PartFile {
	t.Helper()
	file, err := axlefile.ParsePart("part.toml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return file
}

// ratesOf computes the wanted numbers of a fixed part, in written units.
func ratesOf(t *testing.T, f *family, x []float64) []float64 {
	t.Helper()
	b := newBridge(parsePart(t, f.text(x, nil)))
	values := b.at(nil)
	rates := make([]float64, len(f.wanted))
	for i, name := range f.wanted {
		for k, n := range b.file.Part.Numbers {
			if n.Name == name {
				rates[i] = n.Unit.Written(values[k])
			}
		}
	}
	return rates
}

// TestRoundTrip computes the rates of random parts and asks for the part of these
// rates: its dimensions come back. Where another part has the same rates, that one
// is found too, and the test says so.
func TestRoundTrip(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 2))
	const parts = 60
	for _, f := range families {
		same, twins := 0, 0
		for range parts {
			truth := make([]float64, len(f.free))
			for i, l := range f.limits {
				truth[i] = l[0] + (l[1]-l[0])*random.Float64()
			}
			found, others := roundTrip(t, &f, truth)
			if found {
				same++
			}
			if others > 0 {
				twins++
			}
		}
		t.Logf("%s: of %d parts %d came back, %d have a twin with the same rates", f.name, parts, same, twins)
		if same < parts {
			t.Errorf("%s: only %d of %d parts came back", f.name, same, parts)
		}
		if f.twin && twins < parts*9/10 {
			t.Errorf("%s: only %d of %d twins were found", f.name, twins, parts)
		}
	}
}

// roundTrip tells whether the part with the rates of truth is found, and how many
// others; each of them must have these rates.
func roundTrip(t *testing.T, f *family, truth []float64) (found bool, others int) {
	t.Helper()
	b := newBridge(parsePart(t, f.text(truth, ratesOf(t, f, truth))))
	result, err := b.search(context.Background(), nil, starts)
	if err != nil {
		t.Fatalf("%s: %v", f.name, err)
	}
	for i, e := range result.Agreement.Ends {
		exact := true
		for _, g := range b.got(e.X) {
			exact = exact && math.Abs(g.Off) < sameRate
		}
		switch {
		case i == 0 && !exact:
			t.Errorf("%s %v: the part %v has other rates", f.name, truth, e.X)
		case exact && largestShare(e.X, truth) < sameDimension:
			found = true
		case exact:
			others++
		}
	}
	return found, others
}

// largestShare is the largest difference as a share of what is compared with.
func largestShare(x, truth []float64) float64 {
	most := 0.0
	for i := range x {
		most = math.Max(most, math.Abs(x[i]/truth[i]-1))
	}
	return most
}
