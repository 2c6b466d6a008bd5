package sizing

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// Handover is where one band may hand over to the next above it.
type Handover struct {
	// From and To are the ends in Hz of what both bands cover or, where nothing is
	// covered by both, of the gap between them, but never under Lowest. NaN: not known;
	// To is +Inf where the lower band has no limit.
	From, To float64
	Open     bool // nothing is covered by both
	// Lowest is the lowest frequency in Hz that the upper band allows, whatever it
	// covers, so that its drivers are not harmed; NaN: none is known.
	Lowest float64
	Limit  LowestLimit // what sets Lowest
}

// LowestLimit is what forbids a crossover to be lower.
type LowestLimit uint8

// The limits.
const (
	NoLowest       LowestLimit = iota
	LowestOfDriver             // that of the compression driver, by its data sheet
	LowestOfFlare              // waveguide.FlareMargin times the flare cutoff: below it the driver is not loaded
	LowestOfMids               // that of the mids
)

// HornHandover returns where the band below the horn may hand over to it. Sources: the
// gap's two ends, see Gap; the greater of data sheet and flare, see
// waveguide.Horn.LowerLimit.
func HornHandover(d *design.Design, s *Sizing) Handover {
	h := Handover{Lowest: d.Horn.Lowest.Value()}
	if numeric.Given(h.Lowest) {
		h.Limit = LowestOfDriver
	}
	if flare := waveguide.FlareMargin * s.Horn.Cutoff; flare > 0 && !(h.Lowest >= flare) {
		h.Lowest, h.Limit = flare, LowestOfFlare
	}
	h.between(s.Gap.Low, s.Gap.High)
	return h
}

// MidHandover returns where the woofers may hand over to the mids.
func MidHandover(d *design.Design, s *Sizing) Handover {
	h := Handover{Lowest: d.Mid.Lowest.Value()}
	if numeric.Given(h.Lowest) {
		h.Limit = LowestOfMids
	}
	h.between(h.Lowest/math.Exp2(s.Gap.WooferMid), h.Lowest)
	return h
}

// between sets the window by the upper end of the lower band and the lower end of the
// upper one, Hz.
func (h *Handover) between(upper, lower float64) {
	h.From, h.To = numeric.Absent, numeric.Absent
	if math.IsNaN(upper+lower) || math.IsInf(lower, 0) {
		return
	}
	h.Open = lower > upper
	h.From, h.To = math.Min(upper, lower), math.Max(upper, lower)
	if h.Lowest > h.From {
		h.From = h.Lowest
	}
	h.To = math.Max(h.From, h.To)
}

// Covers reports whether both bands cover f, Hz. It is false where the ends are not
// known.
func (h *Handover) Covers(f float64) bool { return !h.Open && f >= h.From && f <= h.To }

// Known reports whether the ends are known.
func (h *Handover) Known() bool { return numeric.Given(h.From) }
