package measured

import (
	"math"

	"gapline/internal/numeric"
)

// Parting is where the two traces of a pair stop agreeing.
type Parting struct {
	From  float64 // lower end of the agreement, Hz; NaN when the pair never agrees
	Limit float64 // upper end: where the pair parts, Hz; NaN when it does not part
	Until float64 // highest frequency of the comparison, Hz
}

// What counts as agreement and as parting, in octaves.
const (
	LeastAgreement = 1.0     // an agreement narrower than this may be chance, as among noise
	Bridged        = 1.0 / 6 // a parting narrower than this is a notch or peak, not a limit
)

// Part finds the lowest range of at least LeastAgreement octaves in which the
// difference of a pair stays within ±db, partings narrower than Bridged set
// aside. Its upper end is the lowest frequency above which the pair parts by more
// than db. f is the grid in Hz, difference in dB; NaN at the ends is ignored and
// inside ends a range. Between grid points the difference is linear over log f.
func Part(f, difference []float64, db float64) Parting {
	p := Parting{From: numeric.Absent, Limit: numeric.Absent, Until: numeric.Absent}
	runs, until := agreements(f, difference, db)
	p.Until = until
	for _, r := range bridge(runs) {
		if math.Log2(r.high/r.low) >= LeastAgreement*(1-1e-9) {
			p.From = r.low
			if !r.open {
				p.Limit = r.high
			}
			return p
		}
	}
	return p
}

// run is a range of frequencies in which a pair agrees.
type run struct {
	low, high float64 // Hz
	open      bool    // high is where the data end, not where the pair parts
	cut       bool    // a hole in the data follows
}

// agreements returns the ranges in which |difference| ≤ db, and where the data
// end.
func agreements(f, difference []float64, db float64) (runs []run, until float64) {
	until = numeric.Absent
	inside := func(i int) bool {
		return i >= 0 && i < len(f) && numeric.Given(difference[i]) && math.Abs(difference[i]) <= db
	}
	for i := range f {
		if !numeric.Given(difference[i]) {
			continue
		}
		until = f[i]
		if !inside(i) {
			continue
		}
		if !inside(i - 1) {
			runs = append(runs, run{low: edge(f, difference, i, i-1, db)})
		}
		last := &runs[len(runs)-1]
		if !inside(i + 1) {
			next := i+1 < len(f) && numeric.Given(difference[i+1])
			last.high, last.open, last.cut = edge(f, difference, i, i+1, db), !next, !next
		}
	}
	return runs, until
}

// edge returns the frequency between the inside point i and its neighbour j
// where the difference passes ±db, or f[i] when there is no neighbour.
func edge(f, difference []float64, i, j int, db float64) float64 {
	if j < 0 || j >= len(f) || !numeric.Given(difference[j]) {
		return f[i]
	}
	a, b := difference[i], difference[j]
	limit := math.Copysign(db, b)
	return f[i] * math.Pow(f[j]/f[i], (limit-a)/(b-a))
}

// bridge joins ranges with less than Bridged between them.
func bridge(runs []run) []run {
	var out []run
	for _, r := range runs {
		if n := len(out); n > 0 && !out[n-1].cut && math.Log2(r.low/out[n-1].high) < Bridged {
			out[n-1].high, out[n-1].open, out[n-1].cut = r.high, r.open, r.cut
			continue
		}
		out = append(out, r)
	}
	return out
}
