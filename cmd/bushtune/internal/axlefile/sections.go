package axlefile

import "bushtune/bushing/quantity"

// The tables of the axle file that are no elements.
const (
	titleKey       = "title"
	wheelSection   = "wheel"
	hubSection     = "hub"
	bodySection    = "body"
	vehicleSection = "vehicle"
	caseSection    = "case"
	stateSection   = "state"
	searchSection  = "search"
	wantSection    = "want"
)

// sectionNames lists everything that may stand at the top of a file, in the
// order in which files are written.
func sectionNames() []string {
	all := []string{titleKey, wheelSection, hubSection, bodySection}
	all = append(all, kindTables()...)
	return append(all, vehicleSection, caseSection, stateSection, searchSection, wantSection)
}

// defaultSlots returns every default of a field list in internal units.
func defaultSlots(fields []quantity.Field) []float64 {
	slots := make([]float64, len(fields))
	for i, f := range fields {
		slots[i] = f.Default * f.Unit.Factor
	}
	return slots
}
