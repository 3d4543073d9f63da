package show

import (
	"math"
	"slices"
	"strings"

	"bushtune/cmd/bushtune/internal/swapping"
)

// sized writes a wanted number under a load of full size, in a unit if one is given.
func (v *view) sized(index int, z swapping.Sized, unit string) string {
	if math.IsNaN(z.Low) {
		return cannotHold
	}
	text := strings.TrimSpace(v.between(index, z.Low, z.High) + " " + unit)
	if z.Lost {
		text += " where the axle holds this load"
	}
	return text
}

// sizedVerdict writes the number and how far its want is met.
func (s *Swapped) sizedVerdict(v *view, asked int, z swapping.Sized) cell {
	a := &s.Asked[asked]
	if math.IsNaN(z.Low) {
		return cell{cannotHold, bad}
	}
	text := v.sized(a.Index, z, "")
	judge := func(value float64) cell {
		now := a.Unit.Written(value)
		return v.verdict(a, a.Want.Outcome(now, now))
	}
	verdict := words(text)
	if !openEnded(a.Want.Kind) {
		verdict = worst(judge(z.Low), judge(z.High))
		verdict.text = text + ": " + verdict.text
	}
	if z.Lost {
		return cell{verdict.text + "; over part of the range it does not", bad}
	}
	return verdict
}

// alikeAtSize tells whether a want under a load of full size goes without saying: it is
// asked of a turn to the right and reads the same as that of the turn to the left, as it
// is and with each of some sets.
func (s *Swapped) alikeAtSize(v *view, columns []swapping.Column, asked int) bool {
	a := &s.Asked[asked]
	if asked == 0 || s.Asked[asked-1].Line != a.Line { // the turn to the left stands before
		return false
	}
	alike := func(all []swapping.Sized) bool {
		return v.sized(a.Index, all[asked], "") == v.sized(a.Index, all[asked-1], "")
	}
	return alike(s.AtSize) && !slices.ContainsFunc(columns, func(c swapping.Column) bool { return !alike(c.AtSize) })
}

// sizedSentence says how a set changes a wanted number under a load of full size.
func (s *Swapped) sizedSentence(v *view, ch *swapping.Change, column int) string {
	a := &s.Asked[ch.Asked]
	before, after := v.sized(a.Index, s.AtSize[ch.Asked], ""), v.sized(a.Index, s.Columns[column].AtSize[ch.Asked], a.Unit.Name)
	text := v.captionOf(a) + ": " + before + " → " + after
	by := ""
	if !math.IsInf(ch.Steps, 0) {
		by = inSteps(ch) + "; "
	}
	return sentence(text + " (" + by + "want " + a.Name + ")")
}

// sizedRecords are the wanted numbers of a set under loads of full size, and how far the
// wants are missed: one each, or one for each end of a range.
func (s *Swapped) sizedRecords(v *view, column int) (all []Record) {
	c := &s.Columns[column]
	for k := range s.Asked {
		if s.Asked[k].Goal.Size == 0 {
			continue
		}
		z := c.AtSize[k]
		if !c.IsRange() {
			all = append(all, s.sizedEnd(v, column, k, "", z.Low)...)
			continue
		}
		all = append(all, s.sizedEnd(v, column, k, " low", z.Low)...)
		all = append(all, s.sizedEnd(v, column, k, " high", z.High)...)
		if z.Lost && !math.IsNaN(z.Low) {
			all = append(all, s.sizedEnd(v, column, k, " lost", math.NaN())...)
		}
	}
	return all
}

// sizedEnd are the records of one value.
func (s *Swapped) sizedEnd(v *view, column, asked int, line string, value float64) []Record {
	a := &s.Asked[asked]
	now := a.Unit.Written(value)
	o := a.Want.Outcome(now, now)
	f, miss := v.ofWant("figure", "after", a), v.miss("after", a, o.Miss)
	f.Name, f.Value, f.Words = setName(column)+" "+a.Name, number(now), v.figureAt(a, value).Words
	f.Line = strings.TrimSpace(f.Line + line)
	miss.Name, miss.Line, miss.Words = f.Name, miss.Line+line, v.verdict(a, o).text
	if openEnded(a.Want.Kind) {
		return []Record{f}
	}
	return []Record{f, miss}
}
