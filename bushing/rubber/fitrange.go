package rubber

// VoidRange and PlainRange are the bushes that the corrections were fitted to, by
// finite elements: from and to of the inner by the outer radius, the length by the
// wall, the arc of each void in degrees, its depth by the wall, the bulk by the
// shear modulus.
var (
	VoidRange  = [5][2]float64{{0.35, 0.8}, {1.5, 10}, {40, 140}, {0.2, 0.9}, {500, 3000}}
	PlainRange = [5][2]float64{{0.3, 0.85}, {1, 12}, {0, 0}, {0, 0}, {500, 3000}}
)
