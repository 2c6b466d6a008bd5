package driver

import "gapline/internal/wordset"

// Wiring is how several drivers of one box are connected; zero: not given, which
// is parallel.
type Wiring int

// The connections.
const (
	Parallel Wiring = 1 + iota
	Series
	wiringCount
)

// wiring is what a connection of n equal drivers does.
type wiring struct {
	name       string
	inSeries   func(n float64) float64     // drivers that share the voltage
	inParallel func(n float64) float64     // branches that share the current
	resistance func(re, n float64) float64 // of the terminals, from that of one driver
}

func all(n float64) float64 { return n }
func one(float64) float64   { return 1 }

var wirings = [wiringCount]wiring{
	Parallel: {"parallel", one, all, func(re, n float64) float64 { return re / n }},
	Series:   {"series", all, one, func(re, n float64) float64 { return re * n }},
}

// OrDefault returns the wiring, parallel when none is given.
func (w Wiring) OrDefault() Wiring {
	if w == 0 {
		return Parallel
	}
	return w
}

// Resistance returns that of the terminals of n equal drivers so connected, Ω, from that of
// one, re in Ω.
func (w Wiring) Resistance(re float64, n int) float64 { return w.row().resistance(re, float64(n)) }

func (w Wiring) row() *wiring { return &wirings[w.OrDefault()] }

// Name returns the wiring's word in the design file.
func (w Wiring) Name() string { return wordset.Row(wirings[:], w).name }

func (w Wiring) String() string { return w.Name() }
