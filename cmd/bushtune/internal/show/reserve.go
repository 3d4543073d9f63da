package show

import (
	"fmt"
	"math"
	"strings"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// marginOf writes how far a value is inside a want, with its sign; nothing where there
// is no value at which it is met.
func (v *view) marginOf(a *tuning.Asked, value float64) string {
	margin := a.Want.Margin(value)
	if math.IsNaN(margin) {
		return ""
	}
	text := v.written(a.Index, margin)
	if !strings.HasPrefix(text, "-") && !isZero(text) {
		text = "+" + text
	}
	return text
}

// judgedWithMargin is a verdict that says of a want that is met by how much.
func (v *view) judgedWithMargin(a *tuning.Asked, o optimize.WantOutcome) cell {
	judged := v.verdict(a, o)
	if text := v.marginOf(a, o.After); judged.tone == good && text != "" {
		judged.text += ", margin " + text
	}
	return judged
}

// margin is the record of how far a value is inside a want.
func (v *view) margin(stage string, a *tuning.Asked, value float64) Record {
	r := v.ofWant("want", stage, a)
	r.Name, r.Line, r.Value = a.Name, "margin", number(a.Want.Margin(value))
	return r
}

// reserve says how far all rates may be off together.
func (v *view) reserve(r *tuning.Reserve) string {
	switch {
	case r == nil || len(r.Limits) == 0:
		return ""
	case r.Missed == 1:
		return "Reserve: none, a limit is missed."
	case r.Missed > 1:
		return fmt.Sprintf("Reserve: none, %d limits are missed.", r.Missed)
	case r.Without:
		return "Reserve: there is no bush rate that could be off."
	}
	return "Reserve, all bush rates off together (ends of links included): " + v.reserveEnd(r, &r.Softer, "softer") + "; " + v.reserveEnd(r, &r.Stiffer, "stiffer") + "."
}

// reserveEnd says how far one way, and which want ends it.
func (v *view) reserveEnd(r *tuning.Reserve, e *cases.Exit, way string) string {
	if e.Open() {
		return fmt.Sprintf("%.0f times %s and more lose none", cases.LeewayRange, way)
	}
	text := significant(100*math.Abs(1-e.Factor), 2) + " % " + way
	if math.Abs(1-e.Factor) < leastReserve {
		text = "nothing " + way
	}
	if e.Cause != nil {
		return text + " until the axle cannot be solved"
	}
	return text + " until " + v.captionOf(&v.asked[r.Limits[e.Limit]]) + " is lost"
}

// leastReserve is a share of the rates that nobody can make: a tenth of a percent.
const leastReserve = 1e-3

// reserveRecords are the ends of a reserve: factors on all rates, none where nothing
// ends it.
func (v *view) reserveRecords(stage, set string, r *tuning.Reserve) (all []Record) {
	if r == nil || r.Without || r.Missed > 0 {
		return nil
	}
	for _, end := range []struct {
		line string
		exit *cases.Exit
	}{{"softer", &r.Softer}, {"stiffer", &r.Stiffer}} {
		record := Record{Kind: "reserve", Stage: stage, Name: set, Line: end.line, StaticLoad: v.loadAtRest(), Unit: "factor", Words: v.reserveEnd(r, end.exit, end.line)}
		if !end.exit.Open() {
			record.Value = number(end.exit.Factor)
		}
		all = append(all, record)
	}
	return all
}
