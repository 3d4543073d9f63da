package main

import (
	"errors"
	"strings"

	"bushtune/cmd/bushtune/internal/axlefile"
)

// The exit codes.
const (
	exitAnswer     = 0
	exitFailed     = 1
	exitBadInput   = 2
	exitNotReached = 3
)

// meanings says in a command's help what its exit codes mean, for 0, 1, 2 and, if
// it can end with it, 3.
func meanings(of ...string) string {
	var b strings.Builder
	b.WriteString("Exit codes:")
	for code, text := range of {
		b.WriteString("\n   " + string(rune('0'+code)) + "  " + text)
	}
	return b.String()
}

// What the codes mean where several commands say the same.
const (
	anAnswer     = "an answer"
	notSolved    = "the axle cannot be solved, or a file cannot be read"
	notWritten   = "the axle cannot be solved, or a file cannot be read or written"
	badAxle      = "bad input: a mistake on the command line or in the axle file"
	notEveryWant = "tuned and shown, but not every want is reached, or the search stopped early"
)

// exitCode maps an error to the code that the process ends with.
func exitCode(err error) int {
	var usage *usageError
	var mistakes axlefile.Mistakes
	var shown *mistaken
	switch {
	case err == nil:
		return exitAnswer
	case errors.As(err, &usage), errors.As(err, &mistakes), errors.As(err, &shown):
		return exitBadInput
	case errors.Is(err, errNotReached), errors.Is(err, errStoppedEarly), errors.Is(err, errNothingBetter):
		return exitNotReached
	}
	return exitFailed
}
