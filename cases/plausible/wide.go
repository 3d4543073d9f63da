package plausible

import (
	"math"
	"strings"

	"bushtune/bushing/quantity"
)

// check is one row: something of the axle as a whole that has a usual range. Common
// practice, no source.
type check struct {
	name      string
	what      string // of the value
	unit      quantity.Unit
	low, high float64
	usual     string // in place of the range, where that is no number
	from      string // a key from which it is measured: not asked where that has a note
	effect    bool   // it follows from the values: not asked where one of them has a likely slip
	slip      string // the likely slip; empty: none is likely
	above     string // the likely slip of a value above the range, if it is another one
	read      func(j *judge) []finding
}

// finding is one value of a check.
type finding struct {
	key   string // path of the part or value; empty: the axle as a whole
	value float64
	text  string // in place of the value
}

// one is a finding about the axle as a whole; none if the value is not known.
func one(value float64) []finding {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return nil
	}
	return []finding{{value: value}}
}

// checks are the rows, in the order in which they are told.
func checks() []check {
	all := append(placeChecks(), rateChecks()...)
	all = append(all, restChecks()...)
	all = append(all, carChecks()...)
	return append(all, absenceChecks()...)
}

// wide carries the rows out.
func (j *judge) wide() {
	for _, c := range checks() {
		if c.effect && j.slipped() || j.seen[c.from] {
			continue
		}
		for _, f := range c.read(j) {
			if f.value >= c.low && f.value <= c.high || j.told(f.key) {
				continue
			}
			j.notes = append(j.notes, c.note(f))
		}
	}
}

// slipped tells whether a value looks like a slip, so that what follows from it says
// nothing new.
func (j *judge) slipped() bool {
	for _, n := range j.notes {
		if n.Plain && n.Slip != "" {
			return true
		}
	}
	return false
}

// told tells whether a value, or one of a part, has a note of its own: one slip is not
// told twice.
func (j *judge) told(key string) bool {
	for path := range j.seen {
		if key != "" && (path == key || strings.HasPrefix(path, key+".")) {
			return true
		}
	}
	return false
}

// note is a finding in words.
func (c *check) note(f finding) Note {
	n := Note{Check: c.name, Key: f.key, Value: f.value, Unit: c.unit.Name, Text: f.text, Usual: c.usual}
	if n.Text == "" {
		n.Text = strings.TrimSpace(c.what + " " + digits(f.value) + " " + c.unit.Name)
	}
	if n.Usual == "" {
		r := Range{Unit: c.unit, From: c.low, To: c.high}
		n.Usual = r.String()
	}
	n.Slip = c.slip
	if f.value > c.high && c.above != "" {
		n.Slip = c.above
	}
	return n
}

// answer holds the numbers of the answer against their ranges.
func (j *judge) answer() {
	if j.Study == nil || j.slipped() {
		return
	}
	for i := range numbers {
		r := &numbers[i]
		where := ""
		if r.For != nil {
			where = r.For[0]
		}
		index, err := j.Study.Find(r.Key, "", where)
		if err != nil {
			continue // not offered for this axle
		}
		f := j.Study.Figure(index)
		if r.Usual(f.Value) {
			continue
		}
		text := f.Title + " " + digits(f.Value) + " " + f.Unit
		if f.Words != "" {
			text += ", " + f.Words
		}
		j.notes = append(j.notes, Note{Check: r.Key, Value: f.Value, Unit: f.Unit, Text: text, Usual: r.String()})
	}
}
