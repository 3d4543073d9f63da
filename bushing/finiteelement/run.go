// Package finiteelement runs the general-purpose finite-element solver that
// checks of the mechanics are held against: CalculiX, an outside program. It
// writes what every input file needs and reads what the solver prints.
package finiteelement

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// command is the solver's program.
const command = "ccx"

// ErrNoSolver says that the solver is not installed.
var ErrNoSolver = errors.New("no finite-element solver (ccx) on this machine")

// Version asks the solver for its name and version.
func Version() (string, error) {
	path, err := exec.LookPath(command)
	if err != nil {
		return "", ErrNoSolver
	}
	text, _ := exec.Command(path, "-v").Output() // its exit status is not zero
	_, version, found := strings.Cut(string(text), "Version")
	if !found {
		return "", fmt.Errorf("%s -v: no version in %q", command, text)
	}
	return "CalculiX " + strings.TrimSpace(version), nil
}

// Run solves an input in a directory of its own and returns what the solver
// prints into its file of tables. A refusal carries the solver's own words.
func Run(input []byte) ([]byte, error) {
	path, err := exec.LookPath(command)
	if err != nil {
		return nil, ErrNoSolver
	}
	directory, err := os.MkdirTemp("", "finiteelement")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(directory)
	if err := os.WriteFile(filepath.Join(directory, "deck.inp"), input, 0o600); err != nil {
		return nil, err
	}
	solver := exec.Command(path, "-i", "deck")
	solver.Dir = directory
	log, err := solver.CombinedOutput()
	if bytes.Contains(log, []byte("*ERROR")) {
		err = errors.New("the solver refuses the deck")
	}
	if err != nil {
		return nil, fmt.Errorf("finite elements: %w\n%s", err, lastLines(log, 30))
	}
	return os.ReadFile(filepath.Join(directory, "deck.dat"))
}

func lastLines(text []byte, n int) string {
	lines := strings.Split(strings.TrimRight(string(text), "\n"), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}
