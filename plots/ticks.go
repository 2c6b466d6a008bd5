package plots

import (
	"math"
	"strconv"
	"strings"
)

// tick is a mark on an axis. Major ticks carry a label and a strong grid line.
type tick struct {
	value float64
	text  string
	major bool
}

// logTicks marks every 1–9 of each decade between low and high and labels 1, 2
// and 5, or the decades only if there are more than four of them.
func logTicks(low, high float64, format func(float64) string) []tick {
	var ticks []tick
	wide := math.Log10(high/low) > 4.01
	for d := math.Floor(math.Log10(low)); d <= math.Ceil(math.Log10(high)); d++ {
		for m := 1; m <= 9; m++ {
			v := float64(m) * math.Pow(10, d)
			if v < low*(1-1e-9) || v > high*(1+1e-9) {
				continue
			}
			t := tick{value: v, major: m == 1 || !wide && (m == 2 || m == 5)}
			if t.major {
				t.text = format(v)
			}
			ticks = append(ticks, t)
		}
	}
	return ticks
}

// frequencyTicks are the log ticks of a frequency axis: 20 50 100 200 500 1k …
func frequencyTicks(low, high float64) []tick { return logTicks(low, high, shortHz) }

// shortHz writes a round frequency for an axis: 500, 1k, 2.5k.
func shortHz(f float64) string {
	if f >= 999.5 {
		return plain(f/1000) + "k"
	}
	return plain(f)
}

// plain writes a round number without trailing zeros.
func plain(v float64) string {
	return strings.ReplaceAll(strconv.FormatFloat(v, 'g', 6, 64), "-", minusSign)
}

// numberTicks marks a linear axis in steps of 1, 2, 2.5 or 5 times a power of
// ten, about want of them labelled, with minor ticks between.
func numberTicks(low, high float64, want int) []tick {
	step, parts := niceStep((high - low) / float64(max(want, 1)))
	return steppedTicks(low, high, step, parts, decimalsOf(step))
}

// decimalsOf is the number of decimals that multiples of a step need.
func decimalsOf(step float64) int {
	d := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	if math.Abs(step*math.Pow10(d)-math.Round(step*math.Pow10(d))) > 1e-6 {
		d++ // 2.5, 0.25 …
	}
	return d
}

// fixedTicks marks an axis in the given step, divided in three where that gives
// whole parts (angles), else in five.
func fixedTicks(low, high, step float64) []tick {
	parts := 5
	if math.Mod(step, 3) == 0 {
		parts = 3
	}
	return steppedTicks(low, high, step, parts, decimalsOf(step))
}

// steppedTicks marks multiples of step, each divided into parts.
func steppedTicks(low, high, step float64, parts, decimals int) []tick {
	var ticks []tick
	minor := step / float64(parts)
	slack := minor * 1e-6
	for i := math.Ceil((low - slack) / minor); i*minor <= high+slack; i++ {
		t := tick{value: i * minor, major: math.Mod(i, float64(parts)) == 0}
		if t.major {
			v := i * minor
			if math.Abs(v) < slack {
				v = 0
			}
			t.text = decimal(v, decimals)
		}
		ticks = append(ticks, t)
	}
	return ticks
}

// decimal writes v with the given decimals, or as a power of ten where that would
// be long.
func decimal(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if decimals > 5 || math.Abs(v) >= 1e7 {
		s = strconv.FormatFloat(v, 'g', 4, 64)
	}
	return strings.ReplaceAll(s, "-", minusSign)
}

// niceStep rounds a raw step up to 1, 2, 2.5 or 5 times a power of ten, and
// says into how many parts minor ticks divide it.
func niceStep(raw float64) (step float64, parts int) {
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, s := range []struct {
		m     float64
		parts int
	}{{1, 5}, {2, 4}, {2.5, 5}, {5, 5}} {
		if raw <= s.m*power*(1+1e-9) {
			return s.m * power, s.parts
		}
	}
	return 10 * power, 5
}
