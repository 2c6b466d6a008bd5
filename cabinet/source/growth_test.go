//go:build unix

package source

import (
	"context"
	"fmt"
	"math"
	"syscall"
	"testing"
	"time"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/pattern"
	"gapline/internal/numeric"

	"gonum.org/v1/gonum/floats"
)

// BenchmarkGrowth is a two-way stack of boxes at seats and tones, by ideal mouths and by patterns of a run
// of 27 frequencies for both bands; each is doubled by itself. The table in the package comment is
// of CPU time.
func BenchmarkGrowth(b *testing.B) {
	for _, n := range [][3]int{{12, 80, 96}, {24, 80, 96}, {48, 80, 96}, {12, 160, 96}, {12, 320, 96}, {12, 80, 192}, {12, 80, 384}} {
		for _, by := range []string{"mouths", "patterns"} {
			b.Run(fmt.Sprintf("%d-boxes,%d-seats,%d-tones,%s", n[0], n[1], n[2], by), func(b *testing.B) {
				d := curvedHall()
				d.Line.Boxes, d.Line.Splay = n[0], make([]float64, n[0]-1)
				d.Line.TopHeight = design.New().Line.TopHeight
				c := Choice{}
				if by == "patterns" {
					c.Patterns = []Pattern{smoothBox(Woofers), smoothBox(Horn)}
				}
				m := mustMap(b, &d, c)
				e, err := field.New(m.Stack, field.Options{Air: d.Air, Absorption: true})
				if err != nil {
					b.Fatal(err)
				}
				hz := floats.LogSpan(make([]float64, n[2]), 100, 8000)
				var at []field.Vec
				for i := range n[1] {
					at = append(at, field.Vec{X: 5 + 40*float64(i)/float64(n[1]), Z: -8})
				}
				start := spent()
				for b.Loop() {
					if _, err := e.Pressure(context.Background(), at, hz); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64((spent()-start).Nanoseconds())/float64(b.N)/float64(n[0]*n[1]*n[2]), "cpu-ns/term")
			})
		}
	}
}

// spent is the CPU time of the process, which other work on the machine does not lengthen.
func spent() time.Duration {
	var use syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &use) != nil {
		return 0
	}
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// smoothBox is the pattern of a band of an invented box, louder ahead than behind.
func smoothBox(band string) Pattern {
	p := &pattern.Pattern{Rings: 30, Smooth: true}
	for i := range 27 {
		f := 100 * math.Exp2(float64(i)/6)
		p.Frequency = append(p.Frequency, f)
		var row []complex128
		for _, u := range pattern.Directions(p.Rings) {
			row = append(row, complex(1+u.X*math.Min(1, f/2000), 0))
		}
		p.Pressure = append(p.Pressure, row)
	}
	return Pattern{Kind: ByWave, Band: band, Of: p, Volts: numeric.Absent}
}
