package axlefile

import (
	"math"
	"strings"
	"testing"

	"bushtune/compliance"
)

// searching replaces the parameters of the twist beam.
func searching(t *testing.T, lines string) (*File, error) {
	t.Helper()
	text := string(readTwistBeam(t).source.text)
	before, rest, _ := strings.Cut(text, "[search]\n")
	_, after, _ := strings.Cut(rest, "\n[want.corner]")
	return Parse("test.toml", []byte(before+"[search]\n"+lines+"\n[want.corner]"+after))
}

func TestPathsNameSlots(t *testing.T) {
	for _, c := range []struct {
		path, canonical string
		slots           []string // labels of the elements that move
	}{
		{"bush.pivot.plan", "bush.pivot.plan", []string{"bush.pivot.left", "bush.pivot.right"}},
		{"bush.pivot.soft", "bush.pivot.soft", []string{"bush.pivot.left"}}, // the right one has its own
		{"bush.pivot.right.soft", "bush.pivot.right.soft", []string{"bush.pivot.right"}},
		{"bush.pivot.soft.right", "bush.pivot.right.soft", []string{"bush.pivot.right"}},
		{"bush.pivot.left.at.y", "bush.pivot.left.at.y", []string{"bush.pivot.left"}},
		{"link.toe.inner.y", "link.toe.inner.y", []string{"link.toe.left", "link.toe.right"}},
		{"beam.cross.profile.wall", "beam.cross.profile.wall", []string{"beam.cross"}},
		{"wheel.centre.z", "wheel.centre.z", []string{"wheel.left", "wheel.right"}},
		{"wheel.toe.left", "wheel.left.toe", []string{"wheel.left"}},
		{"hub.toe", "hub.toe", []string{"wheel.left", "wheel.right"}},
	} {
		target, err := readTwistBeam(t).locate(c.path)
		if err != nil {
			t.Errorf("%s: %v", c.path, *err)
			continue
		}
		f := readTwistBeam(t)
		var moved []string
		for _, s := range target.slots() {
			label := map[int]string{compliance.LeftWheel: "wheel.left", compliance.RightWheel: "wheel.right"}[s.Element]
			if s.Element >= 0 {
				label = f.Axle.Elements[s.Element].Label()
			}
			moved = append(moved, label)
		}
		if target.name() != c.canonical || strings.Join(moved, " ") != strings.Join(c.slots, " ") {
			t.Errorf("%s is %s and moves %v, want %s and %v", c.path, target.name(), moved, c.canonical, c.slots)
		}
	}
}

func TestTiedNumbersMoveAlong(t *testing.T) {
	f, err := searching(t, `link.toe.inner.y = { from = 150, to = 300, with = "link.toe.outer.y" }
bush.pivot.axial = { from = 300, to = 1342, scale = "log", with = ["bush.pivot.stiff", "bush.pivot.left.soft"] }`)
	if err != nil {
		t.Fatal(err)
	}
	axle := f.Axle.Clone()
	f.Search[0].Apply(axle, 200)  // 30 mm inboard
	f.Search[1].Apply(axle, 1342) // twice as stiff
	for label, want := range map[string]map[string]float64{
		"link.toe.right":   {"inner.y": 200, "outer.y": 470, "inner.x": -10},
		"bush.pivot.left":  {"axial": 1342, "stiff": 6000, "soft": 1200},
		"bush.pivot.right": {"axial": 1342, "stiff": 6000, "soft": 550},
	} {
		for name, value := range want {
			for i := range axle.Elements {
				if e := &axle.Elements[i]; e.Label() == label && math.Abs(slotOf(t, e, name)-value) > 1e-9 {
					t.Errorf("%s.%s = %v, want %v", label, name, slotOf(t, e, name), value)
				}
			}
		}
	}
}

func TestParametersStartWhereTheFileIs(t *testing.T) {
	f := readTwistBeam(t)
	for i := range f.Search {
		p := &f.Search[i]
		axle := f.Axle.Clone()
		p.Apply(axle, p.Start)
		for _, m := range p.Moves {
			got, want := axle.Value(m.Slot), f.Axle.Value(m.Slot)
			if math.Abs(got-want) > 1e-12*math.Abs(want) {
				t.Errorf("%s starts at %v instead of %v", p.Path, got, want)
			}
		}
	}
}
