package sheet

import (
	"slices"
	"strconv"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/cmd/bushtune/internal/show"
)

// Row is one figure of a sheet for programs: a line of the CSV, an object of the
// JSON. Numbers are not rounded; what a row does not have is null or empty.
type Row struct {
	Bush    string   `json:"bush"`
	Section string   `json:"section"` // part, dimension, band, strain, orientation, rate, point, dynamic, load, travel, limit, leeway, want
	Item    string   `json:"item"`    // direction, limit, want or what the words are about
	Case    string   `json:"case"`
	Side    string   `json:"side"`
	X       *float64 `json:"x"` // deflection or frequency
	XUnit   string   `json:"x_unit"`
	Value   *float64 `json:"value"`
	Low     *float64 `json:"low"`
	High    *float64 `json:"high"`
	Unit    string   `json:"unit"`
	Words   string   `json:"words"`
}

// Header names the columns of the CSV.
func (Row) Header() []string {
	return []string{"bush", "section", "item", "case", "side", "x", "x_unit", "value", "low", "high", "unit", "words"}
}

// Cells are the columns of the CSV.
func (r Row) Cells() []string {
	text := func(x *float64) string {
		if x == nil {
			return ""
		}
		return strconv.FormatFloat(*x, 'g', -1, 64)
	}
	return []string{r.Bush, r.Section, r.Item, r.Case, r.Side, text(r.X), r.XUnit, text(r.Value), text(r.Low), text(r.High), r.Unit, r.Words}
}

// Rows are the pages for programs.
func (p Pages) Rows() show.Rows[Row] {
	var all show.Rows[Row]
	for _, s := range p {
		all = append(all, s.rows()...)
	}
	return all
}

func number(x float64) *float64 {
	if x == 0 {
		x = 0 // not −0
	}
	return &x
}

// rows is one sheet.
func (s *Sheet) rows() []Row {
	all := []Row{
		{Section: "part", Item: "axle", Words: s.axle.Title},
		{Section: "part", Item: "pieces", Value: number(float64(s.perAxle())), Unit: "per axle", Words: s.count()},
		{Section: "part", Item: "tolerance class", Words: rubber.ClassNames[s.axle.Class]},
		{Section: "part", Item: "bracket", Words: s.bracketNote()},
	}
	all = append(all, s.rubberRows()...)
	all = append(all, s.orientationRows()...)
	all = append(all, s.rateRows()...)
	all = append(all, s.dynamicRows()...)
	all = append(all, s.loadRows()...)
	all = append(all, s.limitRows()...)
	all = append(all, s.leewayRows()...)
	for i := range all {
		all[i].Bush = s.name
	}
	return all
}

// orientationRows are the three axes by component, and the clock angle.
func (s *Sheet) orientationRows() []Row {
	var all []Row
	sleeve, elastic := s.axes()
	side := s.first.Side
	for i, v := range elastic {
		words := pointing(v, side)
		if side == rightSide {
			v = mirrored(v)
		}
		for k, axis := range [3]string{"x", "y", "z"} {
			all = append(all, Row{Section: "orientation", Item: directionWords[i] + " " + axis, Side: s.sideWord(), Value: number(v[k]), Words: words})
		}
	}
	all = append(all, Row{Section: "orientation", Item: "clock angle of the soft radial", Side: s.sideWord(), Value: number(clockAngle(sleeve[1], sleeve[0])), Unit: "deg",
		Words: s.clocking(sleeve)[0]})
	inner, outer := s.sleeves()
	return append(all, Row{Section: "orientation", Item: "inner sleeve", Words: inner}, Row{Section: "orientation", Item: "outer sleeve", Words: outer})
}

// rateRows are the rates, then points of load over deflection, with their bands.
func (s *Sheet) rateRows() []Row {
	var all []Row
	_, most := s.tolerance()
	band := func(r Row, value float64) Row {
		r.Value, r.Low, r.High = number(value), number(value*(1-most)), number(value*(1+most))
		return r
	}
	for i, name := range directionWords {
		d := bushing.Direction(i)
		unit := unitsOf(d).rate
		if s.absent(d) {
			all = append(all, Row{Section: "rate", Item: name, Value: number(0), Unit: unit.Name, Words: s.absentRemark()})
			continue
		}
		all = append(all, band(Row{Section: "rate", Item: name, Unit: unit.Name, Words: s.rateRemark(d)}, unit.Written(s.rate(d))))
	}
	for i, name := range directionWords {
		d := bushing.Direction(i)
		u := unitsOf(d)
		points, bothWays := s.points(d)
		words := ""
		if bothWays {
			words = "the same both ways"
		}
		for _, p := range points {
			all = append(all, band(Row{Section: "point", Item: name, X: number(p.deflection), XUnit: u.travel.Name, Unit: u.load.Name, Words: words}, p.load))
		}
	}
	return all
}

// dynamicRows are factors and loss by frequency.
func (s *Sheet) dynamicRows() []Row {
	var all []Row
	law, _ := s.dynamic()
	source := func(asked float64) string {
		if asked != 0 {
			return "asked for"
		}
		return rubber.Typical
	}
	for _, f := range dynamicFrequencies {
		all = append(all,
			Row{Section: "dynamic", Item: "rate over static rate", X: number(f), XUnit: "Hz", Value: number(law.Stiffness(f)), Words: source(s.bush.DynamicRatio)},
			Row{Section: "dynamic", Item: "loss factor", X: number(f), XUnit: "Hz", Value: number(law.LossFactor(f)), Words: source(s.bush.LossFactor)})
	}
	return all
}

// rubberRows are dimensions with the tolerance across the closure of the mould, the
// rates with every band of error, and strains; none where dimensions are open.
func (s *Sheet) rubberRows() []Row {
	if s.rubber == nil {
		return nil
	}
	var all []Row
	for _, m := range s.dimensions() {
		r := Row{Section: "dimension", Item: m.what, Value: number(m.unit.Written(m.value)), Unit: m.unit.Name}
		if m.toleranced() {
			_, closure := rubber.MouldTolerance(s.axle.Mould, m.value)
			r.Low, r.High, r.Words = number(m.value-closure), number(m.value+closure), "ISO 3302-1 "+rubber.MouldClassNames[s.axle.Mould]+", across the closure of the mould"
		}
		all = append(all, r)
	}
	all = append(all, s.bandRows()...)
	for _, state := range []bool{true, false} {
		for _, e := range s.strains(state) {
			words := "per unit of load, in " + e.in
			if state {
				words = "at full size, in " + e.in
			}
			all = append(all, Row{Section: "strain", Item: e.What, Value: number(100 * e.Value), High: number(100 * e.Limit), Unit: "%", Words: words})
		}
	}
	return all
}

// bandRows are the rates between what each source of error allows.
func (s *Sheet) bandRows() []Row {
	var all []Row
	choice := s.first.Choice.Rubber
	bands, limits := rubber.Bands(s.rubber, choice, s.axle.Class), rubber.Limits(s.rubber, choice)
	for i, name := range directionWords {
		d := bushing.Direction(i)
		if s.absent(d) {
			continue
		}
		unit := unitsOf(d).rate
		rate := unit.Written(s.rate(d))
		row := func(low, high float64, words string) {
			all = append(all, Row{Section: "band", Item: name, Value: number(rate), Low: number(low), High: number(high), Unit: unit.Name, Words: words})
		}
		for _, b := range append(slices.Clone(bands[i]), rubber.WorstBand(bands[i])) {
			row(rate*b.Low, rate*b.High, b.Source)
		}
		row(unit.Written(limits[i].Low), unit.Written(limits[i].High), "must lie between: "+limits[i].LowIs+"; "+limits[i].HighIs)
	}
	return all
}

// loadRows are loads, rest included, and travels on top of rest.
func (s *Sheet) loadRows() []Row {
	var all []Row
	for _, r := range s.rests() {
		for d, name := range directionWords {
			u := unitsOf(bushing.Direction(d))
			all = append(all, Row{Section: "load", Item: name, Case: "rest", Side: r.side, Value: number(u.load.Written(r.load[d])), Unit: u.load.Name})
		}
	}
	for i := range s.loads {
		l := &s.loads[i]
		words := "for a unit of load"
		if l.state {
			words = "at full size"
		}
		for d, name := range directionWords {
			u := unitsOf(bushing.Direction(d))
			all = append(all,
				Row{Section: "load", Item: name, Case: l.load.Case, Side: l.where, Value: number(u.load.Written(l.load.Rest[d] + l.load.Load[d])), Unit: u.load.Name, Words: words + ", rest included"},
				Row{Section: "travel", Item: name, Case: l.load.Case, Side: l.where, Value: number(u.travel.Written(l.load.Travel[d])), Unit: u.travel.Name, Words: words + ", on top of rest"})
		}
	}
	return all
}

// limitRows are the largest uses at full size, none where no case is, the limit as
// High.
func (s *Sheet) limitRows() []Row {
	var all []Row
	for _, u := range s.worstUsages() {
		r := Row{Section: "limit", Item: u.What, Unit: u.Unit}
		if u.in != "" {
			r.Value, r.Words = number(u.Value), "in "+u.in
		}
		if u.Limit > 0 {
			r.High = number(u.Limit)
		}
		all = append(all, r)
	}
	return all
}

// leewayRows are factors, the nominal one being 1; null where nothing ends it.
func (s *Sheet) leewayRows() []Row {
	var all []Row
	for i := range s.leeways {
		w := &s.leeways[i]
		r := Row{Section: "leeway", Item: w.what, Value: number(1), Unit: "times the rate",
			Words: s.enough(&w.leeway) + "; ends softer: " + s.endingWords(&w.leeway.Softer) + "; stiffer: " + s.endingWords(&w.leeway.Stiffer)}
		if !w.leeway.Softer.Open() {
			r.Low = number(w.leeway.Softer.Factor)
		}
		if !w.leeway.Stiffer.Open() {
			r.High = number(w.leeway.Stiffer.Factor)
		}
		all = append(all, r)
	}
	wording := s.axle.wording()
	for i := range s.axle.Asked {
		lead := ""
		switch {
		case slices.Contains(s.wants.failing, i):
			lead = "fails already: "
		case slices.Contains(s.wants.open, i):
			lead = "is no limit: "
		}
		all = append(all, Row{Section: "want", Item: s.axle.Asked[i].Name, Words: lead + wording.Want(i) + ", now " + wording.Now(i)})
	}
	return all
}
