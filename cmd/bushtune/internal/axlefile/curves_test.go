package axlefile

import (
	"math"
	"testing"

	"bushtune/bushing"
	"bushtune/compliance"
)

// curved is a file with a bush by curves, one side of which differs.
func curved(t *testing.T) *File {
	return parseText(t, withChange(t, "[vehicle]", `[bush.stay]
from = "vehicle"
to = "arm"
at = [300, 500, 330]
stiff = 2000
soft_curve = [[0, 0], [1, 500], [2, 1400]]
axial_curve = [[-2, -1000], [0, 0], [3, 900]]
torsion_curve = [[0, 0], [10, 20]]
[bush.stay.right]
soft = 700
stiff_curve = [[1, 2500], [2, 9000]]
[bush.void]
from = "vehicle"
to = "arm"
at = [300, 500, 330]
soft = 400
stiff = 2000
soft_gap = 3
stiff_gap = 1
soft_snubber = 5000
stiff_snubber = 6000
radial = "elliptical"
[vehicle]`))
}

// Curves arrive in mm, N, rad and N·mm at the direction they are written for; a
// side replaces a common curve by a rate and a common rate by a curve.
func TestCurvesOfBushes(t *testing.T) {
	f := curved(t)
	left, right := elementOf(t, f, "bush.stay.left").Choice.Curves, elementOf(t, f, "bush.stay.right")
	for _, c := range []struct {
		table            *bushing.Table
		deflection, load float64
	}{
		{left.Tables[bushing.Soft], 2, 1400},
		{left.Tables[bushing.Soft], -1, -500},
		{left.Tables[bushing.Axial], -2, -1000},
		{left.Tables[bushing.Torsion], 10 * math.Pi / 180, 20e3},
		{right.Choice.Curves.Tables[bushing.Stiff], 2, 9000},
		{right.Choice.Curves.Tables[bushing.Axial], 3, 900},
	} {
		law := bushing.Law[float64]{Table: c.table}
		if got := law.Load(c.deflection); math.Abs(got-c.load) > 1e-9*math.Abs(c.load) {
			t.Errorf("load %g at %g, written %g", got, c.deflection, c.load)
		}
	}
	if left.Tables[bushing.Stiff] != nil || left.Elliptical || right.Choice.Curves.Tables[bushing.Soft] != nil {
		t.Error("curves that nobody wrote")
	}
	if got := slotOf(t, right, "soft"); got != 700 {
		t.Errorf("soft %g on the right", got)
	}
	if got := slotOf(t, right, "stiff"); got != 0 {
		t.Errorf("stiff %g beside its curve", got)
	}
	if _, err := compliance.NewSolver(f.Axle); err != nil {
		t.Error(err)
	}
}

// Both sides share the curves of the common table, so that the right stays the
// mirror image of the left; slots beside are parameters, those of curves are not.
func TestCurvesAreShared(t *testing.T) {
	f := curved(t)
	a, b := elementOf(t, f, "bush.void.left").Choice, elementOf(t, f, "bush.void.right").Choice
	if a.Curves == nil || !a.Curves.Elliptical || a != b {
		t.Errorf("choices %+v and %+v", a, b)
	}
	for path, want := range map[string]bool{"bush.void.soft_gap": true, "bush.stay.left.soft": false, "bush.stay.right.soft": true, "bush.stay.axial": false, "bush.void.axial": true} {
		if _, wrong := f.locate(path); (wrong == nil) != want {
			t.Errorf("%s: %v", path, wrong)
		}
	}
}
