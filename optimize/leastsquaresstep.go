package optimize

import (
	"math"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// reduced is a linearised problem after one QR factorisation of [J r]: triangle
// T has as many rows as the problem has coordinates, and one more, and the same
// inner products as [J r].
type reduced struct {
	t        *mat.Dense // (n+1)×n, the columns of J
	r        []float64  // n+1, the residuals
	gradient []float64  // Jᵀr
	cost     float64    // rᵀr
}

// reduce factorises [J r]. Rows are padded by zeros up to n+1.
func (m *squares) reduce(at *fitPoint, jacobian *mat.Dense) *reduced {
	rows, n := jacobian.Dims()
	all := mat.NewDense(max(rows, n+1), n+1, nil)
	for i := range rows {
		copy(all.RawRowView(i), jacobian.RawRowView(i))
		all.Set(i, n, at.residuals[i])
	}
	factorise(all.RawMatrix())
	s := &reduced{t: mat.NewDense(n+1, n, nil), r: make([]float64, n+1), gradient: make([]float64, n), cost: at.cost}
	for i := range n + 1 {
		for j := i; j < n; j++ {
			s.t.Set(i, j, all.At(i, j))
		}
		s.r[i] = all.At(i, n)
	}
	for j := range n {
		s.gradient[j] = mat.Dot(s.t.ColView(j), mat.NewVecDense(n+1, s.r))
	}
	return s
}

// factorise overwrites a with its QR factors.
func factorise(a blas64.General) {
	tau := make([]float64, min(a.Rows, a.Cols))
	size := make([]float64, 1)
	lapack64.Geqrf(a, tau, size, -1)
	work := make([]float64, int(size[0]))
	lapack64.Geqrf(a, tau, work, len(work))
}

// projected is the length of the residuals in the span of the free columns.
func (s *reduced) projected(free []int) float64 {
	if len(free) == 0 {
		return 0
	}
	d := s.decompose(free, func(j int) float64 { return math.Max(mat.Norm(s.t.ColView(j), 2), math.SmallestNonzeroFloat64) }, s.r)
	return math.Sqrt(dot(d.along, d.along))
}

// offset is the relative offset of Bates & Watts: the residuals in the span of
// the free columns over those across it, each per its number of dimensions.
func (s *reduced) offset(free []int, rows int) float64 {
	if len(free) == 0 {
		return 0
	}
	along := s.projected(free)
	across := math.Sqrt(math.Max(s.cost-along*along, 0))
	if rows > len(free) {
		across /= math.Sqrt(float64(rows - len(free)))
	}
	return along / math.Sqrt(float64(len(free))) / across
}

// fall is by how much a step lowers the linearised sum of squares.
func (s *reduced) fall(step []float64) float64 {
	var change mat.VecDense
	change.MulVec(s.t, mat.NewVecDense(len(step), step))
	return -2*dot(s.gradient, step) - dot(change.RawVector().Data, change.RawVector().Data)
}

// decomposed holds singular values of scaled columns, in falling order, with the
// residuals along them.
type decomposed struct {
	columns []int
	scale   []float64
	sigma   []float64
	v       mat.Dense // columns are directions in scaled coordinates
	along   []float64 // Uᵀr of the directions that are not lost to rounding, else 0
}

// decompose finds them for some columns, each divided by its scale.
func (s *reduced) decompose(columns []int, scale func(j int) float64, r []float64) *decomposed {
	d := &decomposed{columns: columns}
	part := mat.NewDense(len(s.r), len(columns), nil)
	for k, j := range columns {
		d.scale = append(d.scale, scale(j))
		for i := range s.r {
			part.Set(i, k, s.t.At(i, j)/d.scale[k])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(part, mat.SVDThin) {
		panic("optimize: singular values did not converge") // LAPACK: never seen on finite numbers
	}
	d.sigma = svd.Values(nil)
	svd.VTo(&d.v)
	var u mat.Dense
	svd.UTo(&u)
	d.along = make([]float64, len(columns))
	for k, sigma := range d.sigma {
		if sigma > epsilon*float64(len(columns))*d.sigma[0] {
			d.along[k] = mat.Dot(u.ColView(k), mat.NewVecDense(len(r), r))
		}
	}
	return d
}

// length is the scaled length of the step with damping λ, and its slope by λ.
func (d *decomposed) length(lambda float64) (length, slope float64) {
	sum, fall := 0.0, 0.0
	for k, a := range d.along {
		if a == 0 {
			continue
		}
		q := d.sigma[k]*d.sigma[k] + lambda
		p := d.sigma[k] * a / q
		sum += p * p
		fall += p * p / q
	}
	length = math.Sqrt(sum)
	return length, -fall / length
}

// damping is the λ at which the step has the length of the radius, 0 if it is
// shorter without: Newton's method on 1/radius − 1/length (Hebden; Moré 1978).
func (d *decomposed) damping(radius float64) float64 {
	const near, rounds = 0.05, 40
	lambda := 0.0
	for range rounds {
		length, slope := d.length(lambda)
		if length <= radius*(1+near) && (lambda == 0 || length >= radius*(1-near)) {
			break
		}
		lambda = math.Max(lambda-(length-radius)/radius*length/slope, lambda/100)
	}
	return lambda
}

// step writes the damped step into out.
func (d *decomposed) step(lambda float64, out []float64) {
	for k, a := range d.along {
		if a == 0 {
			continue
		}
		p := -d.sigma[k] * a / (d.sigma[k]*d.sigma[k] + lambda)
		for i, j := range d.columns {
			out[j] += p * d.v.At(i, k) / d.scale[i]
		}
	}
}

// boundedStep is the damped step of the free coordinates. Those that it would
// carry across a bound stop there, and the others are solved anew.
func (m *squares) boundedStep(y []float64, region *trustRegion, s *reduced, free []int) (step []float64, lambda float64) {
	fixed := make([]float64, len(y))
	r := clone(s.r)
	for len(free) > 0 {
		d := s.decompose(free, region.of, r)
		lambda = d.damping(math.Max(region.radius-region.norm(fixed), region.radius/4))
		step = clone(fixed)
		d.step(lambda, step)
		var rest []int
		for _, j := range free {
			if to := math.Min(math.Max(y[j]+step[j], m.lower[j]), m.upper[j]); to != y[j]+step[j] {
				fixed[j] = to - y[j]
				for i := range r {
					r[i] += s.t.At(i, j) * fixed[j]
				}
			} else {
				rest = append(rest, j)
			}
		}
		if len(rest) == len(free) {
			return step, lambda
		}
		free = rest
	}
	return fixed, lambda
}
