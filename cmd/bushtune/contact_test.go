package main

import (
	"math"
	"testing"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/compliance"
)

// On every built-in axle, with 1 deg of toe and -2 deg of camber at rest, each linear
// number and reading of each load case is where the secants of movements under 10 and
// 5 N go (Richardson: what the second order does at these loads drops out).
func TestBuiltInAxlesAreSlopesOfTheirMovement(t *testing.T) {
	const thirdOrder = 2e-4 // of the figure or its noticeable step, with the balance that an equilibrium keeps
	for _, name := range demo.Names() {
		file, err := axlefile.Parse(name, []byte(builtInText(t, name)))
		if err != nil {
			t.Fatal(err)
		}
		s, err := cases.NewStudy(file.Axle, file.Vehicle, file.Cases, file.States)
		if err != nil {
			t.Fatal(err)
		}
		for w := range 2 {
			for slot, field := range compliance.WheelFields {
				switch field.Name {
				case "toe":
					s.Set(compliance.Slot{Element: -1 - w, Index: slot}, 1*field.Unit.Factor)
				case "camber":
					s.Set(compliance.Slot{Element: -1 - w, Index: slot}, -2*field.Unit.Factor)
				}
			}
		}
		if err := s.Update(); err != nil {
			t.Fatal(name, err)
		}
		f, err := cases.NewFullSize(s)
		if err != nil {
			t.Fatal(name, err)
		}
		checked := 0
		for _, c := range cases.BuiltIn() {
			to := 10.0 // N
			if c.Per == cases.Per100NewtonMetre {
				to = 1000 // N·mm
			}
			all, err := f.AtSize(c.Name, to)
			if err != nil {
				t.Fatal(name, c.Name, err)
			}
			half, err := f.AtSize(c.Name, to/2)
			if err != nil {
				t.Fatal(name, c.Name, err)
			}
			for k, one := range all {
				if one.Secant.Number == "" {
					continue
				}
				i, err := s.Find(one.Secant.Number, c.Name, one.Secant.Where)
				if err != nil {
					if i, err = s.Find(one.Secant.Where+"_"+one.Secant.Number, c.Name, ""); err != nil {
						continue // a height that level pads hold
					}
				}
				checked++
				n := s.Numbers()[i]
				want := s.Figure(i).Value
				if got := 2*half[k].Secant.Value - one.Secant.Value; math.Abs(got-want) > thirdOrder*(math.Abs(want)+n.Step) {
					t.Errorf("%s, %s: %s %s is %.6g, movements give %.6g", name, c.Name, one.Secant.Title, one.Secant.Where, want, got)
				}
			}
		}
		if checked < 200 {
			t.Errorf("%s: only %d figures compared", name, checked)
		}
	}
}
