package rubber

// Corners calls visit at every corner of the box between low and high until it
// returns false. A side of no width has one corner. The slice belongs to Corners.
func Corners(low, high []float64, visit func(x []float64) bool) {
	x := append([]float64(nil), low...)
	for {
		if !visit(x) {
			return
		}
		i := 0
		for i < len(x) && x[i] == high[i] { // count up in binary digits
			x[i] = low[i]
			i++
		}
		if i == len(x) {
			return
		}
		x[i] = high[i]
	}
}
