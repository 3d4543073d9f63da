package finiteelement

import (
	"os"
	"testing"
)

// LiveVariable is the environment variable that asks for checks against the running
// solver when it is 1. They take minutes, so nothing else starts them.
const LiveVariable = "BUSHTUNE_LIVE"

// Live skips a check against the running solver unless it is asked for; where it is,
// a missing solver fails it.
func Live(t testing.TB) {
	t.Helper()
	if os.Getenv(LiveVariable) != "1" {
		t.Skip("runs the finite-element solver; " + LiveVariable + "=1 asks for it")
	}
	if _, err := Version(); err != nil {
		t.Fatal(err)
	}
}
