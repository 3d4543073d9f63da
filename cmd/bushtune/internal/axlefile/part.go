package axlefile

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
	"bushtune/optimize"
)

// PartFile is what a part file says: one rubber part by its dimensions, of which
// some may be free inside limits, and the rates that are wanted of it.
type PartFile struct {
	Name       string // as given to ReadPart
	Title      string // the key title, or the file's name
	Part       *rubber.Part
	Choice     rubber.Choice
	Dimensions []Dimension // in the order of Part.Fields
	Wanted     []WantedRate

	source *document
}

// Dimension is one dimension, or the hardness, in its written unit.
type Dimension struct {
	Field    quantity.Field
	From, To float64 // the same where it is fixed
	Given    bool    // stands in the file
	Line     int     // of its key, or of the table that lacks it
	place    span    // of its value in the text
}

// Free tells whether the dimension is to be chosen.
func (d *Dimension) Free() bool { return d.From < d.To }

// WantedRate is what is wanted of one rate, in its written unit.
type WantedRate struct {
	Number int // index into Part.Numbers
	Line   int
	Goal   optimize.Kind // Target, AtLeast or AtMost
	Value  float64
	Within float64 // a target that is missed by no more than this counts as reached
}

// The tables of a part file.
const (
	partSection   = "part"
	wantedSection = "wanted"
)

const (
	shapeKey    = "shape"
	compoundKey = "compound"
	bondedKey   = "bonded"
)

// ReadPart reads a part file. The error is that of the system, or Mistakes.
func ReadPart(path string) (*PartFile, error) {
	text, err := readText(path)
	if err != nil {
		return nil, err
	}
	return ParsePart(path, text)
}

// readText reads a file up to just beyond the largest that is taken.
func readText(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, largestFile+1)) // one more tells that it is too large
}

// ParsePart reads a text; name stands for it in messages. The error is Mistakes.
func ParsePart(name string, text []byte) (*PartFile, error) {
	doc, err := parse(name, text)
	if err != nil {
		return nil, err
	}
	r := &partReader{
		reader: reader{file: &File{Name: name, source: doc}},
		part:   &PartFile{Name: name, source: doc},
	}
	r.readAll(doc.root)
	if len(r.mistakes) > 0 {
		return nil, r.mistakes.sorted()
	}
	return r.part, nil
}

// partReader gathers a part file and its mistakes.
type partReader struct {
	reader
	part *PartFile
}

func (r *partReader) readAll(root *table) {
	r.checkTop(root)
	r.part.Title = strings.TrimSuffix(filepath.Base(r.file.Name), filepath.Ext(r.file.Name))
	if e := root.entries[titleKey]; e != nil {
		if s, ok := e.value.(string); ok {
			r.part.Title = quantity.OneLine(s)
		} else {
			r.wrong(e.line, titleKey, e.describe()+" does not fit", "a text", "")
		}
	}
	r.readShape(root)
	r.readWanted(root)
	if len(r.mistakes) == 0 {
		r.checkWhole()
	}
}

// checkTop reports unknown tables, and a table that is missing.
func (r *partReader) checkTop(root *table) {
	known := []string{titleKey, partSection, wantedSection}
	for _, name := range root.keys {
		e := root.entries[name]
		switch {
		case !slices.Contains(known, name):
			r.wrong(e.line, name, "there is no such table or key in a part file", strings.Join(known, ", "), r.meantTop(name, known))
		case name != titleKey && (e.table == nil || e.many):
			r.wrong(e.line, name, e.describe()+" does not fit", "a table: ["+name+"]", "")
		}
	}
	if root.entries[partSection] == nil {
		r.wrong(1, partSection, "missing", "the table ["+partSection+"] with the dimensions of one rubber part", "")
	}
}

// meantTop is the hint for an unknown table, which may be one of an axle file.
func (r *partReader) meantTop(name string, known []string) string {
	if slices.Contains(sectionNames(), name) {
		return "this looks like an axle file: bushtune solve reads it"
	}
	return meant(name, known)
}

// readShape reads [part].
func (r *partReader) readShape(root *table) {
	t := root.sub(partSection)
	r.part.Part = r.shape(t)
	if r.part.Part == nil || root.entries[partSection] == nil {
		return
	}
	keys := partKeys(r.part.Part)
	c := newContent(partSection, t.line, defaultSlots(r.part.Part.Fields))
	ignore := r.ranges(t, keys)
	r.fill(c, t, keys, true, ignore...)
	r.part.Choice = c.compound()
	if t.entries[compoundKey] == nil || len(c.words[compoundKey]) > 0 { // else not a compound, which is told
		r.checkCompound(t)
	}
	for i, f := range r.part.Part.Fields {
		d := &r.part.Dimensions[i]
		if e := c.given[f.Name]; e != nil {
			d.Given, d.Line, d.place = true, e.line, e.span
			d.From = clean(f.Unit.Written(c.slots[i]))
			d.To = d.From
		}
	}
}

// shape finds the part that the word shape names; a bush if there is none.
func (r *partReader) shape(t *table) *rubber.Part {
	parts := rubber.Parts()
	e := t.entries[shapeKey]
	if e == nil {
		return parts[0]
	}
	var words []string
	for _, p := range parts {
		if p.Name == e.value {
			return p
		}
		words = append(words, p.Name)
	}
	allowed := strings.Join(words, ", ")
	if s, ok := e.value.(string); ok {
		r.wrong(e.line, partSection+"."+shapeKey, quote(s)+" is not one of the words", allowed, meant(s, words))
	} else {
		r.wrong(e.line, partSection+"."+shapeKey, e.describe()+" does not fit", allowed, "")
	}
	return nil
}

// partKeys lists what [part] may hold for one shape.
func partKeys(p *rubber.Part) []key {
	var words []string
	for _, other := range rubber.Parts() {
		words = append(words, other.Name)
	}
	keys := []key{{name: shapeKey, form: word, words: words, meaning: "what the part looks like; absent: " + words[0]}}
	keys = append(keys, compoundKeys()...)
	return append(keys, keysOf(p.Fields)...)
}

// The slots of a range.
const (
	slotFrom = iota
	slotTo
)

// ranges starts the dimensions with their defaults and reads those that are
// written { from = …, to = … }; it returns their keys.
func (r *partReader) ranges(t *table, keys []key) []string {
	for _, f := range r.part.Part.Fields {
		r.part.Dimensions = append(r.part.Dimensions, Dimension{Field: f, From: f.Default, To: f.Default, Line: t.line})
	}
	var found []string
	for _, name := range t.keys {
		e, k := t.entries[name], find(keys, name)
		if k == nil || k.form != number || e.table == nil || e.many {
			continue
		}
		found = append(found, name)
		r.freeDimension(&r.part.Dimensions[k.first], e)
	}
	return found
}

// freeDimension reads the limits between which a dimension may be chosen.
func (r *partReader) freeDimension(d *Dimension, e *entry) {
	at := partSection + "." + d.Field.Name
	limit := func(name string, slot int, meaning string) key {
		return key{name: name, form: number, fields: []quantity.Field{d.Field}, first: slot, required: true, meaning: meaning}
	}
	c := newContent(at, e.line, make([]float64, 2))
	before := len(r.mistakes)
	r.fill(c, e.table, []key{limit("from", slotFrom, "least value allowed"), limit("to", slotTo, "largest value allowed")}, true)
	if len(r.mistakes) > before {
		return
	}
	d.Given, d.Line, d.place = true, e.line, e.span
	d.From, d.To = clean(d.Field.Unit.Written(c.slots[slotFrom])), clean(d.Field.Unit.Written(c.slots[slotTo]))
	switch {
	case d.From >= d.To:
		r.wrong(e.line, at, "the limits are crossed: from "+decimal(d.From)+" to "+decimal(d.To), "from below to", "a single number fixes the dimension")
	case !e.table.room.inline:
		r.wrong(e.line, at, "the limits stand apart", "one line: "+d.Field.Name+" = { from = "+decimal(d.From)+", to = "+decimal(d.To)+" }", "")
	}
}
