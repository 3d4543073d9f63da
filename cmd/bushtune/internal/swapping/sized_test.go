package swapping_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/swapping"
	"bushtune/cmd/bushtune/internal/tuning"
)

// full are wants under loads of full size, of each kind.
const full = `
[want.limit]
number = "total_outer_toe"
case = "state_cornering"
size = 0.6
at_least = -0.1
[want.even]
number = "lateral_force_steer"
size = 4
straight = true
target = 0
[want.strip]
number = "longitudinal_compliance"
size = 3
at_most = 1.4
[want.torque]
number = "aligning_steer"
size = 120
make = "small"
[want.small]
number = "brake_recession"
at_most = 2
`

// wanting is an axle with other wants.
func wanting(text, wants string) string {
	head, _, _ := strings.Cut(text, "[want.")
	return head + wants
}

// gapped is the axle whose fore-aft voids close under 3 kN on a wheel.
func gapped(t testing.TB, soft, snubber string) string {
	t.Helper()
	text := searchTables.ReplaceAllString(demoText(t, demo.Default), "$1")
	rates := "soft = " + soft + "\naxial = 1800\nsoft_gap = 0.5\nsoft_snubber = " + snubber + "\nsnubber_run = 0.8\nstiff = 2600\ntorsion = 1.8\ncone_soft = 6\ncone_stiff = 8\n"
	return wanting(pivotRates.ReplaceAllString(text, rates), full)
}

// sameAtSize holds what is wanted at full size with a set against another reading.
func sameAtSize(t *testing.T, what string, c *swapping.Comparison, got, want []swapping.Sized, tolerance float64) {
	t.Helper()
	read := 0
	for k := range c.Asked {
		a := &c.Asked[k]
		if (got[k] == swapping.Sized{}) != (a.Goal.Size == 0) {
			t.Errorf("%s: want %s of size %v stands at %+v", what, a.Name, a.Goal.Size, got[k])
		}
		if a.Goal.Size == 0 {
			continue
		}
		read++
		for _, pair := range [][2]float64{{got[k].Low, want[k].Low}, {got[k].High, want[k].High}} {
			if !(math.Abs(pair[0]-pair[1]) <= tolerance*math.Abs(pair[1])) {
				t.Errorf("%s: want %s is %v, want %v", what, a.Name, pair[0], pair[1])
			}
		}
	}
	if read < 4 {
		t.Errorf("%s: only %d wants at size", what, read)
	}
}

// sizedRounding is how far two readings at full size of one axle given in two ways may
// lie apart, as a share: straightness is the small difference of two slopes that each
// come out of an equilibrium found to 1e-9 or better.
const sizedRounding = 1e-5

// TestASetEqualToTheAxleIsTheSameAtSize: not one digit moves.
func TestASetEqualToTheAxleIsTheSameAtSize(t *testing.T) {
	for name, text := range map[string]string{"rates": gapped(t, "550", "4000"), "dimensions": wanting(rubberPivots(t, solid, ""), full)} {
		c := compare(t, parse(t, text), []string{"rates=1"}, []string{"swap_sides=true", "swap_sides=true"}, []string{"[link.toe]\nside = \"both\"\n"})
		for i := range c.Columns {
			sameAtSize(t, name, c, c.Columns[i].AtSize, c.AtSize, 0)
		}
		for k := range c.Asked {
			if a := &c.Asked[k]; a.Goal.Size != 0 && c.AtSize[k].Low != a.Value(c.Base) {
				t.Errorf("%s: want %s of the axle as it is %+v, tuning reads %v", name, a.Name, c.AtSize[k], a.Value(c.Base))
			}
		}
	}
}

// TestARuleEqualsEditingAtSize: with stops that close, rates and stops times 1.5, and a
// hardness; the linear answer, which sees no stop, is far off.
func TestARuleEqualsEditingAtSize(t *testing.T) {
	harder := edit(t, solid, "55", "65")
	for _, test := range []struct{ rule, text, edited string }{
		{"rates=1.5@bush.pivot", gapped(t, "550", "4000"), edit(t, gapped(t, "825", "6000"), "axial = 1800\n", "axial = 2700\n")},
		{"hardness=+10", wanting(rubberPivots(t, solid+", void_arc = 100, void_depth = 3.2", ""), full), wanting(rubberPivots(t, harder+", void_arc = 100, void_depth = 3.2", ""), full)},
	} {
		for _, by := range [][2]string{{"stiff = 2600", "stiff = 3900"}, {"torsion = 1.8", "torsion = 2.7"}, {"cone_soft = 6", "cone_soft = 9"}, {"cone_stiff = 8", "cone_stiff = 12"}} {
			test.edited = strings.Replace(test.edited, by[0], by[1], 1)
		}
		c, edited := compare(t, parse(t, test.text), []string{test.rule}), compare(t, parse(t, test.edited))
		sameAtSize(t, test.rule, c, c.Columns[0].AtSize, edited.AtSize, sizedRounding)
		strip := slices.IndexFunc(c.Asked, func(a tuning.Asked) bool { return a.Name == "strip" })
		at, small := c.Columns[0].AtSize[strip].Low, only(&c.Columns[0])(c.Asked[strip].Index)
		if at > 0.9*small {
			t.Errorf("%s: %v at size, %v for small loads: no stop closes", test.rule, at, small)
		}
	}
}

// TestARangeContainsBothEndsAtSize solves both ends with the compound in the file.
func TestARangeContainsBothEndsAtSize(t *testing.T) {
	for _, rule := range []string{"polyurethane=80,bonded=true", "polyurethane=60,bonded=true"} {
		c := compare(t, parse(t, wanting(rubberPivots(t, solid, ""), full)), []string{rule})
		ranges := c.Columns[0].AtSize
		hardness := rule[len("polyurethane="):strings.Index(rule, ",")]
		var ends [2][]swapping.Sized
		for share := range ends {
			dimensions := edit(t, solid, "55", hardness) + fmt.Sprintf(`, compound = "polyurethane", bonded = true, range_share = %d`, share)
			ends[share] = compare(t, parse(t, wanting(rubberPivots(t, dimensions, ""), full))).AtSize
		}
		for k := range c.Asked {
			if c.Asked[k].Goal.Size == 0 {
				continue
			}
			z := ranges[k]
			for _, end := range ends {
				slack := sizedRounding * math.Abs(end[k].Low)
				if v := end[k].Low; z.Lost || !(z.Low < z.High) || v < z.Low-slack || v > z.High+slack {
					t.Errorf("%s: want %s from %v to %v does not hold %v", rule, c.Asked[k].Name, z.Low, z.High, v)
				}
			}
		}
	}
}

// sizedChange is the change of a wanted number at full size by the first set.
func sizedChange(c *swapping.Comparison, want string) (found swapping.Change) {
	for _, ch := range c.Changes(0, everyNumber) {
		if ch.AtSize && ch.Want == want {
			return ch
		}
	}
	return found
}

// TestVerdictsAtSize: by the wants alone, whatever they are; a load that is lost is
// worse than any number.
func TestVerdictsAtSize(t *testing.T) {
	text := gapped(t, "550", "4000")
	for _, test := range []struct {
		want, rule string
		verdict    swapping.Verdict
	}{
		{"size = 3\nat_most = 0.8", "rates=0.5", swapping.Worse},
		{"size = 3\nat_most = 9", "rates=0.5", swapping.Kept},
		{"size = 3\nmake = \"large\"", "rates=0.5", swapping.Better},
		{"size = 3\nat_most = 0.1", "rates=2", swapping.Better},
		{"size = 3\nat_most = 0.1", "rates=1", swapping.Open},
	} {
		c := compare(t, parse(t, wanting(text, "[want.strip]\nnumber = \"longitudinal_compliance\"\n"+test.want+"\n")), []string{test.rule})
		ch := sizedChange(c, "strip")
		if ch.Verdict != test.verdict || (ch.Steps >= 1) != (test.verdict != swapping.Open) {
			t.Errorf("%s, want %q: %+v, want %q", test.rule, test.want, ch, test.verdict)
		}
	}
}

// TestALoadThatOnlyTheAxleHolds: 1 MN, which very soft bushes do not.
func TestALoadThatOnlyTheAxleHolds(t *testing.T) {
	const want = "[want.huge]\nnumber = \"longitudinal_compliance\"\nsize = 1000\nat_most = 2\n"
	estate := thinWall(t)
	c := compare(t, parse(t, wanting(estate, want)), []string{"rates=0.2"})
	ch := sizedChange(c, "huge")
	if c.AtSize[0].Lost || !c.Columns[0].AtSize[0].Lost || ch.Verdict != swapping.Worse || !math.IsNaN(ch.Low) || !math.IsInf(ch.Steps, 1) {
		t.Errorf("%+v, then %+v: %+v", c.AtSize[0], c.Columns[0].AtSize[0], ch)
	}
}
