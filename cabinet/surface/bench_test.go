package surface_test

import (
	"fmt"
	"testing"

	"gapline/cabinet/layout"
	. "gapline/cabinet/surface"
)

// One box, five and the whole stack of the starters, to 1 and 2 kHz.
func BenchmarkSurface(b *testing.B) {
	all := starters(b)
	for _, name := range []string{"hatch", "hatch-insert", "hatch-mids"} {
		for _, boxes := range []int{1, 5, 7} {
			for _, hz := range []float64{1000, 2000} {
				for _, c := range []struct {
					name string
					o    Options
				}{{"whole", Options{Whole: true}}, {"planes", Options{}}, {"rigid vents", Options{Rigid: []layout.Band{layout.Enclosure}}}} {
					b.Run(fmt.Sprintf("%s/%d/%g Hz/%s", name, boxes, hz, c.name), func(b *testing.B) {
						d := all[name]
						c.o.Frequency, c.o.Boxes = hz, boxes
						var s *Surface
						for b.Loop() {
							s = made(b, &d, c.o)
						}
						b.ReportMetric(float64(len(s.Triangles)), "triangles")
						b.ReportMetric(float64(s.Planes.Count()), "planes")
					})
				}
			}
		}
	}
}
