package line

import (
	"context"
	"math"
	"slices"

	"gapline/cabinet/field"
	"gapline/internal/study/maximum"
)

// View is one way of looking at the stack.
type View string

// The views.
const (
	PolarView      View = "polar"
	AngleMapView   View = "angle-map"
	HorizontalView View = "horizontal"
	SideView       View = "side"
	DistanceView   View = "distance"
	AudienceView   View = "audience"
	CouplingView   View = "coupling"
	MaximumView    View = "maximum"
	ProgrammeView  View = "programme"
)

// Views lists the views with what each shows.
var Views = []struct {
	View View
	Doc  string
}{
	{PolarView, "level against angle up and down, a curve for each octave"},
	{AngleMapView, "level over frequency and angle in the vertical plane"},
	{HorizontalView, "level over frequency and angle in the horizontal plane"},
	{SideView, "level over the hall, seen from the side"},
	{DistanceView, "level along the axis with its slope and the published formulas"},
	{AudienceView, "level along the seats"},
	{CouplingView, "the woofer line with and without insert, packed and spread"},
	{MaximumView, "the largest level over frequency of one box and of the stack, and what stops it"},
	{ProgrammeView, "the largest level of programme along the seats"},
}

// Request is what of a stack is asked for.
type Request struct {
	Views                []View
	Few, Dense           Spectrum // of polars and distances; of maps
	SideSpectrum         Spectrum
	PolarDistance        float64 // m; +Inf: far field
	From, To             float64 // of level against distance, m
	PerDoubling          int
	Frame                Frame // of the side view
	Spots                []field.Vec
	MapAngles, MapSpread float64        // step and span of the maps, rad
	Signal               maximum.Signal // programme of the largest levels
}

// Result is what was computed; nil where it was not asked for.
type Result struct {
	*Study
	Few                Spectrum
	Polar, Horizontal  *Polar // at the few frequencies
	Map, HorizontalMap *Polar // at the dense ones
	Distance           *Distance
	Side               *Side
	Audience           *Audience
	ByMouths           *Audience // the same seats by ideal mouths; nil: no pattern hangs
	Coupling           *Coupling
	Spots              *Spots
	Aimed              *Aimed
	One                *maximum.Box         // nil: levels are relative
	Overdriven         []maximum.Overdriven // bands that the drive takes beyond their limits
	Maximum            *Maximum             // nil also where nothing that is known limits
	Before             *Audience            // as the file hangs the stack, beside Aimed
}

// Has reports whether a view is asked for.
func (r *Request) Has(v View) bool { return slices.Contains(r.Views, v) }

// Hear computes every view that is asked for.
func (s *Study) Hear(ctx context.Context, r Request) (*Result, error) {
	out := &Result{Study: s, Few: r.Few}
	var err error
	do := func(wanted bool, work func() error) {
		if wanted && err == nil {
			err = work()
		}
	}
	do(r.Has(PolarView), func() (e error) {
		out.Polar, e = s.Polar(ctx, field.Vertical, r.Few, AllRound, 2*math.Pi, r.PolarDistance)
		return e
	})
	do(r.Has(PolarView), func() (e error) {
		out.Horizontal, e = s.Across(ctx, r.Few, AllRound, 2*math.Pi, r.PolarDistance)
		return e
	})
	do(r.Has(AngleMapView), func() (e error) {
		out.Map, e = s.Polar(ctx, field.Vertical, r.Dense, r.mapCount(), r.MapSpread, r.PolarDistance)
		return e
	})
	do(r.Has(HorizontalView), func() (e error) {
		out.HorizontalMap, e = s.Across(ctx, r.Dense, HalfTurn, math.Pi, r.PolarDistance)
		return e
	})
	do(r.Has(DistanceView), func() (e error) {
		out.Distance, e = s.Distance(ctx, r.Few, r.From, r.To, r.PerDoubling)
		return e
	})
	do(r.Has(AudienceView), func() (e error) { out.Audience, e = s.Audience(ctx); return e })
	do(r.Has(AudienceView) && s.Model.Patterned(), func() (e error) { out.ByMouths, e = s.audienceByMouths(ctx); return e })
	do(r.Has(SideView), func() (e error) { out.Side, e = s.Side(ctx, r.SideSpectrum, r.Frame); return e })
	do(r.Has(CouplingView), func() (e error) { out.Coupling, e = s.Coupling(ctx, s.CouplingSpectrum()); return e })
	do(len(r.Spots) > 0, func() (e error) { out.Spots, e = s.Spots(ctx, r.Few, r.Spots); return e })
	do(s.Model.Absolute, func() error { return s.limits(ctx, r, out) })
	return out, err
}

// limits looks at the drive, and at the largest levels where they are asked for.
func (s *Study) limits(ctx context.Context, r Request, out *Result) error {
	one, err := s.One(ctx)
	if err != nil {
		return err
	}
	out.Overdriven, out.One = one.Overdriven(lowestDriven, highestDriven), one
	if one.Any() && (r.Has(MaximumView) || r.Has(ProgrammeView)) {
		out.Maximum, err = s.Maximum(ctx, one, r.Signal, r.Has(ProgrammeView))
	}
	return err
}

// The tones at which the drive is looked at, Hz: those of the octaves at the seats.
const (
	lowestDriven  = 45
	highestDriven = 11.2e3
)

// HearAimed looks for the best splay and computes the views with it.
func (s *Study) HearAimed(ctx context.Context, r Request, a AimRequest) (*Result, error) {
	aimed, err := s.Aim(ctx, a)
	if err != nil {
		return nil, err
	}
	before, err := s.Audience(ctx)
	if err != nil {
		return nil, err
	}
	d := aimed.Applied(s.Design)
	now, problems := New(&d, s.Conditions)
	if problems != nil {
		return nil, Problems(problems)
	}
	out, err := now.Hear(ctx, r)
	if err != nil {
		return nil, err
	}
	out.Aimed, out.Before = aimed, before
	return out, nil
}

// mapCount is the number of angles of the vertical map, the axis among them.
func (r *Request) mapCount() int { return 2*int(math.Ceil(r.MapSpread/2/r.MapAngles-1e-9)) + 1 }
