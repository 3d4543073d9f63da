//go:build unix

package main

import (
	"context"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"bushtune/cmd/bushtune/internal/demo"
)

// tries is how often a command is run; the fastest counts, because others share
// the machine.
const tries = 6

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

// BenchmarkCommands runs the built program from start to finish on every built-in
// axle: solve in ms and MB, tune and spec in ms.
func BenchmarkCommands(b *testing.B) {
	path := build(b)
	fastest := func(args ...string) (best time.Duration, most int64) {
		best = time.Hour
		for range tries {
			took, size := once(b, path, args...)
			best, most = min(best, took), max(most, size)
		}
		return best, most
	}
	for _, name := range demo.Names() {
		b.Run(name, func(b *testing.B) {
			solved, size := fastest("solve", "--demo", name)
			tuned, _ := fastest("tune", "--demo", name)
			if strings.Contains(builtInText(b, name), "\n[bush.") {
				written, _ := fastest("spec", "--demo", name)
				defer func() { b.ReportMetric(written.Seconds()*1e3, "spec-ms") }()
			}
			for b.Loop() {
				once(b, path, "solve", "--demo", name)
			}
			b.ReportMetric(solved.Seconds()*1e3, "solve-ms")
			b.ReportMetric(float64(size)/(1<<20), "solve-MB")
			b.ReportMetric(tuned.Seconds()*1e3, "tune-ms")
		})
	}
}

// BenchmarkRubber runs the built program on every built-in part, in ms.
func BenchmarkRubber(b *testing.B) {
	path := build(b)
	for _, name := range demo.PartNames() {
		b.Run(name, func(b *testing.B) {
			best := time.Hour
			for b.Loop() {
				took, _ := once(b, path, "rubber", "--demo", name)
				best = min(best, took)
			}
			b.ReportMetric(best.Seconds()*1e3, "rubber-ms")
		})
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
