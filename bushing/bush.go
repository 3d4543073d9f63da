// Package bushing describes a rubber bush: its rates in its own axes, how it is
// mounted, what it carries at rest and what it may carry.
//
// The bush frame is right-handed: soft radial s, axial a, stiff radial t. Left
// values are written; the right bush is the mirror image in y = 0.
package bushing

import (
	"bushtune/bushing/exact"
	"bushtune/bushing/quantity"
)

// Base says along which vehicle axis the bush axis lies before it is turned.
type Base int

// The bases, with (s, a, t) before rotation on the left side.
const (
	Lateral      Base = iota // (x, y, z)
	Longitudinal             // (y, x, −z)
	Vertical                 // (x, z, −y)
	Explicit                 // axis and soft vectors from the file
)

// BaseNames are the words for the bases in the axle file, in order.
var BaseNames = []string{"lateral", "longitudinal", "vertical", "explicit"}

// Direction numbers the six rates of a bush: three translations along s, a, t
// and three rotations about s, a, t.
type Direction int

// The six directions in their fixed order.
const (
	Soft Direction = iota
	Axial
	Stiff
	ConeSoft
	Torsion
	ConeStiff
)

// DirectionNames are the words for the six directions, in order.
var DirectionNames = []string{"soft", "axial", "stiff", "cone_soft", "torsion", "cone_stiff"}

// Mount is where a bush sits and how it is turned, left-hand, in mm and rad.
type Mount[T exact.Number] struct {
	At                        exact.Vec[T] // centre, mm
	Plan, Lift, Clock         T            // rad
	LeanForward, LeanOutboard T            // rad, vertical base only: top end
	Axis, SoftAxis            exact.Vec[T] // explicit base only, any length
}

// Bush holds the numbers of one bush, left-hand, in mm, N, rad: rates at zero
// deflection, and where a void closes. Measured curves stand apart in Curves,
// because they are no slots; Laws puts all together.
type Bush[T exact.Number] struct {
	Mount[T]
	Soft, Axial, Stiff              T            // N/mm
	ConeSoft, Torsion, ConeStiff    T            // N·mm/rad; ConeSoft is the moment about the soft radial
	ElasticPlan, ElasticLift        T            // rad: turn the three translational rates against the sleeve axis
	Bracket                         T            // N/mm in series with each translational rate; 0: rigid
	Preload                         exact.Vec[T] // N along s, a, t, + inner sleeve pushed that way against the outer
	TightenedAt                     T            // rad of torsion present at design height, inner sleeve against outer, right-handed about a
	MaxRadialLoad, MaxAxialLoad     T            // N; 0: no limit given
	MaxRadialTravel, MaxAxialTravel T            // mm; 0: no limit given
	Gap, GapBack                    [3]T         // mm along soft, axial, stiff, towards + and −; 0: no stop, for GapBack: as Gap
	Snubber                         [3]T         // N/mm that the stop adds
	SnubberRun                      T            // mm over which a stop gains its rate
	Dynamic[T]
}

// Dynamic is what a vibration at small amplitude sees of the rubber, on a sheet
// for a supplier; a slow load does not see it. Zeros stand for what is not known.
type Dynamic[T exact.Number] struct {
	DynamicRatio     T // dynamic over static rate, at DynamicFrequency
	DynamicFrequency T // Hz
	LossFactor       T // tangent of the loss angle, at DynamicFrequency
}

// MountFields lists the slots of a mount in the order that NewMount reads.
var MountFields = concat(
	quantity.Point("at", "centre of the bush"),
	[]quantity.Field{
		quantity.Angle("plan", "turn in plan view; lateral base: + outboard end forward; longitudinal base: + front end inboard"),
		quantity.Angle("lift", "turn out of the plan; lateral base: + outboard end up; longitudinal base: + front end up"),
		quantity.Angle("clock", "turn of the voids about the bush axis, right-handed"),
		quantity.Angle("lean_forward", "vertical base: + top end forward"),
		quantity.Angle("lean_outboard", "vertical base: + top end outboard"),
	},
	quantity.Vector("axis", quantity.None, "explicit base: direction of the bush axis"),
	quantity.Vector("soft_axis", quantity.None, "explicit base: direction of the soft radial, made square to the axis"),
)

// Fields lists the slots of a bush in the order that New reads: its mount first.
var Fields = concat(
	MountFields,
	[]quantity.Field{
		quantity.Rate("soft", quantity.NewtonPerMillimetre, "radial rate across the voids"),
		quantity.Rate("axial", quantity.NewtonPerMillimetre, "rate along the bush axis"),
		quantity.Rate("stiff", quantity.NewtonPerMillimetre, "radial rate square to the voids"),
		quantity.Rate("cone_soft", quantity.NewtonMetrePerDegree, "conical rate about the soft radial"),
		quantity.Rate("torsion", quantity.NewtonMetrePerDegree, "rate about the bush axis"),
		quantity.Rate("cone_stiff", quantity.NewtonMetrePerDegree, "conical rate about the stiff radial"),
		quantity.Angle("elastic_plan", "turn in plan of the three translational rates against the sleeve axis"),
		quantity.Angle("elastic_lift", "lift of the three translational rates against the sleeve axis"),
		positive("bracket", quantity.NewtonPerMillimetre, "rate of the bracket in series with each translational rate; absent: rigid"),
	},
	quantity.Vector("preload", quantity.Newton, "load at design height along soft (x), axial (y), stiff (z), in the axes of the three translational rates, + as from the inner sleeve pushed that way against the outer"),
	[]quantity.Field{
		quantity.Angle("tightened_at", "torsion present at design height because the bolt was tightened elsewhere, right-handed about the bush axis, inner sleeve against outer"),
		positive("max_radial_load", quantity.Newton, "largest radial load the supplier allows; absent: not checked"),
		positive("max_axial_load", quantity.Newton, "largest axial load the supplier allows; absent: not checked"),
		positive("max_radial_travel", quantity.Millimetre, "largest radial travel the supplier allows; absent: not checked"),
		positive("max_axial_travel", quantity.Millimetre, "largest axial travel the supplier allows; absent: not checked"),
	},
	stopFields,
	dynamicFields,
)

// dynamicFields are the slots of Dynamic.
var dynamicFields = []quantity.Field{
	{Name: "dynamic_ratio", Unit: quantity.None, Min: 1, Above: true, Max: 20, Meaning: "dynamic over static rate at dynamic_frequency, for the sheet to a supplier; absent: not asked for"},
	positive("dynamic_frequency", quantity.Hertz, "frequency at which dynamic_ratio and loss_factor hold"),
	{Name: "loss_factor", Unit: quantity.None, Min: 0, Above: true, Max: 5, Meaning: "tangent of the loss angle at dynamic_frequency, for the sheet to a supplier; absent: not asked for"},
}

// NewMount reads a mount from its slots in the order of MountFields, in internal units.
func NewMount[T exact.Number](s []T) Mount[T] {
	return Mount[T]{
		At:   exact.Vec[T]{s[0], s[1], s[2]},
		Plan: s[3], Lift: s[4], Clock: s[5], LeanForward: s[6], LeanOutboard: s[7],
		Axis:     exact.Vec[T]{s[8], s[9], s[10]},
		SoftAxis: exact.Vec[T]{s[11], s[12], s[13]},
	}
}

// New reads a bush from its slots in the order of Fields, in internal units.
func New[T exact.Number](s []T) Bush[T] {
	return Bush[T]{
		Mount: NewMount(s),
		Soft:  s[14], Axial: s[15], Stiff: s[16], ConeSoft: s[17], Torsion: s[18], ConeStiff: s[19],
		ElasticPlan: s[20], ElasticLift: s[21], Bracket: s[22],
		Preload: exact.Vec[T]{s[23], s[24], s[25]}, TightenedAt: s[26],
		MaxRadialLoad: s[27], MaxAxialLoad: s[28], MaxRadialTravel: s[29], MaxAxialTravel: s[30],
		Gap: [3]T{s[31], s[32], s[33]}, GapBack: [3]T{s[34], s[35], s[36]},
		Snubber: [3]T{s[37], s[38], s[39]}, SnubberRun: s[40],
		Dynamic: Dynamic[T]{s[41], s[42], s[43]},
	}
}

// Rates returns the six rates in the order of Direction, in N/mm and N·mm/rad,
// the translations with the bracket in series.
func (b *Bush[T]) Rates() [6]T {
	return [6]T{b.series(b.Soft), b.series(b.Axial), b.series(b.Stiff), b.ConeSoft, b.Torsion, b.ConeStiff}
}

// series is a rate behind the bracket: 1/k = 1/rate + 1/bracket.
func (b *Bush[T]) series(rate T) T {
	if exact.Real(b.Bracket) == 0 {
		return rate
	}
	return rate * b.Bracket / (rate + b.Bracket)
}

// rubberRates are the six rates of the rubber alone.
func (b *Bush[T]) rubberRates() [6]T {
	return [6]T{b.Soft, b.Axial, b.Stiff, b.ConeSoft, b.Torsion, b.ConeStiff}
}

// StaticLoads returns the loads that the author gives at design height, in the
// order of Direction, in N and N·mm, + as from the inner sleeve moved or turned
// that way against the outer.
func (b *Bush[T]) StaticLoads() [6]T {
	return [6]T{b.Preload[0], b.Preload[1], b.Preload[2], 0, b.Torsion * b.TightenedAt, 0}
}

func positive(name string, unit quantity.Unit, meaning string) quantity.Field {
	return quantity.Field{Name: name, Unit: unit, Min: 0, Above: true, Max: 1e9, Meaning: meaning}
}

func concat(lists ...[]quantity.Field) []quantity.Field {
	var all []quantity.Field
	for _, list := range lists {
		all = append(all, list...)
	}
	return all
}
