package show

import (
	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// followed is a rate that follows from the dimensions of a bush, before and after
// a search that moved them, in its written unit.
type followed struct {
	bush, rate    string
	before, after float64
	unit          string
}

// followed lists the rates of every bush whose dimensions have moved, once for
// both sides where these are alike.
func (s *sides) followed() []followed {
	was, is := s.before.study.Solver().Axle(), s.after.study.Solver().Axle()
	var all []followed
	for i := range is.Elements {
		before, moulded := was.Elements[i].Rubber()
		after, _ := is.Elements[i].Rubber()
		if !moulded || before == after {
			continue
		}
		label := is.Elements[i].Label()
		for k := range is.Elements {
			if twin(is, k, i) && twin(was, k, i) {
				label = ""
				if k > i {
					label = is.Elements[i].Kind.Table + "." + is.Elements[i].Name
				}
			}
		}
		if label != "" {
			all = append(all, followedBy(label, &was.Elements[i], &is.Elements[i])...)
		}
	}
	return all
}

// twin tells whether an element is the same bush as another on the other side.
func twin(axle *compliance.Axle, k, i int) bool {
	a, b := &axle.Elements[k], &axle.Elements[i]
	one, is := a.Rubber()
	other, _ := b.Rubber()
	return is && k != i && a.Name == b.Name && one == other && a.Choice.Rubber == b.Choice.Rubber
}

// followedBy are the six rates of one bush.
func followedBy(label string, was, is *compliance.Element) []followed {
	before, _ := was.Rubber()
	after, _ := is.Rubber()
	old, now := before.Rates(was.Choice.Rubber), after.Rates(is.Choice.Rubber)
	oldRates, rates := old.Six(), now.Six()
	var all []followed
	for d, name := range bushing.DirectionNames {
		unit := rateUnit(bushing.Direction(d))
		all = append(all, followed{label, name, unit.Written(oldRates[d]), unit.Written(rates[d]), unit.Name})
	}
	return all
}

// rateUnit is the written unit of a rate.
func rateUnit(d bushing.Direction) quantity.Unit {
	if d >= bushing.ConeSoft {
		return quantity.NewtonMetrePerDegree
	}
	return quantity.NewtonPerMillimetre
}

// followedTable lists what the rates of moved bushes have become; nothing if no
// dimension of a bush was moved.
func (s *sides) followedTable(p *Page) {
	rates := s.followed()
	if rates == nil {
		return
	}
	p.Prose("  ", "Rates that follow from these dimensions:")
	g := grid{columns: []column{{}, {align: point}, {align: point}, {}}}
	for i, r := range rates {
		if i == 0 || r.bush != rates[i-1].bush {
			g.add("    "+r.bush, "before", "after", "")
		}
		g.add("      "+r.rate, rate(r.before), rate(r.after), r.unit)
	}
	g.write(p)
}

// followedRecords are the same for programs.
func (s *sides) followedRecords() []Record {
	var all []Record
	for _, r := range s.followed() {
		for _, stage := range []struct {
			name  string
			value float64
		}{{"before", r.before}, {"after", r.after}} {
			all = append(all, Record{Kind: "rate", Stage: stage.name, Name: r.bush, Line: r.rate, StaticLoad: s.after.loadAtRest(), Value: number(stage.value), Unit: r.unit})
		}
	}
	return all
}
