package compliance

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bushtune/bushing"
)

// mirrorRounding is the rounding of a few products of sines and rates.
const mirrorRounding = 1e-12

// reflected is a 6×6 stiffness seen in a mirror across x: forces along x and moments
// about y and z turn their sign.
func reflected(k [6][6]float64) [6][6]float64 {
	sign := [6]float64{-1, 1, 1, 1, -1, -1}
	for r := range k {
		for c := range k {
			k[r][c] *= sign[r] * sign[c]
		}
	}
	return k
}

func sameStiffness(t *testing.T, what string, got, want [6][6]float64) {
	t.Helper()
	for r := range got {
		for c := range got {
			scale := math.Sqrt(math.Abs(want[r][r]*want[c][c])) + 1
			if math.Abs(got[r][c]-want[r][c]) > mirrorRounding*scale {
				t.Errorf("%s: entry %d,%d is %v, want %v", what, r+1, c+1, got[r][c], want[r][c])
			}
		}
	}
}

// TestOtherHandIsTheMirrorImage compares a bush whose axis lies across the car, with
// everything in it that has a hand, with its stiffness in a mirror across x. A left
// part on the right, turned half about the vertical, has x and y turned over;
// left-hand axes turn y back.
func TestOtherHandIsTheMirrorImage(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		e := Element{Kind: Bush, Name: "pivot", Side: Left, Slots: Bush.Defaults()}
		set := func(name string, value float64) { e.Slots[Bush.FieldIndex(name)] = value }
		for _, name := range bushing.DirectionNames {
			set(name, 100+1000*random.Float64())
		}
		set("clock", random.Float64()-0.5)
		set("elastic_plan", random.Float64()-0.5)
		set("elastic_lift", random.Float64()-0.5)
		other := e.OtherHand()
		a, b := bushing.New(e.Slots), bushing.New(other.Slots)
		sameStiffness(t, "stiffness", b.Stiffness(bushing.Lateral), reflected(a.Stiffness(bushing.Lateral)))
		back := other.OtherHand()
		if !slices.Equal(back.Slots, e.Slots) {
			t.Error("the other hand of the other hand is not the bush itself")
		}
	}
}

// TestOtherHandOfAMatrix reflects the full matrix itself.
func TestOtherHandOfAMatrix(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	e := Element{Kind: BushMatrix, Name: "pivot", Side: Left, Slots: BushMatrix.Defaults()}
	for i := mountSlots; i < len(e.Slots); i++ {
		e.Slots[i] = random.Float64()
	}
	other := e.OtherHand()
	sameStiffness(t, "matrix", symmetricOf(other.Slots[mountSlots:]), reflected(symmetricOf(e.Slots[mountSlots:])))
	if other.Slots[mountSlots] != e.Slots[mountSlots] || slices.Equal(other.Slots, e.Slots) {
		t.Error("the diagonal moved, or nothing did")
	}
}

// TestOtherHandOfStops: what acted forward acts rearward, twice is the bush itself,
// also where one way has no stop.
func TestOtherHandOfStops(t *testing.T) {
	gap, back := Bush.FieldIndex("soft_gap"), Bush.FieldIndex("soft_gap_back")
	for _, gaps := range [][2]float64{{3, 5}, {0, 4}, {4, 0}, {0, 0}} {
		e := Element{Kind: Bush, Slots: Bush.Defaults()}
		e.Slots[gap], e.Slots[back] = gaps[0], gaps[1]
		e.Slots[Bush.FieldIndex("soft_snubber")], e.Slots[Bush.FieldIndex("soft")] = 4000, 500
		other := e.OtherHand()
		again := other.OtherHand()
		if !slices.Equal(again.Slots, e.Slots) {
			t.Errorf("gaps %v: twice gives %v, %v", gaps, again.Slots[gap], again.Slots[back])
		}
		a, b := bushing.New(e.Slots), bushing.New(other.Slots)
		was, is := a.Laws(nil)[bushing.Soft], b.Laws(nil)[bushing.Soft]
		for _, x := range []float64{-9, -4.5, -2, 1, 3.5, 4.5, 9} {
			if got, want := is.Load(x), -was.Load(-x); math.Abs(got-want) > mirrorRounding*math.Abs(want) {
				t.Errorf("gaps %v: load at %v mm is %v, want %v", gaps, x, got, want)
			}
		}
	}
}

// TestFitPartKeepsThePlace exchanges a part: rates come, the place stays.
func TestFitPartKeepsThePlace(t *testing.T) {
	place := Element{Kind: Bush, Name: "pivot", Side: Right, From: Vehicle, To: 1, Slots: Bush.Defaults(), Choice: Choice{Base: bushing.Vertical, HoldsMoments: true}}
	part := Element{Kind: Bush, Name: "pivot", Side: Left, From: Vehicle, To: 0, Slots: Bush.Defaults()}
	for i := range part.Slots {
		place.Slots[i], part.Slots[i] = float64(i), 100+float64(i)
	}
	fitted := place.FitPart(&part)
	if fitted.Side != Right || fitted.To != 1 || fitted.Choice.Base != bushing.Vertical || !fitted.Choice.HoldsMoments {
		t.Errorf("the place changed: %+v", fitted)
	}
	for name, fromPart := range map[string]bool{"at.y": false, "plan": false, "bracket": false, "preload.x": false, "soft": true, "clock": true, "elastic_plan": true, "max_axial_load": true} {
		i := Bush.FieldIndex(name)
		if got := fitted.Slots[i] >= 100; got != fromPart {
			t.Errorf("%s comes from the part: %v", name, got)
		}
	}
}
