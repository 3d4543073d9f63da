package cases

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/bushing/rubber"
	"bushtune/compliance"
)

// rubberValues are a bush by its dimensions, voids across the car, at the pivot.
var rubberValues = values{"at.x": 430, "at.y": 560, "at.z": 330, "rubber.inner_diameter": 36, "rubber.outer_diameter": 58, "rubber.length": 54,
	"rubber.hardness": 67.3, "rubber.void_arc": 80, "rubber.void_depth": 4}

// rubberAxle is a twist beam on such bushes, behind brackets.
func rubberAxle(t testing.TB, changes values) *compliance.Axle {
	t.Helper()
	axle := twistBeam(t)
	for i, e := range bothSides(t, compliance.BushRubber, "pivot", with(with(rubberValues, values{"bracket": 12000, "plan": 15}), changes)) {
		e.Choice.OuterIsFrom = i == 0
		axle.Elements[i] = e
	}
	return axle
}

// rubberStudy is that axle under the load of the car.
func rubberStudy(t testing.TB, changes values) *Study {
	t.Helper()
	vehicle := vehicleWith(t, carValues)
	vehicle.StaticLoad = true
	return studyOf(t, rubberAxle(t, changes), vehicle)
}

// Every number of an axle on bushes by dimensions is that of the axle on bushes
// with the rates that follow, and so are loads, travels and warnings; only strains
// need the dimensions.
func TestRubberStudyIsStudyByRates(t *testing.T) {
	s := rubberStudy(t, nil)
	plain := s.Solver().Axle().Clone()
	for i := range plain.Elements {
		plain.Elements[i] = plain.Elements[i].ByRates()
	}
	vehicle := vehicleWith(t, carValues)
	vehicle.StaticLoad = true
	byRates := studyOf(t, plain, vehicle)
	for i, n := range s.Numbers() {
		check(t, n.Name+" in "+n.Case, s.Value(i), byRates.Value(i), 1e-10*(math.Abs(byRates.Value(i))+1e-9))
	}
	loads, want := s.BushLoads(), byRates.BushLoads()
	if len(loads) == 0 || len(loads) != len(want) || len(s.bushes) != 2 {
		t.Fatalf("%d loads, %d by rates, %d bushes", len(loads), len(want), len(s.bushes))
	}
	for i := range loads {
		for d, name := range bushing.DirectionNames {
			check(t, loads[i].Element+" "+name+" in "+loads[i].Case, loads[i].Load[d], want[i].Load[d], 1e-8*(1+math.Abs(want[i].Load[d])))
		}
		if s.Usages(&loads[i])[0].Limit != 0 || s.Strains(&loads[i]) == nil || byRates.Strains(&want[i]) != nil || byRates.WorstStrains(&want[i]) != nil {
			t.Fatal("strains belong to bushes by dimensions, limits to those that have them")
		}
	}
}

// While the voids are open the deflection that strains are taken at, rest and
// bracket accounted for, times the rates of the rubber is the whole load; the
// strains are those of package rubber there.
func TestStrainsAreTakenAtTheWholeDeflection(t *testing.T) {
	s := rubberStudy(t, values{"preload.x": 1500, "preload.y": -900, "rubber.hardness": 42})
	rested := false
	for _, b := range s.BushLoads() {
		e := &s.Solver().Axle().Elements[b.element]
		bush, _ := e.Bush()
		rates := [3]float64{bush.Soft, bush.Axial, bush.Stiff}
		total := s.atRest(&b)
		for d := range total {
			rested = rested || math.Abs(total[d]) > 0.1
			total[d] += b.Travel[d]
		}
		for d, rate := range rates {
			check(t, fmt.Sprint(b.Element, " ", bushing.DirectionNames[d], " in ", b.Case), rate*total[d], b.Rest[d]+b.Load[d], 1e-6*(100+math.Abs(b.Rest[d])))
		}
		dimensions, _ := e.Rubber()
		want := rubber.Strains(&dimensions, total)
		got := s.Strains(&b)
		worst := s.WorstStrains(&b)
		for i, u := range got {
			check(t, u.What, u.Value, 100*want[i].Value, exactly)
			w := worst[0]
			if strings.HasPrefix(u.What, "shear") {
				w = worst[1]
			}
			if u.What != want[i].What || u.Limit != 100*want[i].Limit || u.Unit != "%" || u.Value > w.Value {
				t.Errorf("%s: %+v of %+v, the worst is %+v", b.Element, u, want[i], w)
			}
		}
	}
	if !rested {
		t.Error("no bush is deflected at rest: the test is empty")
	}
}

// Rubber that is not bonded slides, so nothing is said of its strains.
func TestFreeRubberHasNoStrains(t *testing.T) {
	axle := rubberAxle(t, values{"rubber.void_arc": 0, "rubber.void_depth": 0})
	for i := range 2 {
		axle.Elements[i].Choice.Rubber.Free = true
	}
	s := studyOf(t, axle, vehicleWith(t, carValues))
	loads := s.BushLoads()
	if len(loads) == 0 || s.Strains(&loads[0]) != nil || s.WorstStrains(&loads[0]) != nil {
		t.Errorf("strains of the first of %d loads: %v", len(loads), s.Strains(&loads[0]))
	}
}

// A thin bush under the vehicle's load is beyond the published strains; the
// warning names bush, indicator, case and limit.
func TestStrainWarning(t *testing.T) {
	thick := strings.Join(rubberStudy(t, values{"rubber.void_arc": 0, "rubber.void_depth": 0, "rubber.hardness": 68}).Warnings(), "\n")
	thin := strings.Join(rubberStudy(t, values{"rubber.outer_diameter": 32, "rubber.inner_diameter": 20, "rubber.length": 20, "rubber.void_depth": 2, "rubber.hardness": 42}).Warnings(), "\n")
	words := []string{"bush.pivot.left: shear", "bush.pivot.right: compression", " % in ", ", the limit is 15 %", ", the limit is 50 %"}
	for _, w := range words {
		if !strings.Contains(thin, w) || strings.Contains(thick, w) {
			t.Errorf("%q is to be said of thin bushes alone:\n%s\nthick:\n%s", w, thin, thick)
		}
	}
}

// Movements of full size close a void: past its depth the load along the soft
// radial rises faster, and strains run along.
func TestVoidClosesInATravel(t *testing.T) {
	s := rubberStudy(t, values{"rubber.void_depth": 4, "rubber.hardness": 42})
	full, err := NewFullSize(s)
	if err != nil {
		t.Fatal(err)
	}
	swept, err := full.Sweep(Sweep{Case: "braking_inboard", To: 9000, Points: 10})
	if err != nil {
		t.Fatal(err)
	}
	rate, way := find(swept.Totals, "bush_rate", "", "bush.pivot.left soft"), find(swept.Totals, "bush_travel", "", "bush.pivot.left soft")
	strain := find(swept.Totals, "bush_compression", "", "bush.pivot.left")
	if rate == nil || way == nil || strain == nil || strain.Limit != 15 {
		t.Fatalf("no rate, travel or strain of the pivot among %d series", len(swept.Totals))
	}
	last := len(rate.Points) - 1
	if math.Abs(way.Points[last].Value) < 4 || rate.Points[last].Value < 1.2*rate.Points[0].Value {
		t.Errorf("travel %v mm, rate from %v to %v N/mm", way.Points[last].Value, rate.Points[0].Value, rate.Points[last].Value)
	}
}
