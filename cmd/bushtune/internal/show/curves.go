package show

import (
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
)

// topic is a group of numbers that stand side by side in tables over one x.
type topic struct {
	heading string
	numbers []string // in order; one that ends with _ stands for all that start so
	drop    string   // start of their titles that the heading says already
}

// has tells whether a number belongs to the topic, and its place.
func (t *topic) has(number string) (place int, ok bool) {
	for i, name := range t.numbers {
		if name == number || strings.HasSuffix(name, "_") && strings.HasPrefix(number, name) {
			return i, true
		}
	}
	return 0, false
}

// curve is one column: a series under a caption.
type curve struct {
	*cases.Series
	caption string
	where   string
}

// shareNumber is a number of which columns of nothing are left out.
const shareNumber = "roll_rate_share"

// isNothing tells whether a curve prints as zero everywhere.
func isNothing(s *cases.Series) bool {
	for _, q := range s.Points {
		if !isZero(textOf(s, q.Value)) {
			return false
		}
	}
	return true
}

// curvesOf picks the curves of a topic, number by number in its order.
func curvesOf(series []cases.Series, t *topic) []curve {
	caseOf, several := map[string]string{}, map[string]bool{}
	for i := range series {
		s := &series[i]
		if first, seen := caseOf[s.Number]; seen && first != s.Case {
			several[s.Number] = true
		}
		caseOf[s.Number] = s.Case
	}
	var all []curve
	for place := range t.numbers {
		for i := range series {
			s := &series[i]
			if at, ok := t.has(s.Number); !ok || at != place {
				continue
			}
			c := curve{s, strings.TrimPrefix(s.Title, t.drop), strings.ReplaceAll(s.Where, "_", " ")}
			if s.Number == shareNumber {
				c.where = "" // the caption names the parts
				if isNothing(s) {
					continue
				}
			}
			if several[s.Number] {
				c.caption += ", " + strings.ReplaceAll(s.Case, "_", " ")
			}
			all = append(all, c)
		}
	}
	return alike(all)
}

// alike joins the curves of the left and right wheel where both print the same.
func alike(all []curve) []curve {
	var kept []curve
	for _, c := range all {
		n := len(kept) - 1
		for n >= 0 && (kept[n].Number != c.Number || kept[n].Case != c.Case || kept[n].Unit != c.Unit || kept[n].Where != cases.WheelNames[cases.LeftWheel]) {
			n--
		}
		if n >= 0 && c.Where == cases.WheelNames[cases.RightWheel] && samePrint(kept[n].Series, c.Series) {
			kept[n].where = "each wheel"
			continue
		}
		kept = append(kept, c)
	}
	return kept
}

func samePrint(a, b *cases.Series) bool {
	if len(a.Points) != len(b.Points) {
		return false
	}
	for i, p := range a.Points {
		if p.X != b.Points[i].X || textOf(a, p.Value) != textOf(b, b.Points[i].Value) {
			return false
		}
	}
	return true
}

func textOf(s *cases.Series, value float64) string { return s.Signs.Read(value, s.Step).Text }

// abreast is how many curves stand side by side; captionWidth the signs of a
// line of their captions.
const (
	abreast      = 6
	captionWidth = 12
)

// curveTables writes the curves of a topic, as many tables as they need.
func curveTables(p *Page, heading string, all []curve) {
	for from := 0; from < len(all); from += abreast {
		part := all[from:min(from+abreast, len(all))]
		title := heading
		if from > 0 {
			title += ", continued"
		}
		p.blank()
		p.wrappedHeading(title + padsOf(part))
		g := grid{columns: []column{{align: point}}}
		for range part {
			g.columns = append(g.columns, column{align: point})
		}
		captions(&g, part)
		for _, x := range places(part) {
			cells := []string{measure(x)}
			for _, c := range part {
				cells = append(cells, textAt(c.Series, x))
			}
			g.add(cells...)
		}
		g.write(p)
	}
}

// padsOf says what holds the pads in the cases that the curves are read in.
func padsOf(part []curve) string {
	words, seen := "", map[string]bool{}
	for _, c := range part {
		if c.Pads == "" || seen[c.Pads] {
			continue
		}
		seen[c.Pads] = true
		if words != "" {
			words += " and "
		}
		words += c.Pads
	}
	switch len(seen) {
	case 0:
		return ""
	case 1:
		return " · pads " + words
	}
	return " · pads " + words + ", as under each"
}

// captions writes the heads of the columns: title, place, pads where they
// differ, unit, and the word for the plus sign.
func captions(g *grid, part []curve) {
	mixed := strings.Contains(padsOf(part), "as under each")
	heads := [][]string{append(wrap(part[0].X.Name, captionWidth), part[0].X.Unit)}
	most := len(heads[0])
	for _, c := range part {
		head := wrap(c.caption, captionWidth)
		if c.where != "" {
			head = append(head, wrap(c.where, captionWidth)...)
		}
		if mixed && c.Pads != "" {
			head = append(head, "pads "+c.Pads)
		}
		head = append(head, c.Unit)
		if plus, _, _ := strings.Cut(c.Signs.Plus, ":"); plus != "" {
			head = append(head, wrap("+ "+plus, captionWidth)...)
		}
		heads = append(heads, head)
		most = max(most, len(head))
	}
	for i := range most {
		cells := make([]string, len(heads))
		for c, head := range heads {
			if i < len(head) {
				cells[c] = head[i]
			}
		}
		g.add(cells...)
	}
}

// places lists the x of all points, those of the longest curve.
func places(part []curve) []float64 {
	longest := part[0].Points
	for _, c := range part {
		if len(c.Points) > len(longest) {
			longest = c.Points
		}
	}
	all := make([]float64, len(longest))
	for i, p := range longest {
		all[i] = p.X
	}
	return all
}

// textAt is the value at one x; a dash where the number does not exist.
func textAt(s *cases.Series, x float64) string {
	for _, p := range s.Points {
		if p.X == x {
			return textOf(s, p.Value)
		}
	}
	return "–"
}

// definitions writes what every number means that stands in tables above, once.
func definitions(p *Page, all []cases.Series) {
	p.blank()
	p.Heading("DEFINITIONS")
	for _, d := range defined(all) {
		p.Prose("  ", d.title+": "+d.text)
	}
}

// definition is the meaning of one number.
type definition struct{ number, title, text string }

// defined lists the definitions of series, each once.
func defined(all []cases.Series) []definition {
	var list []definition
	seen := map[string]bool{}
	for i := range all {
		s := &all[i]
		key := s.Number + s.Formula
		if s.Formula == "" || s.Formula == s.Title || seen[key] {
			continue
		}
		seen[key] = true
		title := s.Title
		if head, _, found := strings.Cut(title, ": "); found {
			title = head
		}
		list = append(list, definition{s.Number, title, s.Formula + signWords(s.Signs)})
	}
	return list
}

// signWords says what both signs mean.
func signWords(s quantity.Signs) string {
	if s.Plus == "" {
		return ""
	}
	return " (+ " + s.Plus + ", − " + s.Minus + ")"
}

// curveRecords are the points of series, one a record, and their definitions.
func (v *view) curveRecords(name, stage string, all []cases.Series) []Record {
	var list []Record
	for i := range all {
		s := &all[i]
		for _, p := range s.Points {
			list = append(list, Record{Kind: "curve", Stage: stage, Name: name, Line: s.X.Name, Number: s.Number, Case: s.Case, Where: s.Where, Pads: s.Pads,
				StaticLoad: v.loadAtRest(), X: number(p.X), XUnit: s.X.Unit, Value: number(p.Value), Unit: s.Unit, Words: s.Signs.Read(p.Value, s.Step).Words})
		}
	}
	return list
}

// definitionRecords are the meanings of series.
func (v *view) definitionRecords(all []cases.Series) []Record {
	var list []Record
	for _, d := range defined(all) {
		list = append(list, Record{Kind: "definition", Number: d.number, StaticLoad: v.loadAtRest(), Words: d.title + ": " + d.text})
	}
	return list
}
