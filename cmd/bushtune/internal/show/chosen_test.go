package show

import (
	"context"
	"strings"
	"testing"
	"unicode/utf8"

	"bushtune/cmd/bushtune/internal/axlefile"
	"bushtune/cmd/bushtune/internal/demo"
	"bushtune/cmd/bushtune/internal/tuning"
	"bushtune/optimize"
)

// chosenFrom chooses from the first parts of the built-in catalogue.
func chosenFrom(t *testing.T, name string, parts int, o optimize.ChoiceOptions) *Chosen {
	t.Helper()
	axle, err := demo.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	file, err := axlefile.Parse(name, axle.Text)
	if err != nil {
		t.Fatal(err)
	}
	c, err := axlefile.ParseCatalogue("shelf.toml", demo.CatalogueText())
	if err != nil {
		t.Fatal(err)
	}
	c.Parts = c.Parts[:parts]
	var positions []axlefile.Position
	for _, path := range file.Bushes() {
		p, err := file.Position(path)
		if err != nil {
			t.Fatal(err)
		}
		positions = append(positions, p)
	}
	choice, err := tuning.Choose(context.Background(), file, c, positions, o)
	if err != nil {
		t.Fatal(err)
	}
	return &Chosen{Title: "title", Source: "a file", Catalogue: "a shelf", Choice: choice, Step: 1}
}

func chosenText(c *Chosen) string {
	p := &Page{}
	c.Text(p)
	return strings.Join(strings.Fields(p.String()), " ")
}

// What the answer says of a search follows from how it went.
func TestChosenSaysHowItWasFound(t *testing.T) {
	c := chosenFrom(t, "hatchback-link", 6, optimize.ChoiceOptions{})
	some := chosenFrom(t, demo.ChooseDefault, 6, optimize.ChoiceOptions{Exhaustive: 20})
	for _, test := range []struct {
		name      string
		c         *Chosen
		says, not string
	}{
		{"exhaustive", c, "Every one of 6 combinations was tuned by", "Heuristic"},
		{"heuristic", some, "Heuristic: of 36 combinations 20 were tuned", "Every one of"},
		{"heuristic in the headline", some, "20 COMBINATIONS LOOKED AT (HEURISTIC)", "BEST OF 20 COMBINATIONS:"},
		{"wrote nothing", c, "nothing: --out FILE", "is untouched"},
	} {
		if text := chosenText(test.c); !strings.Contains(text, test.says) || strings.Contains(text, test.not) {
			t.Errorf("%s: %q is missing or %q is there", test.name, test.says, test.not)
		}
	}
	c.Wrote, c.Impossible, c.Best[0].Settled = "new.toml", 2, false
	for _, says := range []string{"new.toml: the best parts put in", "a file is untouched", "2 of them could not be solved", "The tune of 1 of the combinations shown did not settle"} {
		if text := chosenText(c); !strings.Contains(text, says) {
			t.Errorf("%q is missing", says)
		}
	}
}

// A price that is not known of every part is no price.
func TestChosenWithoutPrices(t *testing.T) {
	c := chosenFrom(t, "hatchback-link", 3, optimize.ChoiceOptions{})
	for i := range c.Best {
		c.Best[i].Price = 0
	}
	text := chosenText(c)
	if strings.Contains(text, "price worse by") || !strings.Contains(text, "Not every part that has room has a price class") {
		t.Error("a price is shown")
	}
}

// Where the best is the cheapest, nothing is said of steps.
func TestChosenCheapest(t *testing.T) {
	c := chosenFrom(t, "hatchback-link", 1, optimize.ChoiceOptions{})
	if text := chosenText(c); !strings.Contains(text, "No combination is cheaper than the best, price ") {
		t.Errorf("the cheapest: %s", text)
	}
}

// Without a free parameter and with a single part there is nothing to free, and the
// answer says so.
func TestChosenOfOnePart(t *testing.T) {
	c := chosenFrom(t, "hatchback-link", 1, optimize.ChoiceOptions{})
	c.Free = nil
	if text := chosenText(c); !strings.Contains(text, "there is no gap to tell") || strings.Contains(text, "free rates") {
		t.Error("free rates are shown")
	}
}

// A table that is too wide is set in blocks that fit the page; each has the labels,
// and columns that belong together are not parted.
func TestBlocksFitThePage(t *testing.T) {
	b := &blocks{labels: []string{"", "1", "2"}}
	for range 7 {
		b.addTogether(
			stack{point, []cell{words("value of it"), words("1.25"), words("10.5")}},
			stack{left, []cell{words("verdict"), words("met"), words("short by 0.125")}})
	}
	p := &Page{}
	b.write(p)
	heads := 0
	for line := range strings.Lines(p.String()) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > pageWidth {
			t.Errorf("%d signs: %s", n, line)
		}
		if strings.Contains(line, "verdict") {
			heads++
			if strings.Count(line, "verdict") != strings.Count(line, "value of it") {
				t.Errorf("parted: %s", line)
			}
		}
	}
	if labels := strings.Count(p.String(), "\n  2 "); heads != 3 || labels != heads {
		t.Errorf("%d blocks, %d with labels:\n%s", heads, labels, p)
	}
}
