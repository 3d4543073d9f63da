package axlefile

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"bushtune/compliance"
)

func TestCommittedSchemaIsTheSchema(t *testing.T) {
	golden(t, "testdata/axle.schema.json", string(Schema()))
}

func compiledSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("axle.schema.json", document); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("axle.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// validate holds a TOML text against the schema.
func validate(t testing.TB, s *jsonschema.Schema, text []byte) error {
	t.Helper()
	values := object{}
	if _, err := toml.Decode(string(text), &values); err != nil {
		return err
	}
	encoded, err := json.Marshal(values)
	if err != nil { // NaN and infinity
		return err
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(encoded))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(document)
}

// goodFiles are the example, plain and with all its possibilities, the test axle
// and the demo axles.
func goodFiles(t testing.TB) map[string][]byte {
	t.Helper()
	files := map[string][]byte{"everything": []byte(everything(t))}
	for _, pattern := range []string{"testdata/*.toml", "../demo/axles/*.toml"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range found {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			files[filepath.Base(file)] = text
		}
	}
	return files
}

// everything is the example with every line in use.
func everything(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("testdata/example.toml")
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Count(text, []byte("\n#~ ")) < 50 {
		t.Fatal("the example has lost its further possibilities")
	}
	return strings.ReplaceAll(string(text), "\n#~ ", "\n")
}

func TestGoodFilesReadAndFitTheSchema(t *testing.T) {
	s := compiledSchema(t)
	for name, text := range goodFiles(t) {
		f, err := Parse(name, text)
		if err != nil {
			t.Errorf("reader: %v", err)
			continue
		}
		if _, err := compliance.NewSolver(f.Axle); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if err := validate(t, s, text); err != nil {
			t.Errorf("schema: %s: %v", name, err)
		}
	}
}

// TestBadFilesDoNotFitTheSchema: the schema sees every mistake that one table
// can show. The others need the whole file and are named here.
func TestBadFilesDoNotFitTheSchema(t *testing.T) {
	beyond := map[string]bool{"loose.toml": true, "chains.toml": true, "geometry.toml": true, "turns.toml": true, "middle.toml": true, "corners.toml": true, "unmakeable.toml": true,
		"wantsagainst.toml": true, "wantsnone.toml": true}
	s := compiledSchema(t)
	files, err := filepath.Glob("testdata/mistakes/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if name := filepath.Base(file); (validate(t, s, text) == nil) != beyond[name] {
			t.Errorf("%s: fits the schema: %v, want %v", name, !beyond[name], beyond[name])
		}
	}
}

// TestSchemaRefuses changes one thing of a good file at a time.
func TestSchemaRefuses(t *testing.T) {
	s := compiledSchema(t)
	for name, text := range map[string]string{
		"key":        withChange(t, "torsion = 2.1", "torsoin = 2.1"),
		"case":       withChange(t, "torsion = 2.1", "Torsion = 2.1"),
		"range":      withChange(t, "stiff = 3000", "stiff = -3000"),
		"zero":       withChange(t, "inner_rate = 4000", "inner_rate = 0"),
		"type":       withChange(t, "stiff = 3000", `stiff = "3000"`),
		"vector":     withChange(t, "[430, 560, 330]", "[430, 560]"),
		"required":   withChange(t, "loaded_radius = 300", ""),
		"word":       withChange(t, `"lateral"`, `"sideways"`),
		"shape":      withChange(t, `shape = "V", `, `shape = "W", `),
		"no shape":   withChange(t, `shape = "V", `, ""),
		"of a shape": withChange(t, "leg = 80", "web = 80"),
		"table":      withChange(t, "[link.toe]", "[lnk.toe]"),
		"side name":  withChange(t, "[spring.coil]", "[spring.left]"),
		"sign":       withChange(t, "[spring.coil]", `[spring."a b"]`),
		"override":   withChange(t, "soft = 550", `from = "vehicle"`),
		"goal":       withChange(t, "at_least = 0.02", ""),
		"goals":      withChange(t, "at_least = 0.02", "at_least = 0.02\ntarget = 3"),
		"bound":      withChange(t, "{ from = -40, to = 40 }", "{ from = -40, too = 40 }"),
	} {
		if err := validate(t, s, []byte(text)); err == nil {
			t.Errorf("%s: the schema accepts it", name)
		}
		if _, err := Parse(name, []byte(text)); err == nil {
			t.Errorf("%s: the reader accepts it", name)
		}
	}
}

// TestExampleShowsEveryKey looks in the example, with all lines in use, for every
// key of every table and every way of writing an element.
func TestExampleShowsEveryKey(t *testing.T) {
	f := parseText(t, everything(t))
	root := f.source.root
	for name, keys := range map[string][]key{
		wheelSection: wheelKeys(), hubSection: hubKeys(), vehicleSection: vehicleKeys(),
	} {
		shows(t, name, []*table{root.sub(name)}, keys)
	}
	for name, keys := range map[string][]key{
		bodySection: bodyKeys(), caseSection: caseKeys(), stateSection: stateKeys(), wantSection: wantKeys(),
	} {
		shows(t, name, each(root.sub(name)), keys)
	}
	for _, name := range kindTables() {
		for _, v := range variantsOf(name) {
			shows(t, name, each(root.sub(name)), v.flatKeys(name))
			if k := find(v.keys, rubberKey); k != nil {
				var tables []*table
				for _, bush := range each(root.sub(name)) {
					tables = append(tables, bush.sub(rubberKey))
				}
				shows(t, name+"."+rubberKey, tables, k.keys)
			}
			if k := find(v.keys, "profile"); k != nil {
				shows(t, name+".profile "+v.kind.Variant, profilesOf(root.sub(name), v), k.keys)
			}
		}
	}
	shows(t, searchSection, leaves(root.sub(searchSection)), searchKeys())
	for _, name := range sectionNames() {
		if root.entries[name] == nil {
			t.Errorf("no %s", name)
		}
	}
}

// flatKeys are the keys of an element but for its profile, and for side, which is
// the same everywhere and shown once.
func (v variant) flatKeys(table string) []key {
	return slices.DeleteFunc(slices.Clone(v.keys), func(k key) bool {
		return k.form == nested || k.name == "side" && table != compliance.Bush.Table
	})
}

// profilesOf are the profiles that are written as in a variant.
func profilesOf(beams *table, v variant) []*table {
	var all []*table
	for _, beam := range each(beams) {
		profile := beam.sub("profile")
		if shape := profile.entries["shape"]; v.drawn && profile.entries["nodes"] != nil || shape != nil && shape.value == any(v.kind.Variant) {
			all = append(all, profile)
		}
	}
	return all
}

func each(group *table) []*table {
	var all []*table
	for _, name := range group.keys {
		all = append(all, group.sub(name))
	}
	return all
}

// leaves are the parameters' own tables.
func leaves(t *table) []*table {
	if isRange(t) {
		return []*table{t}
	}
	var all []*table
	for _, name := range t.keys {
		all = append(all, leaves(t.sub(name))...)
	}
	return all
}

func shows(t *testing.T, where string, tables []*table, keys []key) {
	t.Helper()
	for i := range keys {
		var inner []*table
		found := false
		for _, table := range tables {
			if table.entries[keys[i].name] != nil {
				found = true
				inner = append(inner, table.sub(keys[i].name))
			}
		}
		if !found {
			t.Errorf("the example shows no %s in %s", keys[i].name, where)
		} else if keys[i].form == nested {
			shows(t, where+"."+keys[i].name, inner, keys[i].keys)
		}
	}
}

// TestExampleStatesItsUnits: the first lines of a file say in which units it is.
func TestExampleStatesItsUnits(t *testing.T) {
	text, err := os.ReadFile("testdata/example.toml")
	if err != nil {
		t.Fatal(err)
	}
	head, _, _ := strings.Cut(string(text), "\n\n")
	for _, unit := range []string{"mm", "N/mm", "N·m/deg", "deg", "kg", "x forward", "y left", "z up"} {
		if !strings.Contains(head, unit) {
			t.Errorf("the first lines do not say %q: %s", unit, head)
		}
	}
}
