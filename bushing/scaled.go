package bushing

// scaledSlots are, direction by direction, the slots that a stiffer rubber
// multiplies: the rate, and along an axis what the closed void adds.
var scaledSlots = [6][]int{
	Soft:     {slotOf("soft"), slotOf("soft_snubber")},
	Axial:    {slotOf("axial"), slotOf("axial_snubber")},
	Stiff:    {slotOf("stiff"), slotOf("stiff_snubber")},
	ConeSoft: {slotOf("cone_soft")}, Torsion: {slotOf("torsion")}, ConeStiff: {slotOf("cone_stiff")},
}

// slotOf is the place of a field that is known to be there.
func slotOf(name string) int {
	for i, f := range Fields {
		if f.Name == name {
			return i
		}
	}
	panic("bushing: no field " + name)
}

// Factors multiply the loads of a bush at given deflections, in the order of
// Direction: what a compound of another hardness does. Gaps, bracket and loads
// that the author gives stay.
type Factors [6]float64

// Slots calls set with every slot of a bush that the factors change, and its new
// value; slots are those at factors of one, in the order of Fields.
func (f *Factors) Slots(slots []float64, set func(index int, value float64)) {
	for d, indices := range scaledSlots {
		for _, i := range indices {
			set(i, f[d]*slots[i])
		}
	}
}

// Curves are the measured curves under the factors; those given stay as they are.
func (f *Factors) Curves(given *Curves) *Curves {
	if given == nil || given.Tables == [6]*Table{} {
		return given
	}
	scaled := *given
	for d, t := range given.Tables {
		if t != nil {
			scaled.Tables[d] = t.times(f[d])
		}
	}
	return &scaled
}

// times multiplies the load of a table at every deflection.
func (t *Table) times(factor float64) *Table {
	scaled := t.half(factor)
	scaled.mirror = t.mirror.half(factor)
	scaled.mirror.mirror = scaled
	return scaled
}

// half multiplies a table without its mirror image.
func (t *Table) half(factor float64) *Table {
	all := func(list []float64) []float64 {
		out := make([]float64, len(list))
		for i, v := range list {
			out[i] = factor * v
		}
		return out
	}
	return &Table{x: t.x, y: all(t.y), slope: all(t.slope), energy: all(t.energy)}
}
