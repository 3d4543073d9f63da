package rubber

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing/exact"
)

// slotsOf lists the slots that a joined error names.
func slotsOf(t *testing.T, err error) []string {
	t.Helper()
	if err == nil {
		return nil
	}
	var slots []string
	var walk func(error)
	walk = func(err error) {
		if joined, ok := err.(interface{ Unwrap() []error }); ok {
			for _, each := range joined.Unwrap() {
				walk(each)
			}
			return
		}
		var one *SlotError
		if !errors.As(err, &one) {
			t.Errorf("%v is no SlotError", err)
			return
		}
		slots = append(slots, one.Slot)
	}
	walk(err)
	return slots
}

// Every mistake names the slot to change and what is allowed. Ranges: a/b 0.3 to 0.9,
// L/t 1 to 20; with voids 40 to 140 deg, depth 0.2 to 0.9 of the wall.
func TestCheck(t *testing.T) {
	for _, e := range []struct {
		name   string
		change func(b *Bush[float64], c *Choice)
		slots  []string
		says   string
	}{
		{"as it is", func(b *Bush[float64], c *Choice) {}, nil, ""},
		{"outer below inner", func(b *Bush[float64], c *Choice) { b.Outer = 15 }, []string{"outer_diameter"}, "at least 22 mm"},
		{"wall below 1 mm", func(b *Bush[float64], c *Choice) { b.Outer = 21.9 }, []string{"outer_diameter"}, "at least 22 mm"},
		{"too thick", func(b *Bush[float64], c *Choice) { b.Outer = 80 }, []string{"inner_diameter"}, "24 to 72 mm"},
		{"too long", func(b *Bush[float64], c *Choice) { b.Length = 205 }, []string{"length"}, "from 10 to 200 mm"},
		{"arc alone", func(b *Bush[float64], c *Choice) { b.VoidArc = 1 }, []string{"void_arc"}, "needs void_depth"},
		{"depth alone", func(b *Bush[float64], c *Choice) { b.VoidDepth = 1 }, []string{"void_depth"}, "needs void_arc"},
		{"void through the wall", func(b *Bush[float64], c *Choice) { b.VoidArc, b.VoidDepth = 1, 10.5 }, []string{"void_depth"}, "to 9 mm"},
		{"wide arc and short", func(b *Bush[float64], c *Choice) { b.VoidArc, b.VoidDepth, b.Length = 160*degree, 4, 12 },
			[]string{"length", "void_arc"}, "140 deg"},
		{"sleeve without wall", func(b *Bush[float64], c *Choice) { b.SleeveDiameter = 30 }, []string{"sleeve_diameter"}, "needs sleeve_wall"},
		{"wall without sleeve", func(b *Bush[float64], c *Choice) { b.SleeveWall = 1 }, []string{"sleeve_wall"}, "needs sleeve_diameter"},
		{"sleeve outside the ring", func(b *Bush[float64], c *Choice) { b.SleeveDiameter, b.SleeveWall = 42, 1 }, []string{"sleeve_diameter"}, "from 23 to 37 mm"},
		{"sleeve too thick", func(b *Bush[float64], c *Choice) { b.SleeveDiameter, b.SleeveWall = 30, 9 }, []string{"sleeve_wall"}, "at most 8 mm"},
		{"ring inside the sleeve too thin for its length", func(b *Bush[float64], c *Choice) { b.SleeveDiameter, b.SleeveWall = 24, 1 }, []string{"length"}, "30 mm"},
		{"collar without thickness", func(b *Bush[float64], c *Choice) { b.StopDiameter, b.StopGap = 44, 1 }, []string{"stop_diameter", "stop_gap"}, "stop_thickness"},
		{"collar smaller than the sleeve", func(b *Bush[float64], c *Choice) { b.StopDiameter, b.StopThick = 21, 5 }, []string{"stop_diameter"}, "at least 22 mm"},
		{"collar too flat", func(b *Bush[float64], c *Choice) { b.StopDiameter, b.StopThick = 44, 0.5 }, []string{"stop_thickness"}, "from 0.6 to 24 mm"},
		{"too hard", func(b *Bush[float64], c *Choice) { b.Hardness = 80 }, []string{"hardness"}, "30 to 75"},
		{"two mistakes", func(b *Bush[float64], c *Choice) { b.Hardness, b.VoidArc = 20, 1 }, []string{"hardness", "void_arc"}, ""},
		{"no modulus", func(b *Bush[float64], c *Choice) { c.Compound = Given }, []string{"shear_modulus"}, "above 0"},
		{"not rubber", func(b *Bush[float64], c *Choice) { c.Compound, b.ShearModulus, b.BulkModulus = Given, 1, 20 }, []string{"bulk_modulus"}, "20 times"},
		{"too cold", func(b *Bush[float64], c *Choice) { b.TemperatureFactor = 8 }, []string{"temperature_factor"}, "168 times"},
		{"too old", func(b *Bush[float64], c *Choice) { b.AgeingFactor = 8 }, []string{"ageing_factor"}, "168 times"},
		{"free with voids", func(b *Bush[float64], c *Choice) { c.Free, b.VoidArc, b.VoidDepth = true, 1, 3 }, []string{"void_arc"}, "bonded"},
		{"free with a sleeve", func(b *Bush[float64], c *Choice) { c.Free, b.SleeveDiameter, b.SleeveWall = true, 30, 1 }, []string{"sleeve_diameter"}, "bonded"},
		{"free polyurethane", func(b *Bush[float64], c *Choice) { c.Free, c.Compound, b.Hardness = true, Polyurethane, 92 }, nil, ""},
	} {
		b, c := half(), Choice{}
		e.change(&b, &c)
		err := b.Check(c)
		if got := slotsOf(t, err); !slices.Equal(got, e.slots) {
			t.Errorf("%s: %v, want slots %v", e.name, err, e.slots)
		}
		if err != nil && !strings.Contains(err.Error(), e.says) {
			t.Errorf("%s: %v does not say %q", e.name, err, e.says)
		}
	}
}

// What is checked does not depend on the scalar.
func TestCheckOfLiftedBush(t *testing.T) {
	b := Bush[complex128]{Inner: 20, Outer: exact.Seed(21), Length: 40, Hardness: 55, TemperatureFactor: 1, AgeingFactor: 1}
	if got := slotsOf(t, b.Check(Choice{})); !slices.Equal(got, []string{"outer_diameter"}) {
		t.Errorf("slots %v", got)
	}
}
