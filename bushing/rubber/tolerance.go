package rubber

// Class is a tolerance class of load–deflection, of the Rubber Manufacturers
// Association.
type Class int

// The classes of rates.
const (
	D1 Class = iota // very high precision
	D2              // precision
	D3              // commercial
)

// ClassNames are the words for the classes, in order.
var ClassNames = []string{"D1", "D2", "D3"}

// Bounds between the columns of the table of rates; both belong to the first.
const (
	softUpTo  = 65 // Shore A
	thickFrom = 6  // mm of rubber wall
)

// spread is the least and the greatest tolerance of a class, shares of a rate
// up or down.
type spread struct{ low, high float64 }

// rateTolerances are by class, up to or above 65 Shore A, thick or thin wall:
// Rubber Manufacturers Association, rubber handbook, table 10, read in a
// reproduction.
var rateTolerances = [...]struct{ softThick, softThin, hardThick, hardThin spread }{
	D1: {spread{0.10, 0.10}, spread{0.15, 0.15}, spread{0.15, 0.15}, spread{0.20, 0.20}},
	D2: {spread{0.11, 0.14}, spread{0.16, 0.20}, spread{0.16, 0.19}, spread{0.21, 0.26}},
	D3: {spread{0.15, 0.15}, spread{0.20, 0.20}, spread{0.20, 0.20}, spread{0.25, 0.25}},
}

// RateTolerance returns the share by which a rate may lie off its value, up or
// down, for a hardness in Shore A and a rubber wall in mm. Class D2 has a range;
// the other classes give the same number twice.
func RateTolerance(c Class, hardness, wall float64) (low, high float64) {
	row := &rateTolerances[c]
	cell := row.softThick
	switch soft, thick := hardness <= softUpTo, wall >= thickFrom; {
	case soft && !thick:
		cell = row.softThin
	case !soft && thick:
		cell = row.hardThick
	case !soft:
		cell = row.hardThin
	}
	return cell.low, cell.high
}

// DampingTolerance returns the share by which damping may lie off its value, up
// or down, for a hardness in Shore A (same table).
func DampingTolerance(hardness float64) float64 {
	if hardness <= softUpTo {
		return 0.25
	}
	return 0.30
}

// How a static rate is measured (same handbook, text beside the table).
const (
	TestSpeed          = 0.8 // mm/s, at most
	ConditioningFewest = 2   // cycles before the one that is read
	ConditioningMost   = 4
)

// MouldClass is a class of dimensions of moulded rubber, ISO 3302-1.
type MouldClass int

// The classes of dimensions, fine to coarse.
const (
	M1 MouldClass = iota
	M2
	M3
	M4
)

// MouldClassNames are the words for the classes, in order.
var MouldClassNames = []string{"M1", "M2", "M3", "M4"}

// mouldTolerance is up or down: of a dimension that one part of the mould fixes,
// and of one across the parting of the mould.
type mouldTolerance struct{ fixed, closure float64 }

// mouldTolerances are the tolerances in mm of sizes up to a size in mm, that size
// included, by class: ISO 3302-1, rubber, tolerances for products, part 1, read in
// a reproduction. Class M4 is not split.
var mouldTolerances = [...]struct {
	upTo  float64
	class [4]mouldTolerance
}{
	{4, [4]mouldTolerance{{0.08, 0.10}, {0.10, 0.15}, {0.25, 0.40}, {0.50, 0.50}}},
	{6.3, [4]mouldTolerance{{0.10, 0.12}, {0.15, 0.20}, {0.25, 0.40}, {0.50, 0.50}}},
	{10, [4]mouldTolerance{{0.10, 0.15}, {0.20, 0.20}, {0.30, 0.50}, {0.70, 0.70}}},
	{16, [4]mouldTolerance{{0.15, 0.20}, {0.20, 0.25}, {0.40, 0.60}, {0.80, 0.80}}},
	{25, [4]mouldTolerance{{0.20, 0.20}, {0.25, 0.35}, {0.50, 0.80}, {1.00, 1.00}}},
	{40, [4]mouldTolerance{{0.20, 0.25}, {0.35, 0.40}, {0.60, 1.00}, {1.30, 1.30}}},
	{63, [4]mouldTolerance{{0.25, 0.35}, {0.40, 0.50}, {0.80, 1.30}, {1.60, 1.60}}},
	{100, [4]mouldTolerance{{0.35, 0.40}, {0.50, 0.70}, {1.00, 1.60}, {2.00, 2.00}}},
	{160, [4]mouldTolerance{{0.40, 0.50}, {0.70, 0.80}, {1.30, 2.00}, {2.50, 2.50}}},
}

// largeMould are the tolerances as shares of a size above the last row.
var largeMould = [4]mouldTolerance{{0.003, 0.004}, {0.005, 0.007}, {0.008, 0.013}, {0.015, 0.015}}

// MouldTolerance returns the tolerances in mm, up or down, of a size in mm: fixed
// by the mould, and across its closure.
func MouldTolerance(c MouldClass, size float64) (fixed, closure float64) {
	for _, row := range mouldTolerances {
		if size <= row.upTo {
			return row.class[c].fixed, row.class[c].closure
		}
	}
	share := largeMould[c]
	return share.fixed * size, share.closure * size
}
