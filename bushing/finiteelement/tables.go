package finiteelement

import (
	"bufio"
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// Table is one printed block: a vector for each node of a set.
type Table struct {
	Quantity string // displacements, forces
	Rows     []Row
}

// Row is one node's vector.
type Row struct {
	Node  int
	Value [3]float64
}

// Tables reads the printed blocks, one a quantity and step.
func Tables(text []byte) (tables []Table, err error) {
	lines := bufio.NewScanner(bytes.NewReader(text))
	for lines.Scan() {
		fields := strings.Fields(lines.Text())
		if len(fields) > 1 && strings.HasPrefix(fields[1], "(") {
			tables = append(tables, Table{Quantity: fields[0]})
		}
		if len(fields) != 4 || len(tables) == 0 {
			continue
		}
		r, err := parseRow(fields)
		if err != nil {
			return nil, err
		}
		last := &tables[len(tables)-1]
		last.Rows = append(last.Rows, r)
	}
	return tables, lines.Err()
}

// parseRow reads a node and its vector.
func parseRow(fields []string) (r Row, err error) {
	if r.Node, err = strconv.Atoi(fields[0]); err != nil {
		return r, fmt.Errorf("finite elements: printed node %q: %w", fields[0], err)
	}
	for i, text := range fields[1:] {
		if r.Value[i], err = strconv.ParseFloat(text, 64); err != nil {
			return r, fmt.Errorf("finite elements: printed vector: %w", err)
		}
	}
	return r, nil
}
