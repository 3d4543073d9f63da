// Package axlefile reads, checks, edits and documents the axle file: the one
// TOML file that describes an axle, its vehicle, the load cases, what may be
// changed and what is wanted.
//
// Every mistake of a file is found in one reading and told with its place, what
// is allowed and the nearest right key. The reader, the hints, the parameter
// paths and the JSON schema are driven by the same lists of keys, which follow
// from the field tables of the packages below.
package axlefile

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/compliance"
)

// File is what an axle file says, in internal units.
type File struct {
	Name    string // as given to Read
	Title   string // the key title, or the file's name
	Axle    *compliance.Axle
	Vehicle cases.Vehicle
	Cases   []cases.Case
	States  []cases.State
	Search  []Parameter
	Wants   []Want

	source   *document
	elements map[string]*part // by table and name: "bush.pivot"
	wheel    *part
	hub      *part
}

// Read reads a file. The error is that of the system, or Mistakes.
func Read(path string) (*File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, largestFile+1)) // one more tells that it is too large
	if err != nil {
		return nil, err
	}
	return Parse(path, text)
}

// Parse reads a text; name stands for it in messages. The error is Mistakes.
func Parse(name string, text []byte) (*File, error) {
	doc, err := parse(name, text)
	if err != nil {
		return nil, err
	}
	r := &reader{
		file: &File{Name: name, source: doc, elements: map[string]*part{}, Axle: &compliance.Axle{}},
	}
	r.readAll()
	if len(r.mistakes) > 0 {
		return nil, r.mistakes.sorted()
	}
	return r.file, nil
}

// reader gathers the file and its mistakes.
type reader struct {
	file     *File
	mistakes Mistakes
	partial  bool // inside an override: required keys may be missing
	broken   bool // an element was refused, so its bodies may look loose
	bodies   map[string]*body
	commas   bool // a table whose numbers may have a decimal comma
}

// wrong notes a mistake.
func (r *reader) wrong(line int, key, wrong, allowed, hint string) {
	r.mistakes = append(r.mistakes, Mistake{File: r.file.Name, Line: max(1, line), Key: quantity.OneLine(key), Wrong: wrong, Allowed: allowed, Hint: hint})
}

// readAll reads the tables in the order in which they need each other.
func (r *reader) readAll() {
	root := r.file.source.root
	r.checkTop(root)
	r.title(root)
	r.readBodies(root)
	r.readWheels(root)
	r.readElements(root)
	r.checkReach()
	r.checkChains(root)
	r.readVehicle(root)
	r.readCases(root)
	r.readSearch(root)
	r.readWants(root)
}

// checkTop reports unknown tables and keys outside any table.
func (r *reader) checkTop(root *table) {
	known := sectionNames()
	for _, name := range root.keys {
		e := root.entries[name]
		switch {
		case !slices.Contains(known, name):
			r.wrong(e.line, name, "there is no such table or key", strings.Join(known, ", "), meantTable(name, known))
		case e.many:
			r.wrong(e.line, name, "is an array of tables", "["+name+"] or ["+name+".NAME]", "one pair of brackets")
		case name != titleKey && e.table == nil:
			r.wrong(e.line, name, e.describe()+" does not fit", "a table: ["+name+"] or ["+name+".NAME]", "")
		}
	}
}

// meantTable is the hint for an unknown table, which may be one of a part file.
func meantTable(name string, known []string) string {
	if name == partSection || name == wantedSection {
		return "this looks like a part file: bushtune rubber reads it"
	}
	return meant(name, known)
}

func (r *reader) title(root *table) {
	r.file.Title = strings.TrimSuffix(filepath.Base(r.file.Name), filepath.Ext(r.file.Name))
	if e := root.entries[titleKey]; e != nil {
		s, ok := e.value.(string)
		if !ok {
			r.wrong(e.line, titleKey, e.describe()+" does not fit", "a text", "")
			return
		}
		r.file.Title = quantity.OneLine(s)
	}
	r.file.Axle.Title = r.file.Title
}

// sub returns a table of the file, or an empty one.
func (t *table) sub(name string) *table {
	if e := t.entries[name]; e != nil && e.table != nil && !e.many {
		return e.table
	}
	return newTable(t.line)
}

// eachNamed calls f for every [section.NAME] in the order of the file.
func (r *reader) eachNamed(root *table, section string, f func(name, path string, t *table)) {
	group := root.sub(section)
	for _, name := range group.keys {
		e := group.entries[name]
		path := section + "." + name
		switch {
		case e.table == nil || e.many:
			r.wrong(e.line, path, e.describe()+" does not fit", "a table of its own: ["+section+".NAME]", "")
		case !isName(name):
			r.wrong(e.line, path, "the name holds other signs", "letters a–z and A–Z, digits, _ and -", "")
		case name == compliance.Left.String() || name == compliance.Right.String():
			r.wrong(e.line, path, "a side cannot be a name", "any other word", "an override of one side is written ["+section+".NAME."+name+"]")
		default:
			f(name, path, e.table)
		}
	}
}
