package show

import (
	"fmt"
	"strings"

	"bushtune/bushing/quantity"
	"bushtune/cases"
	"bushtune/compliance"
)

// matrixEntry is one entry of the wheel compliance matrix in written units.
type matrixEntry struct {
	row, column string // of compliance.PortNames
	value       float64
	unit        quantity.Unit
}

// matrixEntries lists the matrix row by row: displacements in mm and rotations in
// deg, per kN of force and per 100 N·m of moment.
func (v *view) matrixEntries() []matrixEntry {
	units := [2][2]quantity.Unit{
		{quantity.MillimetrePerKilonewton, quantity.MillimetrePer100NewtonM},
		{quantity.DegreePerKilonewton, quantity.DegreePer100NewtonM},
	}
	c := v.study.Solver().Compliance()
	var all []matrixEntry
	for i, row := range compliance.PortNames {
		for j, column := range compliance.PortNames {
			unit := units[i%6/3][j%6/3]
			all = append(all, matrixEntry{row, column, unit.Written(c[i*compliance.Ports+j]), unit})
		}
	}
	return all
}

// matrixTable writes the 12×12 compliance matrix in two halves of columns: loads
// on the left wheel, loads on the right wheel.
func (v *view) matrixTable(p *Page) {
	p.blank()
	p.Heading("WHEEL COMPLIANCE MATRIX · pads floating · static load: " + v.loadAtRest())
	p.Prose("  ", "Rows: motion of each wheel's carrier at the wheel centre, x forward, y left, z up in mm, turns about them in deg. "+
		"Columns: forces there per kN, moments per 100 N·m. Vehicle axes on both sides. Symmetric in N, mm and rad.")
	entries := v.matrixEntries()
	for half, side := range cases.WheelNames {
		g := grid{columns: []column{{}, {}, {align: point}, {align: point}, {align: point}, {align: point}, {align: point}, {align: point}}}
		g.across("  loads on the "+side+" wheel", strong)
		g.add("", "", "x per kN", "y per kN", "z per kN", "x/100 N·m", "y/100 N·m", "z/100 N·m")
		for i, row := range compliance.PortNames {
			unit := []string{"mm", "deg"}[i%6/3]
			cells := []string{"  " + strings.Replace(row, " r", " turn about ", 1), unit}
			for j := range 6 {
				cells = append(cells, entries[i*compliance.Ports+6*half+j].text())
			}
			g.add(cells...)
		}
		g.write(p)
	}
	p.Prose("  ", fmt.Sprintf("Condition number of the stiffness behind it, turns scaled by 300 mm: %.2g. Up to about 1e10 the figures keep six digits.", v.study.Solver().Condition()))
}

// text rounds to what can be noticed: 0.001 mm or 0.0001 deg.
func (e *matrixEntry) text() string {
	step := 1e-3
	if strings.HasPrefix(e.unit.Name, quantity.Millimetre.Name+"/") {
		step = 1e-2
	}
	return quantity.Signs{}.Read(e.value, step).Text
}
