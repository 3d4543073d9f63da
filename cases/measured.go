package cases

import (
	"strings"

	"bushtune/bushing/quantity"
)

// Channel is a plain reading of a wheel as a test rig records it: a change from
// the position without test load, in vehicle axes for both wheels.
type Channel struct {
	Name  string // "toe", "centre_x"
	Title string
	Unit  quantity.Unit
	Signs quantity.Signs
	Step  float64 // just-noticeable, written unit
}

// wheelPrefix is left out of the names of channels.
const wheelPrefix = "wheel_"

// Channels lists what can be read on every wheel.
func Channels() []Channel {
	var all []Channel
	for _, g := range append(genericReadings[:len(genericReadings):len(genericReadings)], padReading) {
		all = append(all, Channel{strings.TrimPrefix(g.name, wheelPrefix), g.title, g.unit(TheLoad), g.signs, g.step})
	}
	return all
}

// ChannelNames are the names of all channels.
func ChannelNames() []string {
	var all []string
	for _, c := range Channels() {
		all = append(all, c.Name)
	}
	return all
}

// Roles names the wheels of a reading: by their place in the turn, or on the axle.
func Roles() []string { return append([]string(nil), roleNames...) }

// FindChannel returns the number of a channel of one wheel in a case. The error is
// an *UnknownName.
func (s *Study) FindChannel(channel, wheel, caseName string) (int, error) {
	short := wheel + "_" + channel
	long := wheel + "_" + wheelPrefix + channel
	for i := range s.numbers {
		if n := &s.numbers[i]; n.Generic && n.Case == caseName && (n.Name == short || n.Name == long) {
			return i, nil
		}
	}
	return s.Find(long, caseName, "")
}

// Reading turns a plain number into what a gauge reads under a load of a size as in
// Goal: reading = number · linear for the linear number, number · secant for the
// one at that size.
func (s *Study) Reading(index int, size float64) (linear, secant float64) {
	l := s.answers[s.numbers[index].answers[0]].load
	if l.Per == TheLoad {
		return size / s.goalImposed(l).size, 1
	}
	return size, size
}
