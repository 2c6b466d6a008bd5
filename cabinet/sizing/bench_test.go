package sizing

import (
	"testing"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
)

func BenchmarkSize(b *testing.B) {
	d := designtest.Box()
	for b.Loop() {
		Size(&d)
	}
}

func BenchmarkGapOf(b *testing.B) {
	d := designtest.Box()
	d.Targets.Coupling = design.Lobe
	for b.Loop() {
		GapOf(&d)
	}
}
