package axlefile

import (
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// Catalogue is a list of existing bushes: what each is made to do, how large it is
// and in which price class it stands.
type Catalogue struct {
	Name  string // of the file
	Title string
	Parts []Part // in the order of the file

	root *table
}

// Part is one bush of a catalogue. What belongs to its place in the axle, such as
// its angles, is no part of it.
type Part struct {
	Name   string
	Line   int
	Price  int       // class, 0 if not given: dearer parts have a higher one
	Outer  float64   // outer diameter, mm; 0: not given
	Length float64   // mm; 0: not given
	Slots  []float64 // those of compliance.Bush, in internal units; of those that belong to the place the defaults
	Curves *bushing.Curves

	drawn map[string][][2]float64 // points of its curves, in written units
}

// The tables and keys of a catalogue that no axle file has.
const (
	stockSection = "part"
	priceKey     = "price"
	outerKey     = "outer_diameter"
	lengthKey    = "length"
)

// dearest is the highest price class.
const dearest = 99

// stockKeys lists what a part of a catalogue may hold. The slots of price and size
// follow those of the bush.
func stockKeys() []key {
	extra := []quantity.Field{
		{Name: priceKey, Unit: quantity.None, Min: 1, Max: dearest, Meaning: "price class, a whole number: 1 is the cheapest; the classes of all positions are added up"},
		{Name: outerKey, Unit: quantity.Millimetre, Min: 0, Above: true, Max: 1e4, Meaning: "outer diameter"},
		{Name: lengthKey, Unit: quantity.Millimetre, Min: 0, Above: true, Max: 1e4, Meaning: "length over the inner sleeve"},
	}
	keys := keysOf(extra)
	for i := range keys {
		keys[i].first += len(compliance.Bush.Fields)
	}
	return append(keys, rubberKeys()...)
}

// CatalogueKeys are the names of the keys that a part of a catalogue may hold.
func CatalogueKeys() []string { return names(stockKeys()) }

// rubberKeys lists the keys of a bush that describe the part itself.
func rubberKeys() []key {
	own := slices.DeleteFunc(keysOf(compliance.Bush.Fields), func(k key) bool { return ofPlace(k.name) })
	return append(own, curveKeys()...)
}

// ofPlace tells whether a key of a bush describes its place in the axle, which
// stays when another part is put there.
func ofPlace(name string) bool {
	switch name {
	case "from", "to", "side", "base", "outer", "holds_moments", "bracket", "preload", "tightened_at":
		return true
	}
	return find(keysOf(bushing.MountFields), name) != nil
}

// ReadCatalogue reads a catalogue: CSV if the file is called so, else TOML. The
// error is that of the system, or Mistakes.
func ReadCatalogue(path string) (*Catalogue, error) {
	text, err := readText(path)
	if err != nil {
		return nil, err
	}
	return ParseCatalogue(path, text)
}

// ParseCatalogue reads a text; name stands for it in messages, and its end tells
// CSV from TOML. The error is Mistakes.
func ParseCatalogue(name string, text []byte) (*Catalogue, error) {
	r := &reader{file: &File{Name: name}}
	var root *table
	if strings.EqualFold(filepath.Ext(name), ".csv") {
		root = r.sheet(text)
	} else {
		doc, err := parse(name, text)
		if err != nil {
			return nil, err
		}
		root = doc.root
		r.checkCatalogueTop(root)
	}
	c := &Catalogue{Name: name, Title: strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))}
	if e := root.entries[titleKey]; e != nil {
		if s, ok := e.value.(string); ok {
			c.Title = quantity.OneLine(s)
		} else {
			r.wrong(e.line, titleKey, e.describe()+" does not fit", "a text", "")
		}
	}
	c.root = root
	r.readParts(root, c)
	if len(c.Parts) == 0 && len(r.mistakes) == 0 {
		r.wrong(1, stockSection, "there is no part", "[part.NAME] tables, or rows of a CSV file", "")
	}
	if len(r.mistakes) > 0 {
		return nil, r.mistakes.sorted()
	}
	return c, nil
}

// longestName bounds the name of a part, in letters, so that tables stay tables.
const longestName = 24

// readParts reads the parts in the order of the file.
func (r *reader) readParts(root *table, c *Catalogue) {
	group := root.sub(stockSection)
	for _, name := range group.keys {
		e, path := group.entries[name], stockSection+"."+name
		switch {
		case e.table == nil || e.many:
			r.wrong(e.line, path, e.describe()+" does not fit", "a table of its own: [part.NAME]", "")
		case strings.TrimSpace(name) == "" || quantity.OneLine(name) != name || utf8.RuneCountInString(name) > longestName:
			r.wrong(e.line, path, "cannot be the name of a part", "up to "+strconv.Itoa(longestName)+" letters, digits and signs", "")
		default:
			c.Parts = append(c.Parts, r.part(name, path, e.table))
		}
	}
}

// checkCatalogueTop reports what does not belong at the top of a catalogue.
func (r *reader) checkCatalogueTop(root *table) {
	known := []string{titleKey, stockSection}
	for _, name := range root.keys {
		if e := root.entries[name]; !slices.Contains(known, name) {
			hint := meant(name, known)
			if slices.Contains(sectionNames(), name) {
				hint = "this is a table of an axle file, which stands first on the command line"
			}
			r.wrong(e.line, name, "there is no such table or key in a catalogue", strings.Join(known, ", "), hint)
		} else if name == stockSection && (e.table == nil || e.many) {
			r.wrong(e.line, name, e.describe()+" does not fit", "[part.NAME]", "")
		}
	}
}

// part reads one part of a catalogue.
func (r *reader) part(name, path string, t *table) Part {
	keys := stockKeys()
	fields := len(compliance.Bush.Fields)
	c := newContent(path, t.line, append(compliance.Bush.Defaults(), 0, 0, 0))
	before := len(r.mistakes)
	for _, place := range t.keys {
		if ofPlace(place) {
			r.wrong(t.entries[place].line, path+"."+place, "belongs to the place in the axle, not to the part", "", "it stands in the axle file")
		}
	}
	ignored := slices.DeleteFunc(slices.Clone(t.keys), func(k string) bool { return !ofPlace(k) })
	r.fill(c, t, keys, false, ignored...)
	r.missingRates(c, t, keys)
	price := c.slots[fields]
	if price != math.Trunc(price) {
		r.wrong(t.entries[priceKey].line, path+"."+priceKey, decimal(price)+" is not a whole number", allowedRange(find(keys, priceKey).fields[0]), "")
	}
	p := Part{Name: name, Line: t.line, Price: int(price), Outer: c.slots[fields+1], Length: c.slots[fields+2], Slots: c.slots[:fields:fields], Curves: c.laws(c)}
	if len(r.mistakes) == before {
		r.checkPart(c, &p)
		p.drawn = drawnCurves(t)
	}
	return p
}

// missingRates reports rates that neither a number nor a curve gives.
func (r *reader) missingRates(c *content, t *table, keys []key) {
	for _, rate := range bushing.DirectionNames {
		if t.entries[rate] == nil && t.entries[rate+curveSuffix] == nil && !r.misspelt(t, rate, keys) {
			k := find(keys, rate)
			r.wrong(t.line, c.path+"."+rate, "missing", k.allowed(), k.meaning+"; or "+rate+curveSuffix)
		}
	}
}

// checkPart reports numbers of a part that contradict each other.
func (r *reader) checkPart(c *content, p *Part) {
	b := bushing.New(p.Slots)
	for _, err := range []error{b.CheckStops(), b.CheckCurves(p.Curves), b.CheckDynamic()} {
		if err != nil && !r.atSlot(c, err) {
			r.wrong(c.line, c.path, err.Error(), "", "")
		}
	}
}

// drawnCurves keeps the points of the curves as they are written.
func drawnCurves(t *table) map[string][][2]float64 {
	drawn := map[string][][2]float64{}
	for name, e := range t.entries {
		if !strings.HasSuffix(name, curveSuffix) {
			continue
		}
		for _, point := range e.items {
			x, _ := asNumber(point.items[0])
			y, _ := asNumber(point.items[1])
			drawn[name] = append(drawn[name], [2]float64{x, y})
		}
	}
	return drawn
}
