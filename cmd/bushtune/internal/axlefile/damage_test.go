package axlefile

import (
	"errors"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// nasty are values that replace one of a good file.
var nasty = []string{
	"0", "-1", "1e300", "-1e300", "1e-300", "nan", "inf", "-inf", `""`, `"arm"`, `"arm.left"`, `"vehicle"`, "true", "[]", "{}", "[[]]",
	"[1, 2]", "[1, 2, 3]", "[0, 0, 0]", "[[0, 1], [2, 3]]", "{ x = 1 }", `{ shape = "tube" }`, "1979-05-27", `"ü\n"`, "9223372036854775807", "0.5", "3",
}

// damages are ways to spoil one line of a text.
var damages = []func(lines []string, i int, rng *rand.Rand) []string{
	func(lines []string, i int, _ *rand.Rand) []string { return slices.Delete(lines, i, i+1) },
	func(lines []string, i int, rng *rand.Rand) []string { // another value
		if key, _, ok := strings.Cut(lines[i], "="); ok {
			lines[i] = key + "= " + nasty[rng.IntN(len(nasty))]
		}
		return lines
	},
	func(lines []string, i int, rng *rand.Rand) []string { // the value of another line
		key, _, ok := strings.Cut(lines[i], "=")
		_, value, other := strings.Cut(lines[rng.IntN(len(lines))], "=")
		if ok && other {
			lines[i] = key + "=" + value
		}
		return lines
	},
	func(lines []string, i int, rng *rand.Rand) []string { // a line in another place
		return slices.Insert(lines, rng.IntN(len(lines)), lines[i])
	},
	func(lines []string, i int, rng *rand.Rand) []string { // one letter less
		if n := len(lines[i]); n > 0 {
			at := rng.IntN(n)
			lines[i] = lines[i][:at] + lines[i][at+1:]
		}
		return lines
	},
}

// TestDamagedFiles spoils lines of good files and wants of each what FuzzRead
// wants. Besides, what the reader accepts fits the schema.
func TestDamagedFiles(t *testing.T) {
	const rounds = 30 // of each file; about a third of them still read
	s := compiledSchema(t)
	rng := rand.New(rand.NewPCG(1, 2))
	files := goodFiles(t)
	accepted, refused := 0, 0
	for _, name := range slices.Sorted(maps.Keys(files)) {
		for range rounds {
			lines := strings.Split(string(files[name]), "\n")
			for range 1 + rng.IntN(3) {
				lines = damages[rng.IntN(len(damages))](lines, rng.IntN(len(lines)), rng)
			}
			text := strings.Join(lines, "\n")
			f, err := Parse(name, []byte(text))
			if err != nil {
				refused++
				var mistakes Mistakes
				if !errors.As(err, &mistakes) || len(mistakes) == 0 {
					t.Fatalf("an error without mistakes: %v", err)
				}
				checkPlaces(t, mistakes, []byte(text))
				continue
			}
			accepted++
			editAll(t, f)
			if err := validate(t, s, []byte(text)); err != nil {
				t.Errorf("the reader accepts what the schema does not: %v\n%s", err, text)
			}
		}
	}
	if accepted < refused/10 || refused < accepted/10 {
		t.Errorf("%d accepted, %d refused: the test looks at one kind only", accepted, refused)
	}
}
