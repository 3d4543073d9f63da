package axlefile

import (
	"path/filepath"
	"slices"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// SetText is a part of a set as it is asked for: the text of a file, or rules in
// their short form.
type SetText struct {
	Name  string // of the file, or the rules as they were typed; stands in messages
	Short bool
	Text  []byte // of a file
}

// Set is an axle with other parts: tables that take the place of those of the axle
// file, and rules that change bushes as they stand then.
type Set struct {
	Name  string // as asked for
	Title string
	File  *File // the axle file with the tables of the set
	Rules []Rule

	parts []*setPart
}

// setPart is one text of a set, read for itself.
type setPart struct {
	SetText
	root  *table
	lines int
	title string
	rules []Rule
}

// ruleSection holds the rules of a set.
const ruleSection = "rule"

// ReadSets reads sets of an axle file, each of one text or of several that hold
// together. It returns those that are right; the error is Mistakes, of all sets.
func (f *File) ReadSets(asked [][]SetText) (sets []*Set, err error) {
	var mistakes Mistakes
	for _, texts := range asked {
		set, wrong := f.readSet(texts)
		if mistakes = append(mistakes, wrong...); len(wrong) == 0 {
			sets = append(sets, set)
		}
	}
	if len(mistakes) > 0 {
		return sets, mistakes
	}
	return sets, nil
}

// readSet reads each text, then the axle that they make together, as far as it can.
func (f *File) readSet(texts []SetText) (*Set, Mistakes) {
	var mistakes Mistakes
	var parts []*setPart
	for _, text := range texts {
		p, wrong := f.readSetPart(text)
		if mistakes = append(mistakes, wrong...); p.root == nil {
			return nil, mistakes
		}
		parts = append(parts, p)
	}
	mistakes = append(mistakes, f.givenTwice(parts)...)
	set := &Set{parts: parts}
	var names, titles []string
	for _, p := range parts {
		names, titles = append(names, p.Name), append(titles, p.title)
		set.Rules = append(set.Rules, p.rules...)
	}
	set.Name, set.Title = strings.Join(names, "+"), strings.Join(titles, " + ")
	with, wrong := f.withTables(parts)
	if mistakes = append(mistakes, wrong...); with == nil {
		with = f
	}
	set.File = with
	for i := range set.Rules {
		mistakes = append(mistakes, set.Rules[i].place(with)...)
	}
	return set, f.byText(mistakes, parts)
}

// byText sorts the mistakes of a set text by text, and there by line.
func (f *File) byText(mistakes Mistakes, parts []*setPart) (all Mistakes) {
	for i, p := range parts {
		if slices.ContainsFunc(parts[:i], func(o *setPart) bool { return o.Name == p.Name }) {
			continue
		}
		all = append(all, slices.DeleteFunc(slices.Clone(mistakes), func(m Mistake) bool { return m.File != p.Name }).sorted()...)
	}
	return all
}

// readSetPart reads one text: its tables are only sorted here, its rules are read.
func (f *File) readSetPart(text SetText) (*setPart, Mistakes) {
	p := &setPart{SetText: text, lines: 1}
	r := &reader{file: &File{Name: text.Name}}
	if text.Short {
		p.root, p.title = r.shortForm(text.Name), text.Name
	} else {
		doc, err := parse(text.Name, text.Text)
		if err != nil {
			return p, err.(Mistakes)
		}
		p.root, p.lines = doc.root, countLines(text.Text)
		p.title = r.setTitle(doc.root)
	}
	r.checkSetTop(p.root)
	for _, name := range kindTables() {
		f.checkSetNames(r, p.root, name)
	}
	p.rules = r.readRules(p.root)
	if text.Short {
		for i := range r.mistakes {
			r.mistakes[i].Key = strings.TrimPrefix(strings.TrimPrefix(r.mistakes[i].Key, shortPath), ".")
		}
	}
	return p, r.mistakes
}

// setTitle is the title of a set, or the name of its file.
func (r *reader) setTitle(root *table) string {
	if e := root.entries[titleKey]; e != nil {
		if s, ok := e.value.(string); ok {
			return quantity.OneLine(s)
		}
		r.wrong(e.line, titleKey, e.describe()+" does not fit", "a text", "")
	}
	return strings.TrimSuffix(filepath.Base(r.file.Name), filepath.Ext(r.file.Name))
}

// checkSetTop reports what no set can hold, or that it holds nothing.
func (r *reader) checkSetTop(root *table) {
	known := append(append([]string{titleKey}, kindTables()...), ruleSection)
	holds := false
	for _, name := range root.keys {
		e := root.entries[name]
		holds = holds || name != titleKey
		switch {
		case !slices.Contains(known, name):
			hint := meant(name, known)
			if slices.Contains(sectionNames(), name) {
				hint = "a set holds only other parts; this stands in the axle file"
			}
			r.wrong(e.line, name, "there is no such table in a set", strings.Join(known, ", "), hint)
		case name != titleKey && (e.table == nil || e.many):
			r.wrong(e.line, name, e.describe()+" does not fit", "a table: ["+name+".NAME]", "")
		}
	}
	if !holds {
		r.wrong(1, "", "the set changes nothing", "[bush.NAME], [link.NAME] and so on with what differs, or [rule.NAME]", "")
	}
}

// checkSetNames reports parts that the axle does not have.
func (f *File) checkSetNames(r *reader, root *table, section string) {
	own := f.source.root.sub(section)
	r.eachNamed(root, section, func(name, path string, t *table) {
		if own.entries[name] != nil {
			return
		}
		allowed := "this axle has no " + section
		if len(own.keys) > 0 {
			allowed = section + "." + strings.Join(own.keys, ", "+section+".")
		}
		r.wrong(t.line, path, "the axle has no such part", allowed, meant(name, own.keys))
	})
}

// givenTwice reports what two texts of one set both give, so that their order never
// matters.
func (f *File) givenTwice(parts []*setPart) (mistakes Mistakes) {
	for i, p := range parts {
		for _, section := range kindTables() {
			if p.root.entries[section] == nil {
				continue
			}
			for _, l := range p.root.sub(section).leaves(section) {
				clash := slices.IndexFunc(parts[:i], func(o *setPart) bool { return f.clash(o, p, l.path) })
				if clash >= 0 {
					mistakes = append(mistakes, Mistake{File: p.Name, Line: l.line, Key: l.path, Wrong: "the set " + parts[clash].Name + " gives this too, or gives the part in another way",
						Hint: "sets joined by + change different things"})
				}
			}
		}
	}
	return mistakes
}

// clash tells whether one text gives what another one has at a path, something inside
// it or around it, a curve for a rate, or whether one of them gives the whole bush in
// another way.
func (f *File) clash(o, p *setPart, path string) bool {
	words := strings.Split(path, ".")
	for _, l := range o.root.sub(words[0]).leaves(words[0]) {
		if within(l.path, path) || within(path, l.path) || byOneCurve(l.path, path) || byOneCurve(path, l.path) {
			return true
		}
	}
	touched := o.root.sub(words[0]).entries[words[1]] != nil
	return touched && words[0] == compliance.Bush.Table && (f.rewrites(o, words[1]) || f.rewrites(p, words[1]))
}

// rewrites tells whether a text gives a bush in another way than the axle file.
func (f *File) rewrites(p *setPart, bush string) bool {
	own, over := f.source.root.sub(compliance.Bush.Table).entries[bush], p.root.sub(compliance.Bush.Table).entries[bush]
	if own == nil || own.table == nil || over.table == nil {
		return false
	}
	all := variantsOf(compliance.Bush.Table)
	_, other := writtenLike(all, over.table, bushVariant(all, own.table))
	return other
}

// within tells whether a path lies at or below another one.
func within(path, above string) bool { return path == above || strings.HasPrefix(path, above+".") }

// byOneCurve tells whether a path is a curve that stands for what lies at another.
func byOneCurve(curve, path string) bool {
	rate, is := strings.CutSuffix(curve, curveSuffix)
	return is && (path == rate || slices.Contains([]string{rate + "_gap", rate + "_gap_back", rate + "_snubber"}, path))
}

// leaf is one value of a table, by its path.
type leaf struct {
	path string
	line int
}

// leaves lists every value of a table and of the tables in it.
func (t *table) leaves(path string) (all []leaf) {
	for _, name := range t.keys {
		e := t.entries[name]
		if e.table != nil {
			all = append(all, e.table.leaves(path+"."+name)...)
			continue
		}
		all = append(all, leaf{path + "." + name, e.line})
	}
	return all
}

// withTables reads the axle with the tables of a set laid over those of the axle
// file. Lines of a set count on from the last line of the text before it, so that
// every mistake finds its way back.
func (f *File) withTables(parts []*setPart) (*File, Mistakes) {
	root, first := f.source.root, countLines(f.source.text)
	var starts []int
	r := &reader{file: &File{Name: f.Name, elements: map[string]*part{}, Axle: &compliance.Axle{}}}
	for _, p := range parts {
		starts = append(starts, first)
		for _, section := range kindTables() {
			if p.root.entries[section] != nil {
				root = r.layOver(root, p.root.sub(section).shifted(first), section)
			}
		}
		first += p.lines
	}
	r.readBodies(root)
	r.readWheels(root)
	r.readElements(root)
	r.checkReach()
	r.checkChains(root)
	f.checkExistence(r, root)
	if len(r.mistakes) > 0 {
		return nil, f.backToSets(r.mistakes.sorted(), parts, starts)
	}
	with := *r.file
	with.Title, with.Vehicle, with.Cases, with.States, with.Wants = f.Title, f.Vehicle, f.Cases, f.States, f.Wants
	return &with, nil
}

// backToSets puts mistakes of a joined text where they were made. The axle file
// for itself is right, so what is found in its lines comes of the set's table for
// the same part.
func (f *File) backToSets(mistakes Mistakes, parts []*setPart, starts []int) Mistakes {
	for i := range mistakes {
		m := &mistakes[i]
		at := len(starts) - 1
		for at >= 0 && m.Line <= starts[at] {
			at--
		}
		if at >= 0 {
			m.File, m.Line = parts[at].Name, m.Line-starts[at]
			continue
		}
		m.File, m.Line = blamed(parts, m.Key)
	}
	return mistakes
}

// blamed is the place of the table that changes the part with that path.
func blamed(parts []*setPart, key string) (file string, line int) {
	words := strings.SplitN(key, ".", 3)
	for _, p := range parts {
		if len(words) < 2 || p.root.entries[words[0]] == nil {
			continue
		}
		if e := p.root.sub(words[0]).entries[words[1]]; e != nil {
			return p.Name, e.line
		}
	}
	return parts[0].Name, 1
}
