package cases

import (
	"errors"
	"math"
	"testing"

	"bushtune/bushing/exact"
)

// TestChannels: every channel of every wheel is read in every case in which the pads
// leave it free, and a reading is the number times its load.
func TestChannels(t *testing.T) {
	own, err := NewCase("mine", "", Level, BrakeOff, WheelLoad{Moment: 5e4}, WheelLoad{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewStudyBothTurns(linkedBeam(t), Vehicle{}, []Case{own}, nil)
	if err != nil {
		t.Fatal(err)
	}
	names := ChannelNames()
	if names[0] != "toe" || names[3] != "centre_x" || len(names) != 10 {
		t.Fatalf("channels %v", names)
	}
	for _, c := range s.Cases() {
		for _, channel := range Channels() {
			for _, wheel := range Roles() {
				index, err := s.FindChannel(channel.Name, wheel, c.Name)
				held := channel.Name == "patch_z" && c.Pads == Level || channel.Name == "pad_load" && c.Pads == Floating
				var unknown *UnknownName
				if held != (err != nil) || held && !errors.As(err, &unknown) {
					t.Errorf("%s of the %s wheel in %s: %v", channel.Name, wheel, c.Name, err)
				}
				if err == nil && s.Numbers()[index].Case != c.Name {
					t.Errorf("%s in %s is read in %s", channel.Name, c.Name, s.Numbers()[index].Case)
				}
			}
		}
	}
}

// TestReadingIsTheSweep: readings of the linear number at a small load, and of the
// secant at a large one, are what a sweep to that load shows.
func TestReadingIsTheSweep(t *testing.T) {
	own, err := NewCase("mine", "", Level, BrakeLocked, WheelLoad{Force: exact.Vec[float64]{500, 0, 0}}, WheelLoad{Force: exact.Vec[float64]{-250, 0, 0}})
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewStudy(linkedBeam(t), Vehicle{}, []Case{own}, nil)
	if err != nil {
		t.Fatal(err)
	}
	full, err := NewFullSize(s)
	if err != nil {
		t.Fatal(err)
	}
	const smallError = 1e-4 // what finite movements add at a hundredth of a kN
	for _, name := range []string{"cornering", "mine"} {
		index, err := s.FindChannel("toe", "left", name)
		if err != nil {
			t.Fatal(err)
		}
		for _, size := range []float64{10, 3000} {
			swept, err := full.Sweep(Sweep{Case: name, To: size, Points: 2})
			if err != nil {
				t.Fatal(err)
			}
			shown := find(swept.Totals, "wheel_toe", name, "inner") // of a turn to the left
			want := shown.Points[len(shown.Points)-1].Value * math.Pi / 180
			linear, secant := s.Reading(index, size)
			var value [1]float64
			if err := full.Goals([]Goal{{Number: index, Size: size}}, value[:], nil, nil); err != nil {
				t.Fatal(err)
			}
			if got := value[0] * secant; math.Abs(got-want) > 1e-9*math.Abs(want) {
				t.Errorf("%s at %g: secant reading %v, the sweep shows %v", name, size, got, want)
			}
			if got := s.Value(index) * linear; size == 10 && math.Abs(got-want) > smallError*math.Abs(want) {
				t.Errorf("%s at %g: linear reading %v, the sweep shows %v", name, size, got, want)
			}
		}
	}
}
