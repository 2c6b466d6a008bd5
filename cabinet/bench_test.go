package cabinet

import (
	"math"
	"testing"
)

// benchDesign is an invented box with an insert, so that every estimate runs.
func benchDesign() Design {
	d := New()
	d.Cabinet.Height, d.Cabinet.Gap = 0.268, 0.004
	d.Cabinet.Width = 0.62
	d.Line.Boxes = 7
	d.Woofer.Size = 0.24
	d.Insert = Insert{Mouths: 2, Spacing: 0.136, MouthHeight: 0.104, MouthWidth: 0.084, SlotDepth: 0.012, ChamberVolume: 0.42e-3}
	d.Horn.Coverage, d.Horn.MouthWidth, d.Horn.MouthHeight = 85*math.Pi/180, 0.33, 0.258
	d.Horn.PathLength = 0.56
	return d
}

func BenchmarkSize(b *testing.B) {
	d := benchDesign()
	for b.Loop() {
		Size(&d)
	}
}

func BenchmarkGapOf(b *testing.B) {
	d := benchDesign()
	d.Targets.Coupling = Lobe
	for b.Loop() {
		GapOf(&d)
	}
}
