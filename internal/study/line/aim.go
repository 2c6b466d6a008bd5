package line

import (
	"context"
	"errors"
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/layout"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
)

// AimRequest is what the search for a splay may do.
type AimRequest struct {
	AnyOrder bool // a joint may turn less than the one above it
	Shade    bool // boxes may be turned down
	Delay    bool // boxes may be delayed
	Weighted bool // evenness of the A-weighted level alone, not of the octaves
	Kicks    int  // see field.AimSpec; 0: its default
}

// Aimed is the best splay found, beside what the file has.
type Aimed struct {
	*field.Aimed
	Before    *field.Candidate // nil: the stack as given cannot be heard at the seats
	Steps     []float64        // allowed, rad
	Collide   []float64        // left out, since neighbours would run into each other, rad
	Tilts     []float64        // allowed, rad down
	TiltStays bool             // the file gives no range
	Rising    bool
	Floor     float64   // dB; NaN: none
	Over      float64   // dB
	Gains     []float64 // allowed, dB; nil: boxes are not turned down
	Delays    []float64 // allowed, s; nil: boxes are not delayed
	Even      field.Even
	Octave    []field.Band // the bands whose spreads the candidates hold
}

// splaySteps are the angles of a rigging that the file does not describe, degrees.
var splaySteps = []float64{0, 0.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8, 10}

// tiltStep is the step of tilt within the allowed range, rad.
const tiltStep = 0.5 * quantity.Degree

// mostTilts bounds the tilts tried.
const mostTilts = 100

// gainSteps are the gains of shading that the file does not describe, dB.
var gainSteps = []float64{0, -1, -2, -3}

// delaySteps are the delays that the file does not describe, s.
var delaySteps = []float64{0, 0.05e-3, 0.1e-3, 0.2e-3, 0.3e-3, 0.5e-3, 0.7e-3, 1e-3}

// Aim looks for the splay that spreads the sound most evenly over the seats.
func (s *Study) Aim(ctx context.Context, r AimRequest) (*Aimed, error) {
	out := &Aimed{Steps: s.Design.Hanging.SplaySteps, Rising: !r.AnyOrder, Floor: s.Design.Audience.BackLevel.Value(),
		Over: s.Design.Audience.OverRow.Or(design.DefaultOverRow)}
	if len(out.Steps) == 0 {
		for _, a := range splaySteps {
			out.Steps = append(out.Steps, a*quantity.Degree)
		}
	}
	if out.Steps, out.Collide = s.clearSteps(out.Steps); len(out.Steps) == 0 {
		return nil, ErrAllCollide
	}
	out.Tilts, out.TiltStays = s.tilts()
	out.Even = s.even(r)
	spec := field.AimSpec{Audience: s.audienceSpec(), Steps: out.Steps, Tilts: out.Tilts, Rising: out.Rising,
		Floor: out.Floor, Over: out.Over, Kicks: r.Kicks, Even: out.Even}
	if out.Even.Octaves > 0 {
		spec.SearchTones = octaveTones
	}
	if r.Shade {
		spec.Gains = s.Design.Hanging.GainSteps
		if len(spec.Gains) == 0 {
			spec.Gains = gainSteps
		}
	}
	if r.Delay {
		spec.Delays = s.Design.Hanging.DelaySteps
		if len(spec.Delays) == 0 {
			spec.Delays = delaySteps
		}
	}
	out.Gains, out.Delays = spec.Gains, spec.Delays
	options := s.options("splay", true)
	found, err := field.Aim(ctx, s.Model.Stack, options, spec)
	if err != nil {
		return nil, err
	}
	out.Aimed, out.Octave = found, found.Audience.Bands
	out.Before, err = s.before(ctx, options, spec)
	return out, err
}

// AtEnd is where the best stack stands among the allowed values of one kind: what keeps it
// from going further.
type AtEnd uint8

// The ends.
const (
	Inside  AtEnd = iota // between the ends, or nothing to choose from
	LowEnd               // the least value allowed
	HighEnd              // the largest one
)

// TiltEnd says at which end of the allowed tilts, positive up, the best one stands.
func (a *Aimed) TiltEnd() AtEnd {
	if a.TiltStays || len(a.Tilts) < 2 {
		return Inside
	}
	switch a.Best.Tilt { // of the list, whose values are rad down
	case slices.Max(a.Tilts):
		return LowEnd
	case slices.Min(a.Tilts):
		return HighEnd
	}
	return Inside
}

// SplayEnd says at which end of the allowed steps joints of the best stack stand, and how
// many. A joint that turns by nothing is not at an end: no rigging turns it the other way.
func (a *Aimed) SplayEnd() (end AtEnd, joints int) {
	if len(a.Steps) < 2 {
		return Inside, 0
	}
	low, high := slices.Min(a.Steps), slices.Max(a.Steps)
	for _, x := range a.Best.Splay {
		if x == high {
			joints++
		}
	}
	if joints > 0 {
		return HighEnd, joints
	}
	for _, x := range a.Best.Splay {
		if x == low && low > 0 {
			joints++
		}
	}
	if joints > 0 {
		return LowEnd, joints
	}
	return Inside, 0
}

// GainEnd counts the boxes that stand at the least of the allowed gains.
func (a *Aimed) GainEnd(gains []float64) (boxes int) {
	if len(gains) < 2 {
		return 0
	}
	for _, g := range a.Best.Shading {
		if g == slices.Min(gains) {
			boxes++
		}
	}
	return boxes
}

// DelayEnd counts the boxes that stand at the largest of the allowed delays.
func (a *Aimed) DelayEnd() (boxes int) {
	if len(a.Delays) < 2 {
		return 0
	}
	for _, t := range a.Best.Delays {
		if t == slices.Max(a.Delays) {
			boxes++
		}
	}
	return boxes
}

// ErrAllCollide says that no step of splay can be hung.
var ErrAllCollide = errors.New("at every step of line.splay_steps neighbouring boxes run into each other: a lower cabinet.rear_height or a wider cabinet.gap is needed")

// clearSteps parts the steps at which neighbours clear each other from those at which they
// do not.
func (s *Study) clearSteps(steps []float64) (fit, collide []float64) {
	l := layout.New(s.Design)
	for _, a := range steps {
		if l.SplayFits(a) {
			fit = append(fit, a)
		} else {
			collide = append(collide, a)
		}
	}
	return fit, collide
}

// tilts lists the tilts that may be tried, rad down.
func (s *Study) tilts() (down []float64, stays bool) {
	span := s.Design.Hanging.TiltRange
	if len(span) != 2 {
		return []float64{s.Model.Stack.Tilt}, true
	}
	n := int(math.Round((span[1] - span[0]) / tiltStep))
	n = min(max(n, 0), mostTilts-1)
	for i := range n + 1 {
		t := 0.0
		if n > 0 {
			t = float64(i) / float64(n)
		}
		down = append(down, -(span[0] + t*(span[1]-span[0])))
	}
	return down, false
}

// before scores the stack as the file hangs it, by the same measure: a search that
// is allowed nothing else.
func (s *Study) before(ctx context.Context, o field.Options, spec field.AimSpec) (*field.Candidate, error) {
	o.Progress = nil
	e, err := field.New(s.Model.Stack, o)
	if err != nil {
		return nil, err
	}
	now, err := e.Audience(ctx, spec.Audience)
	if err != nil {
		return nil, err
	}
	zone, err := e.ZoneLevel(ctx, spec.Even, spec.Audience, now.AWeighted)
	if err != nil {
		return nil, err
	}
	st := s.Model.Stack
	slope := field.SlopeOver(now.Seat, e.Centre(), spec.Even.Fall)
	return &field.Candidate{Splay: slices.Clone(st.Splay), Tilt: st.Tilt, Shading: st.Shading, Delays: st.Delays, Spread: now.SpreadAbout(slope), Back: now.Back,
		Bands: now.BandSpreads(slope), Octaves: now.MeanSpread(slope, spec.Even.From), Cost: numeric.Absent, OverRow: numeric.Absent, Zone: zone}, nil
}

// Applied returns the design with the splay, tilt and shading that were found.
func (a *Aimed) Applied(d *design.Design) design.Design {
	out := *d
	out.Line.Splay, out.Line.Tilt = a.Best.Splay, optional.Of(-a.Best.Tilt)
	if a.Best.Shading != nil {
		out.Hanging.Shading = a.Best.Shading
	}
	if a.Best.Delays != nil {
		out.Hanging.Delays = a.Best.Delays
	}
	return out
}
