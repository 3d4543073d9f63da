package plausible

import (
	"fmt"
	"math"
	"strings"

	"bushtune/bushing"
	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// placeChecks hold places against each other.
func placeChecks() []check {
	mm, none := quantity.Millimetre, quantity.None
	return []check{
		{name: "ground", what: "one contact point stands above the other by", unit: mm, low: 0, high: 2, usual: "within 2 mm: the ground is one plane",
			slip: "centre or radius of one wheel?", read: unevenGround},
		{name: "one_unit", what: "the two places farthest apart lie", unit: mm, low: 700, high: 3500, slip: "m, cm or inches written for mm?", read: extent},
		{name: "pivot_ahead", unit: mm, low: 120, high: 900, usual: "120 to 900 mm ahead of the wheel centre",
			slip: "x points forward", read: pivotsAhead},
		{name: "above_ground", from: "wheel.loaded_radius", unit: mm, low: 60, high: 1100, usual: "60 to 1100 mm above the ground under the wheels", slip: "z of another origin?", read: heights},
		{name: "inside_wheel", from: "wheel.centre.y", unit: mm, low: math.Inf(-1), high: 50, usual: "no farther out than 50 mm beyond the wheel centre", slip: "y of another part?", read: outboard},
		{name: "link_length", what: "length", unit: mm, low: 60, high: 1100, slip: "an end of another part?", read: linkLengths},
		{name: "strut_length", what: "length", unit: mm, low: 80, high: 900, slip: "a seat of another part?", read: strutLengths},
		{name: "strut_upright", unit: mm, low: 60, high: math.Inf(1), usual: "the end on the body at least 60 mm above the other", slip: "ends exchanged?", read: upright},
		{name: "spring_lean", unit: quantity.None, low: 0, high: 50, usual: "within 50 deg of vertical", slip: "an inboard spring? its name can say inboard", read: leans},
		{name: "cross_member", unit: none, usual: "between the wheels and 80 mm ahead of the pivots", slip: "x points forward", read: crossMembers},
		{name: "cross_member_ends", from: "wheel.centre.y", unit: mm, low: 60, high: math.Inf(1), usual: "ends at least 60 mm inboard of the wheel centres", slip: "ends_y is half the length", read: crossEnds},
		{name: "links_ahead", unit: none, usual: "a link along the car that runs ahead from the wheel", slip: "x points forward", read: leadingLinks},
		{name: "link_ends", unit: none, usual: "the end on the wheel's side farther out", slip: "ends exchanged?", read: linkEnds},
		{name: "bar_across", unit: none, low: 0, high: 30, usual: "within 30 deg of the lateral axis, [0, 1, 0]", read: barsAcross},
		{name: "twins", unit: none, usual: "one part in one place", slip: "two there have twice the rate", read: twins},
		{name: "in_the_middle", unit: none, usual: `side = "one" in the middle of the car`, slip: "with its mirror image it has twice the rate", read: middles},
		{name: "hand", unit: none, usual: "for the left, y above 0", slip: "the wrong sign, or a part of the other side?", read: hands},
		{name: "one_sided", unit: none, usual: "a part on each side", slip: "a part that is meant once can say so in its name, as a Panhard rod", read: oneSided},
	}
}

func unevenGround(j *judge) []finding {
	l, r := compliance.NewWheelGeometry(j.Axle.Wheels[0].Slots), compliance.NewWheelGeometry(j.Axle.Wheels[1].Slots)
	return []finding{{key: "wheel.right", value: math.Abs(ground(&l) - ground(&r))}}
}

// extent is the largest distance between any two places, wheel centres among them.
func extent(j *judge) []finding {
	var all []vec
	for w := range j.Axle.Wheels {
		c := compliance.NewWheelGeometry(j.Axle.Wheels[w].Slots).Centre
		if w == 1 {
			c[1] = -c[1]
		}
		all = append(all, c)
	}
	for _, p := range j.parts() {
		for _, q := range p.points {
			all = append(all, p.inCar(q.at))
		}
	}
	far := 0.0
	for i, a := range all {
		for _, b := range all[:i] {
			far = max(far, a.Sub(b).Norm())
		}
	}
	return one(far)
}

// pivotsAhead are the bushes that hold the body of a wheel, and how far ahead of it.
func pivotsAhead(j *judge) (all []finding) {
	for _, p := range j.parts() {
		if p.Kind.Table != compliance.Bush.Table || p.twin {
			continue
		}
		body := p.To
		if !j.carries(body) || !j.outside(p.From) {
			body = p.From
			if body == compliance.Vehicle || !j.carries(body) || !j.outside(p.To) {
				continue
			}
		}
		if j.linksOn(body) >= 3 {
			continue
		}
		ahead := p.points[0].at[0] - j.wheelOf(p.Element).Centre[0]
		f := finding{key: p.path + ".at.x", value: ahead, text: fmt.Sprintf("the pivot lies %s mm ahead of the wheel centre", digits(ahead))}
		if ahead < 0 {
			f.text = fmt.Sprintf("the pivot lies %s mm behind the wheel centre: a leading arm, which steers the other way", digits(-ahead))
		}
		all = append(all, f)
	}
	return all
}

// eachPlace calls f for every place that is told for itself.
func (j *judge) eachPlace(f func(p *part, q *point, w *compliance.WheelGeometry[float64])) {
	for _, p := range j.parts() {
		for i := range p.points {
			if !p.twin {
				f(&p, &p.points[i], j.wheelOf(p.Element))
			}
		}
	}
}

// key is the path of a component of a place; a cross-member may be placed by its
// middle.
func (p *part) key(q *point, component string) string {
	if p.Kind.Table == compliance.Beam.Table && p.Slots[p.Kind.FieldIndex("ends_y")] != 0 {
		if component == "y" {
			return p.path + ".ends_y"
		}
		return p.path + ".at." + component
	}
	return p.path + "." + q.name + "." + component
}

// seenOnce drops findings of a value that has one already.
func seenOnce(all []finding) []finding {
	seen := map[string]bool{}
	var kept []finding
	for _, f := range all {
		if !seen[f.key] {
			kept = append(kept, f)
		}
		seen[f.key] = true
	}
	return kept
}

func heights(j *judge) (all []finding) {
	j.eachPlace(func(p *part, q *point, w *compliance.WheelGeometry[float64]) {
		h := q.at[2] - ground(w)
		f := finding{key: p.key(q, "z"), value: h, text: "lies " + digits(h) + " mm above the ground"}
		if h < 0 {
			f.text = "lies " + digits(-h) + " mm below the ground"
		}
		all = append(all, f)
	})
	return seenOnce(all)
}

func outboard(j *judge) (all []finding) {
	j.eachPlace(func(p *part, q *point, w *compliance.WheelGeometry[float64]) {
		out := math.Abs(q.at[1]) - w.Centre[1]
		all = append(all, finding{key: p.key(q, "y"), value: out, text: "lies " + digits(out) + " mm outboard of the wheel centre"})
	})
	return seenOnce(all)
}

func (p *part) length() float64 { return p.points[1].at.Sub(p.points[0].at).Norm() }

func linkLengths(j *judge) (all []finding) {
	for _, p := range j.parts() {
		if p.Kind == compliance.Link && !p.twin {
			length := p.length()
			if p.Side == compliance.Centre && length > 1100 && length <= 1500 { // a rod across the car
				continue
			}
			all = append(all, finding{key: p.path, value: length})
		}
	}
	return all
}

// arm is a link that holds the body of a wheel from outside: its end there and its
// end on the wheel's body.
func (j *judge) arm(p *part) (outside, wheel vec, body int, is bool) {
	if p.Kind != compliance.Link {
		return
	}
	a, b := p.points[0].at, p.points[1].at
	switch {
	case p.To != compliance.Vehicle && j.carries(p.To) && j.outside(p.From):
		return a, b, p.To, true
	case p.From != compliance.Vehicle && j.carries(p.From) && j.outside(p.To):
		return b, a, p.From, true
	}
	return
}

// leadingLinks finds bodies of wheels whose links along the car all run rearward.
func leadingLinks(j *judge) (all []finding) {
	ahead, behind := map[int]bool{}, map[int]string{}
	for _, p := range j.parts() {
		outside, wheel, body, is := j.arm(&p)
		d := outside.Sub(wheel)
		switch {
		case !is || math.Abs(d[0]) < 2*max(math.Abs(d[1]), math.Abs(d[2])):
		case d[0] > 0:
			ahead[body] = true
		case behind[body] == "" && !p.twin:
			behind[body] = p.path
		}
	}
	for body := range j.Axle.Bodies {
		if path := behind[body]; path != "" && !ahead[body] {
			all = append(all, finding{key: path, value: 1, text: "runs rearward from the wheel, and no link runs ahead: leading links, which steer and lift the other way"})
		}
	}
	return seenOnce(all)
}

// linkEnds finds links across the car whose end on the wheel's side lies farther in.
func linkEnds(j *judge) (all []finding) {
	for _, p := range j.parts() {
		outside, wheel, _, is := j.arm(&p)
		d := wheel.Sub(outside)
		if is && !p.twin && p.Side != compliance.Centre && -d[1] > max(math.Abs(d[0]), math.Abs(d[2])) {
			all = append(all, finding{key: p.path, value: 1, text: "its end on the wheel's side lies " + digits(-d[1]) + " mm inboard of the other"})
		}
	}
	return all
}

// isStrut tells springs and dampers, which stand.
func isStrut(p *part) bool { return p.Kind == compliance.Spring || p.Kind == compliance.Damper }

func strutLengths(j *judge) (all []finding) {
	for _, p := range j.parts() {
		if isStrut(&p) && !p.twin {
			all = append(all, finding{key: p.path, value: p.length()})
		}
	}
	return all
}

// inboard is the word in the name of an element that need not stand.
const inboard = "inboard"

func upright(j *judge) (all []finding) {
	for _, p := range j.parts() {
		stop := p.Kind == compliance.BumpStop
		if p.twin || !isStrut(&p) && !stop || strings.Contains(p.Name, inboard) {
			continue
		}
		upper, lower := j.bodySide(&p)
		above := upper[2] - lower[2]
		f := finding{key: p.path, value: above, text: "the end on the body stands only " + digits(above) + " mm above the other"}
		if above < 0 {
			f.text = "the end on the body lies " + digits(-above) + " mm below the other, so it pushes the body down"
		}
		if stop && above >= 0 { // a stop may be short
			f.value = math.Inf(1)
		}
		all = append(all, f)
	}
	return all
}

func leans(j *judge) (all []finding) {
	for _, p := range j.parts() {
		if p.Kind != compliance.Spring || p.twin || strings.Contains(p.Name, inboard) {
			continue
		}
		d := p.points[0].at.Sub(p.points[1].at)
		lean := degrees(math.Acos(math.Abs(d[2]) / d.Norm()))
		all = append(all, finding{key: p.path, value: lean, text: "leans " + digits(math.Round(lean)) + " deg from vertical"})
	}
	return all
}

func degrees(radians float64) float64 { return radians * perDegree }

// crossMembers lie between the wheels and a little ahead of the pivots.
func crossMembers(j *judge) (all []finding) {
	for _, p := range j.parts() {
		if p.Kind.Table != compliance.Beam.Table || !j.cross(&p) || !j.carries(p.From) || !j.carries(p.To) {
			continue
		}
		pivot := math.Inf(-1)
		for _, b := range j.parts() {
			if b.Kind.Table == compliance.Bush.Table && (b.From == p.From || b.To == p.From) {
				pivot = max(pivot, b.points[0].at[0])
			}
		}
		w := compliance.NewWheelGeometry(j.Axle.Wheels[0].Slots)
		x := (p.points[0].at[0] + p.points[1].at[0]) / 2
		switch behind, ahead := w.Centre[0]-x, x-pivot; {
		case behind > 80:
			all = append(all, finding{key: p.key(&p.points[0], "x"), value: behind, text: "the cross-member lies " + digits(behind) + " mm behind the wheels"})
		case ahead > 80 && !math.IsInf(pivot, 0):
			all = append(all, finding{key: p.key(&p.points[0], "x"), value: ahead, text: "the cross-member lies " + digits(ahead) + " mm ahead of the pivots"})
		}
	}
	return all
}

func crossEnds(j *judge) (all []finding) {
	for _, p := range j.parts() {
		if p.Kind.Table != compliance.Beam.Table || !j.cross(&p) || !j.carries(p.From) || !j.carries(p.To) {
			continue
		}
		for i, w := range j.Axle.Wheels {
			inside := w.Slots[1] - math.Abs(p.points[i].at[1])
			all = append(all, finding{key: p.key(&p.points[i], "y"), value: inside, text: "the cross-member ends " + digits(inside) + " mm inboard of the wheel centre"})
		}
	}
	return seenOnce(all)
}

func barsAcross(j *judge) (all []finding) {
	for _, p := range j.parts() {
		if p.Kind != compliance.TorsionBar {
			continue
		}
		axis := vec(p.Slots[:3])
		off := degrees(math.Acos(min(1, math.Abs(axis[1])/axis.Norm())))
		all = append(all, finding{key: p.path + ".axis", value: off, text: "the bar's axis lies " + digits(math.Round(off)) + " deg off the lateral axis"})
	}
	return all
}

// sameSpot is how near two places count as one, in mm.
const sameSpot = 3

func twins(j *judge) (all []finding) {
	parts := j.parts()
	for i := range parts {
		for k := range parts[:i] {
			if a, b := &parts[k], &parts[i]; sameParts(a, b) {
				all = append(all, finding{key: b.path, value: 1, text: "lies where " + a.path + " lies, between the same bodies"})
				break
			}
		}
	}
	return seenOnce(all)
}

// sameParts tells whether two elements of one table join the same bodies in the same
// places.
func sameParts(a, b *part) bool {
	if a.Kind.Table != b.Kind.Table || len(a.points) != len(b.points) || a.Name == b.Name {
		return false
	}
	straight, turned := a.From == b.From && a.To == b.To, a.From == b.To && a.To == b.From
	if !straight && !turned {
		return false
	}
	if len(a.points) == 0 { // bars have no place
		return vec(a.Slots[:3]).Unit().Cross(vec(b.Slots[:3]).Unit()).Norm() < 1e-3
	}
	for n := range a.points {
		m := n
		if turned {
			m = len(b.points) - 1 - n
		}
		if a.inCar(a.points[n].at).Sub(b.inCar(b.points[m].at)).Norm() > sameSpot {
			return false
		}
	}
	return true
}

func middles(j *judge) (all []finding) {
	for _, p := range j.parts() {
		if p.Side != compliance.Left || len(p.points) == 0 || p.Kind.Table == compliance.Beam.Table || !j.sharedBodies(&p) {
			continue
		}
		off := 0.0
		for _, q := range p.points {
			off = max(off, math.Abs(q.at[1]))
		}
		if off <= sameSpot {
			all = append(all, finding{key: p.path, value: 1, text: "lies in the middle of the car and exists on both sides"})
		}
	}
	return all
}

// sharedBodies tells whether both bodies of a left element are the same for its right one.
func (j *judge) sharedBodies(p *part) bool {
	for _, o := range j.Axle.Elements {
		if o.Side == compliance.Right && o.Name == p.Name && o.Kind.Table == p.Kind.Table {
			return o.From == p.From && o.To == p.To
		}
	}
	return false
}

// hands are places of two-sided parts right of the middle; a link may cross it.
func hands(j *judge) (all []finding) {
	j.eachPlace(func(p *part, q *point, _ *compliance.WheelGeometry[float64]) {
		if p.Side == compliance.Centre || q.at[1] >= -sameSpot || p.Kind == compliance.Link && p.points[0].at[1]*p.points[1].at[1] < 0 && math.Abs(q.at[1]) < 150 {
			return
		}
		all = append(all, finding{key: p.key(q, "y"), value: 1, text: "lies " + digits(-q.at[1]) + " mm on the other side of the car"})
	})
	return all
}

// meantOnce are words in a title or name that say that a part is meant to be there
// once.
var meantOnce = []string{"panhard", "watt", "track", "diagonal", "torque", "one", "single", "left", "right", "lateral", "side"}

func oneSided(j *judge) (all []finding) {
	for _, p := range j.parts() {
		alone := p.Side == compliance.Left || p.Side == compliance.Right
		for _, o := range j.Axle.Elements {
			if o.Kind.Table == p.Kind.Table && o.Name == p.Name && o.Side != p.Side {
				alone = false
			}
		}
		if p.Side == compliance.Centre {
			alone = p.lopsided() && !j.hasMirror(&p)
		}
		words := strings.ToLower(p.Name)
		named := strings.Contains(strings.ToLower(j.Title), "asymmetric")
		for _, w := range meantOnce {
			named = named || strings.Contains(words, w)
		}
		if alone && !named {
			text := "exists on one side only"
			if p.Side != compliance.Centre {
				text = "exists on the " + p.Side.String() + " only"
			}
			all = append(all, finding{key: p.path, value: 1, text: text})
		}
	}
	return all
}

// lopsided tells whether a central part is not its own mirror image.
func (p *part) lopsided() bool {
	switch len(p.points) {
	case 1:
		return math.Abs(p.points[0].at[1]) > sameSpot
	case 2:
		a, b := p.points[0].at, p.points[1].at
		own := math.Abs(a[1]) <= sameSpot && math.Abs(b[1]) <= sameSpot
		a[1] = -a[1]
		return !own && a.Sub(b).Norm() > sameSpot
	}
	return false
}

// hasMirror tells whether another central part of the table is the mirror image.
func (j *judge) hasMirror(p *part) bool {
	for _, o := range j.parts() {
		if o.index == p.index || o.Kind.Table != p.Kind.Table || o.Side != compliance.Centre || len(o.points) != len(p.points) {
			continue
		}
		same, back := true, true // its points in the same order, or from the other end
		for n := range p.points {
			a := p.points[n].at
			a[1] = -a[1]
			same = same && a.Sub(o.points[n].at).Norm() <= 10
			back = back && a.Sub(o.points[len(p.points)-1-n].at).Norm() <= 10
		}
		if same || back {
			return true
		}
	}
	return false
}

// rateChecks hold the rates of a bush against each other.
func rateChecks() []check {
	none, mm := quantity.None, quantity.Millimetre
	return []check{
		{name: "soft_and_stiff", what: "stiff over soft", unit: none, low: 0.999, high: 40, usual: "stiff 1 to 40 times soft", slip: "soft and stiff exchanged?", above: "one of them 1000 times too small or too large?", read: stiffOverSoft},
		{name: "axial_and_stiff", what: "axial over stiff", unit: none, low: 0, high: 4, usual: "axial up to 4 times stiff", slip: "axial in N/m?", read: axialOverStiff},
		{name: "cone_length", what: "√(12·cone/stiff), about the length of the rubber,", unit: mm, low: 6, high: 300, slip: "N·m/rad for N·m/deg, or N/m for N/mm?", read: coneLengths},
		{name: "torsion_radius", what: "√(torsion/axial), about the radius of the rubber,", unit: mm, low: 1, high: 90, slip: "N·m/rad for N·m/deg, or N/m for N/mm?", read: torsionRadii},
		{name: "radial_held", unit: none, usual: "a rate along both radials", slip: "a rate forgotten?", read: radialHeld},
		{name: "wall", what: "wall of the rubber", unit: mm, low: 3, high: 40, slip: "a radius written for a diameter?", read: walls},
		{name: "snubber", what: "snubber over rate", unit: none, low: 0.5, high: math.Inf(1), usual: "at least half the rate it is added to", read: snubbers},
		{name: "gap_below_limit", unit: none, usual: "a gap below the travel that the supplier allows", read: gapsAboveTravel},
	}
}

// eachBush calls f for every bush that has rates and is told for itself.
func (j *judge) eachBush(f func(p *part, b *bushing.Bush[float64])) {
	for _, p := range j.parts() {
		if b, is := p.Bush(); is && !p.twin {
			f(&p, &b)
		}
	}
}

// ratio is a finding unless either value is absent.
func ratio(key string, over, under float64, f func(float64) float64) []finding {
	if over <= 0 || under <= 0 {
		return nil
	}
	return []finding{{key: key, value: f(over / under)}}
}

func plain(x float64) float64 { return x }

func stiffOverSoft(j *judge) (all []finding) {
	j.eachBush(func(p *part, b *bushing.Bush[float64]) { all = append(all, ratio(p.path, b.Stiff, b.Soft, plain)...) })
	return all
}

func axialOverStiff(j *judge) (all []finding) {
	j.eachBush(func(p *part, b *bushing.Bush[float64]) {
		all = append(all, ratio(p.path, b.Axial, max(b.Stiff, b.Soft), plain)...)
	})
	return all
}

func coneLengths(j *judge) (all []finding) {
	length := func(x float64) float64 { return math.Sqrt(12 * x) }
	j.eachBush(func(p *part, b *bushing.Bush[float64]) {
		found := ratio(p.path, b.ConeSoft, b.Stiff, length)
		if found == nil {
			found = ratio(p.path, b.ConeStiff, b.Soft, length)
		}
		all = append(all, found...)
	})
	return all
}

func torsionRadii(j *judge) (all []finding) {
	j.eachBush(func(p *part, b *bushing.Bush[float64]) {
		all = append(all, ratio(p.path, b.Torsion, b.Axial, math.Sqrt)...)
	})
	return all
}

func radialHeld(j *judge) (all []finding) {
	j.eachBush(func(p *part, b *bushing.Bush[float64]) {
		laws := b.Laws(p.Choice.Curves)
		for _, d := range []bushing.Direction{bushing.Soft, bushing.Stiff} {
			curve := p.Choice.Curves != nil && p.Choice.Curves.Tables[d] != nil
			if laws[d].Rate == 0 && !curve && b.Gap[d] == 0 {
				all = append(all, finding{key: p.path + "." + bushing.DirectionNames[d], value: 1, text: "nothing holds the bush along its " + bushing.DirectionNames[d] + " radial"})
			}
		}
	})
	return all
}

func walls(j *judge) (all []finding) {
	for _, p := range j.parts() {
		if d, is := p.Rubber(); is && !p.twin {
			all = append(all, finding{key: p.path + ".rubber", value: (d.Outer - d.Inner) / 2})
		}
	}
	return all
}

func snubbers(j *judge) (all []finding) {
	j.eachBush(func(p *part, b *bushing.Bush[float64]) {
		if p.Kind.Variant != "" { // dimensions give both
			return
		}
		for d, rate := range [3]float64{b.Soft, b.Axial, b.Stiff} {
			all = append(all, ratio(p.path+"."+bushing.DirectionNames[d]+"_snubber", b.Snubber[d], rate, plain)...)
		}
	})
	return all
}

func gapsAboveTravel(j *judge) (all []finding) {
	j.eachBush(func(p *part, b *bushing.Bush[float64]) {
		for d, limit := range [3]float64{b.MaxRadialTravel, b.MaxAxialTravel, b.MaxRadialTravel} {
			if limit > 0 && b.Gap[d] > limit {
				name := bushing.DirectionNames[d] + "_gap"
				all = append(all, finding{key: p.path + "." + name, value: 1, text: "the gap of " + digits(b.Gap[d]) + " mm is beyond the travel allowed, " + digits(limit) + " mm"})
			}
		}
	})
	return all
}
