package field

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// AimSpec asks for the splay that spreads the sound evenly over the seats.
type AimSpec struct {
	Audience AudienceSpec // Tones of 0: SearchTones for the search, as many as settle the levels for what is returned
	// SearchTones stand for each band while searching; 0: 3.
	SearchTones int
	Steps       []float64 // allowed splay angles, rad
	Tilts       []float64 // allowed tilts of the top box, rad; nil: as the stack hangs
	Gains       []float64 // allowed gains of a box, dB; nil: no gain shading
	Delays      []float64 // allowed delays of a box, s; nil: as the stack has them
	// Floor is the least A-weighted level at the last seat, see Engine.Level;
	// NaN: none. Each dB below costs FloorWeight dB of spread (0: 2).
	Floor, FloorWeight float64
	// Over is the most that the sound over the last row (4° to 24° above it, mean
	// energy) may reach against the last seat, dB; NaN: any. Each dB above costs
	// OverWeight dB of spread (0: 0.5).
	Over, OverWeight float64
	// Even is what evenness means beside the A-weighted level.
	Even Even
	// Rising wants no joint to turn less than the one above it, as a smooth curve
	// does; the spread is then a little larger.
	Rising bool
	// Kicks is how often the search jumps away from the best stack found and
	// descends again; 0: 8.
	Kicks int
}

// aimTones is the default of tones in each band while searching; fewer than for
// levels, as the search takes thousands of sums.
const aimTones = 3

// maxChoices bounds each list of allowed values.
const maxChoices = 200

// Candidate is one way to hang the stack, with what it gives.
type Candidate struct {
	Splay   []float64 // rad
	Tilt    float64   // rad
	Shading []float64 // dB; nil: none
	Delays  []float64 // s; nil: none
	Cost    float64   // spread plus penalties, by the tones of the search, dB
	Spread  float64   // over the seats, against the slope that is wanted, dB
	Back    float64   // A-weighted level at the last seat
	OverRow float64   // mean level over the last row against the last seat, by the tones of the search, dB
	Octaves float64   // mean spread of the bands that count, see Even, dB
	Zone    float64   // loudest place of the zone against the mean of the seats, dB; NaN: no zone
	Bands   []float64 // spread of each band over the seats, dB
}

// Aimed is the result of Aim.
type Aimed struct {
	Best Candidate
	// BestArc is the best stack whose joints are all alike.
	BestArc Candidate
	// Straight is the straight stack with most level at the last seat, whatever
	// it does elsewhere, among the allowed tilts and the one that points there.
	Straight Candidate
	// CurvatureCost is what the curvature takes from the last seat,
	// Straight.Back − Best.Back, dB.
	CurvatureCost float64
	Evaluations   int       // stacks whose sound was summed
	Audience      *Audience // at the best stack
}

// Aim chooses splay, and where allowed tilt and gains, to minimise
//
//	spread + Octaves·octaves + FloorWeight·(Floor − back)₊ + OverWeight·(overRow − Over)₊ + ZoneWeight·(zone − ZoneMost)₊
//
// with spreads against the slope of Even.Fall, and octaves the mean spread of the bands
// from Even.From up.
//
// Search: the best of the named shapes (arcs and progressive curves of all
// sizes at all tilts), improved joint by joint and by moving an angle from one
// joint to another until nothing helps, then Kicks random jumps from the best,
// each improved again. The jumps come from a fixed seed. Nothing proves the
// optimum; on small stacks it equals exhaustive search in the package's tests.
// Options.Progress is told the stacks heard, with a total of 0.
func Aim(ctx context.Context, s Stack, o Options, a AimSpec) (*Aimed, error) {
	h, err := newAimer(ctx, s, o, a)
	if err != nil {
		return nil, err
	}
	best, arc, err := h.search()
	if err != nil {
		return nil, err
	}
	out := &Aimed{Best: h.describe(best), BestArc: h.describe(arc), Straight: h.straight(), Evaluations: h.heard}
	if out.Audience, err = h.settle(&out.Best, a.Audience.Tones); err != nil {
		return nil, err
	}
	for _, c := range []*Candidate{&out.BestArc, &out.Straight} {
		if _, err := h.settle(c, a.Audience.Tones); err != nil {
			return nil, err
		}
	}
	out.CurvatureCost = out.Straight.Back - out.Best.Back
	return out, nil
}

// settle hears the seats with the stack hung as c says, and gives c the levels of
// so many tones in each band, 0: as many as they take to settle. Cost and OverRow
// stay those that the search went by.
func (h *aimer) settle(c *Candidate, tones int) (*Audience, error) {
	if math.IsNaN(c.Back) {
		return nil, nil // it cannot hang so
	}
	e, err := New(h.hang(*c), h.options)
	if err != nil {
		return nil, err
	}
	spec := h.spec.Audience
	spec.Tones = tones
	a, err := e.Audience(h.ctx, spec)
	if err != nil {
		return nil, err
	}
	slope := SlopeOver(a.Seat, e.centre, h.spec.Even.Fall)
	c.Spread, c.Back = spreadAbout(a.AWeighted, slope), a.Back
	c.Bands, c.Octaves = a.BandSpreads(slope), a.MeanSpread(slope, h.spec.Even.From)
	c.Zone, err = e.ZoneLevel(h.ctx, h.spec.Even, spec, a.AWeighted)
	return a, err
}

// fill sets defaults and checks the lists.
func (a *AimSpec) fill(s Stack) error {
	if a.Audience.Tones == 0 {
		a.Audience.Tones = aimTones
		if a.SearchTones > 0 {
			a.Audience.Tones = a.SearchTones
		}
	}
	if err := a.Audience.fill(); err != nil {
		return err
	}
	if len(s.Boxes) > 1 && len(a.Steps) == 0 {
		return fmt.Errorf("no allowed splay angle: need at least 1")
	}
	for _, list := range []struct {
		name   string
		values []float64
	}{{"splay angles", a.Steps}, {"tilts", a.Tilts}, {"gains", a.Gains}, {"delays", a.Delays}} {
		if len(list.values) > maxChoices {
			return fmt.Errorf("%d allowed %s: at most %d", len(list.values), list.name, maxChoices)
		}
		for _, v := range list.values {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("allowed %s: %v is not finite", list.name, v)
			}
		}
	}
	a.Steps = sortedSet(a.Steps)
	a.Tilts = sortedSet(a.Tilts)
	if len(a.Tilts) == 0 {
		a.Tilts = []float64{s.Tilt}
	}
	// Gains fall from the first, so that choice 0 is the loudest.
	a.Gains = sortedSet(a.Gains)
	slices.Reverse(a.Gains)
	a.Delays = sortedSet(a.Delays)
	if a.FloorWeight == 0 {
		a.FloorWeight = 2
	}
	if a.OverWeight == 0 {
		a.OverWeight = 0.5
	}
	if a.Kicks == 0 {
		a.Kicks = 8
	}
	if !(a.FloorWeight > 0) || !(a.OverWeight > 0) || a.Kicks < 0 {
		return fmt.Errorf("weights %v and %v, %d kicks: none may be negative", a.FloorWeight, a.OverWeight, a.Kicks)
	}
	return nil
}

// sortedSet returns the values in ascending order, each once.
func sortedSet(v []float64) []float64 {
	out := slices.Clone(v)
	slices.Sort(out)
	return slices.Compact(out)
}
