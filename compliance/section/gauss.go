package section

import "math"

// gaussPoint is one point of a Gauss–Legendre rule on the interval 0 to 1.
type gaussPoint struct{ at, weight float64 }

// The integrands along a straight wall are polynomials of degree four in the
// distance, of degree five in their derivative with respect to the arc's
// angle: three points are exact. Along an arc they are products of
// trigonometric functions (up to the double angle) and polynomials; ten
// points up to a half circle and fourteen beyond leave less than 1e-12.
var (
	threePoints = rule(
		gaussPoint{0, 0.8888888888888888},
		gaussPoint{0.7745966692414834, 0.5555555555555556})
	tenPoints = rule(
		gaussPoint{0.14887433898163122, 0.29552422471475287},
		gaussPoint{0.4333953941292472, 0.26926671930999635},
		gaussPoint{0.6794095682990244, 0.21908636251598204},
		gaussPoint{0.8650633666889845, 0.1494513491505806},
		gaussPoint{0.9739065285171717, 0.06667134430868814})
	fourteenPoints = rule(
		gaussPoint{0.10805494870734367, 0.2152638534631578},
		gaussPoint{0.31911236892788974, 0.2051984637212956},
		gaussPoint{0.5152486363581541, 0.18553839747793782},
		gaussPoint{0.6872929048116855, 0.15720316715819355},
		gaussPoint{0.827201315069765, 0.12151857068790319},
		gaussPoint{0.9284348836635735, 0.08015808715976021},
		gaussPoint{0.9862838086968123, 0.03511946033175186})
)

// halfCircle in rad, with room for rounding.
const halfCircle = math.Pi + 1e-9

// gaussRule picks the rule for a wall's arc angle in rad.
func gaussRule(angle float64) []gaussPoint {
	switch {
	case angle == 0:
		return threePoints
	case math.Abs(angle) <= halfCircle:
		return tenPoints
	}
	return fourteenPoints
}

// rule maps the points of one half of −1 to 1, and their mirror images, to 0 to 1.
func rule(half ...gaussPoint) []gaussPoint {
	var points []gaussPoint
	for _, p := range half {
		points = append(points, gaussPoint{(1 + p.at) / 2, p.weight / 2})
		if p.at != 0 {
			points = append(points, gaussPoint{(1 - p.at) / 2, p.weight / 2})
		}
	}
	return points
}
