package rubber

// shapeRange are the shape factors of pads that the formulas were held against by
// own finite elements, not published.
var shapeRange = [2]float64{0.25, 10}

// checkShape holds a pad against that range; slot is its thickness.
func checkShape(p *Pad[float64], slot string) error {
	if !outside(p.Shape, shapeRange) {
		return nil
	}
	whole := p.Shape * p.Thickness
	return wrong(slot, "must be from %.4g to %.4g mm: shape factor %.4g to %.4g, where the formulas hold",
		whole/shapeRange[1], whole/shapeRange[0], shapeRange[1], shapeRange[0])
}

// longestBlock is how long a block may be over its width before the formula of a
// strip takes over. About there both are off as much, blocks high and strips low.
const longestBlock = 4

func checkBlock(length, width float64) error {
	if ratio := max(length, width) / min(length, width); ratio > longestBlock*(1+rangeRounding) {
		return wrong("length", "makes the block %.3g times as long as wide; more than %d times is a strip", ratio, longestBlock)
	}
	return nil
}

func checkStrip(length, width float64) error {
	if ratio := length / width; ratio < longestBlock*(1-rangeRounding) {
		return wrong("length", "makes the strip %.3g times as long as wide; less than %d times is a block", ratio, longestBlock)
	}
	return nil
}

// checkFlatRing wants rubber that can be moulded on both sides of the hole.
func checkFlatRing(slot string, outer, inner float64) error {
	if outer < inner+2*thinnestWall {
		return wrong(slot, "must be at least %.4g mm: inner_diameter and %d mm of rubber on both sides", inner+2*thinnestWall, thinnestWall)
	}
	return nil
}
