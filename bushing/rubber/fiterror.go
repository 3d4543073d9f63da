package rubber

import "bushtune/bushing"

// Errors of the rates against own finite elements, not published, as shares, in
// the order of bushing.Direction: without voids within PlainRange, with voids
// within VoidRange. The largest are over all bushes that were solved, the corners
// of the range included; the root of the mean square is that of the bushes that the
// fit did not see.
var (
	PlainError = [6]float64{
		bushing.Soft: 0.01, bushing.Axial: 0.02, bushing.Stiff: 0.01,
		bushing.ConeSoft: 0.02, bushing.Torsion: 0.001, bushing.ConeStiff: 0.02,
	}
	VoidedError = [6]float64{
		bushing.Soft: 0.045, bushing.Axial: 0.015, bushing.Stiff: 0.045,
		bushing.ConeSoft: 0.045, bushing.Torsion: 0.03, bushing.ConeStiff: 0.035,
	}
)

// MeshError is by how much the finite elements are too stiff at most, found on finer
// meshes.
const MeshError = 0.01

// FitErrors returns the largest errors of the rates, as shares, the finite elements'
// own error included, in the order of bushing.Direction.
func FitErrors(voided bool) [6]float64 {
	errors := PlainError
	if voided {
		errors = VoidedError
	}
	for i, e := range errors {
		if e > 0 {
			errors[i] = e + MeshError
		}
	}
	return errors
}
