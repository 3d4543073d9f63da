package show

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/compliance"
)

// Remark is one thing that check says about a file: a mistake, or something that
// was understood.
type Remark struct {
	File    string `json:"file"`
	Kind    string `json:"kind"` // mistake, unusual, title, body, wheel, element, place, section, rubber, rate, override, vehicle, case, state, remark, not offered, parameter, want
	Line    int    `json:"line"` // of a mistake, parameter or want; else 0
	Key     string `json:"key"`
	Text    string `json:"text"` // what is wrong, or what was understood
	Allowed string `json:"allowed"`
	Hint    string `json:"hint"`
	Usual   string `json:"usual"` // of what is unusual: what is usual
}

// Header names the columns of the CSV.
func (Remark) Header() []string {
	return []string{"file", "kind", "line", "key", "text", "allowed", "hint", "usual"}
}

// Cells are the columns of the CSV.
func (r Remark) Cells() []string {
	return []string{r.File, r.Kind, strconv.Itoa(r.Line), r.Key, r.Text, r.Allowed, r.Hint, r.Usual}
}

// Checked is the answer to check.
type Checked struct{ remarks []Remark }

// JSON writes the answer for programs.
func (c *Checked) JSON(w io.Writer) error { return writeJSON(w, c.remarks) }

// CSV writes the answer for programs.
func (c *Checked) CSV(w io.Writer) error { return writeCSV(w, c.remarks) }

// AddMistakes adds a file with mistakes.
func (c *Checked) AddMistakes(file string, mistakes axlefile.Mistakes) {
	for _, m := range mistakes {
		c.remarks = append(c.remarks, Remark{File: file, Kind: "mistake", Line: m.Line, Key: m.Key, Text: m.Wrong, Allowed: m.Allowed, Hint: m.Hint})
	}
}

// AddUnusual adds what is unusual in a file.
func (c *Checked) AddUnusual(file string, unusual []axlefile.Unusual) {
	for i := range unusual {
		u := &unusual[i]
		text := u.Text
		if u.Plain {
			text += " is unusual"
		}
		c.remarks = append(c.remarks, Remark{File: file, Kind: "unusual", Line: u.Line, Key: u.Key, Text: text, Hint: u.Slip, Usual: u.Note.Usual})
	}
}

// Add adds what was understood of a file without mistakes.
func (c *Checked) Add(file string, d axlefile.Description, study *cases.Study, asked []tuning.Asked) {
	add := func(kind string, line int, key, text string) {
		c.remarks = append(c.remarks, Remark{File: file, Kind: kind, Line: line, Key: key, Text: text})
	}
	add("title", 0, "", d.Title)
	for _, b := range d.Bodies {
		add("body", 0, b.Name, "6 freedoms"+on(b.Sides))
	}
	for i, side := range cases.WheelNames {
		add("wheel", 0, side, "on "+d.Wheels[i])
	}
	for _, e := range d.Elements {
		add("element", 0, e.Name, joins(e))
	}
	for _, p := range d.Places {
		add("place", 0, p.Key, p.Text)
	}
	for _, s := range d.Sections {
		add("section", 0, s.Beam, "from the line between its ends, before tilt: "+constants(s.Values))
	}
	for i := range d.Rubbers {
		r := &d.Rubbers[i]
		add("rubber", 0, r.Bush, compoundOf(r))
		for _, line := range ratesOf(r) {
			add("rate", 0, r.Bush+" "+line.rate, line.text)
		}
	}
	for _, path := range d.Overrides {
		add("override", 0, path, "differs from the other side")
	}
	load := "static load: not included"
	if d.StaticLoad > 0 {
		load = fmt.Sprintf("static load: included, %.0f N on each rear wheel", d.StaticLoad)
	}
	add("vehicle", 0, "", load)
	v := newView(study, asked)
	for _, name := range d.Cases {
		c := v.cases[name]
		add("case", 0, name, v.titles[name]+", pads "+c.Pads.String()+braked(c))
	}
	for _, name := range d.States {
		add("state", 0, name, v.titles[name])
	}
	for _, text := range study.Unheld() {
		add("remark", 0, "", text)
	}
	for _, a := range v.absences() {
		add("not offered", 0, a.Number, a.Title+" "+needs(a))
	}
	for i := range d.Search {
		q := &d.Search[i]
		add("parameter", q.Line, q.Path, searched(q))
	}
	for i := range asked {
		a := &asked[i]
		f := v.figureOf(a)
		add("want", a.Line, a.Name, v.captionOf(a)+": "+v.wishUnit(a)+"; now "+stands(f))
	}
}

// stands is a figure in a sentence: value, unit and sign word.
func stands(f cases.Figure) string {
	text := strings.TrimSpace(f.Text + " " + f.Unit)
	if word := sign(f); word != "" {
		text += ", " + word
	}
	return text
}

// on lists the sides of a body, or nothing for one that exists once.
func on(sides []compliance.Side) string {
	var names []string
	for _, s := range sides {
		if s != compliance.Centre {
			names = append(names, s.String())
		}
	}
	if names == nil {
		return ""
	}
	return " each, " + strings.Join(names, " and ")
}

// joins says what an element is and joins, and on which sides.
func joins(e axlefile.Existence) string {
	text := "from " + e.From + " to " + e.To
	if e.Kind != "" {
		text = e.Kind + ", " + text
	}
	switch {
	case len(e.Sides) == 2:
		text += "; mirrored on the right"
	case e.Sides[0] != compliance.Centre:
		text += "; on the " + e.Sides[0].String() + " only"
	}
	return text
}

// nothing is what rounding leaves of a section constant that is zero, in any of
// their units: far below the constants of the thinnest wall.
const nothing = 1e-9

// constants lists the constants of a section by their keys in the file.
func constants(values []float64) string {
	var all []string
	for i, f := range compliance.SectionFields() {
		written := f.Unit.Written(values[i])
		if math.Abs(written) < nothing {
			written = 0
		}
		number := strings.Replace(strconv.FormatFloat(written, 'g', 4, 64), "e+0", "e", 1)
		all = append(all, f.Name+" "+number+" "+f.Unit.Name)
	}
	return strings.Join(all, ", ")
}

// searched says how far a parameter may go.
func searched(q *axlefile.Parameter) string {
	text := measure(q.From) + " to " + strings.TrimSpace(measure(q.To)+" "+q.Unit.Name) + ", now " + measure(q.Start)
	if q.Log {
		text += ", by ratios"
	}
	if len(q.Tied) > 0 {
		text += "; with it " + strings.Join(q.Tied, ", ")
	}
	return text
}

// Text writes the answer for a person: mistakes and what is unusual, each under a
// place that an editor can jump to; then a table of what was understood.
func (c *Checked) Text(p *Page) {
	g := grid{columns: []column{{}, {}, {gives: true}}}
	unusual := map[string]int{}
	file := ""
	for _, r := range c.remarks {
		switch r.Kind {
		case "mistake":
			p.Mistake(axlefile.Mistake{File: r.File, Line: r.Line, Key: r.Key, Wrong: r.Text, Allowed: r.Allowed, Hint: r.Hint})
			continue
		case "unusual":
			p.unusual(&r)
			unusual[r.File]++
			continue
		}
		if r.File != file {
			g.heading(r.File + ": no mistakes" + above(unusual[r.File]))
			file = r.File
		}
		g.add("  "+r.Kind, r.Key, r.Text)
	}
	if len(unusual) > 0 {
		p.Prose("", usualNote)
		p.blank()
	}
	g.write(p)
}

// above counts the notes that stand above a table.
func above(count int) string {
	if count == 0 {
		return ""
	}
	return "; " + unusualCount(count) + ", told above"
}

// unusual writes one note as a mistake is written: place, key, what is unusual and the
// likely slip on one line, what is usual below.
func (p *Page) unusual(r *Remark) {
	p.line(axlefile.Mistake{File: r.File, Line: r.Line, Key: r.Key, Wrong: r.Text, Hint: r.Hint}.String(), plain)
	p.Prose("    ", "usual: "+r.Usual)
}

// Mistake writes one mistake: place, key, what is wrong and the way out on one
// line, what is allowed below.
func (p *Page) Mistake(m axlefile.Mistake) {
	allowed := m.Allowed
	m.Allowed = ""
	p.line(m.String(), plain)
	if allowed != "" {
		p.Prose("    ", "allowed: "+allowed)
	}
}
