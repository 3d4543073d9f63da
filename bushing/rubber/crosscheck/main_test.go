package crosscheck

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// directory keeps the committed numbers.
const directory = "../../../testdata/fe"

// TestMain solves all bushes again and writes them first, if asked:
// go test ./bushing/rubber/crosscheck -renew
func TestMain(m *testing.M) {
	renew := flag.Bool("renew", false, "solve all bushes and write testdata/fe/rubber*.json")
	flag.Parse()
	if *renew {
		for _, p := range Plans() {
			d, err := p.Solve(func(f Figure) { fmt.Printf("%.5g\n", f) })
			if err == nil {
				err = d.Write(filepath.Join(directory, p.File))
			}
			if err != nil {
				fmt.Fprintln(os.Stderr, err)
				os.Exit(1)
			}
		}
	}
	os.Exit(m.Run())
}
