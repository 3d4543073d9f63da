package making

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"bushtune/bushing/rubber"
)

// slopeTolerance is how far a slope may lie from a Richardson difference, as a
// share of the largest of the same number.
const slopeTolerance = 1e-8

// every holds one part file for each shape with every dimension of it free. The
// hardness stays between two rows of the table of moduli, where differences hold.
var every = map[string]string{
	"bush": `[part]
inner_diameter = { from = 22, to = 28 }
outer_diameter = { from = 52, to = 58 }
length = { from = 44, to = 60 }
hardness = { from = 50.5, to = 54.5 }
void_arc = { from = 70, to = 100 }
void_depth = { from = 4, to = 6 }
[wanted]
soft = 500
stiff = 2000
axial = { at_most = 500 }
torsion = { at_least = 1 }
`,
	"block": `[part]
shape = "block"
length = { from = 40, to = 60 }
width = { from = 40, to = 60 }
thickness = { from = 12, to = 20 }
hardness = { from = 50.5, to = 54.5 }
[wanted]
compression = 800
shear = 150
`,
	"ring": `[part]
shape = "ring"
outer_diameter = { from = 50, to = 70 }
inner_diameter = { from = 18, to = 24 }
thickness = { from = 12, to = 18 }
hardness = { from = 50.5, to = 54.5 }
[wanted]
compression = 1200
shear = 170
`,
	"inclined_pair": `[part]
shape = "inclined_pair"
length = { from = 50, to = 70 }
width = { from = 40, to = 60 }
thickness = { from = 15, to = 25 }
half_spacing = { from = 150, to = 200 }
tilt = { from = 20, to = 50 }
hardness = { from = 50.5, to = 54.5 }
[wanted]
vertical = 900
lateral = 800
centre_height = { at_least = 60 }
`,
	"urethane": `[part]
compound = "polyurethane"
bonded = true
inner_diameter = { from = 22, to = 28 }
outer_diameter = { from = 52, to = 58 }
length = 50
hardness = { from = 61, to = 67 }
[wanted]
torsion = 5
`,
}

// TestSlopesAgainstDifferences holds the slopes of the logarithms of all wanted
// numbers against Richardson differences, at a random point inside the limits.
func TestSlopesAgainstDifferences(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 1))
	for shape, text := range every {
		b := newBridge(parsePart(t, text))
		x := make([]float64, len(b.free))
		for k, i := range b.free {
			d := &b.file.Dimensions[i]
			x[k] = d.From + (d.To-d.From)*(0.3+0.4*random.Float64())
		}
		values, slopes := make([]float64, len(b.values)), mat.NewDense(len(b.values), len(x), nil)
		if err := b.evaluate(x, values, slopes); err != nil {
			t.Fatal(err)
		}
		for _, w := range b.file.Wanted {
			var got, want []float64
			largest := 0.0
			for k, i := range b.free {
				width := b.file.Dimensions[i].To - b.file.Dimensions[i].From
				got = append(got, slopes.At(w.Number, k)*width)
				want = append(want, richardson(func(share float64) float64 {
					moved := append([]float64(nil), x...)
					moved[k] += share * width
					_ = b.evaluate(moved, values, nil)
					return values[w.Number]
				}))
				largest = math.Max(largest, math.Abs(got[k]))
			}
			for k := range got {
				if math.Abs(got[k]-want[k]) > slopeTolerance*largest {
					t.Errorf("%s: slope of %s by %s is %v, differences say %v", shape, b.file.Part.Numbers[w.Number].Name, b.file.Dimensions[b.free[k]].Field.Name, got[k], want[k])
				}
			}
		}
	}
}

// richardson is the slope of f at zero from central differences over steps of
// 0.04, 0.02, 0.01 and 0.005, extrapolated three times.
func richardson(f func(float64) float64) float64 {
	var d [4]float64
	for i, h := 0, 0.04; i < len(d); i, h = i+1, h/2 {
		d[i] = (f(h) - f(-h)) / (2 * h)
	}
	for power := 4.0; power <= 64; power *= 4 {
		for i := 0; i+1 < len(d); i++ {
			d[i] = (power*d[i+1] - d[i]) / (power - 1)
		}
	}
	return d[0]
}

func made(t *testing.T, text string) *Outcome {
	t.Helper()
	o, err := Make(context.Background(), parsePart(t, text))
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// TestReachHoldsEveryPoint draws points inside the limits: none has a rate or a
// ratio outside the range that is told, and the ends of the range are had at a
// corner or better.
func TestReachHoldsEveryPoint(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	for shape, text := range every {
		file := parsePart(t, text)
		b := newBridge(file)
		reach := b.reach(context.Background())
		for _, q := range append(reach.Rates, reach.Ratios...) {
			if !(q.Least < q.Most) {
				t.Errorf("%s: from %v to %v", shape, q.Least, q.Most)
			}
			for range 500 {
				x := make([]float64, len(b.free))
				for k, i := range b.free {
					d := &file.Dimensions[i]
					x[k] = d.From + (d.To-d.From)*random.Float64()
				}
				values := b.at(x)
				if err := file.Check(b.slots); err != nil {
					t.Fatalf("%s: a point inside limits of which every corner can be made: %v", shape, err)
				}
				v := b.unit(q.Number).Written(values[q.Number])
				if q.Over >= 0 {
					v /= b.unit(q.Over).Written(values[q.Over])
				}
				if v < q.Least*(1-sameRate) || v > q.Most*(1+sameRate) {
					t.Errorf("%s: %v at %v lies outside %v to %v", shape, v, x, q.Least, q.Most)
				}
			}
		}
	}
}

// TestRatiosOfABlock holds the reach against the closed form: with one hardness
// and E, k fixed, compression over shear of a block is E0(1+2kS²)/G in series
// with the bulk modulus, which is largest for the flattest block and least for the
// tallest.
func TestRatiosOfABlock(t *testing.T) {
	o := made(t, `[part]
shape = "block"
length = 50
width = 50
thickness = { from = 12, to = 25 }
hardness = 60
[wanted]
compression = 900
shear = 150
`)
	// Lindley's row of 60 IRHD: E0 4.45, G 1.06, k 0.57, bulk 1150 MPa.
	ratio := func(thickness float64) float64 {
		s := 50.0 * 50 / (2 * thickness * 100)
		ec := 4.45 * (1 + 2*0.57*s*s)
		return ec / (1 + ec/1150) / 1.06
	}
	q := o.Reach.Ratios[0] // shear over compression
	if got, want := 1/q.Least, ratio(12); math.Abs(got/want-1) > sameRate {
		t.Errorf("largest compression/shear is %v, closed form says %v", got, want)
	}
	if got, want := 1/q.Most, ratio(25); math.Abs(got/want-1) > sameRate {
		t.Errorf("least compression/shear is %v, closed form says %v", got, want)
	}
}

// TestImpossibleRatioIsNotReachable asks for a ratio just beyond and just inside
// what the limits allow.
func TestImpossibleRatioIsNotReachable(t *testing.T) {
	const text = `[part]
inner_diameter = { from = 24, to = 28 }
outer_diameter = 56
length = { from = 44, to = 60 }
hardness = { from = 45, to = 65 }
[wanted]
axial = { target = %v, within = %v }
stiff = { target = %v, within = %v }
`
	ask := func(axial, stiff float64) *Outcome {
		return made(t, fmt.Sprintf(text, axial, axial/1000, stiff, stiff/1000))
	}
	q := ask(300, 1500).Reach.Ratios[0] // stiff over axial
	for _, c := range []struct {
		ratio   float64
		reached bool
	}{{q.Most * 1.02, false}, {q.Most * 0.98, true}, {q.Least * 1.02, true}, {q.Least * 0.98, false}} {
		o := ask(300, 300*c.ratio)
		if o.Reached != c.reached || o.Reach.Ratios[0].Inside() != c.reached {
			t.Errorf("stiff/axial %v of %v to %v: reached %v, inside %v", c.ratio, q.Least, q.Most, o.Reached, o.Reach.Ratios[0].Inside())
		}
		if !c.reached && len(o.Holds) == 0 {
			t.Errorf("stiff/axial %v: nothing holds it back", c.ratio)
		}
	}
}

// TestMissesAreShared: hardness alone moves all rates by about one factor. Two
// wants agree, the third asks 5.5 % more, each may be off by 3 %. Least squares
// would leave the third 3.7 % short; shared, all are reached.
func TestMissesAreShared(t *testing.T) {
	f := families[0]
	rates := ratesOf(t, &f, []float64{24, 50, 55})
	text := "[part]\nouter_diameter = 56\ninner_diameter = 24\nlength = 50\nhardness = { from = 50, to = 60 }\n[wanted]\n"
	for i, name := range f.wanted {
		r := rates[i]
		if i == 2 {
			r *= 1.055
		}
		text += fmt.Sprintf("%s = { target = %v, within = %v }\n", name, r, 0.03*r)
	}
	b := newBridge(parsePart(t, text))
	plain, err := b.solve(context.Background(), b.wants(false), nil, 0)
	if err != nil || b.reached(plain.X) {
		t.Fatalf("least squares alone reaches it, so this test shows nothing: %v", err)
	}
	if o := made(t, text); !o.Reached {
		t.Errorf("not reached: %+v", o.Got)
	}
}

// TestOthersFitAndDiffer: with more dimensions free than rates wanted there are
// many parts; those that are named all reach the wants and differ visibly.
func TestOthersFitAndDiffer(t *testing.T) {
	o := made(t, `[part]
inner_diameter = { from = 20, to = 30 }
outer_diameter = { from = 46, to = 60 }
length = { from = 40, to = 60 }
hardness = { from = 45, to = 65 }
[wanted]
torsion = 2
stiff = 1500
`)
	if !o.Reached || len(o.Others) == 0 {
		t.Fatalf("reached %v, others %v", o.Reached, o.Others)
	}
	b := newBridge(o.File)
	all := append([][]float64{o.X}, o.Others...)
	for i, x := range all {
		if !b.reached(b.freeOf(x)) {
			t.Errorf("other %d, %v, does not reach the wants", i, x)
		}
		for j, y := range all[:i] {
			if d := b.distance(b.freeOf(x), b.freeOf(y)); d < another*0.8 {
				t.Errorf("%d and %d differ by %v of a range only", i, j, d)
			}
		}
	}
}

// TestDimensionsAreRound where the wants leave room for it, and only there.
func TestDimensionsAreRound(t *testing.T) {
	f := families[0]
	rates := ratesOf(t, &f, []float64{25.13, 49.37, 54.4})
	ask := func(within float64) *Outcome {
		text, _, _ := strings.Cut(f.text(nil, rates), "[wanted]")
		text += "[wanted]\n"
		for i, name := range f.wanted {
			text += fmt.Sprintf("%s = { target = %v, within = %v }\n", name, rates[i], within*rates[i])
		}
		return made(t, text)
	}
	loose, tight := ask(0.03), ask(1e-4)
	if !loose.Reached || !loose.Rounded {
		t.Fatalf("reached %v, rounded %v", loose.Reached, loose.Rounded)
	}
	for i := range loose.File.Dimensions {
		d := &loose.File.Dimensions[i]
		if step := rubber.WorkshopStep(d.Field.Unit); d.Free() && math.Abs(math.Remainder(loose.X[i], step)) > 1e-9 {
			t.Errorf("%s is %v, no multiple of %v", d.Field.Name, loose.X[i], step)
		}
	}
	if !tight.Reached || tight.Rounded {
		t.Errorf("tight: reached %v, rounded %v", tight.Reached, tight.Rounded)
	}
}

// TestHoldsTellWhatALimitCosts moves the limit in the file itself and makes the
// part anew.
func TestHoldsTellWhatALimitCosts(t *testing.T) {
	const text = `[part]
outer_diameter = 56
inner_diameter = { from = 24, to = %v }
length = 50
hardness = 55
[wanted]
torsion = 6
`
	o := made(t, fmt.Sprintf(text, 28))
	if o.Reached || len(o.Holds) != 1 || !o.Holds[0].Upper {
		t.Fatalf("reached %v, holds %+v", o.Reached, o.Holds)
	}
	h := o.Holds[0]
	wider := made(t, fmt.Sprintf(text, 28+h.Step))
	if _, off := wider.Worst(); math.Abs(off-h.Moved) > 1e-9 || off >= h.Off {
		t.Errorf("with %v mm more it is off by %v, told %v after %v", h.Step, off, h.Moved, h.Off)
	}
}

// BenchmarkMake is the whole inverse design of a voided bush: the choice, what
// holds it back, other parts and what the limits can reach. Aim: 0.1 s.
func BenchmarkMake(b *testing.B) {
	wide := strings.Replace(every["bush"], "from = 50.5, to = 54.5", "from = 45, to = 65", 1)
	for name, text := range map[string]string{"reached": wide, "not reached": strings.Replace(wide, "soft = 500", "soft = 1900", 1)} {
		file := parsePart(b, text)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Make(context.Background(), file); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
