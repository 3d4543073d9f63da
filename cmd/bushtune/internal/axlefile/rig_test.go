package axlefile

import (
	"errors"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/demo"
)

// rigStudy is the study of the default axle in both turns.
func rigStudy(t testing.TB) *cases.Study {
	t.Helper()
	axle, err := demo.Open(demo.Default)
	if err != nil {
		t.Fatal(err)
	}
	file, err := Parse("axle.toml", axle.Text)
	if err != nil {
		t.Fatal(err)
	}
	study, err := cases.NewStudyBothTurns(file.Axle, file.Vehicle, file.Cases, file.States)
	if err != nil {
		t.Fatal(err)
	}
	return study
}

const goodRig = `# a remark
case; operator; load [kN]; load [N.m]; channel; side; value [deg]; value [min]; value [mm]; sd [mrad]

cornering; me; 2; ; toe; outer; -0.25; ; ; 0.5
cornering_turn_right; me; -2; ; camber; left; ; 6; ;
# aligning torque
aligning; ; ; 150; toe; right; 0.5; ; ;
impact; ; 1.5; ; centre_x; inner; ; ; -4.5;
`

// TestRigUnits: every unit of the headings becomes the program's own.
func TestRigUnits(t *testing.T) {
	study := rigStudy(t)
	rows, err := ReadRig("rig.csv", []byte("\xef\xbb\xbf"+strings.ReplaceAll(goodRig, "\n", "\r\n")), study)
	if err != nil {
		t.Fatal(err)
	}
	const degree = math.Pi / 180
	want := []RigRow{
		{Line: 4, Case: "cornering", Channel: "toe", Side: "outer", Size: 2000, Value: -0.25 * degree, Deviation: 0.5e-3},
		{Line: 5, Case: "cornering_turn_right", Channel: "camber", Side: "left", Size: -2000, Value: 0.1 * degree},
		{Line: 7, Case: "aligning", Channel: "toe", Side: "right", Size: 150e3, Value: 0.5 * degree},
		{Line: 8, Case: "impact", Channel: "centre_x", Side: "inner", Size: 1500, Value: -4.5},
	}
	names := []string{"outer_wheel_toe", "left_wheel_camber", "right_wheel_toe", "inner_centre_x"}
	if len(rows) != len(want) {
		t.Fatalf("%d rows", len(rows))
	}
	for i, r := range rows {
		n := study.Numbers()[r.Number]
		if n.Name != names[i] || n.Case != r.Case {
			t.Errorf("row %d reads %s in %s", i, n.Name, n.Case)
		}
		got := r
		got.Number, got.Size, got.Value, got.Deviation = 0, want[i].Size, want[i].Value, want[i].Deviation
		if got != want[i] || math.Abs(r.Size-want[i].Size) > 1e-9 || math.Abs(r.Value-want[i].Value) > 1e-12 || math.Abs(r.Deviation-want[i].Deviation) > 1e-12 {
			t.Errorf("row %d: %+v, want %+v", i, r, want[i])
		}
	}
}

// TestDecimalComma: a spreadsheet that separates cells by semicolons writes numbers
// with a decimal comma, in rig data and catalogues alike.
func TestDecimalComma(t *testing.T) {
	study := rigStudy(t)
	point, err := ReadRig("rig.csv", []byte(goodRig), study)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer("-0.25", "-0,25", "0.5", "0,5", "1.5", `"1,5"`, "-4.5", "-4,5").Replace(goodRig)
	comma, err := ReadRig("rig.csv", []byte(text), study)
	if err != nil || !slices.Equal(point, comma) {
		t.Errorf("rig data: %v, %+v, want %+v", err, comma, point)
	}
	text = strings.NewReplacer("1.5", "1,5", "4.5", "4,5", "3:2500", "3,0:2500").Replace(twoRows)
	if got, want := catalogueOf(t, "shelf.csv", text), catalogueOf(t, "shelf.csv", twoRows); text == twoRows || !reflect.DeepEqual(got, want) {
		t.Errorf("catalogue: %+v, want %+v", got, want)
	}
}

// TestRigMistakes: every mistake with its line and column, all at once.
func TestRigMistakes(t *testing.T) {
	for text, want := range map[string][]string{
		`case,load [kN],load [N·m],channel,side,value [deg],value [mm],sd [deg]
corner,1,,toe,left,0.1,,
cornering,,5,toe,left,0.1,,
cornering,1,5,toe,left,0.1,,
cornering,1,,centre_x,left,0.1,,
cornering,1,,tow,left,0.1,,
cornering,1,,toe,leftt,0.1,,
cornering,0,,toe,left,0.1,,0
cornering,1,,toe,left,"0,1",,
cornering,1,,toe,left,,,
cornering,1,,toe,left,0.1,,-2
cornering,1,,toe,left,nan,,,7
cornering,1,,patch_z,left,,1,
,1,,toe,,0.1,,
state_cornering,1,,toe,left,0.1,,
cornering,1,,toe,left,0.1,3,
cornering,1e300,,toe,left,inf,,
`: {
			`rig.csv:2: column case: there is no case "corner"; allowed: cornering, `,
			`rig.csv:3: column load [N·m]: what is asked for is force, not moment; allowed: force, as in load [kN]`,
			`rig.csv:4: column load [N·m]: there is a load in column load [kN] already; allowed: one`,
			`rig.csv:5: column value [deg]: what is asked for is length, not angle; allowed: length, as in value [mm]`,
			`rig.csv:6: column channel: there is no channel "tow"; allowed: toe, camber, wind_up, centre_x, centre_y, centre_z, patch_x, patch_y, patch_z, pad_load; hint: did you mean toe`,
			`rig.csv:7: column side: there is no side "leftt"; allowed: outer, inner, left, right; hint: did you mean left`,
			`rig.csv:8: column sd: a standard deviation is above 0`,
			`rig.csv:9: column value [deg]: "0,1" is no number; allowed: a number in deg; hint: numbers take a decimal point: 0.1`,
			`rig.csv:10: column value: missing; allowed: a number`,
			`rig.csv:11: column sd: a standard deviation is above 0`,
			`rig.csv:12: column 9: there is no heading over "7"; allowed: 8 columns`,
			`rig.csv:12: column value [deg]: "nan" is no number`,
			`rig.csv:13: column channel: patch_z is not read in the case cornering`,
			`rig.csv:14: column case: missing; allowed: cornering, `,
			`rig.csv:14: column side: missing; allowed: outer, inner, left, right`,
			`rig.csv:15: column case: there is no case "state_cornering"`,
			`rig.csv:16: column value [mm]: there is a value in column value [deg] already; allowed: one`,
			`rig.csv:17: column load [kN]: "1e300" is no reading of an axle; allowed: up to 1000000 kN`,
			`rig.csv:17: column value [deg]: "inf" is no number`,
		},
		"case,load,chanel,side,value [kN],value [kg],side\ncorner,1,toe,left,x,2,left\n": {
			`rig.csv:1: column 2: "load" has no unit; allowed: load [kN], load [N], load [N·m]`,
			`rig.csv:1: column 3: there is no column "chanel"; allowed: case, load, channel, side, value, sd; hint: did you mean channel`,
			`rig.csv:1: column 6: unit "kg" does not fit; allowed: value [kN], `,
			`rig.csv:1: column 7: there are two columns "side"; allowed: one`,
			`rig.csv:1: column channel: missing; allowed: channel`,
			`rig.csv:2: column case: there is no case "corner"`,
		},
		"":                              {`rig.csv:1: there are no readings`},
		"case,load [kN],channel,side\n": {`rig.csv:1: column value: missing; allowed: value [kN], value [N], value [deg], value [min], value [mrad], value [mm]`, `rig.csv:1: there are no readings`},
		"case,load [kN],channel,side,value [deg]\n\"a": {`rig.csv:2: not CSV: `},
	} {
		_, err := ReadRig("rig.csv", []byte(text), rigStudy(t))
		var mistakes Mistakes
		if !errors.As(err, &mistakes) {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if len(mistakes) != len(want) {
			t.Errorf("%d mistakes, want %d:\n%v", len(mistakes), len(want), err)
			continue
		}
		for i, m := range mistakes {
			if !strings.HasPrefix(m.String(), want[i]) {
				t.Errorf("got:  %s\nwant: %s", m, want[i])
			}
		}
	}
}

// TestTolerance reads what a parameter is known to before a fit.
func TestTolerance(t *testing.T) {
	axle, err := demo.Open(demo.Default)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(string(axle.Text), "from = 350, to = 1400, scale", "from = 350, to = 1400, tolerance = 15, scale", 1)
	file, err := Parse("axle.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range file.Search {
		if want := map[string]float64{"bush.pivot.soft": 15}[p.Path]; p.Tolerance != want {
			t.Errorf("%s: tolerance %v, want %v", p.Path, p.Tolerance, want)
		}
	}
	if _, err := Parse("axle.toml", []byte(strings.Replace(text, "tolerance = 15", "tolerance = 0", 1))); err == nil || !strings.Contains(err.Error(), "bush.pivot.soft.tolerance") {
		t.Errorf("tolerance 0: %v", err)
	}
}

// TestEveryRigUnitIsMeasured: what channels and loads are given in has a heading.
func TestEveryRigUnitIsMeasured(t *testing.T) {
	for _, c := range cases.Channels() {
		if measures(c.Unit) == "" {
			t.Errorf("%s is in %s", c.Name, c.Unit.Name)
		}
	}
	if measures(quantity.NewtonMetre) != "moment" {
		t.Error("a moment is none")
	}
}

// FuzzReadRig looks for rig data that make the reader panic or say something that
// does not print.
func FuzzReadRig(f *testing.F) {
	study := rigStudy(f)
	f.Add([]byte(goodRig))
	text, _ := demo.Rig(demo.Default)
	f.Add(text)
	f.Add([]byte("case,load [kN],channel,side,value [deg]\ncornering,1,toe,left,x\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		rows, err := ReadRig("rig.csv", text, study)
		if err == nil && len(rows) == 0 {
			t.Error("no readings and no mistake")
		}
		if err != nil && err.Error() == "" {
			t.Error("a mistake without words")
		}
	})
}
