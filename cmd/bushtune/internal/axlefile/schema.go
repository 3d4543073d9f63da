package axlefile

import (
	"encoding/json"
	"math"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// object is a JSON object; Go writes its keys in alphabetical order.
type object = map[string]any

// namePattern is isName as a regular expression.
const namePattern = "^[A-Za-z0-9_-]+$"

// maker gathers the definitions that a schema refers to.
type maker object

// Schema returns the JSON schema of the axle file (draft 2020-12), which editors
// use to complete and check TOML. It is made from the lists of keys that the
// reader uses. What only the whole file can tell, such as whether a body exists,
// it leaves to the reader.
func Schema() []byte {
	m := maker{}
	properties := object{
		titleKey:       object{"type": "string", "description": "what headings say"},
		wheelSection:   m.sidedSchema(wheelSection, wheelKeys()),
		hubSection:     m.sidedSchema(hubSection, hubKeys()),
		bodySection:    namedSchema("rigid bodies", m.tableSchema(bodyKeys(), true)),
		vehicleSection: m.tableSchema(vehicleKeys(), true),
		caseSection:    namedSchema("load cases of your own", m.tableSchema(caseKeys(), true)),
		stateSection:   namedSchema("vehicle states of your own", m.tableSchema(stateKeys(), true)),
		searchSection:  reference("search"),
		wantSection:    namedSchema("what is wanted", m.wantSchema()),
	}
	for _, table := range kindTables() {
		properties[table] = namedSchema(variantsOf(table)[0].kind.Meaning, m.elementSchema(table))
	}
	m["search"] = m.searchSchema()
	m["parameter"] = m.tableSchema(searchKeys(), true)
	text, err := json.MarshalIndent(object{
		"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "axle file",
		"description": "Lengths in mm, rates in N/mm and N·m/deg, angles in deg; x forward, y left, z up. Values are written for the left side.",
		"type":        "object", "additionalProperties": false, "required": []string{wheelSection, bodySection},
		"properties": properties, "$defs": m,
	}, "", "  ")
	if err != nil {
		panic("axlefile: schema: " + err.Error()) // only of values that JSON cannot hold
	}
	return append(text, '\n')
}

func reference(name string) object { return object{"$ref": "#/$defs/" + name} }

// namedSchema is a table of tables with names of the author's choice.
func namedSchema(meaning string, each object) object {
	return object{
		"type": "object", "description": meaning, "additionalProperties": each,
		"propertyNames": object{"pattern": namePattern, "not": object{"enum": sideTables}},
	}
}

// tableSchema is a table with the given keys. whole asks for the required ones.
func (m maker) tableSchema(keys []key, whole bool) object {
	properties := object{}
	required := []string{}
	for i := range keys {
		properties[keys[i].name] = m.schema(&keys[i], whole)
		if keys[i].required && whole {
			required = append(required, keys[i].name)
		}
	}
	return object{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
}

// sidedSchema is a table with overrides for the left and the right. The table of the
// overrides becomes a definition.
func (m maker) sidedSchema(name string, keys []key) object {
	m[name+"_side"] = m.tableSchema(overridable(keys), false)
	table := m.tableSchema(keys, true)
	for _, side := range sideTables {
		table["properties"].(object)[side] = reference(name + "_side")
	}
	return table
}

// elementSchema is the table of one element. Where it can be written in several
// ways, the keys matrix, rubber and profile choose.
func (m maker) elementSchema(table string) object {
	variants := variantsOf(table)
	if len(variants) == 1 {
		return m.sidedSchema(table, variants[0].keys)
	}
	var choices []object
	for _, v := range variants {
		name := table
		if v.drawn {
			name += "_drawn"
		} else if v.kind.Variant != "" {
			name += "_" + v.kind.Variant
		}
		m[name] = m.sidedSchema(name, v.keys)
		choices = append(choices, object{"if": v.condition(), "then": reference(name)})
	}
	schema := object{"type": "object", "allOf": choices}
	if table == compliance.Beam.Table {
		profile := object{"type": "object", "properties": object{"shape": object{"enum": shapeNames()}}, "oneOf": []object{{"required": []string{"shape"}}, {"required": []string{"nodes", "walls"}}}}
		schema["properties"] = object{"profile": profile}
	}
	return schema
}

// condition tells when an element is written in this way.
func (v variant) condition() object {
	has := func(name string, what object) object {
		return object{"required": []string{name}, "properties": object{name: what}}
	}
	named := func(key string) object { return object{"required": []string{key}} }
	const profile = "profile"
	switch bush := v.kind.Table == compliance.Bush.Table; {
	case v.drawn:
		return has(profile, named("nodes"))
	case v.kind == compliance.Beam:
		return object{"not": named(profile)}
	case !bush:
		return has(profile, has("shape", object{"const": v.kind.Variant}))
	case v.kind.Variant != "":
		return named(v.kind.Variant)
	}
	return object{"not": object{"anyOf": []object{named(matrixKey), named(rubberKey)}}}
}

// schema describes the value of one key.
func (m maker) schema(k *key, whole bool) object {
	s := m.valueSchema(k, whole)
	s["description"] = k.meaning
	if k.form == number || k.form == vector {
		s["description"] = withUnit(k.meaning, k.fields[0].Unit)
	}
	return s
}

func withUnit(meaning string, unit quantity.Unit) string {
	if unit.Name == "" {
		return meaning
	}
	return meaning + " [" + unit.Name + "]"
}

func (m maker) valueSchema(k *key, whole bool) object {
	switch k.form {
	case number:
		return numberSchema(k.fields[0], whole)
	case vector:
		return m.vectorSchema(k, whole)
	case matrix:
		row := arraySchema(object{"type": "number"}, matrixSize, matrixSize)
		return arraySchema(row, matrixSize, matrixSize)
	case word:
		return object{"enum": k.words}
	case pair:
		return arraySchema(object{"enum": k.words}, 2, 2)
	case list:
		return object{"anyOf": []object{{"type": "string"}, {"type": "array", "items": object{"type": "string"}}}}
	case truth:
		return object{"type": "boolean"}
	case rows:
		return object{"type": "array", "items": arraySchema(object{"type": "number"}, k.least, k.most)}
	case curve:
		return object{"type": "array", "items": arraySchema(object{"type": "number"}, k.least, k.most), "minItems": 2}
	case nested:
		s := m.tableSchema(k.keys, whole)
		if k.name == rubberKey && whole {
			s["allOf"] = compoundRules()
		}
		return s
	}
	return object{"type": "string"}
}

func arraySchema(items object, least, most int) object {
	return object{"type": "array", "items": items, "minItems": least, "maxItems": most}
}

// vectorSchema is [x, y, z], or a table of components. Vectors of one range share
// a definition.
func (m maker) vectorSchema(k *key, whole bool) object {
	f := k.fields[0]
	name := "vector"
	var items []object
	for _, c := range k.fields {
		name += strings.Replace(component(c), ".", "_", 1)
		items = append(items, object{"type": "number", "minimum": f.Min, "maximum": f.Max})
	}
	name += "_" + decimal(f.Max)
	if !f.Required || !whole {
		name += "_part"
	}
	components := k.components()
	for i := range components {
		components[i].fields = []quantity.Field{{Unit: quantity.None, Min: f.Min, Max: f.Max}}
		components[i].meaning = "component"
	}
	array := object{"type": "array", "prefixItems": items, "minItems": len(items), "maxItems": len(items)}
	m[name] = object{"oneOf": []object{array, m.tableSchema(components, whole)}}
	return reference(name)
}

// numberSchema is a number in its range.
func numberSchema(f quantity.Field, whole bool) object {
	s := object{"type": "number"}
	if f.Min > anyNumber.Min {
		low := "minimum"
		if f.Above {
			low = "exclusiveMinimum"
		}
		s[low] = f.Min
	}
	if f.Max < anyNumber.Max {
		s["maximum"] = f.Max
	}
	if whole && !f.Required && !math.IsNaN(f.Default) && f.Allows(f.Default) && !strings.Contains(f.Meaning, "absent") {
		s["default"] = f.Default
	}
	return s
}

// searchSchema leads over names to parameters.
func (m maker) searchSchema() object {
	isParameter := object{"anyOf": []object{{"required": []string{"from"}}, {"required": []string{"to"}}}}
	return object{
		"type": "object", "description": "what may be changed: the paths of numbers, as in bush.pivot.plan",
		"additionalProperties": object{"if": isParameter, "then": reference("parameter"), "else": reference("search")},
	}
}

// wantSchema is a want with exactly one goal.
func (m maker) wantSchema() object {
	s := m.tableSchema(wantKeys(), true)
	var goals []object
	for _, g := range goalKeys {
		goals = append(goals, object{"required": []string{g.name}})
	}
	s["oneOf"] = goals
	return s
}
