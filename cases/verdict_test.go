package cases

import (
	"math/rand/v2"
	"testing"

	"bushtune/bushing/quantity"
	"bushtune/compliance"
)

// A search judges from few places on the way whether an axle holds a state. Walked in
// strides far finer no axle turns out lost that it held, and it gives up less than one
// in a hundred that holds, of axles far softer and states far harder than real ones.
func TestASearchTellsWhetherAStateIsHeld(t *testing.T) {
	rng := rand.New(rand.NewPCG(randomSeed, 5))
	held, lost, givenUp := 0, 0, 0
	for n := range 400 {
		vehicle := vehicleWith(t, carValues)
		vehicle.StaticLoad = true
		axle := randomAxle(t, rng)
		for i := range axle.Elements {
			for _, name := range []string{"soft", "axial", "stiff", "cone_soft", "torsion", "cone_stiff"} {
				if at := axle.Elements[i].Kind.FieldIndex(name); axle.Elements[i].Kind == compliance.Bush {
					axle.Elements[i].Slots[at] *= 0.03 + rng.Float64()
				}
			}
		}
		const g = quantity.StandardGravity
		own := State{Name: "own", Title: "own", Lateral: (0.2 + rng.Float64()) * g, Braking: 0.6 * g * rng.Float64()}
		if n%3 == 0 {
			own.Braking = 0
		}
		s, err := NewStudy(axle, vehicle, nil, []State{own})
		if err != nil {
			continue // no balance at rest
		}
		f, err := NewFullSize(s)
		if err != nil {
			continue
		}
		on := newImposedState(own.onTheRoad(), &own, &s.vehicle)
		verdict := f.reach(on, 1, searchStride)
		if err := f.Reset(); err != nil {
			t.Fatal(err)
		}
		switch err := f.reach(on, 1, smallestStride); {
		case verdict == nil && err != nil:
			t.Errorf("axle %d at %s: the search holds it, but %v", n, own.scaled(1), err)
		case verdict != nil && err == nil:
			givenUp++
		}
		if verdict == nil {
			held++
		} else {
			lost++
		}
	}
	t.Logf("%d held, %d lost, of them %d given up too early", held, lost, givenUp)
	if held < 100 || lost < 50 || givenUp > 4 {
		t.Errorf("%d held and %d lost, of them %d given up too early", held, lost, givenUp)
	}
}
