package bushing

import (
	"math"
	"testing"

	"bushtune/bushing/exact"
)

// Every field goes to the member that its name says: the number of the field is
// put into its slot and looked for.
func TestFieldsAndMembersAgree(t *testing.T) {
	slots := make([]float64, len(Fields))
	for i := range slots {
		slots[i] = float64(100 + i)
	}
	b := New(slots)
	members := map[string]float64{
		"at.x": b.At[0], "at.y": b.At[1], "at.z": b.At[2], "plan": b.Plan, "lift": b.Lift, "clock": b.Clock,
		"lean_forward": b.LeanForward, "lean_outboard": b.LeanOutboard,
		"axis.x": b.Axis[0], "axis.y": b.Axis[1], "axis.z": b.Axis[2],
		"soft_axis.x": b.SoftAxis[0], "soft_axis.y": b.SoftAxis[1], "soft_axis.z": b.SoftAxis[2],
		"soft": b.Soft, "axial": b.Axial, "stiff": b.Stiff, "cone_soft": b.ConeSoft, "torsion": b.Torsion, "cone_stiff": b.ConeStiff,
		"elastic_plan": b.ElasticPlan, "elastic_lift": b.ElasticLift, "bracket": b.Bracket,
		"preload.x": b.Preload[0], "preload.y": b.Preload[1], "preload.z": b.Preload[2], "tightened_at": b.TightenedAt,
		"max_radial_load": b.MaxRadialLoad, "max_axial_load": b.MaxAxialLoad,
		"max_radial_travel": b.MaxRadialTravel, "max_axial_travel": b.MaxAxialTravel,
		"soft_gap": b.Gap[0], "axial_gap": b.Gap[1], "stiff_gap": b.Gap[2],
		"soft_gap_back": b.GapBack[0], "axial_gap_back": b.GapBack[1], "stiff_gap_back": b.GapBack[2],
		"soft_snubber": b.Snubber[0], "axial_snubber": b.Snubber[1], "stiff_snubber": b.Snubber[2], "snubber_run": b.SnubberRun,
		"dynamic_ratio": b.DynamicRatio, "dynamic_frequency": b.DynamicFrequency, "loss_factor": b.LossFactor,
	}
	if len(members) != len(Fields) {
		t.Errorf("%d members, %d fields", len(members), len(Fields))
	}
	for i, f := range Fields {
		got, ok := members[f.Name]
		if !ok {
			t.Errorf("field %q has no member", f.Name)
		} else if got != slots[i] {
			t.Errorf("field %q is slot %d, its member holds slot %g", f.Name, i, got-100)
		}
		if f.Meaning == "" || f.Min > f.Max || !f.Required && f.Default == 0 && !f.Above && !f.Allows(0) {
			t.Errorf("field %q: no meaning, or a range without its default", f.Name)
		}
	}
	for i, f := range MountFields {
		if Fields[i].Name != f.Name {
			t.Errorf("field %d is %q, of a mount %q", i, Fields[i].Name, f.Name)
		}
	}
	if m := NewMount(slots); m != b.Mount {
		t.Errorf("mount %v, of the bush %v", m, b.Mount)
	}
}

// The words for directions are fields, and Rates lists them in that order.
func TestRatesFollowDirectionNames(t *testing.T) {
	slots := make([]float64, len(Fields))
	for i, f := range Fields {
		for d, name := range DirectionNames {
			if f.Name == name {
				slots[i] = float64(10 * (d + 1))
			}
		}
	}
	b := New(slots)
	for d, rate := range b.Rates() {
		if rate != float64(10*(d+1)) {
			t.Errorf("rate %d is %g, %s has %d", d, rate, DirectionNames[d], 10*(d+1))
		}
	}
	if len(DirectionNames) != int(ConeStiff)+1 || len(BaseNames) != int(Explicit)+1 {
		t.Error("directions or bases without a word")
	}
}

// A bracket is a spring in series with each translation, and not with rotations.
func TestBracketInSeries(t *testing.T) {
	b := oddBush()
	plain := b.Rates()
	b.Bracket = 5000
	for d, got := range b.Rates() {
		want := plain[d]
		if d < 3 {
			want = 1 / (1/plain[d] + 1.0/5000)
		}
		if math.Abs(got-want) > rounding*want {
			t.Errorf("%s: %.12g behind the bracket, want %.12g", DirectionNames[d], got, want)
		}
	}
	b.Axial = 0
	if got := b.Rates()[Axial]; got != 0 {
		t.Errorf("a bush without axial rate has %g behind a bracket", got)
	}
}

// The author's loads: preload along soft, axial, stiff, and the torsion of a
// bolt tightened at another angle.
func TestStaticLoads(t *testing.T) {
	b := oddBush()
	b.Preload, b.TightenedAt = exact.Vec[float64]{11, -22, 33}, 4*degree
	want := [6]float64{11, -22, 33, 0, 120000 * 4 * degree, 0}
	if got := b.StaticLoads(); got != want {
		t.Errorf("loads %v, want %v", got, want)
	}
}

// Derivatives of the stiffness by every slot against central differences: all
// bases, elastic axes on and off (the path without them must keep derivatives).
func TestStiffnessDerivatives(t *testing.T) {
	for base := Lateral; base <= Explicit; base++ {
		for _, elastic := range []float64{0, 0.2} {
			slots := make([]float64, len(Fields))
			odd := oddBush()
			copy(slots, []float64{430, 560, 330, odd.Plan, odd.Lift, odd.Clock, odd.LeanForward, odd.LeanOutboard, 2, 3, -1, 1, 0.2, 5,
				613, 877, 3119, 4010, 1200, 5230, elastic, -elastic, 20000})
			for i := range slots {
				checkStiffnessDerivative(t, base, slots, i)
			}
		}
	}
}

func checkStiffnessDerivative(t *testing.T, base Base, slots []float64, i int) {
	t.Helper()
	const step, differences = 1e-4, 1e-6 // truncation of the differences, as a share of the largest entry
	at := func(shift float64) [6][6]float64 {
		moved := append([]float64(nil), slots...)
		moved[i] += shift
		b := New(moved)
		return b.Stiffness(base)
	}
	seeded := make([]complex128, len(slots))
	for j, v := range slots {
		seeded[j] = complex(v, 0)
	}
	seeded[i] = exact.Seed(slots[i])
	b := New(seeded)
	k, up, down := b.Stiffness(base), at(step), at(-step)
	for r := range 6 {
		for c := range 6 {
			want := (up[r][c] - down[r][c]) / (2 * step)
			if got := exact.Derivative(k[r][c]); math.Abs(got-want) > differences*6000 {
				t.Errorf("%s, %s: dK[%d][%d] = %.9g, differences %.9g", BaseNames[base], Fields[i].Name, r, c, got, want)
			}
		}
	}
}
