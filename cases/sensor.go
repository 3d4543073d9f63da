package cases

import "bushtune/compliance"

// response is a load on the wheels, pad forces included, with what it does to
// the axle; movement and strain are found when asked for, once a generation.
type response struct {
	full     compliance.Port
	movement []float64 // of every freedom, mm and rad
	strain   []float64 // of every line, mm and rad

	fresh, moved, strained int // generations for which they are current
}

func newResponse(solver *compliance.Solver) response {
	return response{movement: make([]float64, solver.Freedoms()), strain: make([]float64, solver.Lines())}
}

// move makes the movement current.
func (p *response) move(r *rig, generation int) {
	if p.moved != generation {
		p.moved = generation
		r.solver.Displacement(&p.full, p.movement)
	}
}

// stretch makes the strain current.
func (p *response) stretch(r *rig, generation int) {
	if p.strained != generation {
		p.strained = generation
		r.solver.Strains(&p.full, p.strain)
	}
}

// sensor is a reading on pads of one kind. Its port vector a with the pads'
// share, a' = a + G·α with α = −S⁻¹·(Gᵀ·C·a + r) for a reading r of pad forces,
// makes the slope of an answer z = aᵀ·C'·f on level pads that of the pair
// (a', f'): dz = a'ᵀ·dC·f' + da'·C·f' + df'·C·a', with α and the pad forces held.
type sensor struct {
	terms []term
	pads  [2]float64 // factors on the pad forces
	held  Pads

	response            // a'
	share    [2]float64 // α
}

// read is the answer of a load.
func (a *sensor) read(r *rig, l *load) float64 {
	sum := a.pads[0]*l.pads[0] + a.pads[1]*l.pads[1]
	for _, t := range a.terms {
		sum += t.factor * r.read(t.wheel, t.direction, &l.motion)
	}
	return sum
}

// update makes the port vector current.
func (a *sensor) update(r *rig, generation int) {
	if a.fresh == generation {
		return
	}
	a.fresh = generation
	a.full = compliance.Port{}
	r.addTerms(a.terms, &a.full)
	a.share = [2]float64{}
	if a.held == Level {
		left, right := r.unit(0, patchZ).Dot(&a.full), r.unit(1, patchZ).Dot(&a.full)
		a.share = r.reaction(left+a.pads[0], right+a.pads[1])
		r.addPads(a.share, &a.full)
	}
}

// update makes the port vector of a load current.
func (l *load) update(r *rig, generation int) {
	if l.fresh == generation {
		return
	}
	l.fresh = generation
	l.full = compliance.Port{}
	r.addTerms(l.terms, &l.full)
	r.addPads(l.pads, &l.full)
}

// answerOf is a sensor read under a load, per the load to which the case refers.
type answerOf struct {
	sensor *sensor
	load   *load
	scale  float64 // 1/N, 1/(N·mm) or 1
}

func (a *answerOf) value(r *rig) float64 { return a.sensor.read(r, a.load) * a.scale }
