package plots

import (
	"io"
	"testing"
)

// BenchmarkWrite measures the longest ways to a picture: a map and a chart of two
// panels, in each format.
func BenchmarkWrite(b *testing.B) {
	for name, fig := range map[string]Figure{"map": contourExample(), "response": responseExample(), "strip": stripExample()} {
		for _, ext := range Formats() {
			b.Run(name+ext, func(b *testing.B) {
				for b.Loop() {
					if err := write(io.Discard, ext, fig); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
