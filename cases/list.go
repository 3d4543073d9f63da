package cases

import (
	"fmt"
	"strings"

	"bushtune/bushing/quantity"
)

// number is a Number with the answers and the formula behind it.
type number struct {
	Number
	answers [2]int
	count   int
	formula *formula
	outer   int // the wheel outside the turn
	state   int // index of the state, or −1
	other   int // the same number in the other turn, or −1
}

// list makes the loads of all cases and states and the numbers read in them.
func (s *Study) list(custom []Case) error {
	s.listCases(custom)
	if err := s.uniqueNames(); err != nil {
		return err
	}
	definitions := definitions()
	for i := range definitions {
		s.define(&definitions[i])
	}
	for _, l := range s.loads {
		s.readWheels(l)
	}
	s.pairTurns()
	return nil
}

// listCases makes a load for every case and every state that can be composed.
func (s *Study) listCases(custom []Case) {
	for turn := range s.turns {
		for _, c := range BuiltIn() {
			if turn == 1 {
				c = c.mirrored()
			}
			s.addLoad(newLoad(c))
		}
	}
	for _, c := range custom {
		s.addLoad(newLoad(c))
	}
	s.firstState = len(s.loads)
	for i := range s.states {
		st := &s.states[i]
		if missing := s.vehicle.missing(st.needs(&s.vehicle)); missing != nil {
			s.absent = append(s.absent, Absent{Number: st.Name, Title: "state: " + st.Title, Needs: missing})
			continue
		}
		for turn := range s.turns {
			l := newStateLoad(i, *st)
			if turn == 1 {
				l.Name, l.Title, l.Outer = l.Name+TurnRight, l.Title+", turning right", LeftWheel
			}
			s.addLoad(l)
		}
	}
	for _, l := range s.loads {
		s.cases = append(s.cases, l.Case)
	}
}

func (s *Study) addLoad(l *load) {
	s.rig.wanted[patchZ-firstWheelLoad] = true
	for _, t := range l.terms {
		if t.direction >= firstWheelLoad {
			s.rig.wanted[t.direction-firstWheelLoad] = true
		}
	}
	l.response = newResponse(s.rig.solver)
	s.loads = append(s.loads, l)
}

// uniqueNames refuses two cases or states of one name.
func (s *Study) uniqueNames() error {
	seen := make(map[string]bool)
	for _, l := range s.loads {
		if seen[l.Name] {
			return fmt.Errorf("case %s: there are two cases or states of this name; built-in names are taken", l.Name)
		}
		seen[l.Name] = true
	}
	return nil
}

// loadOf finds a built-in case in a turn.
func (s *Study) loadOf(name string, turn int) *load {
	if turn == 1 {
		name += TurnRight
	}
	for _, l := range s.loads {
		if l.Name == name {
			return l
		}
	}
	return nil
}

// define adds one row of the table of numbers for each of its cases and turns.
func (s *Study) define(d *definition) {
	if missing := s.vehicle.missing(d.needs); missing != nil {
		s.absent = append(s.absent, Absent{Number: d.name, Title: d.title, Needs: missing})
		return
	}
	for _, name := range d.cases {
		if name == anyState {
			s.defineInStates(d)
			continue
		}
		for turn := range s.turns {
			s.addNumber(d, s.loadOf(name, turn), turn)
		}
	}
}

// defineInStates adds a number for every state that can be composed; if there is
// none, the number needs what the first state needs.
func (s *Study) defineInStates(d *definition) {
	composed := false
	for _, l := range s.loads {
		if l.state >= 0 {
			s.addNumber(d, l, turn(l.Outer))
			composed = true
		}
	}
	if first := &s.states[0]; !composed {
		s.absent = append(s.absent, Absent{Number: d.name, Title: d.title, Needs: s.vehicle.missing(first.needs(&s.vehicle))})
	}
}

// addNumber adds one number in one case.
func (s *Study) addNumber(d *definition, l *load, turn int) {
	n := number{
		Number: Number{
			Name: d.name, Title: d.title, Case: l.Name, Where: d.where, Pads: l.Pads,
			Unit: d.unit, Signs: s.signsIn(d, l), Step: d.step, Formula: d.text, NoParts: d.formula.whole,
		},
		formula: d.formula, outer: l.Outer, state: l.state, other: -1, count: len(d.readings),
	}
	if l.state >= 0 {
		n.NoParts = wholeState + l.Name
	}
	for i := range d.readings {
		from := l
		if i == 1 && d.elsewhere != "" {
			from = s.loadOf(d.elsewhere, turn)
		}
		n.answers[i] = s.answer(&d.readings[i], from)
	}
	s.numbers = append(s.numbers, n)
}

// signsIn are the sign words of a number in one case: where the car goes straight, toe
// is neither understeer nor oversteer.
func (s *Study) signsIn(d *definition, l *load) quantity.Signs {
	if l.state < 0 {
		return d.signs
	}
	return handling(d.signs, &s.states[l.state])
}

// handling are sign words as they hold in a state.
func handling(signs quantity.Signs, st *State) quantity.Signs {
	if signs == outerSigns && st.Straight() {
		return toeSigns
	}
	return signs
}

// readWheels adds the plain readings of one case. The height of a contact point
// that is held is no reading.
func (s *Study) readWheels(l *load) {
	for r := outerWheel; r <= rightWheel; r++ {
		for i := range genericReadings {
			g := genericReadings[i].with(l.Brake)
			if g.direction == patchZ && l.Pads == Level && s.rig.tyre == 0 {
				continue
			}
			s.addReading(&g, r, of(r, g.direction), l)
		}
		if l.Pads == Level {
			s.addReading(&padReading, r, reading{pads: []padTerm{{r, 1}}}, l)
		}
	}
}

func (s *Study) addReading(g *genericReading, r role, what reading, l *load) {
	d := definition{
		name: roleNames[r] + "_" + g.name, title: roleNames[r] + " wheel, " + g.title, readings: []reading{what},
		formula: &theAnswer, unit: g.unit(l.Per), signs: g.signs, step: g.step, text: g.title,
	}
	if what.pads != nil {
		d.formula = &reaction
	}
	s.addNumber(&d, l, 0)
	s.numbers[len(s.numbers)-1].Generic = true
}

// answer returns the index of a reading under a load, made if it is new.
func (s *Study) answer(what *reading, l *load) int {
	terms, pads := what.resolve(&l.Case)
	sensor := s.sensor(terms, pads, l.Pads)
	for i := range s.answers {
		if s.answers[i].sensor == sensor && s.answers[i].load == l {
			return i
		}
	}
	s.answers = append(s.answers, answerOf{sensor, l, 1 / l.Per.size()})
	return len(s.answers) - 1
}

// sensor returns the sensor of a reading, made if it is new.
func (s *Study) sensor(terms []term, pads [2]float64, held Pads) *sensor {
	for _, known := range s.sensors {
		if known.held == held && known.pads == pads && sameTerms(known.terms, terms) {
			return known
		}
	}
	made := &sensor{terms: terms, pads: pads, held: held, response: newResponse(s.rig.solver)}
	s.sensors = append(s.sensors, made)
	return made
}

func sameTerms(a, b []term) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// pairTurns links every number to its mirror image.
func (s *Study) pairTurns() {
	if s.turns == 1 {
		return
	}
	type key struct{ name, caseName, where string }
	at := make(map[key]int)
	for i := range s.numbers {
		n := &s.numbers[i]
		at[key{n.Name, n.Case, n.Where}] = i
	}
	for i := range s.numbers {
		n := &s.numbers[i]
		if j, ok := at[key{n.Name, n.Case + TurnRight, n.Where}]; ok {
			n.other, s.numbers[j].other = j, i
		}
	}
}

// list joins words for a message.
func list(words []string) string { return strings.Join(words, ", ") }
