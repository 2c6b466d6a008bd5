package rows

import (
	"math"
	"testing"

	"gapline/internal/quantity"
	"gapline/internal/result"

	"pgregory.net/rapid"
)

// A setter that remembers its last numbers writes what a fresh one writes.
func TestSetterRemembersWell(t *testing.T) {
	number := rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, 1e-7, 0.1, math.NaN(), math.Inf(1), 123456.789})
	columns := []result.Column{{Key: "a"}, {Key: "b"}, {Key: "c"}}
	rapid.Check(t, func(t *rapid.T) {
		l := New(rapid.SampledFrom([]Format{Text, CSV, JSON}).Draw(t, "format"), quantity.Metric, columns)
		one := l.NewSetter()
		for range rapid.IntRange(1, 20).Draw(t, "rows") {
			cells := []result.Cell{result.Count(1), result.Count(1), result.Word(`say "a, b"`)}
			cells[0].SI, cells[1].SI = number.Draw(t, "a"), number.Draw(t, "b")
			if got, want := string(one.Row(nil, cells)), string(l.NewSetter().Row(nil, cells)); got != want {
				t.Fatalf("got %s, want %s", got, want)
			}
		}
	})
}
