package main

import (
	"os"
	"strings"
	"testing"
)

// TestWantsThatConflictAreNamed: what cannot be met at all, and what cannot be met
// together, with how far each goes, in the text and for programs.
func TestWantsThatConflictAreNamed(t *testing.T) {
	inFolder(t, "hatchback-link")
	axle := readText(t, "hatchback-link.toml")
	const corner = "at_least = 0.03 "
	if !strings.Contains(axle, corner) {
		t.Fatal("the built-in axle wants something else")
	}
	for _, test := range []struct{ file, least, says, record, names string }{
		{"alone.toml", "at_least = 0.3 ", "CANNOT BE MET, whatever becomes of the other wants", "cannot be met, whatever becomes of the other wants", "corner"},
		{"pair.toml", "at_least = 0.08 ", "CANNOT BE MET TOGETHER: these two", "cannot be met together: corner, split", "corner split"},
	} {
		writeText(t, test.file, strings.Replace(axle, corner, test.least, 1))
		r := bushtune(t, "tune "+test.file)
		if r.code != exitNotReached || !strings.Contains(r.out, test.says) || !strings.Contains(r.out, "which is no proof") {
			t.Errorf("%s: code %d, %q is not said", test.file, r.code, test.says)
		}
		var names []string
		for _, row := range recordsOf(t, "tune "+test.file) {
			if row.Kind == "conflict" {
				names = append(names, row.Name)
				if row.Words != test.record || row.Value == nil || row.Unit == "" {
					t.Errorf("%s: %v", test.file, row)
				}
			}
		}
		if strings.Join(names, " ") != test.names {
			t.Errorf("%s: %v conflict, want %s", test.file, names, test.names)
		}
	}
}

// TestChooseLeavesAGoodAxleAlone: where every part is worse than what is there, that is
// said first, nothing is written, and a script can tell.
func TestChooseLeavesAGoodAxleAlone(t *testing.T) {
	inFolder(t, "hatchback-link")
	head, _, _ := strings.Cut(readText(t, "hatchback-link.toml"), "[search]")
	writeText(t, "axle.toml", head+"[want.strip]\nnumber = \"longitudinal_compliance\"\nat_least = 1.8\n")
	writeText(t, "hard.csv", "name,soft,axial,stiff,cone_soft,torsion,cone_stiff\nH,1500,2500,5000,8,1.8,6\n")
	r := bushtune(t, "choose axle.toml hard.csv")
	if r.code != exitAnswer || !strings.Contains(r.out, "LEAVE IT AS IT STANDS: of 1 combination none is better. The nearest, H at bush.pivot, misses") {
		t.Errorf("code %d: %s", r.code, r.out)
	}
	r = bushtune(t, "choose axle.toml hard.csv --out new.toml")
	if r.code != exitNotReached || !strings.Contains(r.err, "no combination is better than the axle as it stands, so new.toml is not written") || !strings.Contains(r.out, "so new.toml is not written") {
		t.Errorf("code %d: %s", r.code, r.err)
	}
	if _, err := os.Stat("new.toml"); err == nil {
		t.Error("a worse axle is written")
	}
	recommended := ""
	for _, row := range recordsOf(t, "choose axle.toml hard.csv") {
		if row.Line == "recommended" {
			recommended = row.Words
		}
	}
	if recommended != "as it stands" {
		t.Errorf("recommended: %q", recommended)
	}
}
