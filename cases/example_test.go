package cases_test

import (
	"fmt"

	"bushtune/cases"
)

// A load case of the author's own. On level pads the height of the contact
// points is given, so their vertical force is an answer and not a load.
func ExampleNewCase() {
	kerb := cases.WheelLoad{Force: [3]float64{-800, 0, 1500}, At: cases.AtPatch}
	_, err := cases.NewCase("kerb", "one wheel against a kerb", cases.Level, cases.BrakeLocked, cases.WheelLoad{}, kerb)
	fmt.Println(err)
	c, _ := cases.NewCase("kerb", "one wheel against a kerb", cases.Floating, cases.BrakeLocked, cases.WheelLoad{}, kerb)
	fmt.Println(c.Title, "— pads", c.Pads)
	// Output:
	// case kerb: right wheel: a vertical load on level pads: the pad holds the height and takes the load; use pads = "floating"
	// one wheel against a kerb — pads floating
}
