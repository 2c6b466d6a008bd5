package design

import "gapline/internal/wordset"

// Deciding is the level of trust that a design lets decide its verdict; zero: not given, so
// that rule and aperture decide, and wave where a run is stored.
type Deciding int

// The levels.
const (
	RuleDecides Deciding = 1 + iota
	ApertureDecides
	WaveDecides
	decidingCount
)

var decidings = [decidingCount]string{RuleDecides: "rule", ApertureDecides: "aperture", WaveDecides: "wave"}

// Name returns the level's word in the design file.
func (t Deciding) Name() string { return wordset.Row(decidings[:], t) }

func (t Deciding) String() string { return t.Name() }
