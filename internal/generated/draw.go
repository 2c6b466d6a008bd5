package generated

import (
	"fmt"
	"math"

	"gapline/internal/schema"
)

// usual are the ranges, SI, that a tame design draws from where the range of a key is far
// wider than what is built (common practice, no source).
var usual = map[string][2]float64{
	"woofer.fs": {25, 120}, "woofer.qes": {0.15, 1.2}, "woofer.qms": {1, 12}, "woofer.vas": {0.005, 0.3}, "woofer.re": {2, 12},
	"woofer.le": {1e-5, 2e-3}, "woofer.xmax": {1e-3, 0.015}, "woofer.bl": {4, 25}, "woofer.mms": {0.008, 0.2}, "woofer.cms": {1e-4, 2e-3},
	"woofer.rms": {0.3, 10}, "woofer.sd": {0.008, 0.12}, "woofer.power": {30, 1500},
	"mid.fs": {60, 500}, "mid.qes": {0.15, 1.5}, "mid.qms": {1, 12}, "mid.vas": {2e-4, 0.02}, "mid.re": {2, 12}, "mid.le": {1e-5, 1e-3},
	"mid.xmax": {5e-4, 8e-3}, "mid.power": {10, 400}, "mid.volume": {3e-4, 0.02}, "mid.lowest": {150, 900},
	"enclosure.tuning": {25, 120}, "enclosure.leak_q": {3, 50}, "enclosure.absorption_q": {5, 200}, "enclosure.vent_q": {20, 300},
	"enclosure.radiator_cms": {1e-4, 2e-3}, "enclosure.radiator_vas": {0.01, 0.5}, "enclosure.radiator_mms": {0.02, 0.8},
	"insert.slot_depth": {3e-3, 0.04}, "insert.chamber_volume": {1e-4, 5e-3},
	"horn.path_length": {0.2, 3}, "horn.lowest": {400, 2000},
	"compression_driver.re": {3, 12}, "compression_driver.bl": {5, 20}, "compression_driver.mms": {5e-4, 6e-3}, "compression_driver.fs": {300, 1200},
	"compression_driver.sd": {1e-3, 0.01}, "compression_driver.front_volume": {0, 2e-5}, "compression_driver.rear_volume": {2e-5, 1e-3},
	"compression_driver.sensitivity": {100, 120}, "compression_driver.power": {20, 200}, "compression_driver.xmax": {2e-4, 2e-3},
	"crossover.frequency": {400, 2500}, "crossover.low_frequency": {100, 500}, "line.top_height": {6, 15},
	"audience.ear_height": {1, 1.9}, "audience.step": {0.5, 5},
}

func (m *maker) in(low, high float64) float64 { return low + (high-low)*m.Float64() }

func (m *maker) chance(p float64) bool { return m.Float64() < p }

// one of several words or paths.
func oneOf[T any](m *maker, of ...T) T { return of[m.IntN(len(of))] }

// key finds a key that is known to exist.
func key(path string) *schema.Key {
	k := schema.FindKey(path)
	if k == nil {
		panic("generated: no key " + path)
	}
	return k
}

// span is the range that a key is drawn from.
func (m *maker) span(k *schema.Key) (low, high float64) {
	if u, ok := usual[k.Path]; ok && m.tame {
		return u[0], u[1]
	}
	return k.Min, k.Max
}

// between draws a number of a range: evenly where it has both signs, else evenly over its
// logarithm, so that small values are as likely as large ones; the ends now and then.
func (m *maker) between(low, high float64) float64 {
	switch {
	case !(low <= high):
		panic(fmt.Sprintf("generated: an empty range, %v to %v", low, high))
	case m.chance(0.03):
		return low
	case m.chance(0.03):
		return high
	case low < 0 || low == high:
		return m.in(low, high)
	}
	from := math.Max(low, high*1e-5)
	return math.Min(math.Max(from*math.Pow(high/from, m.Float64()), low), high)
}

// value draws a value of a key.
func (m *maker) value(k *schema.Key) float64 {
	low, high := m.span(k)
	if k.Type == schema.Count {
		return math.Round(m.between(low, high))
	}
	return m.between(low, high)
}

// set puts a number into the design.
func (m *maker) set(path string, x float64) { key(path).SetNumber(&m.d, x) }

// give draws each of the keys.
func (m *maker) give(paths ...string) {
	for _, p := range paths {
		switch k := key(p); k.Type {
		case schema.Choice:
			m.choose(p, k.Choices...)
		default:
			k.SetNumber(&m.d, m.value(k))
		}
	}
}

// perhaps draws each of the keys with some probability.
func (m *maker) perhaps(p float64, paths ...string) {
	for _, path := range paths {
		if m.chance(p) {
			m.give(path)
		}
	}
}

// within draws a key from the part of its range that lies in another; what is then empty
// is left out.
func (m *maker) within(path string, low, high float64) bool {
	k := key(path)
	low, high = math.Max(low, k.Min), math.Min(high, k.Max)
	if !(low <= high) {
		return false
	}
	k.SetNumber(&m.d, m.between(low, high))
	return true
}

// choose sets a key to one of some words.
func (m *maker) choose(path string, words ...string) {
	schema.Value{Key: key(path), Text: oneOf(m, words...)}.Apply(&m.d)
}

// word sets a key to a text.
func (m *maker) word(path, text string) { schema.Value{Key: key(path), Text: text}.Apply(&m.d) }

// list sets a key to n values that draw gives.
func (m *maker) list(path string, n int, draw func(i int) float64) {
	v := schema.Value{Key: key(path)}
	for i := range n {
		v.List = append(v.List, math.Min(math.Max(draw(i), v.Key.Min), v.Key.Max))
	}
	v.Apply(&m.d)
}

// number is the value of a key; NaN where it is not given.
func (m *maker) number(path string) float64 { return key(path).Number(&m.d) }

// given reports whether the key has a value.
func (m *maker) given(path string) bool { return !math.IsNaN(m.number(path)) }
