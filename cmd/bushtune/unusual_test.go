package main

import (
	"encoding/json"
	"strings"
	"testing"

	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/show"
)

// unusualText is an axle file that can be read and solved, with values that no axle has.
func unusualText(t *testing.T) string {
	t.Helper()
	axle, err := demo.Open(demo.Default)
	if err != nil {
		t.Fatal(err)
	}
	text := string(axle.Text)
	for _, change := range [][2]string{
		{"stiff = 2600 ", "stiff = 2_600_000 "}, {"stiff = 2600\n", "stiff = 2_600_000\n"},
		{"loaded_radius = 288", "loaded_radius = 576"},
		{"upper = [-40, 470, 545]", "upper = [-40, 470, 300]"}, {"lower = [-25, 480, 300]", "lower = [-25, 480, 545]"},
		{"at = [255, 0, 272]", "at = [-255, 0, 272]"},
		{"trail = 25\n", ""},
		{"bush.pivot.axial = { from = 600, to = 2500,", "bush.pivot.axial = { from = 6, to = 2500,"},
	} {
		text = strings.ReplaceAll(text, change[0], change[1])
	}
	return text
}

func TestUnusualIsToldByEveryCommand(t *testing.T) {
	inFolder(t)
	writeText(t, "unusual.toml", unusualText(t))
	writeText(t, "rig.csv", "case,load [kN],channel,side,value [mm]\nimpact,1,centre_x,left,-1.75\nimpact,2,centre_x,left,-3.46\nimpact,3,centre_x,left,-5.2\n")
	const told = "check: 6 things look unusual: unusual.toml:11: wheel.loaded_radius: 576 mm,"
	for _, line := range []string{"solve unusual.toml", "solve unusual.toml --at-size 1", "travel unusual.toml --points 2 --from -1 --to 1", "sweep unusual.toml --points 2 --to 0.1",
		"tune unusual.toml --starts 0", "swap unusual.toml rates=1.1", "choose unusual.toml --best 1", "fit unusual.toml rig.csv", "spec unusual.toml"} {
		text := bushtune(t, line)
		if !strings.Contains(text.err, told) || strings.Count(text.err, "look unusual") != 1 {
			t.Errorf("%s: standard error does not tell it once:\n%s", line, text.err)
		}
		if !strings.Contains(text.err, "check tells all") {
			t.Errorf("%s: no way to all of it:\n%s", line, text.err)
		} else if n := strings.Count(text.err[strings.Index(text.err, "check:"):strings.Index(text.err, "tells all")], "\n"); n > 3 {
			t.Errorf("%s: the short note takes %d lines:\n%s", line, n, text.err)
		}
		if strings.HasPrefix(line, "spec") {
			continue // pages for a supplier are about bushes alone
		}
		var records []show.Record
		if out := bushtune(t, line+" --format json").out; json.Unmarshal([]byte(out), &records) != nil {
			t.Errorf("%s: no JSON: %.300s", line, out)
			continue
		}
		var found []string
		for _, r := range records {
			if r.Kind == "unusual" {
				found = append(found, r.Words)
			}
		}
		if len(found) != 6 || !strings.HasPrefix(found[0], "unusual.toml:11: wheel.loaded_radius: 576 mm") || !strings.Contains(found[0], "usual: 180 to 430 mm") {
			t.Errorf("%s: JSON tells %q", line, found)
		}
	}
}

func TestBuiltInAxlesMakeNoNote(t *testing.T) {
	for _, name := range demo.Names() {
		if r := bushtune(t, "solve --demo "+name); r.err != "" {
			t.Errorf("%s: %s", name, r.err)
		}
	}
}

// TestCheckTellsUnusual: place, key, value as it is written, what is usual, the slip.
func TestCheckTellsUnusual(t *testing.T) {
	inFolder(t)
	writeText(t, "unusual.toml", unusualText(t))
	r := bushtune(t, "check unusual.toml")
	if r.code != 0 {
		t.Errorf("exit code %d", r.code)
	}
	for _, want := range []string{
		"unusual.toml:11: wheel.loaded_radius: 576 mm is unusual; hint: a diameter written for a radius?\n    usual: 180 to 430 mm\n",
		"unusual.toml:27: bush.pivot.stiff: 2_600_000 N/mm is unusual; hint: N/m written for N/mm?\n    usual: 150 to 40000 N/mm\n",
		"spring.coil: the end on the body lies 245 mm below the other",
		"the cross-member lies 255 mm behind the wheels",
		"vehicle.trail: absent, so states leave out the aligning torque of the tyres",
		"search.bush.pivot.axial.from: 6 N/mm is unusual",
		"unusual.toml: no mistakes; 6 things look unusual, told above",
		"hangs 245 mm BELOW its other end", "255 mm behind the wheel",
	} {
		if !strings.Contains(r.out, want) {
			t.Errorf("check does not say %q:\n%s", want, r.out)
		}
	}
}

// TestCheckTellsUnusualOfAnAxleThatCannotBeSolved: the note may hold the cause.
func TestCheckTellsUnusualOfAnAxleThatCannotBeSolved(t *testing.T) {
	inFolder(t, "hatchback-plain")
	text := strings.Replace(readText(t, "hatchback-plain.toml"), "upper = [-10, 470, 545]", "upper = [-340, 470, 370]", 1)
	writeText(t, "lying.toml", text)
	for _, line := range []string{"check lying.toml", "solve lying.toml"} {
		r := bushtune(t, line)
		if r.code != 1 || !strings.Contains(r.out+r.err, "leans 77 deg from vertical") {
			t.Errorf("%s: exit code %d\n%s%s", line, r.code, r.out, r.err)
		}
	}
}

// TestUnusualOfOtherFiles: sets, catalogues, part files and rig data are judged like
// the axle; built-in ones are silent.
func TestUnusualOfOtherFiles(t *testing.T) {
	inFolder(t, "hatchback-link", "estate-rubber")
	writeText(t, "stiff.toml", "title = \"stiff\"\n[bush.pivot]\nsoft = 600\n[bush.pivot.right]\nstiff = 2700000\n")
	writeText(t, "shelf.csv", "name,soft,axial,stiff,torsion,cone_soft,cone_stiff,outer_diameter\nA1,500,1500,2500,2,8,6,62\nB 2,500,1500,2500,115,8,6,2.4\n")
	writeText(t, "part.toml", "[part]\ninner_diameter = 20\nouter_diameter = 60\nlength = { from = 40, to = 60 }\nhardness = 32\nageing_factor = 3\n[wanted]\nstiff = { at_least = 2 }\n")
	writeText(t, "rig.csv", "case,load [kN],channel,side,value [mm]\nimpact,1,centre_x,left,-1.75\nimpact,2000,centre_x,left,-3.46\nimpact,3,centre_x,left,-5.2\n")
	for line, want := range map[string][]string{
		"swap hatchback-link.toml stiff.toml":  {"1 thing looks unusual: stiff.toml:5: bush.pivot.right.stiff: 2700000 N/mm", "(N/m written for N/mm?)"},
		"swap hatchback-link.toml rates=300":   {"rates=300: bush.pivot.soft: 165000 N/mm"},
		"choose hatchback-link.toml shelf.csv": {"2 things look unusual: shelf.csv:3: part.B 2.torsion: 115 N·m/deg", "(N·m/rad written", "shelf.csv:3: part.B 2.outer_diameter: 2.4 mm", "(inches written"},
		"rubber part.toml":                     {"part.toml:5: part.hardness: 32 IRHD", "part.toml:6: part.ageing_factor: 3", "And 1 more"},
		"fit hatchback-link.toml rig.csv":      {"1 thing looks unusual: rig.csv:3: column load: 2000 kN", "(N written for kN?)"},
		"swap hatchback-link.toml firm-pivots": nil,
		"swap hatchback-link.toml worn-axle":   nil,
		"swap estate-rubber.toml polyurethane=80,bonded=true worn=0.6,free_play=0.5 swap_sides=true@bush.pivot": nil,
		"choose --demo hatchback-angled": nil,
		"rubber --demo pivot-bush":       nil,
		"rubber --demo urethane-bush":    nil,
		"rubber --demo spring-pad":       nil,
		"fit":                            nil,
	} {
		got := strings.Join(strings.Fields(bushtune(t, line).err), " ")
		if strings.Contains(got, "unusual") != (want != nil) {
			t.Errorf("%s: %s", line, got)
		}
		for _, w := range want {
			if !strings.Contains(got, w) {
				t.Errorf("%s: does not say %q:\n%s", line, w, got)
			}
		}
	}
}
