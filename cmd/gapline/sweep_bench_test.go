package main

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"gapline/internal/designfile"
)

// sweepFile writes a built-in design and returns its path.
func sweepFile(tb testing.TB, name string) string {
	tb.Helper()
	text, err := designfile.StarterText(name)
	if err != nil {
		tb.Fatal(err)
	}
	path := filepath.Join(tb.TempDir(), name+".toml")
	if err := os.WriteFile(path, text, 0o666); err != nil {
		tb.Fatal(err)
	}
	return path
}

// BenchmarkSweep puts about 100 000 designs through every estimate and writes
// them as CSV; two of them vary the coverage, whose pattern control costs most.
func BenchmarkSweep(b *testing.B) {
	file := sweepFile(b, "hatch-insert")
	for name, vary := range map[string][]string{
		"pitch and width":    {"cabinet.pitch=250:330:0.8mm", "horn.mouth_width=250:349.9:0.1mm"},
		"pitch and coverage": {"cabinet.pitch=250:330:0.8mm", "horn.coverage=60:110:0.05deg"},
		"width and coverage": {"horn.mouth_width=250:600:1mm", "horn.coverage=60:120:0.2104deg"},
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				args := []string{"sweep", file, "--csv", "--quiet", "--vary", vary[0], "--vary", vary[1]}
				if code := run(context.Background(), args, io.Discard, os.Stderr); code != exitDone {
					b.Fatal("exit code", code)
				}
			}
			b.ReportMetric(101_101*float64(b.N)/b.Elapsed().Seconds(), "designs/s")
		})
	}
}

// BenchmarkSweepMemory reports how much the heap holds while a long sweep of one
// key runs: it does not grow with the number of designs.
func BenchmarkSweepMemory(b *testing.B) {
	file := sweepFile(b, "hatch")
	var most uint64
	for b.Loop() {
		watch := &heapWatch{most: &most}
		args := []string{"sweep", file, "--json", "--quiet", "--vary", "cabinet.pitch=250mm:300mm:0.0005mm"}
		if code := run(context.Background(), args, watch, os.Stderr); code != exitDone {
			b.Fatal("exit code", code)
		}
	}
	b.ReportMetric(float64(most)/(1<<20), "MB-heap")
}

// heapWatch looks at the heap every so many writes.
type heapWatch struct {
	writes int
	most   *uint64
}

func (w *heapWatch) Write(p []byte) (int, error) {
	if w.writes++; w.writes%64 == 0 {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		*w.most = max(*w.most, m.HeapAlloc)
	}
	return len(p), nil
}
