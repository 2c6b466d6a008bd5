package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// Proportion ties the height of a panel to its frequency axis, after IEC 60263.
type Proportion int

// The proportions.
const (
	FreeProportion Proportion = iota
	// LevelProportion makes one decade of frequency as long as 10, 25 or 50 dB,
	// by the range of levels: the first that gives a height that suits the page
	// (of 10, 25, 50 for ranges up to 20 dB, else of 25, 50, 10), else the nearest.
	LevelProportion
	// LogProportion makes one decade of frequency as long as 0.5, 1, 1.25 or 2.5
	// decades of the quantity.
	LogProportion
)

// Heights that suit a page, in points.
const (
	minPanelHeight vg.Length = 80
	maxPanelHeight vg.Length = 330 // of a panel that stands alone
	maxPanelShared vg.Length = 230 // of one among several
)

// narrowRange is the range of levels, in dB, up to which the finest scale suits.
const narrowRange = 20

// steps lists, in order of preference for a span of the vertical axis, how much
// of it is as long as one decade of frequency.
func (p Proportion) steps(span float64) []float64 {
	switch p {
	case LevelProportion:
		if span <= narrowRange {
			return []float64{10, 25, 50}
		}
		return []float64{25, 50, 10}
	case LogProportion:
		return []float64{1, 1.25, 2.5, 0.5}
	}
	return nil
}

// height is the height that gives a panel of the given width the chosen
// proportion and does not pass the limit by more than it must; zero where no
// proportion applies.
func (p Proportion) height(y, x scale, width, limit vg.Length) vg.Length {
	if p == FreeProportion || !x.log || p == LogProportion != y.log {
		return 0
	}
	span := y.high - y.low
	if y.log {
		span = math.Log10(y.high / y.low)
	}
	decade := float64(width) / math.Log10(x.high/x.low)
	best, missed := vg.Length(0), vg.Length(math.Inf(1))
	for _, step := range p.steps(span) {
		h := vg.Length(span / step * decade)
		miss := max(minPanelHeight-h, h-limit, 0)
		if miss < missed {
			best, missed = h, miss
		}
	}
	return best
}

// levelRange widens a range of levels to multiples of 5 dB, at least 10 dB.
func levelRange(low, high float64) (float64, float64) {
	const step = 5
	low, high = math.Floor(low/step+1e-9)*step, math.Ceil(high/step-1e-9)*step
	for high-low < 2*step {
		low, high = low-step, high+step
	}
	return low, high
}

// levelTicks marks levels every 1, 5, 10 or 20 dB.
func levelTicks(y scale, height vg.Length) []tick {
	const room = 18 // points from label to label
	for _, s := range []struct {
		step  float64
		parts int
	}{{1, 2}, {5, 5}, {10, 5}, {20, 4}, {50, 5}} {
		if float64(height)/(y.high-y.low)*s.step >= room {
			return steppedTicks(y.low, y.high, s.step, s.parts, 0)
		}
	}
	return numberTicks(y.low, y.high, max(2, int(height/room)))
}
