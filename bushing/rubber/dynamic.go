package rubber

import "math"

// Dynamic is how a rubber answers vibration: one measured point and the power law
// through it. A solid whose complex modulus is G* = c·(iω)ⁿ has the same loss
// factor tan(n·π/2) at every frequency, so one exponent joins loss and the rise of
// stiffness with frequency (Nutting's law; from memory). Vibration is small: the
// fall of stiffness with amplitude in filled rubber (Payne, J. Appl. Polym.
// Sci. 6, 1962) is not in it.
type Dynamic struct {
	Ratio float64 // dynamic over static rate at the frequency At
	At    float64 // Hz, above zero
	Loss  float64 // loss factor tan δ
}

// Exponent is the power n of the frequency in the complex modulus.
func (d Dynamic) Exponent() float64 { return 2 / math.Pi * math.Atan(d.Loss) }

// Stiffness is the storage rate at a frequency in Hz over the static rate. A
// dynamic rate is never below the static one (RMA, rubber handbook), so
// where the power law falls below one, the law has ended and the answer is one.
func (d Dynamic) Stiffness(f float64) float64 {
	return max(1, d.Ratio*math.Pow(f/d.At, d.Exponent()))
}

// LossFactor is tan δ at a frequency in Hz: of a power law, the same everywhere.
func (d Dynamic) LossFactor(float64) float64 { return d.Loss }

// LossStiffness is the rate a quarter period ahead of the travel, at a frequency in
// Hz, over the static rate.
func (d Dynamic) LossStiffness(f float64) float64 { return d.Loss * d.Stiffness(f) }

// Typical is what must stand beside every value of TypicalDynamic.
const Typical = "typical, from memory"

// typicalFrequency is in the range of shake, where such values are usually told.
const typicalFrequency = 10 // Hz

// Middle values of natural rubber for mounts by hardness, from memory: order of
// magnitude only. Compounds of one hardness lie 10 % of the ratio and a third of
// the loss factor either way.
var (
	typicalHardness = []float64{40, 50, 60, 70}
	typicalRatio    = newCurve(typicalHardness, []float64{1.15, 1.30, 1.50, 1.80})
	typicalLoss     = newCurve(typicalHardness, []float64{0.035, 0.08, 0.12, 0.16})
)

// TypicalDynamic returns what natural rubber of a hardness in Shore A usually
// shows, for a first estimate until the compound is measured; outside 40 to 70
// the values of the ends.
func TypicalDynamic(hardness float64) Dynamic {
	h := min(max(hardness, typicalHardness[0]), typicalHardness[len(typicalHardness)-1])
	return Dynamic{Ratio: curveAt(typicalRatio, h), At: typicalFrequency, Loss: curveAt(typicalLoss, h)}
}
