package rubber

import "bushtune/bushing"

// Errors of the rates against own finite elements, not published, as shares, in
// the order of bushing.Direction: without voids within PlainRange, with voids
// within VoidRange. The largest are over all bushes that were solved, the corners
// of the range included; the scatter is the root of the mean square over those that
// the fit did not see. Torsion of a plain bush is exact.
var (
	PlainError = [6]float64{
		bushing.Soft: 0.009, bushing.Axial: 0.018, bushing.Stiff: 0.009,
		bushing.ConeSoft: 0.02, bushing.Torsion: 0, bushing.ConeStiff: 0.02,
	}
	PlainScatter = [6]float64{
		bushing.Soft: 0.004, bushing.Axial: 0.0025, bushing.Stiff: 0.004,
		bushing.ConeSoft: 0.009, bushing.Torsion: 0, bushing.ConeStiff: 0.009,
	}
	VoidedError = [6]float64{
		bushing.Soft: 0.045, bushing.Axial: 0.012, bushing.Stiff: 0.045,
		bushing.ConeSoft: 0.045, bushing.Torsion: 0.03, bushing.ConeStiff: 0.03,
	}
	VoidedScatter = [6]float64{
		bushing.Soft: 0.012, bushing.Axial: 0.002, bushing.Stiff: 0.011,
		bushing.ConeSoft: 0.011, bushing.Torsion: 0.007, bushing.ConeStiff: 0.012,
	}
)

// The finite elements are too stiff by as much as this, as shares: found on finer
// meshes.
const (
	PlainMeshError  = 0.003
	VoidedMeshError = 0.01
)

// FitErrors returns the largest errors of the rates, the finite elements' own
// included, as shares, in the order of bushing.Direction.
func FitErrors(voided bool) [6]float64 {
	errors, mesh := PlainError, PlainMeshError
	if voided {
		errors, mesh = VoidedError, VoidedMeshError
	}
	for i, e := range errors {
		if e > 0 {
			errors[i] = e + mesh
		}
	}
	return errors
}
