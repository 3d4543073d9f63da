package show

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cmd/bushtune/internal/fitting"
)

// offsetTable lists the channels whose readings are all shifted by a constant.
func (f *Fitted) offsetTable(p *Page) {
	if len(f.Offsets) == 0 {
		return
	}
	p.blank()
	p.Heading("OFFSETS, a constant in every reading of a channel, loaded or not")
	g := grid{columns: []column{{}, {align: right}, {align: point}, {}, {}, {align: point}, {}, {gives: true}}}
	g.add("", "readings", "offset", "", "", "std. error", "95 % interval", "chance without one")
	for i := range f.Offsets {
		o := &f.Offsets[i]
		value, err, low, high := offsetWritten(o)
		g.add("  "+o.Name+", "+o.Side+" wheel", fmt.Sprint(o.Rows), certain(value, err), o.Unit.Name, signWord(o), certain(err, err),
			certain(low, err)+" to "+certain(high, err), chanceWords(o.Chance))
	}
	g.write(p)
	p.Prose("  ", "As from a zero taken at another position than the one without test load. They are found with the values and taken out of the residuals. "+f.offsetDoubt())
}

// offsetDoubt says what else an offset may be.
func (f *Fitted) offsetDoubt() string {
	if f.AtSize {
		return "Readings that bend with the load otherwise than the model would look alike: a reading at load 0 would decide."
	}
	return "Readings that bend with the load, as where a void closes, would look alike: --at-size or a reading at load 0 would decide."
}

// offsetWritten is an offset with its standard error and 95 % interval, in written units.
func offsetWritten(o *fitting.Offset) (value, err, low, high float64) {
	low, high = o.Estimate.Interval(nearlySure)
	return o.Unit.Written(o.Estimate.Value), o.Unit.Written(o.Estimate.Error), o.Unit.Written(low), o.Unit.Written(high)
}

// signWord is the word for the sign of an offset.
func signWord(o *fitting.Offset) string {
	value, err, _, _ := offsetWritten(o)
	return o.Signs.Read(value, max(err, rounding)).Words
}

// leastChance is the probability below which digits say nothing.
const leastChance = 1e-6

// chanceWords writes a small probability.
func chanceWords(chance float64) string {
	if chance < leastChance {
		return "below 1 in a million"
	}
	rarely := 1 / chance
	ten := math.Pow(10, math.Floor(math.Log10(rarely)))
	return fmt.Sprintf("1 in %.0f", math.Floor(rarely/ten)*ten)
}

// offsetSummary names the offsets in the headline.
func (f *Fitted) offsetSummary() string {
	var all []string
	for i := range f.Offsets {
		o := &f.Offsets[i]
		value, err, _, _ := offsetWritten(o)
		all = append(all, fmt.Sprintf("%s of the %s wheel by %s %s %s", o.Name, o.Side, certain(value, err), o.Unit.Name, signWord(o)))
	}
	if len(all) == 0 {
		return ""
	}
	return "; the zero is off in " + strings.Join(all, ", ")
}

// zeroNotes say in a line what became of the readings without load.
func (f *Fitted) zeroNotes() (notes []string) {
	switch {
	case f.Zeros > 0 && f.Unloaded > 0:
		notes = append(notes, fmt.Sprintf("%s at load 0 tell the offset of their channels; %d more are 0 there, tell nothing and are left out", plural(f.Unloaded, "reading"), f.Zeros))
	case f.Zeros > 0:
		notes = append(notes, plural(f.Zeros, "reading")+" of 0 at load 0: that is where values count from, so they tell nothing and are left out")
	case f.Unloaded > 0:
		notes = append(notes, plural(f.Unloaded, "reading")+" at load 0: they tell the offset of their channels")
	}
	return notes
}

// offsetRecords are the offsets for programs.
func (f *Fitted) offsetRecords() []Record {
	var all []Record
	for i := range f.Offsets {
		o := &f.Offsets[i]
		value, err, low, high := offsetWritten(o)
		record := func(line string, x float64, unit quantity.Unit, words string) {
			all = append(all, f.ofRig(Record{Kind: "offset", Stage: "after", Name: o.Side + " " + o.Name, Line: line, Value: number(x), Unit: unit.Name, Words: words}))
		}
		record("value", value, o.Unit, signWord(o))
		record("standard error", err, o.Unit, "")
		record("95 % interval from", low, o.Unit, "")
		record("95 % interval to", high, o.Unit, "")
		record("chance without one", o.Chance, quantity.None, "")
	}
	return all
}
