package design

import "gapline/internal/wordset"

// Deciding is the level of trust that a design lets decide its verdict; zero: not given, so
// that rule and aperture decide, and wave and measured where a run is stored and traces are kept.
type Deciding int

// The levels.
const (
	RuleDecides Deciding = 1 + iota
	ApertureDecides
	WaveDecides
	MeasuredDecides
	decidingCount
)

var decidings = [decidingCount]string{RuleDecides: "rule", ApertureDecides: "aperture", WaveDecides: "wave", MeasuredDecides: "measured"}

// Name returns the level's word in the design file.
func (t Deciding) Name() string { return wordset.Row(decidings[:], t) }

func (t Deciding) String() string { return t.Name() }
