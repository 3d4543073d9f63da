package crosscheck

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"bushtune/compliance"
)

// How near the beam must come to the solids in the cross-member alone.
//
// Bending, shear and tension: the ends of the solids hold their lateral
// contraction, which beam theory lets go. Measured at most 1.05 %.
//
// Twist: Vlasov's theory leaves out the flexibility of restrained warping in
// shear, which makes the beam too stiff in primary ends, and so does warping
// that a closed section hardly shows. Measured at most 1.75 %.
const (
	memberTolerance  = 0.015
	twistTolerance   = 0.02
	warpingTolerance = 0.02
)

// TestMember holds the cross-member alone against the finite elements and prints
// each error.
func TestMember(t *testing.T) {
	for _, a := range Axles() {
		for _, e := range bothEnds() {
			t.Run(fmt.Sprintf("%s/%s", a.Name, e), func(t *testing.T) {
				for _, m := range memberErrors(t, a.Member, committed(t, a, e), nil) {
					t.Log(m)
					if !m.near() {
						t.Errorf("%s: beam and elements disagree", m)
					}
				}
			})
		}
	}
}

// memberError is the movement of the beam over that of the elements, less one.
type memberError struct {
	name  string
	value float64
}

func (m memberError) String() string { return fmt.Sprintf("%s: beam %+.2f %%", m.name, 100*m.value) }

func (m memberError) near() bool {
	if m.name == "twist" {
		return math.Abs(m.value) <= twistTolerance
	}
	return math.Abs(m.value) <= memberTolerance
}

// TestMemberNegativeControls: the check of the cross-member alone must fail when
// a part of the beam's theory is left out.
func TestMemberNegativeControls(t *testing.T) {
	// In a whole axle the springs hide the warping through the wall; here it shows.
	wall := control{"no warping through the wall", "v-forward", BuiltIn, zero("second_warping_constant")}
	for _, control := range append(slices.Clone(controls), wall) {
		a := axleNamed(t, control.axle)
		var noticed []string
		for _, m := range memberErrors(t, a.Member, committed(t, a, control.ends), control.change) {
			if !m.near() {
				noticed = append(noticed, m.String())
			}
		}
		if len(noticed) == 0 {
			t.Errorf("%s, %s: the check does not notice", control.name, control.axle)
		}
		t.Logf("%s, %s: %s", control.name, control.axle, strings.Join(noticed, ", "))
	}
}

// TestSecondaryWarping holds what built-in ends add to primary ones in twist: the
// ratio of the two, from which the error of St Venant's constant cancels.
func TestSecondaryWarping(t *testing.T) {
	noticed := 0
	for _, a := range Axles() {
		elements := committed(t, a, Primary).Member[4][4] / committed(t, a, BuiltIn).Member[4][4]
		beam := beamTwist(t, a.Member, Primary) / beamTwist(t, a.Member, BuiltIn)
		t.Logf("%-12s built-in ends stiffen the twist: elements %.4f, beam %.4f", a.Name, elements, beam)
		if math.Abs(beam/elements-1) > warpingTolerance {
			t.Errorf("%s: built-in over primary: beam %.4f, elements %.4f", a.Name, beam, elements)
		}
		if math.Abs(1/elements-1) > warpingTolerance { // a beam without secondary warping says 1
			noticed++
		}
	}
	if noticed == 0 {
		t.Error("no axle would notice that secondary warping is missing")
	}
}

func beamTwist(t *testing.T, m Member, e Ends) float64 {
	t.Helper()
	return beamFlexibility(t, m, e, nil)[4][4]
}

// memberErrors compares the cross-member alone, its beam changed first.
func memberErrors(t *testing.T, m Member, r *Reference, change func(*part)) []memberError {
	t.Helper()
	constants, err := m.Profile.Constants()
	if err != nil {
		t.Fatal(err)
	}
	beam := beamFlexibility(t, m, r.Ends, change)
	var list []memberError
	for _, load := range MemberLoads(m, &constants) {
		list = append(list, memberError{load.Name, work(beam, load.Load)/work(r.Member, load.Load) - 1})
	}
	return list
}

func beamFlexibility(t *testing.T, m Member, e Ends, change func(*part)) [6][6]float64 {
	t.Helper()
	model, err := m.Compliance(e)
	if err != nil {
		t.Fatal(err)
	}
	changeBeam(model, change)
	flexibility, err := BeamFlexibility(model)
	if err != nil {
		t.Fatal(err)
	}
	return flexibility
}

// changeBeam alters the beam of a model, its first element.
func changeBeam(model *compliance.Axle, change func(*part)) {
	if change != nil {
		change(&part{model.Elements[0]})
	}
}
