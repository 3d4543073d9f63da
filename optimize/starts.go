package optimize

import "math/rand/v2"

// lowDiscrepancy returns count points that fill the unit box of dimension n
// evenly: the Halton sequence (Numerische Mathematik 2, 1960, 84–90) shifted
// modulo 1 by a seeded amount per coordinate (Cranley & Patterson, SIAM Journal
// on Numerical Analysis 13, 1976, 904–914).
func lowDiscrepancy(n, count int, seed uint64) [][]float64 {
	random := rand.New(rand.NewPCG(seed, seed))
	shift := make([]float64, n)
	for i := range shift {
		shift[i] = random.Float64()
	}
	bases := primes(n)
	points := make([][]float64, count)
	for k := range points {
		points[k] = make([]float64, n)
		for i := range points[k] {
			v := radicalInverse(k+1, bases[i]) + shift[i]
			if v >= 1 {
				v--
			}
			points[k][i] = v
		}
	}
	return points
}

// radicalInverse mirrors the digits of k in the given base at the point.
func radicalInverse(k, base int) float64 {
	value, digit := 0.0, 1.0
	for ; k > 0; k /= base {
		digit /= float64(base)
		value += digit * float64(k%base)
	}
	return value
}

// primes returns the first n primes.
func primes(n int) []int {
	var found []int
	for k := 2; len(found) < n; k++ {
		prime := true
		for _, p := range found {
			prime = prime && k%p != 0
		}
		if prime {
			found = append(found, k)
		}
	}
	return found
}
