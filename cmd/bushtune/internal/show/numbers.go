package show

import (
	"slices"
	"strings"

	"bushtune/cases"
)

// group is a set of numbers under one heading.
type group struct {
	heading string
	indices []int
	phrases []string // of each number: empty for the main case, else how its case differs
}

// groups arranges the numbers: the families of built-in cases turning left, then
// turning right, then states and the author's own cases.
func (v *view) groups() []group {
	var all []group
	for _, suffix := range []string{"", cases.TurnRight} {
		for _, f := range families() {
			all = v.appendGroup(all, f, suffix)
		}
	}
	known := map[string]bool{}
	for _, g := range all {
		for _, i := range g.indices {
			known[v.numbers[i].Case] = true
		}
	}
	for _, c := range v.study.Cases() {
		if !known[c.Name] {
			all = v.appendOwn(all, c)
		}
	}
	return all
}

// appendGroup adds the group of a family: each number of the main case, and
// below it the same number in the variants.
func (v *view) appendGroup(all []group, f family, suffix string) []group {
	title, exists := v.titles[f.main+suffix]
	if !exists {
		return all
	}
	g := group{heading: heading(title, v.cases[f.main+suffix])}
	for i := range v.numbers {
		if v.numbers[i].Case != f.main+suffix || !v.shown(i) {
			continue
		}
		g.add(i, "")
		for _, variant := range f.variants {
			for j := range v.numbers {
				m := &v.numbers[j]
				if m.Name == v.numbers[i].Name && m.Where == v.numbers[i].Where && m.Case == variant.name+suffix && v.shown(j) {
					g.add(j, variant.phrase)
				}
			}
		}
	}
	return append(all, g)
}

func (g *group) add(index int, phrase string) {
	g.indices = append(g.indices, index)
	g.phrases = append(g.phrases, phrase)
}

// appendOwn adds the group of a state, a case of the author's own, or another
// built-in case in which something is wanted.
func (v *view) appendOwn(all []group, c cases.Case) []group {
	g := group{heading: headed("LOAD CASE", c, c.Title)}
	for _, s := range v.study.States() {
		if s.Name == strings.TrimSuffix(c.Name, cases.TurnRight) {
			g.heading = headed("VEHICLE STATE AT ITS SIZE", c, c.Title)
		}
	}
	for i := range v.numbers {
		if v.numbers[i].Case == c.Name && v.shown(i) {
			g.add(i, "")
		}
	}
	if len(g.indices) == 0 {
		return all
	}
	return append(all, g)
}

// comparison is the case that only shows what floating pads would say.
const comparison = "cornering_floating"

// shown tells whether a number stands in the tables: every number with a name of
// its own (of the comparison with floating pads only the steer), the wheels in
// the author's own cases, and whatever is wanted.
func (v *view) shown(index int) bool {
	n := &v.numbers[index]
	for i := range v.asked {
		if v.asked[i].Index == index {
			return true
		}
	}
	switch {
	case strings.HasPrefix(n.Case, comparison):
		return n.Name == steer
	case n.Generic:
		return v.own(n.Case) && !byItsSide(n)
	}
	return true
}

// byItsSide tells a reading of the left or right wheel from the same reading of
// the outer or inner one.
func byItsSide(n *cases.Number) bool {
	return strings.HasPrefix(n.Name, "left_") || strings.HasPrefix(n.Name, "right_")
}

// steer is the number that the whole program is about.
const steer = "lateral_force_steer"

// own tells whether a case is the author's own load case.
func (v *view) own(name string) bool { return !v.given[name] }

// numberTable writes every group with values, units, words and wants.
func (v *view) numberTable(p *Page) {
	g := grid{columns: []column{{gives: true}, {align: point}, {}, {}}}
	for _, group := range v.groups() {
		g.heading(group.heading)
		for k, index := range group.indices {
			f := v.study.Figure(index)
			label := "  " + f.Title
			if phrase := group.phrases[k]; phrase != "" {
				label = "    same, " + phrase
			}
			if v.named {
				g.add(label, "", f.Unit, v.reference(index))
				continue
			}
			g.add(label, f.Text, f.Unit, f.Words)
			v.addWishes(&g, index)
		}
	}
	g.write(p)
}

// addWishes writes what is wanted of a number below it.
func (v *view) addWishes(g *grid, index int) {
	for i := range v.asked {
		a := &v.asked[i]
		if a.Index != index {
			continue
		}
		if a.Goal.Size != 0 {
			f := v.figureOf(a)
			g.add("    "+v.at(a), f.Text, f.Unit, f.Words)
		}
		wish := v.wish(a)
		if openEnded(a.Want.Kind) {
			g.addCells(words("    want "+a.Name+": "+wish), words(""), words(""), words(""))
			continue
		}
		number := v.text(index, a.Inside())
		label := "    want " + a.Name + ": " + strings.TrimSuffix(wish, " "+number)
		g.addCells(words(label), words(number), words(a.Unit.Name), v.judgedWithMargin(a, a.Judge(v.study)))
	}
}

// absentTable names the numbers that are not offered.
func (v *view) absentTable(p *Page) {
	absent := v.absences()
	if len(absent) == 0 {
		return
	}
	p.blank()
	p.Heading("NOT OFFERED without more of [vehicle]")
	g := grid{columns: []column{{}, {gives: true}}}
	for _, a := range absent {
		g.add("  "+a.Title, needs(a))
	}
	g.write(p)
}

// absences are the numbers that are not offered, each once however many cases it
// would stand in.
func (v *view) absences() []cases.Absent {
	return slices.CompactFunc(v.study.Absent(), func(a, b cases.Absent) bool {
		return a.Number == b.Number && slices.Equal(a.Needs, b.Needs)
	})
}

func needs(a cases.Absent) string { return "needs " + strings.Join(a.Needs, ", ") }
