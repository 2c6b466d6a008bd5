package layout

import (
	"testing"

	"gapline/internal/designtest"
)

func BenchmarkNew(b *testing.B) {
	d := designtest.Box()
	b.ReportAllocs()
	for b.Loop() {
		New(&d)
	}
}
