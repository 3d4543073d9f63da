package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/bushing/rubber"
)

// dimension is one dimension of the rubber that the axle file gives.
type dimension struct {
	what  string
	value float64 // mm, or rad
	unit  quantity.Unit
}

// toleranced tells whether a class of moulded sizes says something of it.
func (m *dimension) toleranced() bool { return m.unit == quantity.Millimetre && m.value != 0 }

// dimensions lists those that the bush has.
func (s *Sheet) dimensions() []dimension {
	b := s.rubber
	mm, deg := quantity.Millimetre, quantity.Degree
	all := []dimension{
		{"rubber on the inner sleeve, diameter", b.Inner, mm}, {"rubber in the outer sleeve, diameter", b.Outer, mm}, {"length of the rubber", b.Length, mm},
	}
	if b.VoidArc != 0 && b.VoidDepth != 0 {
		all = append(all, dimension{"each of two voids: angle about the axis", b.VoidArc, deg}, dimension{"each of two voids: radial depth, middle of the wall", b.VoidDepth, mm},
			dimension{"each of two voids: radius of the corners", b.CornerRadius(), mm})
	}
	if b.SleeveDiameter != 0 {
		all = append(all, dimension{"intermediate sleeve, mean diameter", b.SleeveDiameter, mm}, dimension{"intermediate sleeve, wall", b.SleeveWall, mm})
	}
	if b.StopThick != 0 {
		all = append(all, dimension{"collar at each end, outer diameter", b.StopDiameter, mm}, dimension{"collar, thickness", b.StopThick, mm}, dimension{"collar, way until it is pressed", b.StopGap, mm})
	}
	return all
}

// rubberDimensions gives them with their tolerance.
func (s *Sheet) rubberDimensions(d *document) {
	t := newTable(words("dimension"), numbers("value"), words("unit"), numbers("fixed by the mould"), numbers("across its closure"))
	for _, m := range s.dimensions() {
		fixedBy, across := "", ""
		if m.toleranced() {
			f, c := rubber.MouldTolerance(s.axle.Mould, m.value)
			fixedBy, across = "±"+fixed(f, 2), "±"+fixed(c, 2)
		}
		t.add(m.what, exactFigure(m.unit.Written(m.value)), m.unit.Name, fixedBy, across)
	}
	d.table(t)
	d.prose(fmt.Sprintf("Tolerances in mm: ISO 3302-1 class %s, of a size that one part of the mould fixes, and of one across its closure. "+
		"Where metal makes the size, the drawing of the sleeve counts.", rubber.MouldClassNames[s.axle.Mould]))
	d.items(s.compoundNotes()...)
}

// compoundNotes say what the rubber is.
func (s *Sheet) compoundNotes() []string {
	b, choice := s.rubber, s.first.Choice.Rubber
	m := b.Moduli(choice)
	notes := make([]string, 1)
	switch choice.Compound {
	case rubber.Polyurethane:
		notes[0] = fmt.Sprintf("Compound: polyurethane, %s Shore A, taken at %s %% of the range of moduli of that hardness; small-strain shear modulus %s MPa.",
			exactFigure(b.Hardness), exactFigure(100*b.RangeShare), figure(m.G))
	case rubber.Given:
		notes[0] = fmt.Sprintf("Compound: the customer's, small-strain shear modulus %s MPa.", figure(m.G))
	case rubber.Natural:
		lindley, gent := rubber.Spread(b.Hardness)
		notes[0] = fmt.Sprintf("Compound: natural rubber, %s IRHD or Shore A; small-strain shear modulus %s MPa by Lindley's table, which counts; Gent's relation says %s MPa.",
			exactFigure(b.Hardness), figure(lindley), figure(gent))
	}
	if b.TemperatureFactor != 1 || b.AgeingFactor != 1 {
		notes = append(notes, fmt.Sprintf("The customer's factors on the moduli: %s for temperature, %s for ageing.", exactFigure(b.TemperatureFactor), exactFigure(b.AgeingFactor)))
	}
	if choice.Free {
		return append(notes, "Not bonded: about and along its axis friction alone holds the rubber, which is no rate.")
	}
	return append(notes, "Bonded to both sleeves over the whole length of the rubber.")
}

// bandsPart says how sure the rates from dimensions are.
func (s *Sheet) bandsPart(d *document) {
	choice := s.first.Choice.Rubber
	bands, limits := rubber.Bands(s.rubber, choice, s.axle.Class), rubber.Limits(s.rubber, choice)
	d.prose("**How sure these rates are.** They are calculated from the dimensions; this is how far they may be off, and why.")
	columns := []column{words("direction")}
	sources := sourcesOf(bands)
	for i := range sources {
		columns = append(columns, words(letter(i)))
	}
	t := newTable(append(columns, words("all at their worst"), words("must lie between"), words("unit"))...)
	for i, name := range directionWords {
		u := unitsOf(bushing.Direction(i)).rate
		rate := u.Written(s.rate(bushing.Direction(i)))
		if rate == 0 {
			continue
		}
		cells := append([]string{name}, bandCells(bands[i], sources)...)
		worst := rubber.WorstBand(bands[i])
		t.add(append(cells, figure(rate*worst.Low)+" to "+figure(rate*worst.High), figure(u.Written(limits[i].Low))+" to "+figure(u.Written(limits[i].High)), u.Name)...)
	}
	d.table(t)
	var legend []string
	for i, source := range sources {
		legend = append(legend, letter(i)+": "+source)
	}
	d.items(append(legend, s.limitNotes(limits)...)...)
	d.prose("What a rate must lie between holds for the compound as it is taken; the scatter of compounds goes beyond it.")
}

// allBands is the worst of every rate: all sources of error at once, as factors.
func (s *Sheet) allBands() (low, high float64) {
	low, high = 1, 1
	for _, list := range rubber.Bands(s.rubber, s.first.Choice.Rubber, s.axle.Class) {
		worst := rubber.WorstBand(list)
		low, high = min(low, worst.Low), max(high, worst.High)
	}
	return low, high
}

// letter numbers the sources of bands.
func letter(i int) string { return string(rune('a' + i)) }

// sourcesOf lists what bands come from, each once.
func sourcesOf(bands [6][]rubber.Band) []string {
	var all []string
	seen := map[string]bool{}
	for _, list := range bands {
		for _, b := range list {
			if !seen[b.Source] {
				all, seen[b.Source] = append(all, b.Source), true
			}
		}
	}
	return all
}

// bandCells are the bands of one rate by source.
func bandCells(bands []rubber.Band, sources []string) []string {
	cells := make([]string, len(sources))
	for i, source := range sources {
		for _, b := range bands {
			if b.Source == source {
				cells[i] = around(b.Low-1) + " " + around(b.High-1)
			}
		}
	}
	return cells
}

// around is a change with one decimal, widened away from nothing: a band of errors
// never looks narrower than it is.
func around(share float64) string {
	scaled := 1e3 * share
	text := fixed(math.Copysign(math.Ceil(math.Abs(scaled)-nudge), scaled)/10, 1)
	if share > 0 && !strings.HasPrefix(text, "+") {
		text = "+" + text
	}
	return text + " %"
}

// limitNotes say what the two limits are.
func (s *Sheet) limitNotes(limits [6]rubber.Between) []string {
	var notes []string
	for _, of := range []struct {
		d    bushing.Direction
		name string
	}{{bushing.Soft, "both radials"}, {bushing.Axial, "axial"}, {bushing.Torsion, "torsion"}, {bushing.ConeSoft, "both cones"}} {
		if s.rate(of.d) != 0 {
			notes = append(notes, fmt.Sprintf("Limits of %s: %s; %s.", of.name, limits[of.d].LowIs, limits[of.d].HighIs))
		}
	}
	return notes
}

// strained is the worst of one strain indicator.
type strained struct {
	rubber.Strain
	in string
}

// cells are the value and its case, which is not named where nothing is strained.
func (e *strained) cells() []string {
	value := fixed(100*e.Value, 1)
	if e.Value == 0 {
		return []string{value, ""}
	}
	return []string{value, e.in}
}

// strains are the largest indicators of the cases at full size, or for a unit of
// load, from the free shape.
func (s *Sheet) strains(state bool) []strained {
	var worst []strained
	for i := range s.loads {
		l := &s.loads[i]
		if l.state != state {
			continue
		}
		travel := l.load.Travel
		if state {
			for d := range travel {
				travel[d] += s.resting(bushing.Direction(d), l.load.Rest[d])
			}
		}
		for n, e := range s.counted(rubber.Strains(s.rubber, travel)) {
			if n == len(worst) {
				worst = append(worst, strained{Strain: e, in: l.name()})
			} else if quantity.Exceeds(e.Value, worst[n].Value) {
				worst[n] = strained{e, l.name()}
			}
		}
	}
	return worst
}

// counted are the indicators that count: no shear where friction lets the rubber
// slide.
func (s *Sheet) counted(all []rubber.Strain) []rubber.Strain {
	if !s.first.Choice.Rubber.Free {
		return all
	}
	return slices.DeleteFunc(all, func(e rubber.Strain) bool { return e.Limit == rubber.ShearLimit })
}

// name is how a case is called on the page, with its side.
func (l *loaded) name() string {
	if l.state {
		return l.title + sideNote(l.where)
	}
	return l.load.Case + sideNote(l.where)
}

// strainsPart holds strains against published limits.
func (s *Sheet) strainsPart(d *document) {
	if s.rubber == nil {
		return
	}
	d.heading(2, "Strains of the rubber")
	t := newTable(words("indicator"), numbers("limit %"), numbers("at full size %"), words("in"), numbers("per unit of load %"), words("in"))
	full, unit := s.strains(true), s.strains(false)
	for n, u := range unit {
		cells := []string{u.What, figure(100 * u.Limit), "", ""}
		if n < len(full) {
			cells = append(cells[:2], full[n].cells()...)
		}
		t.add(append(cells, u.cells()...)...)
	}
	d.table(t)
	text := "Average design limits of natural rubber for long life (Lindley, NR Technical Bulletin); rare loads may exceed them. They compare bushes and cases and are no local strains. " +
		"At full size from the free shape, per unit of load on top of rest."
	if s.first.Choice.Rubber.Free {
		text += " The rubber is not bonded: it slides, so shear is not told."
	}
	d.prose(text)
}
