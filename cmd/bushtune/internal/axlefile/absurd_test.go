package axlefile_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"bushtune/cases"
	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
)

// absurdity is one row of testdata/absurd/axles.toml.
type absurdity struct {
	Axle    string   // a built-in axle
	Replace []string // pairs: what stands there, what is put there
	Refused bool     // by the reader or the model
	Told    string   // the check that has to tell it
	Silent  string   // why nobody can see it
}

// leastAbsurd is how many absurd axles are wanted, and mostSilent how many of them
// may pass without a word.
const (
	leastAbsurd = 128
	mostSilent  = 12
)

func absurdities(t *testing.T) map[string]absurdity {
	t.Helper()
	text, err := os.ReadFile("testdata/absurd/axles.toml")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]absurdity{}
	if err := toml.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// text is the axle file of an absurdity.
func (a *absurdity) text(t *testing.T) string {
	t.Helper()
	built, err := demo.Open(a.Axle)
	if err != nil {
		t.Fatal(err)
	}
	text, _, _ := strings.Cut(string(built.Text), "[search]")
	for i := 0; i+1 < len(a.Replace); i += 2 {
		if !strings.Contains(text, a.Replace[i]) {
			t.Fatalf("%q does not stand in %s", a.Replace[i], a.Axle)
		}
		text = strings.ReplaceAll(text, a.Replace[i], a.Replace[i+1])
	}
	return text
}

// told are the checks that tell something of a text; refused is an error of the reader
// or the model.
func told(text string) (checks []string, notes []axlefile.Unusual, refused error) {
	f, err := axlefile.Parse("axle.toml", []byte(text))
	if err != nil {
		return nil, nil, err
	}
	study, err := cases.NewStudy(f.Axle, f.Vehicle, f.Cases, f.States)
	notes = f.Unusual(study)
	for i := range notes {
		checks = append(checks, notes[i].Check)
	}
	return checks, notes, err
}

func TestAbsurdAxlesAreRefusedOrTold(t *testing.T) {
	all := absurdities(t)
	silent := 0
	for name, a := range all {
		t.Run(name, func(t *testing.T) {
			checks, notes, err := told(a.text(t))
			switch {
			case a.Refused:
				if err == nil {
					t.Errorf("accepted; told: %v", checks)
				}
			case a.Told != "":
				if err != nil && notes == nil {
					t.Errorf("refused, want the check %s: %v", a.Told, err)
				} else if !slices.Contains(checks, a.Told) {
					t.Errorf("not told by %s; told by %v", a.Told, checks)
				}
			case a.Silent == "":
				t.Errorf("RESULT\t%s\t%v\t%v", name, err, checks)
			default:
				silent++
				if len(checks) > 0 || err != nil {
					t.Errorf("is told after all, by %v, %v", checks, err)
				}
			}
		})
	}
	if len(all) < leastAbsurd || silent > mostSilent {
		t.Errorf("%d absurd axles, %d of them silent; want at least %d and at most %d", len(all), silent, leastAbsurd, mostSilent)
	}
}
