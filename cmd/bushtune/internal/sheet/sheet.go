// Package sheet writes what a supplier needs in order to quote a bush: one page
// for each bush of an axle, in Markdown that also reads as plain text, and the
// same content as rows for programs.
//
// A page is of the rubber between its sleeves: the bracket in series is left out
// and said. All signs are those of the inner sleeve against the outer.
package sheet

import (
	"context"
	"slices"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/show"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/compliance"
)

// Axle is what sheets are made from.
type Axle struct {
	Title, Source string
	File          *axlefile.File
	Study         *cases.Study
	Asked         []tuning.Asked
	Class         rubber.Class      // of load over deflection
	Mould         rubber.MouldClass // of dimensions
}

// Sheet is the page of one bush, or of a left and a right one that are alike.
type Sheet struct {
	axle     *Axle
	name     string // "pivot"; "pivot.left" where the sides differ
	elements []int  // places in the axle, left first
	first    *compliance.Element
	bush     bushing.Bush[float64]   // left-hand
	rubber   *rubber.Bush[float64]   // nil unless the file gives its dimensions
	laws     [6]bushing.Law[float64] // inner against outer sleeve, without the bracket
	loads    []loaded                // of every case and state, both sides
	reach    [6][2]float64           // deflection from the free shape towards − and +, mm and rad
	leeways  []bearable
	wants    wants
}

// Sheets makes the page of every bush, in the order of the file, and lists the
// bushes that can have none. The error is that of the axle, or of ctx
// once that is done.
func Sheets(ctx context.Context, a *Axle) (all []*Sheet, without []string, err error) {
	elements := a.Study.Solver().Axle().Elements
	var done []int
	for i := range elements {
		e := &elements[i]
		if slices.Contains(done, i) {
			continue
		}
		if e.Kind == compliance.BushMatrix {
			without = append(without, e.Label())
		}
		bush, ok := e.Bush()
		if !ok {
			continue
		}
		s := &Sheet{axle: a, name: e.Name, elements: []int{i}, first: e, bush: bush}
		if twin := twinOf(elements, i); twin >= 0 {
			s.elements = append(s.elements, twin)
		} else if e.Side != compliance.Centre {
			s.name += "." + e.Side.String()
		}
		done = append(done, s.elements...)
		s.describe()
		all = append(all, s)
	}
	return all, without, bear(ctx, a, all)
}

// twinOf finds the right bush that is the mirror image of a left one, or −1.
func twinOf(elements []compliance.Element, i int) int {
	e := &elements[i]
	return slices.IndexFunc(elements, func(o compliance.Element) bool {
		return e.Side == compliance.Left && o.Side == compliance.Right && o.Kind == e.Kind && o.Name == e.Name &&
			o.Choice == e.Choice && slices.Equal(o.Slots, e.Slots)
	})
}

// describe takes over what the axle says of the bush.
func (s *Sheet) describe() {
	if r, ok := s.first.Rubber(); ok {
		s.rubber = &r
	}
	alone := s.bush
	alone.Bracket = 0
	s.laws = alone.Laws(s.first.Choice.Curves)
	s.readLoads()
	s.findReach()
}

// Name is how the bush is called on the command line.
func (s *Sheet) Name() string { return s.name }

// rate is the rate of a direction at zero deflection, in N/mm or N·mm/rad.
func (s *Sheet) rate(d bushing.Direction) float64 { return s.laws[d].Slope(0) }

// absent tells whether a direction has no rate and no stop.
func (s *Sheet) absent(d bushing.Direction) bool { return s.laws[d].Linear() && s.rate(d) == 0 }

// perAxle is how many of the bush an axle has.
func (s *Sheet) perAxle() int { return len(s.elements) }

// Assumed where a page leaves the dimensions to the supplier.
const (
	assumedHardness = 55.0 // Shore A: the first column of the table of tolerances
	assumedWall     = 6.0  // mm
)

// material is the hardness in Shore A and the rubber wall in mm by which
// tolerances go, and whether the axle file gives them.
func (s *Sheet) material() (hardness, wall float64, given bool) {
	if s.rubber == nil {
		return assumedHardness, assumedWall, false
	}
	return s.rubber.Hardness, rubber.Wall(s.rubber), true
}

// tolerance is the share by which a rate may be off in the class of the page.
func (s *Sheet) tolerance() (least, most float64) {
	hardness, wall, _ := s.material()
	return rubber.RateTolerance(s.axle.Class, hardness, wall)
}

// wording words the wants of the axle.
func (a *Axle) wording() *show.Wording { return show.NewWording(a.Study, a.Asked) }
