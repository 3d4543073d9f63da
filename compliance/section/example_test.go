package section_test

import (
	"fmt"
	"math"

	"bushtune/bushing/exact"
	. "bushtune/compliance/section"
)

// A pressed V, open downwards: its constants, and by how much a wall 1 mm
// thicker would raise the torsion constant.
func Example() {
	var p Profile[complex128]
	p.DrawV(80, 80, 30, 30*math.Pi/180, exact.Seed(5))
	p.Open(Down, 0)
	c, err := p.Constants()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("area          %8.1f mm²\n", real(c.Area))
	fmt.Printf("second moment %8.0f mm⁴ for bending in the vertical plane\n", real(c.SecondMoment.UU))
	fmt.Printf("shear centre  %8.2f mm above the arc's centre\n", real(c.ShearCentre.U))
	fmt.Printf("shear area    %8.2f of the area forward, %.2f upward\n", 1/real(c.Area*c.ShearFlexibility.FF), 1/real(c.Area*c.ShearFlexibility.UU))
	fmt.Printf("torsion       %8.1f mm⁴, %+.1f per mm of wall\n", real(c.Torsion), exact.Derivative(c.Torsion))
	fmt.Printf("warping       %8.3g mm⁶, through the wall %.3g\n", real(c.Warping), real(c.WallWarping))
	// Output:
	// area            1114.2 mm²
	// second moment   772165 mm⁴ for bending in the vertical plane
	// shear centre     46.78 mm above the arc's centre
	// shear area        0.34 of the area forward, 0.56 upward
	// torsion         9153.4 mm⁴, +5465.8 per mm of wall
	// warping       3.37e+07 mm⁶, through the wall 1.21e+07
}

func ExampleProfile_Constants_mistake() {
	var p Profile[float64]
	p.AddNode(0, 0)
	p.AddNode(40, 0)
	p.AddWall(0, 1, -3)
	_, err := p.Constants()
	fmt.Println(err)
	// Output: section: wall 0 (node 0 to node 1): thickness -3 mm must be above zero
}
