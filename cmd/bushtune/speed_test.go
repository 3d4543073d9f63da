//go:build unix

package main

import (
	"context"
	"os/exec"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"

	"bushtune/cmd/bushtune/internal/demo"
)

// What a person may have to wait for, on any machine that builds the program.
const (
	solveTime   = 30 * time.Millisecond
	tuneTime    = 300 * time.Millisecond
	solveMemory = 60 << 20 // bytes
	tries       = 6        // the fastest counts: others share the machine
)

// build makes the program as a user does: without the race detector of the test.
func build(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bushtune")
	if out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return path
}

// once runs the program from start to finish. On a busy machine the clock counts
// what others do, so the processor time counts where it is less.
func once(t testing.TB, path string, args ...string) (time.Duration, int64) {
	t.Helper()
	command := exec.Command(path, args...)
	start := time.Now()
	err := command.Run()
	took := min(time.Since(start), command.ProcessState.UserTime()+command.ProcessState.SystemTime())
	if code := command.ProcessState.ExitCode(); err != nil && code != exitNotReached {
		t.Fatalf("%v: %v", args, err)
	}
	return took, memory(command)
}

// memory is the largest resident size of a finished program in bytes.
func memory(command *exec.Cmd) int64 {
	usage, ok := command.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "darwin" {
		return usage.Maxrss // bytes there, KiB elsewhere
	}
	return usage.Maxrss << 10
}

func TestSpeedAndSize(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program")
	}
	path := build(t)
	fastest := func(args ...string) (best time.Duration, most int64) {
		best = time.Hour
		for range tries {
			took, size := once(t, path, args...)
			best, most = min(best, took), max(most, size)
		}
		return best, most
	}
	for _, name := range demo.Names() {
		took, size := fastest("solve", "--demo", name)
		tuned, _ := fastest("tune", "--demo", name)
		t.Logf("%-22s solve %6.1f ms, %4.1f MB; tune %6.1f ms", name, took.Seconds()*1e3, float64(size)/(1<<20), tuned.Seconds()*1e3)
		if took > solveTime || size > solveMemory || tuned > tuneTime {
			t.Errorf("%s: solve %v with %d bytes, tune %v; allowed %v, %d, %v", name, took, size, tuned, solveTime, solveMemory, tuneTime)
		}
	}
}

// BenchmarkTune tunes each built-in axle inside one process.
func BenchmarkTune(b *testing.B) {
	for _, name := range demo.Names() {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				bushtuneWith(context.Background(), streams{}, "tune", "--demo", name)
			}
		})
	}
}

// BenchmarkSolve starts the built program and waits for its answer.
func BenchmarkSolve(b *testing.B) {
	path := build(b)
	for b.Loop() {
		once(b, path, "solve")
	}
}
