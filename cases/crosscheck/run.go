package crosscheck

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

// solverCommand is the finite-element solver's program.
const solverCommand = "ccx"

// ErrNoSolver says that the finite-element solver is not installed.
var ErrNoSolver = errors.New("crosscheck: no finite-element solver (ccx) on this machine")

// Pose is a small movement of a rigid body: the displacement of its reference
// point (mm) and its rotation (rad), in vehicle axes.
type Pose [6]float64

// SolverVersion asks the solver for its name and version.
func SolverVersion() (string, error) {
	path, err := exec.LookPath(solverCommand)
	if err != nil {
		return "", ErrNoSolver
	}
	text, _ := exec.Command(path, "-v").Output() // its exit status is not zero
	_, version, found := strings.Cut(string(text), "Version")
	if !found {
		return "", fmt.Errorf("crosscheck: %s -v: no version in %q", solverCommand, text)
	}
	return "CalculiX " + strings.TrimSpace(version), nil
}

// Solve runs a deck in a directory of its own and returns the poses of the left
// and the right body after each step.
func Solve(input []byte) (steps [][2]Pose, err error) {
	path, err := exec.LookPath(solverCommand)
	if err != nil {
		return nil, ErrNoSolver
	}
	directory, err := os.MkdirTemp("", "crosscheck")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(directory)
	if err := os.WriteFile(filepath.Join(directory, "deck.inp"), input, 0o600); err != nil {
		return nil, err
	}
	command := exec.Command(path, "-i", "deck")
	command.Dir = directory
	log, err := command.CombinedOutput()
	if bytes.Contains(log, []byte("*ERROR")) {
		err = errors.New("the solver refuses the deck")
	}
	if err != nil {
		return nil, fmt.Errorf("crosscheck: %w\n%s", err, lastLines(log, 30))
	}
	table, err := os.ReadFile(filepath.Join(directory, "deck.dat"))
	if err != nil {
		return nil, err
	}
	steps, err = parsePoses(table)
	if want := bytes.Count(input, []byte("*END STEP")); err == nil && len(steps) != want {
		err = fmt.Errorf("crosscheck: %d of %d steps solved\n%s", len(steps), want, lastLines(log, 30))
	}
	return steps, err
}

// parsePoses reads the printed displacements: a block a step, in it the
// displacements of the reference and the rotation node of each body.
func parsePoses(table []byte) ([][2]Pose, error) {
	var steps [][2]Pose
	lines := bufio.NewScanner(bytes.NewReader(table))
	for lines.Scan() {
		fields := strings.Fields(lines.Text())
		if len(fields) > 0 && fields[0] == "displacements" {
			steps = append(steps, [2]Pose{})
		}
		if len(fields) != 4 || len(steps) == 0 {
			continue
		}
		if err := readRow(&steps[len(steps)-1], fields); err != nil {
			return nil, err
		}
	}
	return steps, lines.Err()
}

// readRow puts one printed row (node, u_x, u_y, u_z) in its place.
func readRow(step *[2]Pose, fields []string) error {
	node, err := strconv.Atoi(fields[0])
	if err != nil {
		return fmt.Errorf("crosscheck: printed node %q: %w", fields[0], err)
	}
	side, first := node/rightSide, 3*(node%rightSide-centreNode)
	if side > 1 || (first != 0 && first != 3) {
		return fmt.Errorf("crosscheck: unexpected printed node %d", node)
	}
	for i, text := range fields[1:] {
		value, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return fmt.Errorf("crosscheck: printed displacement: %w", err)
		}
		step[side][first+i] = value
	}
	return nil
}

func lastLines(text []byte, n int) string {
	lines := strings.Split(strings.TrimRight(string(text), "\n"), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}
