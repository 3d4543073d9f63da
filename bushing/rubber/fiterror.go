package rubber

import "bushtune/bushing"

// Errors of the rates against own finite elements, not published, as shares, in
// the order of bushing.Direction: without voids within PlainRange, with voids with
// square corners within VoidRange, with rounded corners within RoundRange too. The largest are over all bushes that were solved, corners and
// middles of the edges of the range included, where the fit strays most; the scatter
// is the root of the mean square over random bushes that the fit did not see. Torsion
// of a plain bush is exact.
var (
	PlainError = [6]float64{
		bushing.Soft: 0.0105, bushing.Axial: 0.018, bushing.Stiff: 0.0105,
		bushing.ConeSoft: 0.026, bushing.Torsion: 0, bushing.ConeStiff: 0.026,
	}
	PlainScatter = [6]float64{
		bushing.Soft: 0.004, bushing.Axial: 0.0025, bushing.Stiff: 0.004,
		bushing.ConeSoft: 0.009, bushing.Torsion: 0, bushing.ConeStiff: 0.009,
	}
	VoidedError = [6]float64{
		bushing.Soft: 0.064, bushing.Axial: 0.02, bushing.Stiff: 0.05,
		bushing.ConeSoft: 0.054, bushing.Torsion: 0.043, bushing.ConeStiff: 0.071,
	}
	VoidedScatter = [6]float64{
		bushing.Soft: 0.012, bushing.Axial: 0.002, bushing.Stiff: 0.011,
		bushing.ConeSoft: 0.011, bushing.Torsion: 0.007, bushing.ConeStiff: 0.012,
	}
	RoundError = [6]float64{
		bushing.Soft: 0.057, bushing.Axial: 0.018, bushing.Stiff: 0.054,
		bushing.ConeSoft: 0.067, bushing.Torsion: 0.031, bushing.ConeStiff: 0.068,
	}
	RoundScatter = [6]float64{
		bushing.Soft: 0.013, bushing.Axial: 0.004, bushing.Stiff: 0.011,
		bushing.ConeSoft: 0.01, bushing.Torsion: 0.005, bushing.ConeStiff: 0.014,
	}
)

// The finite elements are too stiff by as much as this, as shares: found on finer
// meshes.
const (
	PlainMeshError  = 0.003
	VoidedMeshError = 0.012
	RoundMeshError  = 0.009
)

// FitErrors returns the largest errors of the rates, the finite elements' own
// included, as shares, in the order of bushing.Direction; with voids those of square or
// of round corners, whichever are larger, so that they hold for any radius.
func FitErrors(voided bool) [6]float64 {
	errors, mesh := PlainError, PlainMeshError
	if voided {
		errors, mesh = VoidedError, VoidedMeshError
		for i, e := range RoundError {
			errors[i] = max(errors[i], e)
		}
	}
	for i, e := range errors {
		if e > 0 {
			errors[i] = e + mesh
		}
	}
	return errors
}
