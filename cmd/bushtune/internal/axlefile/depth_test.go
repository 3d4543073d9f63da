package axlefile

import (
	"errors"
	"fmt"
	"runtime"
	"strings"
	"testing"
)

// TestDeepKeys: a text that nests without end is refused at its line, the second, and takes no
// more memory than its length explains, whatever way it nests.
func TestDeepKeys(t *testing.T) {
	const depth = 20000
	deep := "nested too deeply"
	for name, c := range map[string]struct{ text, want string }{
		"dots":            {"title = \"x\"\n" + strings.Repeat("a.", depth) + "b = 1\n", deep},
		"header":          {"\n[" + strings.Repeat("a.", depth) + "b]\n", deep},
		"braces":          {"\na = " + strings.Repeat("{a = ", depth) + "1" + strings.Repeat("}", depth) + "\n", "nested"},
		"brackets":        {"\na = " + strings.Repeat("[", depth) + strings.Repeat("]", depth) + "\n", "nested"},
		"shallow braces":  {"\na = " + strings.Repeat("{a = ", 20) + "1" + strings.Repeat("}", 20) + "\n", deep},
		"dots in a table": {"[a.b.c.d.e.f.g.h]\na.b.c.d.e.f.g.h.i = 1\n", deep},
		"behind a slip":   {"\na = = " + strings.Repeat("{a = ", depth) + "\n", "not TOML"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := Parse("deep.toml", []byte(c.text))
		runtime.ReadMemStats(&after)
		var mistakes Mistakes
		if !errors.As(err, &mistakes) || mistakes[0].Line != 2 || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
		if len(err.Error()) > 1000 {
			t.Errorf("%s: %d letters of message", name, len(err.Error()))
		}
		if took := after.TotalAlloc - before.TotalAlloc; took > 64<<20 {
			t.Errorf("%s: took %d MB", name, took>>20)
		}
	}
}

// TestEchoesAreShort: what a message repeats of the file is cut.
func TestEchoesAreShort(t *testing.T) {
	long := strings.Repeat("x", 100000)
	for _, text := range []string{"[bush." + long + "]\n" + long + " = 1\n", long + " = 1\n", "title = 1\n[want.a]\nnumber = \"" + long + "\"\n", long + "\n", "[search]\n" + long + ".y = 1\n"} {
		_, err := Parse("long.toml", []byte(text))
		var mistakes Mistakes
		if !errors.As(err, &mistakes) {
			t.Fatalf("no mistakes: %v", err)
		}
		for _, m := range mistakes {
			if len(m.Key) > 2*longestKey || len(m.Wrong) > 2*longestText || len(m.Hint) > 2*longestText {
				t.Errorf("%d, %d, %d letters: %.80s", len(m.Key), len(m.Wrong), len(m.Hint), m)
			}
		}
	}
}

// TestManyMistakes: a text that is no axle file at all is told in a few screens.
func TestManyMistakes(t *testing.T) {
	_, err := Parse("many.toml", []byte("[bush.a]\n"+manyKeys(5000)))
	var mistakes Mistakes
	if !errors.As(err, &mistakes) || len(mistakes) != mostMistakes+1 || !strings.Contains(mistakes[mostMistakes].Wrong, "more mistakes") {
		t.Errorf("%d mistakes", len(mistakes))
	}
}

func manyKeys(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "k%d = 1\n", i)
	}
	return b.String()
}
