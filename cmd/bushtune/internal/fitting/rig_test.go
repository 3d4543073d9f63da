package fitting

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
)

var renew = flag.Bool("renew", false, "write the built-in rig data anew")

// truth is the axle behind the built-in rig data, in the order of its [search]:
// what a fit should find. The file has 0, 550, 1800, 60, 2000.
var truth = []float64{3, 640, 1560, 52, 1700}

// channelNoise is the noise of the built-in rig: common practice, no source.
var channelNoise = map[string]float64{"toe": 0.004, "camber": 0.006, "centre_x": 0.03, "centre_y": 0.02} // deg, mm

// falseReading is what is added to one reading of toe, as if the wheel had been
// touched, in deg, and which reading that is.
const (
	falseReading = 0.06
	falseRow     = 37
)

// rigLoads are the loads of the built-in rig by case, in kN and N·m.
var rigLoads = []struct {
	name  string
	loads []float64
}{
	{"cornering", []float64{-3, -2, -1, 1, 2, 3}},
	{"braking", []float64{1, 2, 3}},
	{"impact", []float64{1, 2}},
	{"aligning", []float64{-200, -100, 100, 200}},
}

const rigHead = `# Invented rig data for the built-in axle hatchback-link, as of an axle from the shop.
# Computed from bushes and links that differ from the file, with noise, and one false reading.
# Changes from the position without test load; x forward, y left, z up for both wheels,
# toe-in and top outward are positive. Body fixed, pads level.
case,load [kN],load [N·m],side,channel,value [deg],value [mm]
`

// rigText writes the built-in rig data.
func rigText(t *testing.T, file *axlefile.File, study *cases.Study) []byte {
	t.Helper()
	for j := range file.Search {
		for _, m := range file.Search[j].Moves {
			study.Set(m.Slot, m.At(truth[j]))
		}
	}
	if err := study.Update(); err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(20, 26))
	var b bytes.Buffer
	b.WriteString(rigHead)
	row := 0
	for _, c := range rigLoads {
		for _, load := range c.loads {
			for _, side := range cases.WheelNames {
				for _, channel := range []string{"toe", "camber", "centre_x", "centre_y"} {
					value := readingOf(t, study, channel, side, c.name, load) + channelNoise[channel]*random.NormFloat64()
					if row++; row == falseRow {
						value += falseReading
					}
					b.WriteString(rigLine(c.name, load, side, channel, value))
				}
			}
		}
	}
	return b.Bytes()
}

// readingOf is what the axle of a study shows, in written units.
func readingOf(t *testing.T, study *cases.Study, channel, side, caseName string, load float64) float64 {
	t.Helper()
	index, err := study.FindChannel(channel, side, caseName)
	if err != nil {
		t.Fatal(err)
	}
	linear, _ := study.Reading(index, load*study.SizeUnit(index).Factor)
	return channelOf(channel).Unit.Written(study.Value(index) * linear)
}

func rigLine(caseName string, load float64, side, channel string, value float64) string {
	loads := fmt.Sprintf("%g,", load)
	if caseName == "aligning" {
		loads = fmt.Sprintf(",%g", load)
	}
	values := fmt.Sprintf("%.3f,", value)
	if strings.HasPrefix(channel, "centre") {
		values = fmt.Sprintf(",%.2f", value)
	}
	return strings.Join([]string{caseName, loads, side, channel, values}, ",") + "\n"
}

// demoFile is the default axle with its study.
func demoFile(t testing.TB) (*axlefile.File, *cases.Study) {
	t.Helper()
	file := fileOf(t, demo.Default, "")
	study, err := Study(file)
	if err != nil {
		t.Fatal(err)
	}
	return file, study
}

// TestBuiltInRigIsWhatItSays: the built-in rig data are this model with this noise;
// go test -renew writes them.
func TestBuiltInRigIsWhatItSays(t *testing.T) {
	file, study := demoFile(t)
	want := rigText(t, file, study)
	if *renew {
		if err := os.WriteFile("../demo/rigs/"+demo.Default+".csv", want, 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got, ok := demo.Rig(demo.Default); !ok || !bytes.Equal(got, want) {
		t.Error("the built-in rig data are not what this test computes; go test -renew writes them anew")
	}
}
