package swapping_test

import (
	"math"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/swapping"
)

// playOf finds one direction of the left pivot.
func playOf(t *testing.T, c *swapping.Comparison, d bushing.Direction) swapping.Play {
	t.Helper()
	for _, p := range c.Columns[0].Plays {
		if p.Element == "bush.pivot.left" && p.Direction == d {
			return p
		}
	}
	t.Fatalf("no play along %s in %v", bushing.DirectionNames[d], c.Columns[0].Plays)
	return swapping.Play{}
}

// TestWhereAWornBushBears follows the lever: the wheel pushes the arm up at x = 0, the
// spring pushes it down. A spring behind the wheel carries less than the wheel, so
// the arm lifts its end of the pivot; a spring ahead of it presses it down. With the
// outer sleeve on the arm the inner one moves the other way against it.
func TestWhereAWornBushBears(t *testing.T) {
	plain := demoText(t, demo.Default)
	at := func(text string, x string) string {
		text = edit(t, text, "upper = [-40,", "upper = ["+x+",")
		return edit(t, text, "lower = [-25,", "lower = ["+x+",")
	}
	outer := func(text, on string) string {
		return edit(t, text, "base = \"lateral\"", "base = \"lateral\"\nouter = \""+on+"\"")
	}
	for _, test := range []struct {
		text, towards string
	}{
		{outer(at(plain, "-80"), "arm"), "down"},
		{outer(at(plain, "120"), "arm"), "up"},
		{outer(at(plain, "-80"), "vehicle"), "up"},
		{outer(at(plain, "120"), "vehicle"), "down"},
	} {
		c := compare(t, parse(t, test.text), []string{"worn=0.6,free_play=0.5@bush.pivot"})
		p := playOf(t, c, bushing.Stiff)
		if p.Floats || p.Unknown || p.Towards != test.towards || p.Way != 0.5 {
			t.Errorf("%+v, want it to bear %s", p, test.towards)
		}
		if wheel := c.File.Vehicle.WheelLoad(); math.Abs(p.Rest) > wheel {
			t.Errorf("the pivot bears %v N of %v N on the wheel", p.Rest, wheel)
		}
	}
}

// TestTheLoadThatTakesABushOff: at that load, by superposition, nothing is left, and
// at nine tenths of it every force leaves something.
func TestTheLoadThatTakesABushOff(t *testing.T) {
	c := compare(t, parse(t, demoText(t, demo.Default)), []string{"worn=0.6,free_play=0.5"})
	for _, p := range c.Columns[0].Plays {
		if p.Leaves == "" {
			t.Errorf("%+v is never taken off", p)
			continue
		}
		axle, err := swapping.Apply(c.Columns[0].Set, 0)
		if err != nil {
			t.Fatal(err)
		}
		file := *c.File
		file.Axle = axle
		least := math.Inf(1)
		for _, b := range compare(t, &file).Base.BushLoads() {
			rest := b.Rest[p.Direction]
			if !strings.HasPrefix(b.Case, "state") && b.Case != "aligning" && b.Case != "braking_inboard" && rest*(rest+0.9*p.At*b.Load[p.Direction]) <= 0 {
				t.Errorf("%+v: %s takes off more", p, b.Case)
			}
			if strings.HasPrefix(b.Element, "bush.pivot") && b.Case == p.Leaves && math.Abs(math.Abs(b.Rest[p.Direction])-math.Abs(p.Rest)) < 1e-6 {
				least = min(least, math.Abs(b.Rest[p.Direction]+p.At*b.Load[p.Direction]))
			}
		}
		if least > rounding*math.Abs(p.Rest) {
			t.Errorf("%+v: %v N are left", p, least)
		}
	}
}

// TestBothSidesBearAlike: a turn to the right does to the left bush what a turn to the
// left does to the right one, so on an axle of like halves both sides are told alike.
func TestBothSidesBearAlike(t *testing.T) {
	plays := compare(t, parse(t, demoText(t, demo.Default)), []string{"worn=0.6,free_play=0.5"}).Columns[0].Plays
	if len(plays) != 6 {
		t.Fatalf("%d plays, want three directions on two sides", len(plays))
	}
	for i := range 3 {
		left, right := plays[i], plays[3+i]
		if left.Direction != right.Direction || left.Leaves != right.Leaves || left.Towards != right.Towards ||
			math.Abs(left.At-right.At) > rounding*left.At || math.Abs(left.Rest-right.Rest) > rounding*math.Abs(left.Rest) {
			t.Errorf("left %+v\nright %+v", left, right)
		}
	}
}

// TestPlayWithoutLoad: without a static load nobody knows the side; where the author
// gives no load to a direction it floats.
func TestPlayWithoutLoad(t *testing.T) {
	text := edit(t, demoText(t, demo.Default), "static_load = true", "static_load = false")
	p := playOf(t, compare(t, parse(t, text), []string{"worn=0.6,free_play=0.5"}), bushing.Soft)
	if !p.Unknown || p.Leaves != "" || p.Towards != "forward or rearward" {
		t.Errorf("%+v, want it unknown", p)
	}
	symmetric := strings.NewReplacer("upper = [-40, 470,", "upper = [-30, 480,", "lower = [-25, 480,", "lower = [-30, 480,").Replace(demoText(t, demo.Default))
	c := compare(t, parse(t, symmetric), []string{"worn=0.6,free_play=0.5"})
	if p := playOf(t, c, bushing.Soft); !p.Floats || p.Leaves != "" {
		t.Errorf("%+v: an upright spring and a wheel load pull nothing fore and aft, want it to float", p)
	}
	if len(compare(t, parse(t, text), []string{"worn=0.6"}).Columns[0].Plays) != 0 {
		t.Error("a worn bush without play is listed with play")
	}
}

// TestPlayOverARange: the load at rest is told at both ends of a range, as an axle with
// the parts of that end has it, and so is a side that depends on where in the range.
// Upright the pivot bears what levers say, whatever its rates; along its axis beam and
// bush share by their rates.
func TestPlayOverARange(t *testing.T) {
	file := parse(t, thinWall(t))
	for rule, turns := range map[string]bool{"polyurethane=57,bonded=true": true, "polyurethane=80,bonded=true": false} {
		c := compare(t, file, []string{rule, "worn=0.5,free_play=0.3"})
		for share, rest := range []func(p *swapping.Play) float64{func(p *swapping.Play) float64 { return p.Rest }, func(p *swapping.Play) float64 { return p.RestEnd }} {
			axle, err := swapping.Apply(c.Columns[0].Set, float64(share))
			if err != nil {
				t.Fatal(err)
			}
			end := *file
			end.Axle = axle
			loads := compare(t, &end).Base.BushLoads()
			for d := bushing.Soft; d <= bushing.Stiff; d++ {
				p := playOf(t, c, d)
				if want := loads[0].Rest[d]; loads[0].Element != p.Element || math.Abs(rest(&p)-want) > rounding*math.Abs(want) {
					t.Errorf("%s at share %d along %s: %v N, want %v", rule, share, p.Line(), rest(&p), want)
				}
			}
		}
		axial, stiff := playOf(t, c, bushing.Axial), playOf(t, c, bushing.Stiff)
		if axial.Turns != turns || axial.Turns != (axial.Rest*axial.RestEnd < 0) || (axial.Leaves == "") != turns {
			t.Errorf("%s: along the axis %+v", rule, axial)
		}
		if stiff.Turns || math.Abs(stiff.Rest-stiff.RestEnd) > 1 {
			t.Errorf("%s: upright %+v", rule, stiff)
		}
	}
}
