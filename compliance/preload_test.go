package compliance

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"bushtune/compliance/section"
)

// How far what a load at rest does to stiffness may be off that of solids: a
// couple's change of the rate of twist by its own size, of the forces and the
// moments that go with a twist by the largest like change that a couple makes.
// Shear at rest does little; it is off by more, measured at most 10.4 % (U), for
// walls of solids give way to the shear of warping, which beam theory leaves out.
const (
	coupleShare = 0.05
	shearShare  = 0.12
)

// preloaded are the members of cases/crosscheck whose solids are committed:
// built-in ends at y = ±300 mm, the profile's origin on the line between them.
var preloaded = map[string][4]float64{ // front leg, rear leg, radius mm, half angle deg; wall 5 mm
	"v": {72, 72, 26, 28}, "u": {70, 70, 40, 0}, "v-unequal": {90, 55, 25, 30},
}

// endState is a state of the right end in testdata/fe/preload-*.json: shift and
// turn are imposed, force and moment about the shear centre of the end found.
type endState struct {
	Preload string  `json:"preload"`
	Sign    float64 `json:"sign"`
	Twist   float64 `json:"twist_rad"`
	Shift   vec     `json:"shift_mm"`
	Turn    vec     `json:"turn_rad"`
	Force   vec     `json:"force_n"`
	Moment  vec     `json:"moment_nmm"`
}

// What a bending moment or a shear force at rest does to the stiffness of a
// member, against solids (CalculiX, geometrically non-linear; see package
// cases/crosscheck): the end is bent one way and the other and twisted both ways
// then, and the change of all that answers the twist is compared, over the load at
// rest that there is.
func TestLoadsAtRestAgainstSolids(t *testing.T) {
	for name, drawn := range preloaded {
		text, err := os.ReadFile("../testdata/fe/preload-" + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var kept struct {
			States []endState `json:"states"`
		}
		if err := json.Unmarshal(text, &kept); err != nil {
			t.Fatal(err)
		}
		s, centre := memberAlone(t, drawn)
		if misses := preloadMisses(t, s, centre, kept.States); len(misses) > 0 {
			t.Errorf("%s: %s", name, strings.Join(misses, "; "))
		}
		all := s.lines[0].Second
		for what, dropped := range map[string]func(secondOrder[float64]) bool{
			"M·β": func(t secondOrder[float64]) bool {
				return t.line >= bendingLine && t.a == twistLine && t.b == twistLine
			},
			"what bending and shear do to each other by twist": func(t secondOrder[float64]) bool {
				return t.line >= shearLine && t.a == twistLine && t.b < twistLine
			},
		} {
			s.lines[0].Second = slices.DeleteFunc(slices.Clone(all), dropped)
			small := name == "u" && what != "M·β" // it bends nearly alike both ways
			if len(preloadMisses(t, s, centre, kept.States)) == 0 && !small {
				t.Errorf("%s: the check does not notice that %s is missing", name, what)
			}
		}
	}
}

// memberAlone is a member held at its left end, and the shear centre of its right
// end from the solver's centre.
func memberAlone(t *testing.T, drawn [4]float64) (*Solver, vec) {
	var p section.Profile[float64]
	p.DrawV(drawn[0], drawn[1], drawn[2], drawn[3]*math.Pi/180, 5)
	p.Open(section.Down, 0)
	c, err := p.Constants()
	if err != nil {
		t.Fatal(err)
	}
	numbers := SectionOf(&c)
	slots := Beam.Defaults()
	slots[3] = 300
	copy(slots[beamSlots:], numbers.Slots())
	e := Element{Kind: Beam, Slots: slots, Choice: Choice{Ends: [2]Warping{BuiltIn, BuiltIn}}}
	s := &Solver{lines: make([]Lines[float64], 1), preload: make([][maxLines]float64, 1)}
	beamLines(&e, slots, &numbers, vec{}, &s.lines[0])
	return s, vec{c.ShearCentre.F, -300, c.ShearCentre.U}
}

// hold finds what holds a beam's right end where it stands.
func (s *endState) hold(solver *Solver, centre vec) {
	turn := rotationMatrix(s.Turn)
	at := ends{from: designPose[float64](), to: pose[float64]{turn: turn, shift: centre.Add(s.Shift).Sub(turn.Apply(centre))}}
	out := resistance(solver, 0, &at)
	force := vec(out[6:9])
	s.Force, s.Moment = force, vec(out[9:12]).Sub(turn.Apply(centre).Cross(force))
}

// perTwist sums what answers a twist, the way of the preload taken in.
func perTwist(states []endState, of func(*endState) vec) (change, rest vec) {
	for i := range states {
		s := &states[i]
		change = change.Add(of(s).Scale(s.Sign / (4 * s.Twist)))
		rest = rest.Add(of(s).Scale(s.Sign / 4))
	}
	return change, rest
}

// preloadMisses holds a beam against the states of solids.
func preloadMisses(t *testing.T, s *Solver, centre vec, states []endState) (misses []string) {
	t.Helper()
	type changes struct{ force, moment vec }
	var got, want []changes
	largest := changes{}
	for i := 0; i < len(states); i += 4 {
		beam := slices.Clone(states[i : i+4])
		for n := range beam {
			beam[n].hold(s, centre)
		}
		for n, list := range [2][]endState{beam, states[i : i+4]} {
			force, load := perTwist(list, func(s *endState) vec { return s.Force })
			moment, couple := perTwist(list, func(s *endState) vec { return s.Moment })
			rest := couple.Norm() + 300*load.Norm()
			c := changes{force.Scale(1 / rest), moment.Scale(1 / rest)}
			if n == 0 {
				got = append(got, c)
				continue
			}
			want = append(want, c)
			for k := range 3 {
				largest.force[k] = max(largest.force[k], force.Norm()/rest)
				largest.moment[k] = max(largest.moment[k], moment.Norm()/rest)
			}
		}
	}
	for i := range got {
		name, share := states[4*i].Preload, coupleShare
		if i >= 2 {
			share = shearShare
		}
		for k := range 3 {
			f, m := math.Abs(got[i].force[k]-want[i].force[k])/largest.force[k], math.Abs(got[i].moment[k]-want[i].moment[k])/largest.moment[k]
			if f > share || m > share {
				misses = append(misses, fmt.Sprintf("%s: force and moment on %d off by %.2f and %.2f %% of the largest change", name, k, 100*f, 100*m))
			}
		}
		if twist := want[i].moment[1]; i < 2 && math.Abs(twist) > 0.01 && !near(got[i].moment[1], twist, coupleShare, math.Abs(twist)) {
			misses = append(misses, fmt.Sprintf("%s: the rate of twist changes by %.4g per N·mm at rest, solids %.4g", name, got[i].moment[1], twist))
		}
	}
	return misses
}
