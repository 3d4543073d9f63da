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
	text, err := run(input)
	if err != nil {
		return nil, err
	}
	steps, err = parsePoses(text)
	if want := bytes.Count(input, []byte("*END STEP")); err == nil && len(steps) != want {
		err = fmt.Errorf("crosscheck: %d of %d steps solved", len(steps), want)
	}
	return steps, err
}

// run runs a deck in a directory of its own and returns what it prints into its
// file of tables.
func run(input []byte) ([]byte, error) {
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
	return os.ReadFile(filepath.Join(directory, "deck.dat"))
}

// table is one printed block: a vector for each node of a set.
type table struct {
	quantity string // displacements, forces
	rows     []row
}

type row struct {
	node  int
	value Point
}

// parseTables reads the printed blocks, one a quantity and step.
func parseTables(text []byte) (tables []table, err error) {
	lines := bufio.NewScanner(bytes.NewReader(text))
	for lines.Scan() {
		fields := strings.Fields(lines.Text())
		if len(fields) > 1 && strings.HasPrefix(fields[1], "(") {
			tables = append(tables, table{quantity: fields[0]})
		}
		if len(fields) != 4 || len(tables) == 0 {
			continue
		}
		r, err := parseRow(fields)
		if err != nil {
			return nil, err
		}
		last := &tables[len(tables)-1]
		last.rows = append(last.rows, r)
	}
	return tables, lines.Err()
}

// parseRow reads a node and its vector.
func parseRow(fields []string) (r row, err error) {
	if r.node, err = strconv.Atoi(fields[0]); err != nil {
		return r, fmt.Errorf("crosscheck: printed node %q: %w", fields[0], err)
	}
	for i, text := range fields[1:] {
		if r.value[i], err = strconv.ParseFloat(text, 64); err != nil {
			return r, fmt.Errorf("crosscheck: printed vector: %w", err)
		}
	}
	return r, nil
}

// parsePoses reads the printed displacements: a block a step, in it the
// displacements of the reference and the rotation node of each body.
func parsePoses(text []byte) (steps [][2]Pose, err error) {
	tables, err := parseTables(text)
	for _, t := range tables {
		if t.quantity != "displacements" {
			continue
		}
		var step [2]Pose
		for _, r := range t.rows {
			side, first := r.node/rightSide, 3*(r.node%rightSide-centreNode)
			if side > 1 || (first != 0 && first != 3) {
				return nil, fmt.Errorf("crosscheck: unexpected printed node %d", r.node)
			}
			copy(step[side][first:], r.value[:])
		}
		steps = append(steps, step)
	}
	return steps, err
}

func lastLines(text []byte, n int) string {
	lines := strings.Split(strings.TrimRight(string(text), "\n"), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}
