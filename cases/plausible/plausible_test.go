package plausible

import (
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/compliance"
)

// units are the units of every number of an axle file by the key of its row, and the
// default of each in its written unit.
func fieldsByKey() map[string][]quantity.Field {
	all := map[string][]quantity.Field{}
	for _, k := range compliance.Kinds() {
		for _, f := range k.Fields {
			all[k.Table+"."+f.Name] = append(all[k.Table+"."+f.Name], f)
		}
	}
	for _, f := range compliance.WheelFields {
		if hub, is := strings.CutPrefix(f.Name, "hub_"); is {
			all["hub."+hub] = append(all["hub."+hub], f)
			continue
		}
		all["wheel."+f.Name] = append(all["wheel."+f.Name], f)
	}
	for _, f := range cases.VehicleFields {
		all["vehicle."+f.Name] = append(all["vehicle."+f.Name], f)
	}
	for _, f := range cases.WheelLoadFields {
		all["case."+f.Name] = append(all["case."+f.Name], f)
	}
	for _, f := range cases.StateFields {
		all["state."+f.Name] = append(all["state."+f.Name], f)
	}
	for key, fields := range all { // a row of a vector holds for its components
		if at := strings.LastIndex(key, "."); len(key)-at == 2 {
			all[key[:at]] = fields
		}
	}
	return all
}

// own are rows of what is no single key.
var own = []string{"bush.curve.travel", "bush.curve.load", "bush.torsion_curve.travel", "bush.cone_curve.travel", "bush.rubber.hardness.polyurethane", "case.largest_force"}

func TestRowsAreThoseOfKeys(t *testing.T) {
	fields := fieldsByKey()
	for _, r := range keys {
		if r.From >= r.To {
			t.Errorf("%s: %v to %v", r.Key, r.From, r.To)
		}
		isOwn := false
		for _, o := range own {
			isOwn = isOwn || o == r.Key
		}
		if fields[r.Key] == nil {
			if !isOwn {
				t.Errorf("there is no key %s", r.Key)
			}
			continue
		}
		for _, f := range fields[r.Key] {
			if f.Unit != r.Unit {
				t.Errorf("%s is judged in %q and written in %q", r.Key, r.Unit.Name, f.Unit.Name)
			}
			if !f.Allows(r.From) && r.From != 0 || !f.Allows(r.To) {
				t.Errorf("%s: the reader allows %v to %v, usual are %v to %v", r.Key, f.Min, f.Max, r.From, r.To)
			}
		}
	}
}

// noRange are keys of which everything is usual: places (held against each other),
// directions, turns of the voids, and products of inertia, which have a hard limit.
var noRange = []string{".x", ".z", ".y", "bush.clock", "range_share", "_mixed", "matrix."}

func TestEveryKeyHasARow(t *testing.T) {
	for key, fields := range fieldsByKey() {
		_ = fields
		found := false
		for _, variant := range []string{"", "V", "tube"} {
			found = found || Key(key, variant) != nil
		}
		for _, n := range noRange {
			found = found || strings.HasSuffix(key, n) || strings.Contains(key, n)
		}
		for _, name := range []string{"at", "centre", "inner", "outer", "upper", "lower", "start", "end", "axis", "soft_axis"} {
			found = found || strings.HasSuffix(key, "."+name)
		}
		if !found {
			t.Errorf("%s has no usual range", key)
		}
	}
}

func TestNumbersAreThoseOfTheAnswer(t *testing.T) {
	known := map[string]quantity.Unit{}
	study := twistBeam(t)
	for _, n := range study.Numbers() {
		known[n.Name] = n.Unit
	}
	for _, r := range numbers {
		if u, is := known[r.Key]; !is || u != r.Unit {
			t.Errorf("%s in %q: the answer has it in %q", r.Key, r.Unit.Name, u.Name)
		}
	}
}

// TestSlips: the slip that is named is the one that was made.
func TestSlips(t *testing.T) {
	for _, c := range []struct {
		key, variant string
		written      float64
		slip         string
	}{
		{"bush.soft", "", 550000, "N/m"}, {"bush.soft", "", 0.55, "kN/mm"}, {"bush.soft", "", 56, ""}, {"bush.axial", "", 1.8e6, "N/m"},
		{"bush.torsion", "", 103, "N·m/rad"}, {"bush.torsion", "", 1800, "N·mm/deg"}, {"bush.cone_soft", "", 458000, "N·mm/rad"},
		{"bush.max_radial_load", "", 9, "kN"}, {"bush.at.y", "", 0.555, "m written"}, {"bush.at.y", "", -555, "sign"},
		{"wheel.loaded_radius", "", 620, "diameter"}, {"wheel.loaded_radius", "", 0.288, "m written"}, {"wheel.loaded_radius", "", 11.3, "inches"}, {"wheel.loaded_radius", "", 28.8, "cm"},
		{"wheel.centre.y", "", 1470, "track"}, {"wheel.toe", "", 9, "minutes"},
		{"spring.rate", "", 19000, "N/m"}, {"spring.rate", "", 1.94, "kgf/mm"}, {"spring.rate", "", 360, ""},
		{"vehicle.mass", "", 1.15, "t written"}, {"vehicle.cg_height", "", 0.545, "m written"}, {"vehicle.unsprung", "", 250, "both wheels"},
		{"vehicle.trail", "", 0.025, "m written"}, {"vehicle.front_roll_rate", "", 29800, "N·m/rad"},
		{"beam.youngs_modulus", "", 210, "GPa"}, {"beam.shear_up", "", 233, "shear area"}, {"beam.torsion_constant", "", 0.93, "cm⁴"},
		{"beam.profile.half_angle", "V", 56, "half"}, {"beam.profile.half_angle", "V", 0.49, "radians"}, {"beam.profile.radius", "tube", 100, "diameter"},
		{"bush.rubber.shear_modulus", "", 900, "kPa"}, {"state.lateral", "", 2.9, "m/s²"},
		{"beam.centroid", "", 230, ""}, {"beam.centroid", "", 15000, "µm"},
	} {
		r := Key(c.key, c.variant)
		notes := r.Of(c.key, c.written)
		if len(notes) != 1 {
			t.Errorf("%s = %v: %d notes", c.key, c.written, len(notes))
			continue
		}
		if got := notes[0].Slip; !strings.Contains(got, c.slip) || c.slip == "" && got != "" {
			t.Errorf("%s = %v: %q, want %q", c.key, c.written, got, c.slip)
		}
	}
}

func TestBushOnItsOwn(t *testing.T) {
	slots := compliance.Bush.Defaults()
	set := func(name string, written float64) {
		f := compliance.Bush.FieldIndex(name)
		slots[f] = written * compliance.Bush.Fields[f].Unit.Factor
	}
	for name, v := range map[string]float64{"soft": 550, "axial": 1800, "stiff": 2600, "torsion": 1.8, "cone_soft": 8, "cone_stiff": 6} {
		set(name, v)
	}
	if notes := Bush("part.sound", slots, nil); notes != nil {
		t.Errorf("a sound bush: %v", notes)
	}
	set("soft", 2700)
	if notes := Bush("part.swapped", slots, nil); len(notes) != 1 || notes[0].Check != "soft_and_stiff" || notes[0].Key != "part.swapped" {
		t.Errorf("soft above stiff: %v", notes)
	}
	set("soft", 550000)
	if notes := Bush("part.swapped", slots, nil); len(notes) != 1 || notes[0].Check != "bush.soft" {
		t.Errorf("soft in N/m: %v", notes)
	}
	set("soft", 0)
	curve, err := bushing.NewTable([][2]float64{{0, 0}, {1, 0.5}, {3, 2.1}})
	if err != nil {
		t.Fatal(err)
	}
	if notes := Bush("part.curve", slots, &bushing.Curves{Tables: [6]*bushing.Table{curve}}); len(notes) != 1 || notes[0].Check != "bush.curve.load" || !strings.Contains(notes[0].Slip, "kN") {
		t.Errorf("a curve in kN: %v", notes)
	}
}

// twistBeam is a sound axle: two trailing arms on bushes, joined by a tube.
func twistBeam(t *testing.T) *cases.Study {
	t.Helper()
	axle, vehicle := model()
	study, err := cases.NewStudy(axle, vehicle, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return study
}

// model is a sound axle, and the car around it.
func model() (*compliance.Axle, cases.Vehicle) {
	element := func(kind *compliance.Kind, name string, side compliance.Side, from, to int, values map[string]float64) compliance.Element {
		e := compliance.Element{Kind: kind, Name: name, Side: side, From: from, To: to, Slots: kind.Defaults()}
		for key, v := range values {
			i := kind.FieldIndex(key)
			e.Slots[i] = v * kind.Fields[i].Unit.Factor
		}
		return e
	}
	axle := &compliance.Axle{Title: "arms on bushes", Bodies: []compliance.Body{{Name: "arm", Side: compliance.Left}, {Name: "arm", Side: compliance.Right}}}
	wheel := make([]float64, len(compliance.WheelFields))
	copy(wheel, []float64{0, 740, 300, 300})
	for w := range axle.Wheels {
		axle.Wheels[w] = compliance.Wheel{Body: w, Slots: append([]float64(nil), wheel...)}
	}
	for i, side := range []compliance.Side{compliance.Left, compliance.Right} {
		axle.Elements = append(axle.Elements,
			element(compliance.Bush, "pivot", side, compliance.Vehicle, i, map[string]float64{"at.x": 420, "at.y": 560, "at.z": 300, "soft": 600, "axial": 1800, "stiff": 2600, "torsion": 2, "cone_soft": 8, "cone_stiff": 7}),
			element(compliance.Spring, "coil", side, compliance.Vehicle, i, map[string]float64{"upper.x": -30, "upper.y": 490, "upper.z": 560, "lower.x": -20, "lower.y": 500, "lower.z": 310, "rate": 24}))
	}
	tube := compliance.ProfileBeams[0]
	for _, k := range compliance.ProfileBeams {
		if k.Variant == "V" {
			tube = k
		}
	}
	axle.Elements = append(axle.Elements, element(tube, "cross", compliance.Centre, 0, 1, map[string]float64{"at.x": 255, "at.z": 280, "ends_y": 540, "profile.leg": 74, "profile.radius": 27, "profile.half_angle": 28, "profile.wall": 5}))
	unknown := cases.UnknownVehicle()
	slots := unknown.Slots()
	for i, f := range cases.VehicleFields {
		for key, v := range map[string]float64{"mass": 1200, "rear_share": 0.42, "wheelbase": 2520, "cg_height": 550, "unsprung": 36, "rear_brake_share": 0.3, "front_roll_rate": 540, "front_roll_centre": 55, "trail": 25, "tyre_rate": 200} {
			if f.Name == key {
				slots[i] = v * f.Unit.Factor
			}
		}
	}
	vehicle := cases.NewVehicle(slots[:])
	vehicle.StaticLoad = true
	return axle, vehicle
}

func TestSoundModelIsSilentForALibraryUser(t *testing.T) {
	axle, vehicle := model()
	subject := Subject{Axle: axle, Vehicle: vehicle, Study: twistBeam(t)}
	for _, n := range subject.Notes() {
		t.Errorf("%s", n.String())
	}
}

// TestSayShowsWrongSigns: what is said back of an axle changes its words with the sign.
func TestSayShowsWrongSigns(t *testing.T) {
	axle, vehicle := model()
	said := func(key string) string {
		for _, s := range Say(axle, &vehicle) {
			if s.Key == key {
				return s.Text
			}
		}
		t.Fatalf("nothing is said of %s", key)
		return ""
	}
	expect := func(key, part string) {
		t.Helper()
		if text := said(key); !strings.Contains(text, part) {
			t.Errorf("%s: %q lacks %q", key, text, part)
		}
	}
	both := func(index int, name string, written float64) {
		for i := range axle.Elements {
			if e := &axle.Elements[i]; e.Name == axle.Elements[index].Name {
				f := e.Kind.FieldIndex(name)
				e.Slots[f] = written * e.Kind.Fields[f].Unit.Factor
			}
		}
	}
	expect("bush.pivot", "420 mm ahead of the wheel, 180 mm inboard of it, as high as its centre; axis points outboard, soft forward")
	expect("spring.coil", "stands 250 mm above its lower end, 3 deg from vertical")
	expect("beam.cross", "255 mm ahead of the wheel, 20 mm below its centre, ends 200 mm inboard of the wheels; opens down")
	expect("wheel", "track 1480 mm, centre 300 mm above the ground")
	expect("vehicle", "2.47 kN on each rear wheel")
	both(0, "at.x", -420)
	both(0, "plan", -12)
	both(1, "upper.z", 60)
	both(4, "at.x", -255)
	both(4, "tilt", -30)
	expect("bush.pivot", "420 mm behind the wheel")
	expect("bush.pivot", "axis points outboard and 12 deg rearward, soft forward and 12 deg outboard")
	expect("spring.coil", "hangs 250 mm BELOW")
	expect("beam.cross", "255 mm behind the wheel")
	expect("beam.cross", "its top turned 30 deg rearward")
	both(0, "plan", 12)
	expect("bush.pivot", "axis points outboard and 12 deg forward, soft forward and 12 deg inboard")
	axle.Elements[2].Slots[axle.Elements[2].Kind.FieldIndex("at.z")] = 250
	expect("bush.pivot.right", "50 mm below its centre")
}

// TestHardlyHeld: an axle that only a trace of torsion holds is solved, and told with
// its motion; a soft but sound one is not.
func TestHardlyHeld(t *testing.T) {
	for _, c := range []struct {
		torsion float64 // N·m/deg
		told    bool
	}{{1e-7, true}, {1e-3, false}} {
		axle, vehicle := model()
		vehicle.StaticLoad = false
		var kept []compliance.Element
		for _, e := range axle.Elements {
			if e.Kind == compliance.Bush {
				e.Slots[e.Kind.FieldIndex("torsion")] = c.torsion * quantity.NewtonMetrePerDegree.Factor
			}
			if e.Kind != compliance.Spring {
				kept = append(kept, e)
			}
		}
		axle.Elements = kept
		study, err := cases.NewStudy(axle, vehicle, nil, nil)
		if err != nil {
			t.Fatalf("torsion %g: %v", c.torsion, err)
		}
		subject := Subject{Axle: axle, Vehicle: vehicle, Study: study}
		found := ""
		for _, n := range subject.Notes() {
			if n.Check == "hardly_held" {
				found = n.Text
			}
		}
		if (found != "") != c.told || c.told && !strings.Contains(found, "turn about an axis across the car") {
			t.Errorf("torsion %g: %q", c.torsion, found)
		}
	}
}
