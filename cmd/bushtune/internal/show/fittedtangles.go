package show

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing/quantity"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/optimize"
)

// strongly is the correlation from which two estimates are named together, and
// mostPairs how many of them are, the strongest first.
const (
	strongly  = 0.9
	mostPairs = 3
)

// pair is two estimates that go together.
type pair struct {
	i, j        int
	correlation float64
}

// pairs lists those that go together strongly.
func (f *Fitted) pairs() []pair {
	var all []pair
	for i := range f.Estimates {
		for j := i + 1; j < len(f.Estimates); j++ {
			if r := f.Correlation(i, j); math.Abs(r) >= strongly {
				all = append(all, pair{i, j, r})
			}
		}
	}
	quantity.GreatestFirst(all, func(p pair) float64 { return math.Abs(p.correlation) })
	return all
}

// tangles says which values the data do not tell apart.
func (f *Fitted) tangles(p *Page) {
	p.blank()
	p.Heading("WHAT THE DATA DO NOT TELL APART")
	f.directions(p)
	pairs := f.pairs()
	for _, x := range pairs[:min(mostPairs, len(pairs))] {
		p.Prose("  ", f.together(x))
	}
	switch {
	case len(pairs) > mostPairs:
		p.Prose("  ", fmt.Sprintf("%s more with a correlation of %g or more; --format csv lists all.", plural(len(pairs)-mostPairs, "pair"), strongly))
	case len(pairs) == 0 && len(f.Unseen) == 0:
		p.Prose("  ", fmt.Sprintf("Nothing: no two values go together by a correlation of %g or more.", strongly))
	}
}

// directions lists the combinations that are not seen, and what the values that
// take part in them are if the others are right.
func (f *Fitted) directions(p *Page) {
	if len(f.Unseen) > 0 {
		p.Prose("  ", "The readings change by no more than they scatter if you change")
	}
	for _, d := range f.Unseen {
		p.Prose("    ", f.direction(d))
	}
	for i := range f.Estimates {
		if e := &f.Estimates[i]; e.Standing == optimize.Tangled {
			p.Prose("  ", fmt.Sprintf("If the values not seen are as in the file, %s is %s ± %s %s (standard error).", f.Parameters[i].Path,
				certain(e.Value, e.Error), certain(e.Error, e.Error), f.Parameters[i].Unit.Name))
		}
	}
}

// direction words a combination that is not seen.
func (f *Fitted) direction(d optimize.Direction) string {
	path := func(k int) string { return f.Parameters[d.Parameters[k]].Path }
	if len(d.Parameters) == 1 {
		return path(0) + ", anywhere within its bounds."
	}
	var parts []string
	for k, share := range d.Shares {
		word := "up"
		if share < 0 {
			word = "down"
		}
		q := &f.Parameters[d.Parameters[k]]
		parts = append(parts, fmt.Sprintf("%s %s by %s", path(k), word, stepOf(q, share/d.Shares[0])))
	}
	return strings.Join(parts, ", ") + "."
}

// stepOf is a tenth of a parameter's range times a share, in words.
func stepOf(q *axlefile.Parameter, share float64) string {
	share = math.Abs(share) / 10
	if q.Log {
		return significant(100*(math.Pow(q.To/q.From, share)-1), 2) + " %"
	}
	return strings.TrimSpace(significant(share*(q.To-q.From), 2) + " " + q.Unit.Name)
}

// together words a strong correlation.
func (f *Fitted) together(x pair) string {
	how := "both larger or both smaller fit nearly as well"
	if x.correlation < 0 {
		how = "one larger and the other smaller fit nearly as well"
	}
	return fmt.Sprintf("%s and %s: correlation %+.3f, %s.", f.Parameters[x.i].Path, f.Parameters[x.j].Path, x.correlation, how)
}
