package show

import (
	"strings"
	"testing"

	"bushtune/bushing"
	"bushtune/cmd/bushtune/internal/swapping"
)

// TestPlayWords: on which side a worn bush bears, that it floats, or that nobody knows;
// both sides of the car in one line where they are alike.
func TestPlayWords(t *testing.T) {
	v := demoView(t)
	left := swapping.Play{Element: "bush.pivot.left", Direction: bushing.Soft, Way: 0.5, Rest: -110.4, RestEnd: -110.4, Towards: "rearward", Leaves: "braking", At: 0.131}
	right := left
	right.Element = "bush.pivot.right"
	other := right
	other.Rest, other.RestEnd = 90, 90
	for _, test := range []struct {
		plays []swapping.Play
		want  []string
	}{
		{[]swapping.Play{left, right}, []string{"  bush.pivot | soft | bears with -110 N, inner sleeve pushed rearward through 0.5 mm of play; taken off by 0.13 kN a wheel (braking with outboard brakes)"}},
		{[]swapping.Play{left, other}, []string{"  bush.pivot.left | soft | bears with -110 N", "  bush.pivot.right | soft | bears with +90 N"}},
		{[]swapping.Play{{Element: "bush.one", Direction: bushing.Axial, Way: 0.3, Towards: "up or down", Floats: true}},
			[]string{"  bush.one | axial | floats within ± 0.3 mm (up or down): the figures hold once the play is taken up"}},
		{[]swapping.Play{{Element: "bush.one", Direction: bushing.Stiff, Way: 1, Unknown: true}},
			[]string{"  bush.one | stiff | not known: the axle file includes no static load"}},
		{[]swapping.Play{{Element: "bush.one", Direction: bushing.Stiff, Way: 1, Rest: 4000, RestEnd: 4000, Towards: "up"}},
			[]string{"  bush.one | stiff | bears with +4000 N, inner sleeve pushed up through 1 mm of play"}},
		{[]swapping.Play{{Element: "bush.one", Direction: bushing.Stiff, Way: 1, Rest: 40, RestEnd: 61, Towards: "up"}},
			[]string{"  bush.one | stiff | bears with +40 to +61 N, inner sleeve pushed up through 1 mm of play"}},
		{[]swapping.Play{{Element: "bush.one", Direction: bushing.Stiff, Way: 1, Rest: 40, RestEnd: -6, Towards: "up", Turns: true}},
			[]string{"  bush.one | stiff | bears with +40 to -6 N over the range of the compound: on which side of its ± 1 mm, only a test tells"}},
	} {
		rows := playRows(v, test.plays)
		if len(rows) != len(test.want) {
			t.Errorf("%v gives %d rows: %v", test.plays, len(rows), rows)
			continue
		}
		for i, row := range rows {
			if got := strings.Join(row, " | "); !strings.HasPrefix(got, test.want[i]) {
				t.Errorf("got:  %s\nwant: %s", got, test.want[i])
			}
		}
	}
}
