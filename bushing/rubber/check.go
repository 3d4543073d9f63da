package rubber

import (
	"errors"
	"fmt"

	"bushtune/bushing"
)

// SlotError is what is wrong with one slot, and what is allowed.
type SlotError = bushing.SlotError

// thinnestWall is the least wall of rubber that is moulded, mm: common practice,
// no source.
const thinnestWall = 1

// Check tells what of a bush is impossible or outside the range of a formula that
// it needs: joined SlotErrors, one for each slot to change.
func (b *Bush[T]) Check(c Choice) error {
	return errors.Join(b.checkWall())
}

func (b *Bush[T]) checkWall() error {
	return nil
}

func slot(name, format string, values ...any) error {
	return &SlotError{Slot: name, Reason: fmt.Sprintf(format, values...)}
}
