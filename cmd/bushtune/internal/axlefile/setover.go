package axlefile

import (
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/compliance"
)

// shifted is a copy of a table whose lines lie further down.
func (t *table) shifted(lines int) *table {
	moved := *t
	moved.line += lines
	moved.entries = map[string]*entry{}
	for name, e := range t.entries {
		moved.entries[name] = e.shifted(lines)
	}
	return &moved
}

func (e *entry) shifted(lines int) *entry {
	moved := *e
	moved.line += lines
	if e.table != nil {
		moved.table = e.table.shifted(lines)
	}
	moved.items = nil
	for _, item := range e.items {
		moved.items = append(moved.items, item.shifted(lines))
	}
	return &moved
}

// layOver returns the root of a file with the tables of one section changed by
// those of a set. Neither is touched.
func (r *reader) layOver(root, over *table, section string) *table {
	own := root.sub(section)
	changed := newTable(own.line)
	for _, name := range own.keys {
		e := own.entries[name]
		if o := over.entries[name]; o != nil && e.table != nil && o.table != nil {
			base := e.table
			if section == compliance.Bush.Table {
				base = r.withoutReplaced(base, o.table, section+"."+name)
			}
			e = &entry{line: o.line, table: base.under(o.table)}
		}
		changed.add(name, e)
	}
	next := newTable(root.line)
	for _, name := range root.keys {
		e := root.entries[name]
		if name == section {
			e = &entry{line: e.line, table: changed}
		}
		next.add(name, e)
	}
	return next
}

// checkExistence reports parts that a set takes from a side, or puts there: an axle
// and its sets are compared part by part.
func (f *File) checkExistence(r *reader, root *table) {
	own := countLines(f.source.text)
	for _, section := range kindTables() {
		for _, name := range root.sub(section).keys {
			path, e := section+"."+name, root.sub(section).entries[name]
			with := r.file.elements[path]
			if r.broken || e.table == nil || with == nil || slices.Equal(sidesOf(with), sidesOf(f.elements[path])) {
				continue
			}
			line := e.line
			for _, key := range []string{"from", "to", "side"} {
				if given := e.table.entries[key]; given != nil && given.line > own {
					path, line = section+"."+name+"."+key, given.line
				}
			}
			r.wrong(line, path, "a set cannot take a part from a side or put one there", "", "["+section+"."+name+".left] changes the part on one side")
		}
	}
}

// sidesOf lists where a part exists.
func sidesOf(p *part) (there []compliance.Side) {
	for _, s := range p.sides {
		there = append(there, s.side)
	}
	return there
}

// under is a table with what another one holds laid over it, table by table. A
// section of another shape is taken whole.
func (t *table) under(over *table) *table {
	joined := newTable(over.line)
	for _, name := range t.keys {
		joined.add(name, t.entries[name])
	}
	for _, name := range over.keys {
		o, own := over.entries[name], joined.entries[name]
		if own != nil && o.table != nil && o.table.entries["shape"] == nil {
			if base := own.asTable(); base != nil {
				o = &entry{line: o.line, table: base.under(o.table)}
			}
		}
		joined.add(name, o)
	}
	return joined
}

// asTable is the table of an entry; of an array of three numbers the table of its
// components; nil of anything else.
func (e *entry) asTable() *table {
	if e.table != nil || len(e.items) != 3 {
		return e.table
	}
	t := newTable(e.line)
	for i, component := range []string{"x", "y", "z"} {
		t.add(component, e.items[i])
	}
	return t
}

// withoutReplaced is the table of a bush without what a set gives in another way:
// rates or a matrix by dimensions and the other way round, a rate by its curve.
// It reports rates that are then missing.
func (r *reader) withoutReplaced(base, over *table, path string) *table {
	all := variantsOf(compliance.Bush.Table)
	was := bushVariant(all, base)
	is, other := writtenLike(all, over, was)
	if other {
		base = base.keeping(func(name string) bool { return find(is.keys, name) != nil })
		if is.kind == compliance.Bush {
			r.needsAllRates(over, path, was)
		}
	}
	return base.keeping(func(name string) bool {
		if rate, isCurve := strings.CutSuffix(name, curveSuffix); isCurve {
			return over.entries[rate] == nil
		}
		return !slices.ContainsFunc(over.keys, func(curve string) bool { return byOneCurve(curve, name) })
	})
}

// writtenLike is the way of writing a bush that a table needs, and whether it is
// another one than that of the axle file.
func writtenLike(all []variant, over *table, was variant) (is variant, other bool) {
	if v := bushVariant(all, over); v.kind != all[0].kind {
		return v, v.kind != was.kind
	}
	for _, name := range over.keys {
		if find(was.keys, name) == nil && find(all[0].keys, name) != nil {
			return all[0], true
		}
	}
	return was, false
}

// keeping is a table, and those of its sides, with the keys that pass.
func (t *table) keeping(pass func(name string) bool) *table {
	kept := newTable(t.line)
	for _, name := range t.keys {
		e := t.entries[name]
		switch {
		case slices.Contains(sideTables, name) && e.table != nil:
			kept.add(name, &entry{line: e.line, table: e.table.keeping(pass)})
		case pass(name):
			kept.add(name, e)
		}
	}
	return kept
}

// needsAllRates reports rates that a set leaves out where it replaces dimensions or
// a matrix.
func (r *reader) needsAllRates(over *table, path string, was variant) {
	var missing []string
	for _, name := range bushing.DirectionNames {
		if over.entries[name] == nil && over.entries[name+curveSuffix] == nil {
			missing = append(missing, name)
		}
	}
	if missing != nil {
		r.wrong(over.line, path, "the rates "+strings.Join(missing, ", ")+" are missing", "all six rates or their curves; 0 for none",
			"the axle file gives this bush as "+was.written()+", which rates replace as a whole")
	}
}
