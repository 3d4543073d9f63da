package show

import (
	"fmt"
	"math"
	"strconv"
)

// bestTable sets the best combinations side by side, with the axle as it stands and
// with free rates.
func (v *chosenView) bestTable(p *Page) {
	p.blank()
	p.Heading(fmt.Sprintf("THE BEST %d", len(v.Best)))
	b := &blocks{labels: []string{"", ""}}
	for i := range v.Best {
		b.labels = append(b.labels, strconv.Itoa(i+1))
	}
	b.labels = append(b.labels, "as it stands")
	if v.Free != nil {
		b.labels = append(b.labels, "free rates")
	}
	for i := range v.Positions {
		b.add(v.partColumn(i))
	}
	if v.Best[0].Price > 0 {
		b.add(v.priceColumn())
	}
	b.add(v.worseColumn())
	for i := range v.Asked {
		b.addTogether(v.valueColumn(i), v.verdictColumn(i))
	}
	for i := range v.Parameters {
		b.add(v.parameterColumn(i))
	}
	b.write(p)
}

// column starts a column of the table of the best with two lines of head.
func (v *chosenView) column(align align, first, second string) stack {
	return stack{align: align, cells: []cell{words(first), words(second)}}
}

func (v *chosenView) partColumn(place int) stack {
	s := v.column(left, v.Positions[place].Path, "")
	for i := range v.Best {
		s.cells = append(s.cells, words(v.Parts(&v.Best[i])[place].Name))
	}
	return s.ended(v, words("present"), words("free"))
}

func (v *chosenView) priceColumn() stack {
	s := v.column(point, "price", "")
	for i := range v.Best {
		s.cells = append(s.cells, words(strconv.Itoa(v.Best[i].Price)))
	}
	return s.ended(v, words(""), words(""))
}

// worseColumn says by how much each is worse than the best.
func (v *chosenView) worseColumn() stack {
	s := v.column(left, "worse by", "")
	for i := range v.Best {
		c := &v.Best[i]
		s.cells = append(s.cells, v.worseCell(c.Held, c.Aim, c.Violation))
	}
	present := v.worseCell(v.Present.Held, v.Present.Aim, v.Present.Violation)
	if v.Free == nil {
		return s.ended(v, present, words(""))
	}
	return s.ended(v, present, v.worseCell(v.FreeMeets(), v.FreeAt.Aim, v.FreeAt.Violation))
}

// worseCell says how a cost stands beside that of the best.
func (v *chosenView) worseCell(held bool, aim, violation float64) cell {
	best := &v.Best[0]
	switch {
	case math.IsInf(violation, 1):
		return cell{cannotHold, bad}
	case !held:
		return cell{"limits missed by " + steps(math.Sqrt(violation)), bad}
	}
	switch by := aim - best.Aim; {
	case !best.Held:
		return cell{"limits hold", good}
	case by >= leastWorth:
		return words(steps(by))
	case by <= -leastWorth:
		return words("better by " + steps(-by))
	}
	return words("nothing")
}

func (v *chosenView) valueColumn(i int) stack {
	a := &v.Asked[i]
	s := v.column(point, a.Name, a.Unit.Name)
	for k := range v.Best {
		s.cells = append(s.cells, words(v.value(i, v.Best[k].Values)))
	}
	free := words("")
	if v.Free != nil {
		free = words(v.value(i, v.FreeAt.Values))
	}
	return s.ended(v, words(v.before.figureOf(a).Text), free)
}

func (v *chosenView) verdictColumn(i int) stack {
	s := v.column(left, "", v.after.wish(&v.Asked[i]))
	for k := range v.Best {
		s.cells = append(s.cells, v.judged(i, v.Best[k].Values))
	}
	free := words("")
	if v.Free != nil {
		free = v.judged(i, v.FreeAt.Values)
	}
	return s.ended(v, v.judged(i, v.Present.Values), free)
}

func (v *chosenView) parameterColumn(i int) stack {
	q := &v.Parameters[i]
	s := v.column(point, q.Path, q.Unit.Name)
	for k := range v.Best {
		s.cells = append(s.cells, words(measure(v.Best[k].X[i])))
	}
	free := words("")
	if v.Free != nil {
		free = words(measure(v.FreeX[i]))
	}
	return s.ended(v, words(measure(q.Start)), free)
}

// ended adds the cells of the axle as it stands and, if there is one, of the tune
// with free rates.
func (s stack) ended(v *chosenView, present, free cell) stack {
	s.cells = append(s.cells, present)
	if v.Free != nil {
		s.cells = append(s.cells, free)
	}
	return s
}

// freeTable lists the rates that the tune with free rates takes, beside those of
// the best parts.
func (v *chosenView) freeTable(p *Page) {
	if v.Free == nil || v.worth() < leastWorth {
		return
	}
	p.blank()
	p.Heading(v.freeTitle())
	g := grid{columns: []column{{}, {align: point}, {align: point}, {}, {}}}
	g.add("", "best part", "free", "", "in the catalogue")
	for i := range v.FreeRates {
		q := &v.FreeRates[i]
		g.add("  "+q.Path, measure(q.Start), measure(v.FreeX[len(v.Parameters)+i]), q.Unit.Name, measure(q.From)+" to "+measure(q.To))
	}
	g.write(p)
}

// freeTitle says what free rates are good for, as they are told.
func (v *chosenView) freeTitle() string {
	switch {
	case v.Best[0].Held:
		return "THE PART THAT IS MISSING: rates with which every limit holds, and the rest is better"
	case v.FreeMeets():
		return "THE PART THAT IS MISSING: rates that close the gap"
	}
	return "NO RATES BETWEEN THE LEAST AND THE LARGEST OF THE CATALOGUE CLOSE THE GAP: the nearest"
}
