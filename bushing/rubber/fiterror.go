package rubber

import "bushtune/bushing"

// FitErrors returns the largest errors of the rates against finite elements within
// PlainRange, or with voids within VoidRange, as shares, in the order of
// bushing.Direction.
func FitErrors(voided bool) [6]float64 {
	if voided {
		return [6]float64{
			bushing.Soft: 0.3, bushing.Axial: 0.1, bushing.Stiff: 0.3,
			bushing.ConeSoft: 0.3, bushing.Torsion: 0.1, bushing.ConeStiff: 0.3,
		}
	}
	return [6]float64{bushing.Soft: 0.05, bushing.Axial: AxialError, bushing.Stiff: 0.05, bushing.ConeSoft: 0.32, bushing.ConeStiff: 0.32}
}
