package axlefile

import (
	"bytes"
	"errors"
	"fmt"
	"sort"
	"strings"

	"github.com/BurntSushi/toml"
	"github.com/pelletier/go-toml/v2/unstable"

	"bushtune/bushing/quantity"
)

// largestFile bounds what is read, in bytes: hundreds of times any axle.
const largestFile = 1 << 20

// document is a TOML text with the place of every key and value. Values come
// from one parser, which also holds the grammar; places from another, whose
// syntax tree keeps byte ranges.
type document struct {
	text []byte
	ends []int // byte offsets of the line ends, for lineAt
	root *table
}

// span is a range of bytes of the text.
type span struct{ start, end int }

// entry is one key, or one item of an array, with its value.
type entry struct {
	line  int
	whole span     // of key and value that stand on lines of their own, or of a header; else nothing
	value any      // string, int64, float64, bool or a date; nil for a table or an array
	span  span     // of the value; of a table only if it is inline
	table *table   // the value, if it is a table
	items []*entry // the value, if isArray
	array bool
	many  bool // [[name]]: an array of tables
}

// table is a table however it is written: by header, dotted keys or inline.
type table struct {
	line    int
	keys    []string // in the order of the file
	entries map[string]*entry
	room    room
}

// room tells where a key can be added to a table.
type room struct {
	known  bool   // false for a table that exists only because of the tables in it
	offset int    // byte offset: start of the line after the last key, or the end of the last value of an inline table
	prefix string // what comes before the key when the table is written by dotted keys: "pivot."
	indent string // white space before a key
	inline bool
	empty  bool // inline table without a key: no comma needed
}

// parse reads a text. The error is a Mistakes of one grammar error.
func parse(name string, text []byte) (*document, error) {
	if len(text) > largestFile {
		return nil, Mistakes{{File: name, Line: 1, Wrong: "the file is too large to be an axle file", Allowed: "up to 1 MiB"}}
	}
	d := newDocument(text)
	refused := func(err *placeError) Mistakes {
		return Mistakes{Mistake{File: name, Line: min(d.lineAt(err.offset), countLines(text)), Wrong: err.message}.brief()}
	}
	readable, deep := (&placer{document: d}).decodable()
	if deep != nil {
		return nil, refused(deep)
	}
	values := map[string]any{}
	if _, err := toml.Decode(string(readable), &values); err != nil {
		return nil, Mistakes{grammarMistake(name, text, err).brief()}
	}
	if err := d.place(values); err != nil {
		return nil, refused(err)
	}
	return d, nil
}

func countLines(text []byte) int {
	return 1 + bytes.Count(bytes.TrimSuffix(text, []byte("\n")), []byte("\n"))
}

func newDocument(text []byte) *document {
	d := &document{text: text, root: newTable(1)}
	for i, c := range text {
		if c == '\n' {
			d.ends = append(d.ends, i)
		}
	}
	return d
}

// lineAt is the line of a byte offset, from 1.
func (d *document) lineAt(offset int) int { return 1 + sort.SearchInts(d.ends, offset) }

func newTable(line int) *table { return &table{line: line, entries: map[string]*entry{}} }

// placeError is a place that the second parser does not understand.
type placeError struct {
	offset  int
	message string
}

// placer walks the syntax tree.
type placer struct {
	*document
	parser unstable.Parser
	skip   int // bytes of a byte-order mark before the parser's text
}

// place builds the tables from the syntax tree and the decoded values.
func (d *document) place(values map[string]any) *placeError {
	p := &placer{document: d}
	body := p.start()
	current, prefix := d.root, []string(nil)
	for p.parser.NextExpression() {
		switch node := p.parser.Expression(); node.Kind {
		case unstable.Table, unstable.ArrayTable:
			prefix = prefix[:0]
			current = p.header(node, &prefix)
		case unstable.KeyValue:
			p.keyValue(node, current, lookup(values, prefix), nil)
		}
	}
	return p.failure(body)
}

func (p *placer) failure(body []byte) *placeError {
	err := p.parser.Error()
	if err == nil {
		return nil
	}
	failed := &placeError{message: "not TOML: " + quantity.OneLine(err.Error())}
	var at *unstable.ParserError
	if errors.As(err, &at) && cap(at.Highlight) <= cap(body) {
		failed.offset = p.skip + cap(body) - cap(at.Highlight)
	}
	return failed
}

// lookup finds a table among decoded values; an empty map if it is none.
func lookup(values map[string]any, path []string) map[string]any {
	for _, key := range path {
		values, _ = values[key].(map[string]any)
	}
	return values
}

// header enters a table. Under an array of tables it returns a table that
// nobody reads, because the array itself is the mistake.
func (p *placer) header(node *unstable.Node, path *[]string) *table {
	t := p.root
	keys := node.Key()
	var last *entry
	line := 1
	offset := 0
	for keys.Next() {
		k := keys.Node()
		offset = p.skip + int(k.Raw.Offset)
		line = p.lineAt(offset)
		*path = append(*path, string(k.Data))
		last = t.child(string(k.Data), line)
		t = last.table
	}
	if node.Kind == unstable.ArrayTable {
		last.many, last.line = true, line
	}
	t.line, last.line = line, line
	last.whole = span{offset, offset + 1}
	t.room = room{known: true, offset: p.nextLine(offset)}
	return t
}

// child returns the entry of a sub-table, made if it is new.
func (t *table) child(key string, line int) *entry {
	e := t.entries[key]
	if e == nil {
		e = &entry{line: line, table: newTable(line)}
		t.add(key, e)
	}
	if e.table == nil { // under an array of tables
		return &entry{line: line, table: newTable(line)}
	}
	return e
}

func (t *table) add(key string, e *entry) {
	if t.entries[key] == nil {
		t.keys = append(t.keys, key)
	}
	t.entries[key] = e
}

// keyValue adds one key to a table. inline is the table in braces that it
// stands in, nil if it has a line of its own.
func (p *placer) keyValue(node *unstable.Node, t *table, values map[string]any, inline *table) {
	var path []string
	var places []int
	keys := node.Key()
	for keys.Next() {
		path = append(path, string(keys.Node().Data))
		places = append(places, p.skip+int(keys.Node().Raw.Offset))
	}
	start := p.skip + int(node.Raw.Offset)
	end := start + int(node.Raw.Length)
	for i, key := range path[:len(path)-1] {
		p.extend(t, path[:i], start, end, inline != nil)
		t = t.child(key, p.lineAt(places[i])).table
		values, _ = values[key].(map[string]any)
	}
	last := len(path) - 1
	p.extend(t, path[:last], start, end, inline != nil)
	e := p.value(node.Value(), values[path[last]], p.lineAt(places[last]))
	if inline == nil {
		e.whole = span{start, end}
	}
	if e.table != nil {
		e.span = span{p.spanOf(node.Value()).start, end} // its own range holds the brace alone
	}
	t.add(path[last], e)
}

// extend moves the room of a table behind a key that was just read.
func (p *placer) extend(t *table, prefix []string, start, end int, inline bool) {
	r := room{known: true, offset: end, inline: inline}
	for _, key := range prefix {
		r.prefix += bareOrQuoted(key) + "."
	}
	if !inline {
		r.offset = p.nextLine(end)
		lineStart := bytes.LastIndexByte(p.text[:start], '\n') + 1
		r.indent = string(p.text[lineStart:start])
		if strings.Trim(r.indent, " \t") != "" {
			r.indent = ""
		}
	}
	t.room = r
}

// nextLine is the offset behind the line end that follows an offset.
func (p *placer) nextLine(offset int) int {
	if i := bytes.IndexByte(p.text[offset:], '\n'); i >= 0 {
		return offset + i + 1
	}
	return len(p.text)
}

// value reads the right-hand side.
func (p *placer) value(node *unstable.Node, decoded any, line int) *entry {
	e := &entry{line: line}
	switch node.Kind {
	case unstable.InlineTable:
		e.table = newTable(line)
		e.table.room = room{known: true, offset: p.skip + int(node.Raw.Offset) + 1, inline: true, empty: true}
		values, _ := decoded.(map[string]any)
		children := node.Children()
		for children.Next() {
			p.keyValue(children.Node(), e.table, values, e.table)
		}
	case unstable.Array:
		e.array = true
		e.items = p.items(node, decoded, line)
	default:
		e.value = decoded
		e.span = p.spanOf(node)
	}
	return e
}

func (p *placer) spanOf(node *unstable.Node) span {
	start := p.skip + int(node.Raw.Offset)
	return span{start, start + int(node.Raw.Length)}
}

func (p *placer) items(node *unstable.Node, decoded any, line int) []*entry {
	var items []*entry
	children := node.Children()
	for children.Next() {
		child := children.Node()
		at := line
		if child.Raw.Length > 0 {
			at = p.lineAt(p.skip + int(child.Raw.Offset))
		}
		items = append(items, p.value(child, item(decoded, len(items)), at))
	}
	return items
}

// item picks one value of a decoded array, which may be one of tables.
func item(decoded any, i int) any {
	switch list := decoded.(type) {
	case []any:
		if i < len(list) {
			return list[i]
		}
	case []map[string]any:
		if i < len(list) {
			return list[i]
		}
	}
	return nil
}

// The bounds of what is decoded. The decoder's work grows with the square of the
// depth of a key, so a text is measured first, by the parser whose work does not.
const (
	deepestKey  = 16   // names in a row, through dots, headers and braces: twice any axle file's
	longestSlip = 4096 // bytes of a line that is shown to the decoder although the measuring parser refuses it
)

// decodable returns the part of a text that may be decoded: all of it, or up to
// the line that is not TOML. The error tells of a key that is nested too deeply, or of a line that
// is refused and too long to be looked at again.
func (p *placer) decodable() ([]byte, *placeError) {
	body := p.start()
	header := 0
	for p.parser.NextExpression() {
		node := p.parser.Expression()
		depth := p.depth(node)
		if node.Kind == unstable.KeyValue {
			depth += header
		} else {
			header = depth
		}
		if depth > deepestKey {
			return nil, &placeError{offset: p.skip + keyStart(node), message: fmt.Sprintf("a key of %d names is nested too deeply; at most %d can follow each other", depth, deepestKey)}
		}
	}
	err := p.failure(body)
	if err == nil {
		return p.text, nil
	}
	start := bytes.LastIndexByte(p.text[:err.offset], '\n') + 1
	end := p.nextLine(err.offset)
	if end-start > longestSlip {
		return nil, err
	}
	return p.text[:end], nil
}

// keyStart is where the key of an expression begins, in bytes of the parser's text.
func keyStart(node *unstable.Node) int {
	keys := node.Key()
	keys.Next()
	return int(keys.Node().Raw.Offset)
}

// start readies the parser for the text behind a byte-order mark, and returns that.
func (p *placer) start() []byte {
	body := p.text
	if bytes.HasPrefix(body, []byte("\xef\xbb\xbf")) {
		p.skip = 3
		body = body[3:]
	}
	body = body[:len(body):len(body)]
	p.parser.Reset(body)
	return body
}

// depth is how many names lead to the deepest value of an expression.
func (p *placer) depth(node *unstable.Node) int {
	deepest := 0
	switch node.Kind {
	case unstable.Table, unstable.ArrayTable, unstable.KeyValue:
		if node.Kind == unstable.KeyValue {
			deepest = p.depth(node.Value())
		}
		for keys := node.Key(); keys.Next(); {
			deepest++
		}
	case unstable.InlineTable, unstable.Array:
		for children := node.Children(); children.Next(); {
			deepest = max(deepest, p.depth(children.Node()))
		}
		if node.Kind == unstable.Array {
			deepest++
		}
	}
	return deepest
}
