package maximum

import (
	"testing"

	"gapline/cabinet/field"
	"gapline/cabinet/source"
)

func BenchmarkBox(b *testing.B) {
	d := hornBox()
	for b.Loop() {
		if _, _, err := New(ctx, &d, source.Choice{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLevels(b *testing.B) {
	d := closedBox()
	o, _, err := New(ctx, &d, source.Choice{})
	if err != nil {
		b.Fatal(err)
	}
	bands, _ := field.Bands(12, lowestHz, highestHz)
	hz := make([]float64, len(bands))
	for i := range bands {
		hz[i] = bands[i].Mid
	}
	for b.Loop() {
		if _, err := o.Levels(ctx, hz); err != nil {
			b.Fatal(err)
		}
		if _, err := o.Programme(ctx, Signal{}); err != nil {
			b.Fatal(err)
		}
	}
}
