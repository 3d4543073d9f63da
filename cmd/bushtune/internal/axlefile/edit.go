package axlefile

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"bushtune/compliance"
)

// change replaces a range of bytes; an empty range is an insertion.
type change struct {
	span
	text string
}

// editor gathers the changes of one text.
type editor struct {
	document *document
	changes  []change
	filled   map[*table]bool   // inline tables that were empty and have a key now
	added    map[string]string // tables to add at the end, by name
	newline  string
}

// Edit returns the text of the file with every parameter set to x, in the order
// of Search and in written units, kept to six significant digits inside the
// bounds. Comments, order and spacing stay; only numbers that differ change. A
// number whose key is absent gets a line behind the last one of its table.
func (f *File) Edit(x []float64) ([]byte, error) {
	if len(x) != len(f.Search) {
		panic(fmt.Sprintf("axlefile: %d values for %d parameters", len(x), len(f.Search)))
	}
	ed := newEditor(f.source)
	tuned := f.Axle.Clone()
	for i := range f.Search {
		ed.tune(f, &f.Search[i], x[i], tuned)
	}
	text := ed.apply()
	return text, f.compare(text, tuned)
}

func newEditor(d *document) *editor {
	ed := &editor{document: d, filled: map[*table]bool{}, added: map[string]string{}, newline: "\n"}
	if bytes.Contains(d.text, []byte("\r\n")) {
		ed.newline = "\r\n"
	}
	return ed
}

// tune writes one parameter, and what is tied to it, and sets it in the axle.
func (ed *editor) tune(f *File, p *Parameter, x float64, tuned *compliance.Axle) {
	value := p.Round(x)
	p.Apply(tuned, value)
	for j, t := range p.targets {
		written := value
		if j > 0 {
			written = f.follow(t, tuned)
		}
		if written != f.present(t) {
			ed.set(t, written)
		}
	}
}

// follow is what a tied number is written as: rounded, unless it did not move.
func (f *File) follow(t *target, tuned *compliance.Axle) float64 {
	moved := clean(tuned.Value(t.slots()[0]) / t.field.Unit.Factor)
	if moved == f.present(t) {
		return moved
	}
	return rounded(moved)
}

// Round is the value that Edit writes for x: six significant digits, inside the
// bounds, and exactly the present value if x is it.
func (p *Parameter) Round(x float64) float64 {
	if clean(x) == p.Start {
		return p.Start
	}
	return min(max(rounded(x), p.From), p.To)
}

// set writes one number at its place.
func (ed *editor) set(t *target, written float64) {
	path := strings.Split(t.name(), ".")
	at, rest := ed.document.root, path
	for len(rest) > 0 {
		e := at.entries[rest[0]]
		if e == nil {
			break
		}
		rest = rest[1:]
		if e.array {
			ed.replaceItem(e, rest[0], written)
			return
		}
		if e.table == nil {
			ed.replace(e, written)
			return
		}
		at = e.table
	}
	if !at.room.known || at == ed.document.root {
		head := strings.Join(path[:len(path)-len(rest)], ".")
		if head == "" { // the whole table is absent
			head, rest = rest[0], rest[1:]
		}
		ed.added[head] += strings.Join(rest, ".") + " = " + shortest(written) + ed.newline
		return
	}
	ed.insert(at, rest, shortest(written))
}

// replaceItem changes a component of a vector, or both places of an element of
// a symmetric matrix.
func (ed *editor) replaceItem(e *entry, name string, written float64) {
	if len(name) == 2 {
		row, column := int(name[0]-'1'), int(name[1]-'1')
		ed.replace(e.items[row].items[column], written)
		if row != column {
			ed.replace(e.items[column].items[row], written)
		}
		return
	}
	ed.replace(e.items[slices.Index(axisNames[len(e.items)], name)], written)
}

// axisNames are the components of vectors by their number.
var axisNames = map[int][]string{2: {"f", "u"}, 3: {"x", "y", "z"}}

// replace changes a number that is there.
func (ed *editor) replace(e *entry, written float64) {
	ed.changes = append(ed.changes, change{e.span, shortest(written)})
}

// insert adds a key behind the last one of a table.
func (ed *editor) insert(t *table, path []string, value string) {
	r := t.room
	line := r.prefix + strings.Join(path, ".") + " = " + value
	at := span{r.offset, r.offset}
	switch {
	case !r.inline:
		line = r.indent + line + ed.newline
		if before := ed.document.text[:r.offset]; len(before) > 0 && before[len(before)-1] != '\n' {
			line = ed.newline + strings.TrimSuffix(line, ed.newline)
		}
	case r.empty && !ed.filled[t]:
		line = " " + line
		ed.filled[t] = true
	default:
		line = ", " + line
	}
	ed.changes = append(ed.changes, change{at, line})
}

// apply makes the new text.
func (ed *editor) apply() []byte {
	slices.SortStableFunc(ed.changes, func(a, b change) int { return cmp.Compare(a.start, b.start) })
	var out bytes.Buffer
	done := 0
	for _, c := range ed.changes {
		out.Write(ed.document.text[done:c.start])
		out.WriteString(c.text)
		done = c.end
	}
	out.Write(ed.document.text[done:])
	for _, name := range slices.Sorted(maps.Keys(ed.added)) {
		if !bytes.HasSuffix(out.Bytes(), []byte("\n")) {
			out.WriteString(ed.newline)
		}
		out.WriteString(ed.newline + "[" + name + "]" + ed.newline + ed.added[name])
	}
	return out.Bytes()
}

// rewriteTolerance is how far, of itself, a number may lie from what was tuned
// after it was written and read again: half a unit of the sixth digit.
const rewriteTolerance = 5.1e-6

// compare reads the edited text and holds it against the tuned axle.
func (f *File) compare(text []byte, tuned *compliance.Axle) error {
	again, err := Parse(f.Name, text)
	if err != nil {
		return fmt.Errorf("the edited file cannot be read again: %w", err)
	}
	if len(again.Axle.Elements) != len(tuned.Elements) {
		return fmt.Errorf("the edited file has %d elements instead of %d", len(again.Axle.Elements), len(tuned.Elements))
	}
	for i := range f.Search {
		for _, m := range f.Search[i].Moves {
			want, got := tuned.Value(m.Slot), again.Axle.Value(m.Slot)
			if math.Abs(got-want) > rewriteTolerance*math.Abs(want) {
				return fmt.Errorf("%s reads as %g instead of %g after editing", f.Search[i].Path, got, want)
			}
		}
	}
	return nil
}
