package show

import (
	"strings"
)

// conflict says which wants cannot be met together, and how far each of them goes.
func (s *sides) conflict(p *Page) {
	if !s.conflicts() {
		return
	}
	p.blank()
	p.Heading(s.conflictTitle())
	set := s.Conflict.Wants
	g := grid{columns: []column{{gives: true}, {}, {align: point}, {}, {}}}
	last := "comes no further than"
	if len(set) > 1 {
		last = "the others met, comes to"
	}
	g.add("", "wanted", last, "", "")
	for k, i := range set {
		a := &s.Asked[i]
		n := &s.after.numbers[a.Index]
		r := n.Signs.Read(s.Conflict.Alone[k], n.Step)
		word, _, _ := strings.Cut(r.Words, ":")
		g.add("  "+s.after.captionOf(a), s.after.wish(a), r.Text, a.Unit.Name, word)
	}
	g.write(p)
	p.Prose("  ", s.conflictNote())
}

// conflicts tells whether a set of wants is known that cannot be met together.
func (s *sides) conflicts() bool { return s.Conflict != nil && len(s.missed()) > 0 }

func (s *sides) conflictTitle() string {
	switch len(s.Conflict.Wants) {
	case 1:
		return "CANNOT BE MET, whatever becomes of the other wants"
	case 2:
		return "CANNOT BE MET TOGETHER: these two"
	}
	return "CANNOT BE MET TOGETHER: these " + inWords(len(s.Conflict.Wants)) + ", any of them left out the others can"
}

func inWords(n int) string {
	if words := []string{"three", "four", "five", "six"}; n-3 < len(words) {
		return words[n-3]
	}
	return "wants"
}

// conflictNote says how sure that is, and what would help.
func (s *sides) conflictNote() string {
	note := "Found by local searches from several starts: none met them, which is no proof. "
	if len(s.Conflict.Wants) == 1 {
		return note + "Ask less of it, or widen [search]."
	}
	return note + "Ask less of one of them, or widen [search]."
}

// conflictRecords are the same for programs: for each want of the set, how far it goes
// with the others met.
func (s *sides) conflictRecords() []Record {
	if !s.conflicts() {
		return nil
	}
	var names []string
	for _, i := range s.Conflict.Wants {
		names = append(names, s.Asked[i].Name)
	}
	var all []Record
	for k, i := range s.Conflict.Wants {
		a := &s.Asked[i]
		r := s.after.ofWant("conflict", "", a)
		r.Name, r.Line, r.Value = a.Name, "comes to with the others met", number(s.Conflict.Alone[k])
		r.Words = "cannot be met together: " + strings.Join(names, ", ")
		if len(names) == 1 {
			r.Words = "cannot be met, whatever becomes of the other wants"
		}
		all = append(all, r)
	}
	return all
}
