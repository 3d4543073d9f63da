package making

import (
	"context"
	"math"

	"bushtune/optimize"
)

// Hold is one limit that the chosen part lies on, and what it costs: the largest miss,
// as things are and with the limit moved by a step.
type Hold struct {
	Dimension int  // index into File.Dimensions; −1: a want that is a limit
	Want      int  // index into File.Wanted where Dimension is −1
	Upper     bool // of the dimension
	Step      float64
	Off       float64
	Moved     float64
	Refused   string // why the limit cannot be moved so far; else empty
}

// holds lists the limits that the part lies on.
func (b *bridge) holds(ctx context.Context, o *Outcome) []Hold {
	var all []Hold
	_, off := o.Worst()
	for _, i := range b.free {
		d := &b.file.Dimensions[i]
		if o.X[i] == d.From || o.X[i] == d.To {
			h := Hold{Dimension: i, Upper: o.X[i] == d.To, Off: off, Moved: off}
			if !o.Reached {
				b.moveDimension(ctx, o, &h)
			}
			all = append(all, h)
		}
	}
	for i, g := range o.Got {
		w := g.Wanted
		if w.Goal == optimize.Target || math.Abs(g.Value/w.Value-1) > reachedTolerance {
			continue
		}
		h := Hold{Dimension: -1, Want: i, Upper: w.Goal == optimize.AtMost, Off: off, Moved: off}
		if !o.Reached {
			b.moveWant(ctx, o, &h)
		}
		all = append(all, h)
	}
	return all
}

// roundStep is 1, 2 or 5 times a power of ten near a tenth of a value.
func roundStep(value float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(value/10)))
	switch lead := value / 10 / power; {
	case lead >= 5:
		return 5 * power
	case lead >= 2:
		return 2 * power
	}
	return power
}

// moveDimension searches again with one limit of a dimension a step further out.
func (b *bridge) moveDimension(ctx context.Context, o *Outcome, h *Hold) {
	wider := *b.file
	wider.Dimensions = append(wider.Dimensions[:0:0], b.file.Dimensions...)
	d := &wider.Dimensions[h.Dimension]
	h.Step = roundStep(math.Max(d.To, d.To-d.From))
	if h.Upper {
		d.To += h.Step
	} else {
		d.From -= h.Step
	}
	if !d.Field.Allows(d.From) || !d.Field.Allows(d.To) {
		h.Refused = "no part can be made beyond"
		return
	}
	w := newBridge(&wider)
	x := w.nearest(ctx, [][]float64{b.freeOf(o.X)}, 0)
	if err := wider.Check(w.slotsAt(x)); err != nil {
		h.Refused = err.Error()
		return
	}
	h.Moved = min(h.Off, w.missAt(x))
}

// moveWant searches again with one wanted limit a step looser.
func (b *bridge) moveWant(ctx context.Context, o *Outcome, h *Hold) {
	looser := *b.file
	looser.Wanted = append(looser.Wanted[:0:0], b.file.Wanted...)
	w := &looser.Wanted[h.Want]
	h.Step = roundStep(w.Value)
	if h.Upper {
		w.Value += h.Step
	} else {
		w.Value -= h.Step
	}
	moved := newBridge(&looser)
	h.Moved = min(h.Off, moved.missAt(moved.nearest(ctx, [][]float64{b.freeOf(o.X)}, 0)))
}

// slotsAt are all slots in internal units at the free dimensions x.
func (b *bridge) slotsAt(x []float64) []float64 {
	b.at(x)
	return b.slots
}
