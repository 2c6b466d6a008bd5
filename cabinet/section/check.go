package section

import (
	"context"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/bem"
	"gapline/internal/numeric"
	"gapline/waveguide"
	"gapline/waveguide/wave"
)

// Solve says at which frequencies to solve, Hz and ascending, and how.
type Solve struct {
	Frequencies []float64
	Halve       bool // solve again with elements of half the size
	Run         bem.Run
}

// PlanCheck is the plan section solved, beside the lower levels of trust.
type PlanCheck struct {
	Driven Driven
	Plan   wave.Plan
	Result *wave.PlanResult

	// −6 dB full widths of the horn at the frequencies of Result, rad; NaN where
	// the level does not fall so far, or data are missing.
	Aperture []float64 // of the mouth by the aperture integral
	Rule     []float64 // by the trade's rule: the coverage, and wider below its limit

	Figures sizing.WaveSizing // of the horn; absent when the woofers are driven
}

// CheckPlan solves the section p of design d.
func CheckPlan(ctx context.Context, d *design.Design, p wave.Plan, driven Driven, s Solve) (*PlanCheck, error) {
	solve := wave.SolvePlan
	if s.Halve {
		solve = wave.SolvePlanChecked
	}
	air := Air(d)
	r, err := solve(ctx, p, air, s.Frequencies, s.Run)
	if err != nil {
		return nil, err
	}
	c := &PlanCheck{Driven: driven, Plan: p, Result: r, Figures: sizing.AbsentWave}
	if driven == ByWoofers {
		return c, nil
	}
	coverage := d.Horn.ExitCoverage()
	known := numeric.Given(coverage)
	mouth := d.Horn.Exit()
	for _, f := range r.Frequency {
		aperture, rule := numeric.Absent, numeric.Absent
		if known {
			aperture, rule = mouth.Beamwidth(air.SoundSpeed/f), ruleWidth(&d.Horn, f)
		}
		c.Aperture = append(c.Aperture, aperture)
		c.Rule = append(c.Rule, rule)
	}
	if !known {
		return c, nil
	}
	c.Figures.Pattern = r.ControlFrequency(coverage)
	c.Figures.PatternFrom, c.Figures.PatternTo = r.ControlRange(coverage)
	var falling bool
	if c.Figures.Narrowest, c.Figures.NarrowestAt, falling = r.Narrowest(c.Figures.Pattern); falling {
		c.Figures.FallsTo = c.Figures.NarrowestAt
	}
	return c, nil
}

// ruleWidth is the width at f by the trade's rule: it falls as 1/f down to the
// coverage and stays there.
func ruleWidth(h *waveguide.Horn, f float64) float64 {
	limit := waveguide.KeeleFrequency(h.ExitWidth(), h.ExitCoverage())
	return math.Min(2*math.Pi, h.ExitCoverage()*math.Max(1, limit/f))
}

// FoldCheck is the folded guide solved, beside what rays say.
type FoldCheck struct {
	Exit   wave.Exit
	Guide  wave.Fold
	ByRays waveguide.Fold
	Result *wave.FoldResult
	Y      []float64 // heights along the mouth, m
	Rays   RayFront  // at those heights

	Figures sizing.WaveSizing
}

// CheckFold solves the guide g, whose rays are those of f.
func CheckFold(ctx context.Context, d *design.Design, f waveguide.Fold, g wave.Fold, s Solve) (*FoldCheck, error) {
	solve := wave.SolveFold
	if s.Halve {
		solve = wave.SolveFoldChecked
	}
	r, err := solve(ctx, g, Air(d), s.Frequencies, s.Run)
	if err != nil {
		return nil, err
	}
	c := &FoldCheck{Exit: g.Exit, Guide: g, ByRays: f, Result: r, Figures: sizing.AbsentWave}
	for _, p := range r.Mouth {
		c.Y = append(c.Y, p.Y)
	}
	c.Rays = Rays(&f, c.Y)
	c.Figures.FlatTo = r.FlatTo()
	if !numeric.Given(c.Figures.FlatTo) {
		c.Figures.FlatBeyond = r.Frequency[len(r.Frequency)-1]
	}
	return c, nil
}

// RayPhase returns the phase along the mouth by rays at f, Hz, in rad, 0 in the
// middle.
func (c *FoldCheck) RayPhase(f float64) []float64 {
	k := 2 * math.Pi * f / c.ByRays.Spec.SoundSpeed
	out := make([]float64, len(c.Rays.Lag))
	for i, lag := range c.Rays.Lag {
		out[i] = -k * lag
	}
	return out
}

// Spread returns the greatest less the least of the values.
func Spread(v []float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range v {
		low, high = math.Min(low, x), math.Max(high, x)
	}
	return high - low
}
