package compliance

import (
	"math"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/exact"
)

// effect is what of its lines a slot changes.
type effect struct{ rate, force, moment, load, warp, stiffen bool }

func (e effect) String() string {
	words := map[string]bool{"rate": e.rate, "force": e.force, "moment": e.moment, "load": e.load, "warping": e.warp, "stiffening": e.stiffen}
	var is []string
	for _, w := range []string{"rate", "force", "moment", "load", "warping", "stiffening"} {
		if words[w] {
			is = append(is, w)
		}
	}
	return strings.Join(is, " ")
}

// effectOf seeds one slot and looks at what of the lines has a derivative.
func effectOf(e *Element, slot int) (f effect) {
	slots := make([]complex128, len(e.Slots))
	for i, v := range e.Slots {
		slots[i] = complex(v, 0)
	}
	slots[slot] = exact.Seed(e.Slots[slot])
	var lines Lines[complex128]
	e.Kind.exact(e, slots, exact.Vec[complex128]{100, 0, 50}, &lines)
	const dust = 1e-15 * exact.Step // of a derivative that is zero but for rounding
	moves := func(x complex128) bool { return imag(x) > dust || imag(x) < -dust }
	for l := range lines.Count {
		f.rate = f.rate || moves(lines.Rate[l]/complex(1+exact.Real(exact.Abs(lines.Rate[l])), 0))
		f.load = f.load || moves(lines.Load[l])
		f.warp = f.warp || moves(lines.Warp[l][0]) || moves(lines.Warp[l][1])
		for r := range 3 {
			f.force = f.force || moves(lines.Wrench[l][r])
			f.moment = f.moment || moves(lines.Wrench[l][3+r]/1e3)
		}
	}
	for _, t := range lines.Second {
		f.stiffen = f.stiffen || moves(t.by)
	}
	return f
}

const (
	place     = "moment"
	direction = "force moment"
	line      = "force moment"
	rateOnly  = "rate"
	loadOnly  = "load"
	nothing   = ""
)

// sharedMount says what the slots that place a bush do on each base.
func sharedMount(base bushing.Base) map[string]string {
	m := map[string]string{"at.x": place, "at.y": place, "at.z": place, "clock": direction}
	if base == bushing.Lateral || base == bushing.Longitudinal {
		m["plan"], m["lift"] = direction, direction
	}
	if base == bushing.Vertical {
		m["lean_forward"], m["lean_outboard"] = direction, direction
	}
	if base == bushing.Explicit {
		for _, name := range []string{"axis.x", "axis.y", "axis.z", "soft_axis.x", "soft_axis.y", "soft_axis.z"} {
			m[name] = direction
		}
	}
	return m
}

func join(lists ...map[string]string) map[string]string {
	all := map[string]string{}
	for _, m := range lists {
		for k, v := range m {
			all[k] = v
		}
	}
	return all
}

// bushEffects: rates act on rates alone, elastic axes on the force lines, torsion
// on the load of a bolt tightened elsewhere too.
func bushEffects(base bushing.Base) map[string]string {
	return join(sharedMount(base), map[string]string{
		"soft": rateOnly, "axial": rateOnly, "stiff": rateOnly, "cone_soft": rateOnly, "cone_stiff": rateOnly, "torsion": "rate load", "bracket": rateOnly,
		"elastic_plan": direction, "elastic_lift": direction, "preload.x": loadOnly, "preload.y": loadOnly, "preload.z": loadOnly, "tightened_at": loadOnly})
}

// rubberEffects: what a bush by its dimensions shares with a plain one does the
// same; each dimension acts on rates, and through torsion on the load of a bolt
// tightened elsewhere. Gaps and stops do nothing to the tangent without load.
func rubberEffects(base bushing.Base) map[string]string {
	m := bushEffects(base)
	for _, name := range byRubber {
		delete(m, name)
	}
	for _, name := range []string{"inner_diameter", "outer_diameter", "length", "hardness", "void_arc", "void_depth", "temperature_factor", "ageing_factor"} {
		m[rubberPrefix+name] = "rate load"
	}
	return m
}

func matrixEffects(base bushing.Base) map[string]string {
	m := sharedMount(base)
	for _, f := range BushMatrix.Fields[mountSlots:] {
		m[f.Name] = "any"
	}
	return m
}

func points(names ...string) map[string]string {
	m := map[string]string{}
	for _, n := range names {
		m[n+".x"], m[n+".y"], m[n+".z"] = line, line, line
	}
	return m
}

// beamEffects of a beam between two ends: the section's numbers reach rates,
// through the mixed terms directions, through centroid and shear centre places.
func beamEffects() map[string]string {
	ends := map[string]string{}
	for _, n := range []string{"start", "end"} {
		for _, axis := range []string{".x", ".y", ".z"} {
			ends[n+axis] = "rate force moment warping stiffening"
		}
	}
	return join(ends, map[string]string{
		"tilt": direction, "youngs_modulus": "any", "poissons_ratio": "any", "area": "rate stiffening",
		"inertia_forward": "rate force moment stiffening", "inertia_up": "rate force moment stiffening", "inertia_mixed": "rate force moment stiffening",
		"shear_forward": "rate force moment stiffening", "shear_up": "rate force moment stiffening", "shear_mixed": "rate force moment stiffening",
		"torsion_constant": "any", "warping_constant": "any", "second_warping_constant": "any",
		"centroid.f": "moment stiffening", "centroid.u": "moment stiffening", "shear_centre.f": "moment stiffening", "shear_centre.u": "moment stiffening",
		"monosymmetry.f": "stiffening", "monosymmetry.u": "stiffening"})
}

// Every slot of every kind changes of its lines what its name says and nothing
// else; a slot that is not listed changes nothing.
func TestSlotsReachTheirLines(t *testing.T) {
	seats := with(point("upper", vec{-30, 490, 560}), point("lower", vec{-20, 500, 320}))
	links := with(point("inner", vec{30, 230, 280}), point("outer", vec{40, 520, 270}))
	bush := with(turnedBush, values{"tightened_at": 3, "soft_axis.x": 0.2})
	full := with(matrixValues(), values{"lift": 5, "lean_forward": 3, "lean_outboard": 4, "axis.x": 1, "axis.y": 2, "axis.z": 0.4, "soft_axis.x": 0.2, "soft_axis.z": 1})
	beam := with(offCentre, with(point("start", vec{270, 550, 310}), point("end", vec{240, 20, 312})))
	for _, c := range []struct {
		kind   *Kind
		v      values
		choice Choice
		want   map[string]string
	}{
		{Bush, bush, Choice{Base: bushing.Lateral}, bushEffects(bushing.Lateral)},
		{Bush, bush, Choice{Base: bushing.Longitudinal}, bushEffects(bushing.Longitudinal)},
		{Bush, bush, Choice{Base: bushing.Vertical}, bushEffects(bushing.Vertical)},
		{Bush, bush, Choice{Base: bushing.Explicit}, bushEffects(bushing.Explicit)},
		{BushRubber, with(turnedRubber, values{"tightened_at": 3}), Choice{Base: bushing.Lateral}, rubberEffects(bushing.Lateral)},
		{BushRubber, with(turnedRubber, values{"tightened_at": 3}), Choice{Base: bushing.Vertical}, rubberEffects(bushing.Vertical)},
		{BushMatrix, full, Choice{Base: bushing.Lateral}, matrixEffects(bushing.Lateral)},
		{BushMatrix, full, Choice{Base: bushing.Explicit}, matrixEffects(bushing.Explicit)},
		{Spring, with(seats, values{"rate": 24, "load": 1}), Choice{}, join(points("upper", "lower"), map[string]string{"rate": rateOnly, "load": loadOnly})},
		{BumpStop, with(seats, values{"rate": 24, "load": 1}), Choice{}, join(points("upper", "lower"), map[string]string{"rate": rateOnly, "load": loadOnly})},
		{BumpStop, with(seats, values{"rate": 24, "gap": 1}), Choice{}, points("upper", "lower")},
		{Damper, with(seats, values{"gas_load": 1}), Choice{}, join(points("upper", "lower"), map[string]string{"gas_load": loadOnly})},
		{Link, with(links, values{"inner_rate": 4e3, "outer_rate": 5e3, "rod_rate": 3e4}), Choice{},
			join(points("inner", "outer"), map[string]string{"inner_rate": rateOnly, "outer_rate": rateOnly, "rod_rate": rateOnly})},
		{TorsionBar, values{"axis.x": 1, "axis.y": 2, "axis.z": 3, "rate": 4}, Choice{},
			map[string]string{"axis.x": place, "axis.y": place, "axis.z": place, "rate": rateOnly}},
		{Beam, beam, Choice{Ends: [2]Warping{BuiltIn, Continuous}}, beamEffects()},
	} {
		e := element(t, c.kind, "x", Centre, 0, 1, c.v)
		e.Choice = c.choice
		e.outer = outerEnds{ends: [2]Warping{BuiltIn, Free}, share: 1}
		for i, f := range c.kind.Fields {
			got, want := effectOf(&e, i).String(), c.want[f.Name]
			if want == "any" && got != nothing {
				continue
			}
			if got != want {
				t.Errorf("%s %s, base %d: %s changes %q, want %q", c.kind.Table, c.kind.Variant, c.choice.Base, f.Name, got, want)
			}
		}
		for name := range c.want {
			if c.kind.FieldIndex(name) < 0 {
				t.Errorf("%s has no field %q", c.kind.Table, name)
			}
		}
	}
}

// Names of fields are unique within a kind, defaults are inside their range
// unless zero stands for absent, and lines have words.
func TestKindsHoldTogether(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range Kinds() {
		if key := k.Table + "/" + k.Variant; seen[key] || k.Meaning == "" {
			t.Errorf("%s: twice, or without a meaning", key)
		} else {
			seen[key] = true
		}
		names := map[string]bool{}
		for i, f := range k.Fields {
			if names[f.Name] || f.Meaning == "" || k.FieldIndex(f.Name) != i {
				t.Errorf("%s %s: field %q is there twice or has no meaning", k.Table, k.Variant, f.Name)
			}
			names[f.Name] = true
			if f.Default != 0 && !f.Allows(f.Default) || f.Required && f.Default != 0 {
				t.Errorf("%s %s: default %g of %q", k.Table, k.Variant, f.Default, f.Name)
			}
			if want := f.Default * f.Unit.Factor; k.Defaults()[i] != want {
				t.Errorf("%s %s: default slot %q is %g, want %g", k.Table, k.Variant, f.Name, k.Defaults()[i], want)
			}
		}
		if len(k.Lines) > maxLines || len(k.Released) > len(k.Lines) {
			t.Errorf("%s %s: %d words for lines, %d released", k.Table, k.Variant, len(k.Lines), len(k.Released))
		}
		for l, slot := range k.RateSlots {
			if k.Fields[slot].Name != k.Lines[l] {
				t.Errorf("%s %s: the rate of line %q is slot %q", k.Table, k.Variant, k.Lines[l], k.Fields[slot].Name)
			}
		}
	}
	for _, axle := range testAxles(t) {
		s := newSolver(t, axle)
		for i := range axle.Elements {
			if n, words := s.LineCount(i), len(axle.Elements[i].Kind.Lines); n > words {
				t.Errorf("%s has %d lines and %d words", axle.Elements[i].Label(), n, words)
			}
		}
	}
}

// Every line of an element has a word of its own, and the words of warping name
// the end whose twist rate the line takes at full.
func TestLinesHaveTheirWords(t *testing.T) {
	ends := map[string]int{"warping at from": 0, "warping at to": 1}
	seen := map[string]bool{}
	for _, axle := range testAxles(t) {
		s := newSolver(t, axle)
		for i := range axle.Elements {
			e, words := &axle.Elements[i], map[string]bool{}
			for l := range s.LineCount(i) {
				word := e.LineWord(l)
				if words[word] {
					t.Errorf("%s: two lines are called %q", e.Label(), word)
				}
				words[word] = true
				end, ok := ends[word]
				if ok && (math.Abs(s.lines[i].Warp[l][end]) != 1 || e.Choice.Ends[end] != Continuous) {
					t.Errorf("%s: line %d is called %q and takes %v of the twist rates", e.Label(), l, word, s.lines[i].Warp[l])
				}
				seen[word] = seen[word] || ok
			}
		}
	}
	if !seen["warping at from"] || !seen["warping at to"] {
		t.Error("no beam of the test axles goes on at both ends")
	}
}
