package axlefile

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance/section"
)

// content is what a table holds once its keys are checked one by one.
type content struct {
	path   string
	line   int
	slots  []float64           // internal units, defaults where absent
	given  map[string]*entry   // the keys that stand in the file, right or wrong
	words  map[string][]string // of the forms text, word, pair and list
	flags  map[string]bool
	set    map[int]bool // the slots that the table gives
	curves map[string]*bushing.Table
	shared *bushing.Curves // of a bush, for both sides

	outline *section.Profile[float64] // of a beam that is drawn

	instead []string // keys that would choose another way of writing the same element
}

func newContent(path string, line int, slots []float64) *content {
	return &content{path: path, line: line, slots: slots, given: map[string]*entry{}, words: map[string][]string{}, flags: map[string]bool{}, set: map[int]bool{}, curves: map[string]*bushing.Table{}}
}

// override returns a copy for a table that gives only what differs.
func (c *content) override(path string, line int) *content {
	o := newContent(path, line, append([]float64(nil), c.slots...))
	o.instead, o.outline = c.instead, c.outline
	for name, words := range c.words {
		o.words[name] = words
	}
	for name, f := range c.flags {
		o.flags[name] = f
	}
	for name, t := range c.curves {
		o.curves[name] = t
	}
	return o
}

// word returns the word of a key, or otherwise if it is absent or wrong.
func (c *content) word(name, otherwise string) string {
	if w := c.words[name]; len(w) > 0 {
		return w[0]
	}
	return otherwise
}

// choice returns the number of a word in its list, 0 if absent.
func (c *content) choice(name string, words []string, end int) int {
	if w := c.words[name]; len(w) > end {
		for i, s := range words {
			if s == w[end] {
				return i
			}
		}
	}
	return 0
}

// fill checks the keys of a table and takes over their values. ignore names
// sub-tables that the caller reads. whole asks for the required keys.
func (r *reader) fill(c *content, t *table, keys []key, whole bool, ignore ...string) {
	for _, name := range t.keys {
		if slices.Contains(ignore, name) {
			continue
		}
		e := t.entries[name]
		k := find(keys, name)
		if k == nil {
			r.unknown(c.path+"."+name, name, e.line, keys, c.instead)
			continue
		}
		c.given[name] = e
		r.take(c, k, c.path+"."+name, e)
	}
	if whole {
		r.missing(t, c.path, keys)
	}
}

// byDimensions marks the keys of a bush that is given by its dimensions.
const byDimensions = "void_arc"

// unknown reports a key that is in no list. instead names the keys of other ways of
// writing the same element.
func (r *reader) unknown(path, name string, line int, keys []key, instead []string) {
	allowed := strings.Join(names(keys), ", ")
	if len(instead) > 0 {
		allowed += "; or give it another way: " + strings.Join(instead, ", ")
	}
	hint := meant(name, append(names(keys), instead...))
	if strings.Contains(name, "housing") && find(keys, byDimensions) != nil {
		hint = "outer_diameter is that of the rubber: the housing less twice the wall of the outer sleeve"
	}
	r.wrong(line, path, "there is no such key", allowed, hint)
}

// missing reports the required keys that a table lacks.
func (r *reader) missing(t *table, path string, keys []key) {
	for i := range keys {
		k := &keys[i]
		if k.required && t.entries[k.name] == nil && !r.misspelt(t, k.name, keys) {
			r.wrong(t.line, path+"."+k.name, "missing", k.allowed(), k.meaning)
		}
	}
}

// misspelt tells whether an unknown key of the table was meant for the name, so
// that one slip is not reported twice.
func (r *reader) misspelt(t *table, name string, keys []key) bool {
	for _, written := range t.keys {
		if find(keys, written) == nil && nearest(written, names(keys)) == name {
			return true
		}
	}
	return false
}

// take reads one value into a content, by its form.
func (r *reader) take(c *content, k *key, path string, e *entry) {
	switch k.form {
	case number:
		r.slot(c, path, e, k.fields[0], k.first)
	case vector:
		r.vector(c, k, path, e)
	case matrix:
		r.matrix(c, k, path, e)
	case truth:
		if b, ok := e.value.(bool); ok {
			c.flags[k.name] = b
		} else {
			r.wrongType(path, e, k)
		}
	case nested:
		r.nested(c, k, path, e)
	case curve:
		r.curve(c, k, path, e)
	case anything:
	case rows:
		if !e.array {
			r.wrongType(path, e, k)
		}
	default:
		r.words(c, k, path, e)
	}
}

// nested reads a table inside a table into the same content. Whether its
// required keys are there is asked when the outer table is asked.
func (r *reader) nested(c *content, k *key, path string, e *entry) {
	if e.table == nil {
		r.wrongType(path, e, k)
		return
	}
	inner := &content{path: path, line: e.line, slots: c.slots, given: map[string]*entry{}, words: c.words, flags: c.flags, set: c.set}
	r.fill(inner, e.table, k.keys, !r.partial)
	for name, entry := range inner.given {
		c.given[k.name+"."+name] = entry
	}
}

// slot reads one number into its slot.
func (r *reader) slot(c *content, path string, e *entry, f quantity.Field, index int) {
	c.set[index] = true
	if v, ok := r.number(path, e, f); ok {
		c.slots[index] = v
	}
}

// number reads one number in its written unit and returns it in the internal one.
func (r *reader) number(path string, e *entry, f quantity.Field) (float64, bool) {
	written, ok := asNumber(e)
	switch {
	case !ok:
		r.wrong(e.line, path, e.describe()+", a number is needed", allowedRange(f), "")
	case math.IsNaN(written) || math.IsInf(written, 0):
		r.wrong(e.line, path, e.describe()+" is not a number that a part can have", allowedRange(f), "")
	case !f.Allows(written):
		r.wrong(e.line, path, outOfRange(written, f), allowedRange(f), f.Meaning)
	default:
		return written * f.Unit.Factor, true
	}
	return 0, false
}

func asNumber(e *entry) (float64, bool) {
	switch v := e.value.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

// vector reads [1, 2, 3], or a table of components of which those that are not
// required, or that one side does not change, may be left out.
func (r *reader) vector(c *content, k *key, path string, e *entry) {
	if e.table != nil && !e.many {
		split := *k
		split.keys = k.components()
		r.nested(c, &split, path, e)
		return
	}
	if !e.array || len(e.items) != len(k.fields) {
		r.wrongType(path, e, k)
		return
	}
	for i, item := range e.items {
		r.slot(c, path+component(k.fields[i]), item, k.fields[i], k.first+i)
	}
}

// components are the keys of a vector that is written as a table.
func (k *key) components() []key {
	keys := make([]key, len(k.fields))
	for i, f := range k.fields {
		keys[i] = key{name: component(f)[1:], form: number, fields: k.fields[i : i+1], first: k.first + i, required: f.Required, meaning: f.Meaning}
	}
	return keys
}

// component is the last part of a field's name: ".x".
func component(f quantity.Field) string { return f.Name[strings.LastIndex(f.Name, "."):] }

// matrixSize is the number of rows and columns of a bush's stiffness.
const matrixSize = 6

// matrix reads a symmetric matrix into its upper triangle, row by row.
func (r *reader) matrix(c *content, k *key, path string, e *entry) {
	if !square(e) {
		r.wrongType(path, e, k)
		return
	}
	n := 0
	for row := range matrixSize {
		for column := row; column < matrixSize; column++ {
			upper, lower := e.items[row].items[column], e.items[column].items[row]
			at := fmt.Sprintf("%s.%d%d", path, row+1, column+1)
			v, ok := r.number(at, upper, k.fields[n])
			w, both := v, ok
			if row != column {
				w, both = r.number(fmt.Sprintf("%s.%d%d", path, column+1, row+1), lower, k.fields[n])
			}
			switch {
			case ok && both && v != w:
				r.wrong(lower.line, path, fmt.Sprintf("row %d column %d is not the same as row %d column %d", column+1, row+1, row+1, column+1), "a symmetric matrix", "")
			case ok:
				c.slots[k.first+n] = v
			}
			c.set[k.first+n] = true
			n++
		}
	}
}

func square(e *entry) bool {
	if len(e.items) != matrixSize {
		return false
	}
	for _, row := range e.items {
		if len(row.items) != matrixSize {
			return false
		}
	}
	return true
}

// words reads the forms text, word, pair and list.
func (r *reader) words(c *content, k *key, path string, e *entry) {
	items := []*entry{e}
	if k.form == pair || k.form == list && e.array {
		items = e.items
	}
	if k.form == pair && len(items) != 2 {
		r.wrongType(path, e, k)
		return
	}
	var words []string
	for _, item := range items {
		s, ok := item.value.(string)
		switch {
		case !ok:
			r.wrongType(path, item, k)
			return
		case k.words != nil && !slices.Contains(k.words, s):
			r.wrong(item.line, path, quote(s)+" is not one of the words", strings.Join(k.words, ", "), meant(s, k.words))
			return
		}
		words = append(words, s)
	}
	c.words[k.name] = words
}

func (r *reader) wrongType(path string, e *entry, k *key) {
	r.wrong(e.line, path, e.describe()+" does not fit", k.allowed(), "")
}

// allowed says in words what a key's value looks like.
func (k *key) allowed() string {
	switch k.form {
	case number:
		return allowedRange(k.fields[0])
	case vector:
		axes := make([]string, len(k.fields))
		for i, f := range k.fields {
			axes[i] = component(f)[1:]
		}
		return strings.TrimSpace(fmt.Sprintf("[%s] %s", strings.Join(axes, ", "), k.fields[0].Unit.Name))
	case matrix:
		return "six rows of six numbers: [[…], […], […], […], […], […]]"
	case word:
		return strings.Join(k.words, ", ")
	case pair:
		return "two of the words " + strings.Join(k.words, ", ") + `: ["…", "…"]`
	case list:
		return "a text, or several: [\"…\", \"…\"]"
	case truth:
		return "true, false"
	case anything:
	case rows:
		return k.meaning
	case curve:
		return "points [deflection, load]: [[0, 0], [1, 600], …]"
	case nested:
		return "a table: { " + strings.Join(names(k.keys), " = …, ") + " = … }"
	}
	return "a text"
}

// outOfRange says that a field does not allow a value.
func outOfRange(written float64, f quantity.Field) string {
	return strings.TrimSpace(decimal(written)+" "+f.Unit.Name) + " is out of range"
}

// allowedRange says the range of a field with its unit.
func allowedRange(f quantity.Field) string {
	low, high := decimal(f.Min), decimal(f.Max)
	if f.Min == anyNumber.Min && f.Max == anyNumber.Max {
		return "any number"
	}
	if f.Above {
		return strings.TrimSpace("above " + low + ", up to " + high + " " + f.Unit.Name)
	}
	return strings.TrimSpace(low + " to " + high + " " + f.Unit.Name)
}

// describe says what stands in the file.
func (e *entry) describe() string {
	switch v := e.value.(type) {
	case string:
		return "the text " + quote(v)
	case bool:
		return fmt.Sprint(v)
	case int64:
		return fmt.Sprintf("the number %d", v)
	case float64:
		return "the number " + decimal(v)
	case time.Time:
		return "a date"
	}
	switch {
	case e.array:
		return fmt.Sprintf("an array of %d", len(e.items))
	case e.many:
		return "an array of tables"
	case e.table != nil:
		return "a table"
	}
	return "a value of another kind"
}

// longestQuote bounds how much of a wrong text a message repeats, in letters.
const longestQuote = 40

// quote repeats a text from the file, kept short and on one line.
func quote(s string) string {
	letters := []rune(strings.ToValidUTF8(s, "?"))
	if len(letters) > longestQuote {
		letters = append(letters[:longestQuote:longestQuote], '…')
	}
	return fmt.Sprintf("%q", string(letters))
}
