package cases

import (
	"bushtune/bushing/exact"
	"bushtune/compliance"
)

// rig applies loads to the wheels of one solved axle, on pads. It holds, for the
// present slots, the vectors of both wheels, the motions under unit loads at the
// contact points, and what the pads need to hold the contact points level.
type rig struct {
	solver  *compliance.Solver
	tyre    float64 // mm/N of one tyre, in series with level pads; 0: rigid
	vectors [2]wheelVectors[float64]
	track   float64                        // mm between the contact points
	wanted  [wheelLoads]bool               // directions that some load or pad has
	units   [2][wheelLoads]compliance.Port // motion under 1 N or 1 N·mm at the contact centre: see unit
	hold    [2][2]float64                  // N/mm: S⁻¹ with S = Gᵀ·C·G + tyre, G the vertical at both contact points
}

// place reads the wheels' slots.
func (r *rig) place() {
	axle := r.solver.Axle()
	r.track = 0
	for w := range r.vectors {
		r.vectors[w] = newWheelVectors(axle.Wheels[w].Slots, w)
		r.track += contactOutboard(axle.Wheels[w].Slots)
	}
}

// column is the row of C of one direction at a wheel centre.
func (r *rig) column(wheel, port int) *compliance.Port {
	return (*compliance.Port)(r.solver.Compliance()[(6*wheel+port)*compliance.Ports:])
}

// measure makes the motions under unit loads current.
func (r *rig) measure() {
	for w := range r.units {
		for i := range r.units[w] {
			if !r.wanted[i] {
				continue
			}
			r.push(w, firstWheelLoad+direction(i), &r.units[w][i])
		}
	}
	var s [2][2]float64
	for w := range s {
		for u := range s {
			s[w][u] = r.read(w, patchZ, r.unit(u, patchZ))
		}
		s[w][w] += r.tyre
	}
	det := s[0][0]*s[1][1] - s[0][1]*s[1][0]
	r.hold = [2][2]float64{{s[1][1] / det, -s[0][1] / det}, {-s[1][0] / det, s[0][0] / det}}
}

// push writes the motion under a unit load in a direction, from the force at the
// wheel centre and its moments.
func (r *rig) push(w int, d direction, out *compliance.Port) {
	*out = compliance.Port{}
	for port, factor := range &r.vectors[w][d] {
		if factor == 0 {
			continue
		}
		column := r.column(w, port)
		for p := range out {
			out[p] += factor * column[p]
		}
	}
}

// read is one direction of one wheel in a motion.
func (r *rig) read(w int, d direction, motion *compliance.Port) float64 {
	return r.vectors[w][d].Dot((*exact.Wrench[float64])(motion[6*w : 6*w+6]))
}

// unit is the motion under a unit load in a direction, pads floating. Only
// directions that can be loads have one.
func (r *rig) unit(w int, d direction) *compliance.Port {
	if d >= firstWheelLoad {
		return &r.units[w][d-firstWheelLoad]
	}
	return r.column(w, int(d-centreX))
}

// level returns the pad forces that keep the contact points where they are
// under a motion of floating pads, and adds what they do to it. The pads are the
// redundants of the force method (Przemieniecki, Theory of Matrix Structural
// Analysis, 1968, ch. 8; from memory): C on level pads is C − C·G·S⁻¹·Gᵀ·C.
func (r *rig) level(motion *compliance.Port) (pads [2]float64) {
	pads = r.reaction(r.read(0, patchZ, motion), r.read(1, patchZ, motion))
	a, b := pads[0], pads[1]
	left, right := r.unit(0, patchZ), r.unit(1, patchZ)
	for i := range motion {
		motion[i] += a*left[i] + b*right[i]
	}
	return pads
}

// reaction is −S⁻¹·z: the pad forces (N) against heights z (mm).
func (r *rig) reaction(left, right float64) [2]float64 {
	h := &r.hold
	return [2]float64{-h[0][0]*left - h[0][1]*right, -h[1][0]*left - h[1][1]*right}
}

// addTerms adds multiples of wheel vectors to a port vector.
func (r *rig) addTerms(terms []term, out *compliance.Port) {
	for _, t := range terms {
		r.addVector(t.wheel, t.direction, t.factor, out)
	}
}

func (r *rig) addVector(w int, d direction, factor float64, out *compliance.Port) {
	at := (*exact.Wrench[float64])(out[6*w:])
	for i, v := range &r.vectors[w][d] {
		at[i] += factor * v
	}
}

// addPads adds pad forces to a port vector.
func (r *rig) addPads(pads [2]float64, out *compliance.Port) {
	for w, f := range pads {
		r.addVector(w, patchZ, f, out)
	}
}

// load is one case or state; a case is ready to be solved: loads as multiples of wheel
// vectors, then the motion of the wheels and the pad forces they cause.
type load struct {
	Case
	state  int // index of the state, or −1
	terms  []term
	motion compliance.Port // of both wheels
	pads   [2]float64      // N, change of the pad forces; zero on floating pads

	response // loads with pad forces

	settled settled // of a state
}

// newLoad lists the loads of a case.
func newLoad(c Case) *load {
	l := &load{Case: c, state: -1}
	for w, on := range c.Wheels {
		for i, f := range on.Force {
			d := centreX + direction(i)
			if on.At == AtPatch {
				d = c.Brake.at(patchX + direction(i))
			}
			if f != 0 {
				l.terms = append(l.terms, term{w, d, f})
			}
		}
		if on.Moment != 0 {
			l.terms = append(l.terms, term{w, yaw, on.Moment})
		}
	}
	return l
}

// solve superposes the unit loads and lets the pads act.
func (l *load) solve(r *rig) {
	l.motion = compliance.Port{}
	for n := 0; n < len(l.terms); n += 2 {
		first := &l.terms[n]
		a, f := r.unit(first.wheel, first.direction), first.factor
		if n+1 == len(l.terms) {
			for i := range l.motion {
				l.motion[i] += f * a[i]
			}
			break
		}
		second := &l.terms[n+1]
		b, g := r.unit(second.wheel, second.direction), second.factor
		for i := range l.motion {
			l.motion[i] += f*a[i] + g*b[i]
		}
	}
	if l.Pads == Level {
		l.pads = r.level(&l.motion)
	}
}

// newStateLoad makes the load of a state, which has its forces at its size only.
func newStateLoad(state int, st State) *load {
	return &load{Case: st.onTheRoad(), state: state}
}
