package finiteelement

import (
	"fmt"
	"io"
)

// BrickOrder holds the places of the nodes of a 20-node brick in half bricks
// along its three directions, in the order of the solver's manual. The three
// directions form a right-handed system.
var BrickOrder = [20][3]int{
	{0, 0, 0}, {2, 0, 0}, {2, 2, 0}, {0, 2, 0}, {0, 0, 2}, {2, 0, 2}, {2, 2, 2}, {0, 2, 2},
	{1, 0, 0}, {2, 1, 0}, {1, 2, 0}, {0, 1, 0}, {1, 0, 2}, {2, 1, 2}, {1, 2, 2}, {0, 1, 2},
	{0, 0, 1}, {2, 0, 1}, {2, 2, 1}, {0, 2, 1},
}

// WriteNode writes one line of a list of nodes.
func WriteNode(out io.Writer, number int, at [3]float64) {
	fmt.Fprintf(out, "%d,%.10e,%.10e,%.10e\n", number, at[0], at[1], at[2])
}

// WriteList writes whole numbers, ten a line; an element goes on after a comma.
func WriteList(out io.Writer, numbers []int) {
	for i, n := range numbers {
		separator := ","
		if i == len(numbers)-1 {
			separator = "\n"
		} else if i%10 == 9 {
			separator = ",\n"
		}
		fmt.Fprintf(out, "%d%s", n, separator)
	}
}
