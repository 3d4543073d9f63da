package axlefile

import (
	"math"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// Parameter is one number that may be changed, in the written unit of its field.
type Parameter struct {
	Path     string // "bush.pivot.plan", "link.toe.right.inner.y"
	Line     int
	Unit     quantity.Unit
	From, To float64 // bounds, written unit
	Start    float64 // present value, written unit
	Log      bool    // steps are ratios
	// Tolerance: with 95 % probability the part is within ± this of its present
	// value, in the written unit, in percent if Log; 0: not known.
	Tolerance float64
	Tied      []string
	Moves     []Move

	key     string    // the path as it stands in [search]
	targets []*target // itself first, then the tied ones
}

// Move is one slot that a parameter moves: its internal value is Offset +
// Gain·x at the parameter's written value x. A tied number on a linear scale
// moves by the same difference, on a log scale by the same ratio; so numbers
// that start equal stay equal.
type Move struct {
	Slot         compliance.Slot
	Offset, Gain float64
}

// At is the slot's internal value.
func (m Move) At(x float64) float64 { return m.Offset + m.Gain*x }

// Apply sets every slot that the parameter moves.
func (p *Parameter) Apply(axle *compliance.Axle, x float64) {
	for _, m := range p.Moves {
		slots := &axle.Wheels[compliance.Left-1].Slots
		switch m.Slot.Element {
		case compliance.LeftWheel:
		case compliance.RightWheel:
			slots = &axle.Wheels[compliance.Right-1].Slots
		default:
			slots = &axle.Elements[m.Slot.Element].Slots
		}
		(*slots)[m.Slot.Index] = m.At(x)
	}
}

// scaleWords are the words for scale.
var scaleWords = []string{"linear", "log"}

var anyNumber = quantity.Field{Unit: quantity.None, Min: -1e18, Max: 1e18}

// searchKeys lists the keys of one parameter.
func searchKeys() []key {
	from, to := anyNumber, anyNumber
	return []key{
		{name: "from", form: number, fields: []quantity.Field{from}, first: 0, required: true, meaning: "smallest value allowed, in the unit of the parameter"},
		{name: "to", form: number, fields: []quantity.Field{to}, first: 1, required: true, meaning: "largest value allowed"},
		{name: "scale", form: word, words: scaleWords, meaning: "log: steps are ratios, for rates; absent: linear"},
		{name: "tolerance", form: number, fields: []quantity.Field{{Unit: quantity.None, Min: 0, Max: 1e18, Above: true}}, first: 2, meaning: "the part is good to ± this with 95 % probability, in the unit of the parameter, on a log scale in percent; fit --prior counts it as knowledge"},
		{name: "with", form: list, meaning: "other numbers that move along: by the same difference, on a log scale by the same ratio"},
	}
}

// readSearch reads [search], whose keys are the paths of parameters.
func (r *reader) readSearch(root *table) {
	before := len(r.mistakes)
	r.searchIn(root.sub(searchSection), "")
	if len(r.mistakes) == before {
		r.checkCorners()
	}
}

func (r *reader) searchIn(t *table, prefix string) {
	for _, name := range t.keys {
		e, path := t.entries[name], strings.TrimPrefix(prefix+"."+name, ".")
		switch {
		case e.table == nil:
			r.wrong(e.line, searchSection+"."+path, e.describe()+" does not fit", "{ from = …, to = … }", "")
		case isRange(e.table):
			r.parameter(path, e)
		default:
			r.searchIn(e.table, path)
		}
	}
}

// isRange tells a parameter's own table from one that only leads to it: it holds
// a key of a parameter, or no table at all.
func isRange(t *table) bool {
	leads := false
	for name, e := range t.entries {
		if e.table == nil && find(searchKeys(), name) != nil {
			return true
		}
		leads = leads || e.table != nil
	}
	return !leads
}

// parameter reads one parameter.
func (r *reader) parameter(path string, e *entry) {
	at := searchSection + "." + path
	c := newContent(at, e.line, []float64{math.NaN(), math.NaN(), 0})
	r.fill(c, e.table, searchKeys(), true)
	p := Parameter{Path: path, key: path, Line: e.line, From: c.slots[0], To: c.slots[1], Tolerance: c.slots[2], Log: c.word("scale", "") == "log", Tied: c.words["with"]}
	own, ok := r.target(at, e.line, path)
	if sound := r.checkBounds(&p, c, own, at); !sound || !ok || !r.checkStart(&p, own, at) {
		return
	}
	p.Path, p.Unit = own.name(), own.field.Unit
	r.addTarget(&p, own, at, e.line)
	for i, tied := range p.Tied {
		other, ok := r.target(at+".with", c.given["with"].line, tied)
		if ok && r.checkTied(&p, other, at, c.given["with"].line) {
			p.Tied[i] = other.name()
			r.addTarget(&p, other, at+".with", c.given["with"].line)
		}
	}
	r.file.Search = append(r.file.Search, p)
}

// target finds what a path names and reports a path that names nothing.
func (r *reader) target(at string, line int, path string) (*target, bool) {
	t, err := r.file.locate(path)
	if err != nil {
		r.wrong(line, at, err.wrong, err.allowed, err.hint)
		return nil, false
	}
	for _, s := range t.sides {
		if s.element < 0 {
			continue
		}
		e := &r.file.Axle.Elements[s.element]
		name, _, _ := strings.Cut(t.field.Name, ".")
		if e.Kind.Table == compliance.Bush.Table && turnsNothing(name, e.Choice.Base) {
			r.wrongTurn(line, at, e.Choice.Base)
			return t, false
		}
		if slot, is := strings.CutPrefix(t.field.Name, rubberKey+"."); is {
			if why := noChoice(slot, e.Choice.Rubber.Compound); why != "" {
				r.wrong(line, at, why, "", "")
				return t, false
			}
		}
	}
	return t, len(t.sides) > 0
}

// present is the present value of a target in its written unit, without the
// noise that the change of unit left in the last digits.
func (f *File) present(t *target) float64 {
	return clean(f.Axle.Value(t.slots()[0]) / t.field.Unit.Factor)
}

// checkBounds reports bounds that are crossed or that the number itself does not
// allow. The target is nil if the path names nothing.
func (r *reader) checkBounds(p *Parameter, c *content, t *target, at string) bool {
	if math.IsNaN(p.From) || math.IsNaN(p.To) {
		return false
	}
	before := len(r.mistakes)
	from, to := c.given["from"].line, c.given["to"].line
	if p.From >= p.To {
		r.wrong(from, at, "the bounds are crossed: from "+decimal(p.From)+" to "+decimal(p.To), "from below to", "")
	} else if p.Log && p.From <= 0 {
		r.wrong(from, at+".from", "a log scale needs bounds above zero", "above 0", `or scale = "linear"`)
	}
	if t != nil {
		r.inRange(p.From, t.field, from, at+".from")
		r.inRange(p.To, t.field, to, at+".to")
		if p.From == 0 && t.field.Name == rubberKey+"."+stopGapKey {
			r.wrong(from, at+".from", touching, "above 0", "")
		}
	}
	return before == len(r.mistakes)
}

// inRange reports a bound that the number itself does not allow.
func (r *reader) inRange(written float64, f quantity.Field, line int, key string) {
	if !f.Allows(written) {
		r.wrong(line, key, outOfRange(written, f), allowedRange(f), "")
	}
}

// checkStart takes the present value and reports one outside the bounds.
func (r *reader) checkStart(p *Parameter, t *target, at string) bool {
	p.Start = r.file.present(t)
	inside := p.Start >= p.From && p.Start <= p.To
	if !inside {
		r.wrong(p.Line, at, "its present value, "+strings.TrimSpace(decimal(p.Start)+" "+t.field.Unit.Name)+", lies outside the bounds", decimal(p.From)+" to "+decimal(p.To), "widen the bounds or change the value")
	}
	return inside
}

// checkTied reports a tied number that cannot follow.
func (r *reader) checkTied(p *Parameter, t *target, at string, line int) bool {
	start := r.file.present(t)
	low, high := start+p.From-p.Start, start+p.To-p.Start
	if p.Log {
		low, high = start*p.From/p.Start, start*p.To/p.Start
	}
	switch {
	case p.Unit != t.field.Unit:
		r.wrong(line, at+".with", t.name()+" has another unit than "+p.Path, "a number in "+p.Unit.Name, "")
	case p.Log && start == 0:
		r.wrong(line, at+".with", t.name()+" is 0 and cannot move by a ratio", "a number above 0", `or scale = "linear"`)
	case !t.field.Allows(clean(low)) || !t.field.Allows(clean(high)):
		r.wrong(line, at+".with", t.name()+" would move from "+decimal(low)+" to "+decimal(high), allowedRange(t.field), "")
	default:
		return true
	}
	return false
}

// addTarget adds the slots of a target, each of which only one parameter may move.
func (r *reader) addTarget(p *Parameter, t *target, at string, line int) {
	p.targets = append(p.targets, t)
	factor, start := t.field.Unit.Factor, r.file.present(t)
	m := Move{Offset: (start - p.Start) * factor, Gain: factor}
	if p.Log {
		m = Move{Gain: start / p.Start * factor}
	}
	for _, slot := range t.slots() {
		if other := r.mover(p, slot); other != "" {
			r.wrong(line, at, t.name()+" is moved by "+other+" already", "one parameter for a number", "")
			continue
		}
		m.Slot = slot
		p.Moves = append(p.Moves, m)
	}
}

// mover names the parameter that moves a slot already.
func (r *reader) mover(p *Parameter, slot compliance.Slot) string {
	for _, q := range append(r.file.Search, *p) {
		for _, m := range q.Moves {
			if m.Slot == slot {
				return q.Path
			}
		}
	}
	return ""
}
