package swapping_test

import (
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/swapping"
)

// TestRulesThatCannotBe are refused with their place, every one of every set.
func TestRulesThatCannotBe(t *testing.T) {
	rubber, rates := parse(t, rubberPivots(t, solid, "")), parse(t, demoText(t, demo.Default))
	given := parse(t, rubberPivots(t, `inner_diameter = 24, outer_diameter = 56, length = 60, compound = "given", shear_modulus = 0.9`, ""))
	voids := parse(t, rubberPivots(t, solid+", void_arc = 100, void_depth = 6", ""))
	for _, test := range []struct {
		file  string
		asked []string
		want  string
	}{
		{"rates", []string{"hardness=+5"}, "hardness=+5:1: hardness: bush.pivot is given by its rates, which do not tell a hardness; hint: give it by its dimensions"},
		{"rates", []string{"polyurethane=80,bonded=true"}, "polyurethane: bush.pivot is given by its rates"},
		{"rates", []string{"\n[rule.r]\nat = \"bush.pivot\"\nhardness = 5\n"}, "set.toml:4: rule.r.hardness: bush.pivot is given by its rates"},
		{"given", []string{"hardness=+5"}, "given by the modulus of its compound"},
		{"rubber", []string{"hardness=+5", "hardness=+3@bush.pivot.left"}, "bush.pivot is given a compound by another rule too"},
		{"rubber", []string{"hardness=+5", "polyurethane=80,bonded=true"}, "bush.pivot is given a compound by another rule too"},
		{"rubber", []string{"hardness=-30"}, "from 30 to 75 IRHD"},
		{"voids", []string{"polyurethane=80,bonded=false"}, "needs rubber that is bonded"},
	} {
		file := rubber
		switch test.file {
		case "rates":
			file = rates
		case "given":
			file = given
		case "voids":
			file = voids
		}
		sets, err := file.ReadSets(texts(test.asked, test.asked))
		if err != nil {
			t.Errorf("%v: %v", test.asked, err)
			continue
		}
		wrong := swapping.Wrong(sets)
		if len(wrong) != 2 || !strings.Contains(wrong[0].String(), test.want) || wrong[0] != wrong[1] {
			t.Errorf("%v of two sets: %v, want %s", test.asked, wrong, test.want)
		}
		if _, err := swapping.Compare(file, sets); err == nil {
			t.Errorf("%v is solved", test.asked)
		}
	}
	if _, err := swapping.Apply(mustSet(t, voids, "polyurethane=80,bonded=false,solid=true"), 0); err != nil {
		t.Errorf("without voids: %v", err)
	}
	if _, err := swapping.Apply(mustSet(t, given, "polyurethane=80,bonded=true"), 1); err != nil {
		t.Errorf("polyurethane for a compound that is given: %v", err)
	}
}

// TestRatesOfAMatrix scales a full matrix like the six rates that it stands for.
func TestRatesOfAMatrix(t *testing.T) {
	matrix := func(soft, axial, stiff, moment string) string {
		rows := "[[" + soft + ", 0, 0, 0, 0, 0], [0, " + axial + ", 0, 0, 0, 0], [0, 0, " + stiff + ", 0, 0, 0], [0, 0, 0, " + moment + ", 0, 0], [0, 0, 0, 0, " + moment + ", 0], [0, 0, 0, 0, 0, " + moment + "]]"
		text := pivotRates.ReplaceAllString(searchTables.ReplaceAllString(demoText(t, demo.Default), "$1"), "matrix = "+rows+"\n")
		text = edit(t, text, "max_radial_load = 9000\n", "")
		return edit(t, text, "max_axial_load = 5000\n", "")
	}
	c := compare(t, parse(t, matrix("550", "1800", "2600", "300")), []string{"rates=2"})
	want := compare(t, parse(t, matrix("1100", "3600", "5200", "600")))
	alike(t, "matrix", only(&c.Columns[0]), want.Base.Value, c, rounding)
}
