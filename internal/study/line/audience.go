package line

import (
	"context"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/internal/check"
	"gapline/internal/numeric"
)

// Audience is what arrives at the seats.
type Audience struct {
	*field.Audience
	Absorbed bool
}

// Seating returns the stretches of seats; nil when the design gives none.
func (s *Study) Seating() []field.Seating {
	a := &s.Design.Audience
	var out []field.Seating
	for i := range a.Start {
		g := field.Seating{Start: a.Start[i], End: a.End[i], Ear: a.EarHeight.Or(design.DefaultEarHeight)}
		if len(a.StartFloor) > 0 {
			g.StartFloor, g.EndFloor = a.StartFloor[i], a.EndFloor[i]
		}
		out = append(out, g)
	}
	return out
}

// audienceSpec is the seats with the octaves that the seats are judged by.
func (s *Study) audienceSpec() field.AudienceSpec {
	return field.AudienceSpec{Seating: s.Seating(), Step: s.seatStep()}
}

func (s *Study) seatStep() float64 { return s.Design.Audience.Step.Or(design.DefaultSeatStep) }

// SeatProblems says in keys of the file why the seats cannot be heard.
func (s *Study) SeatProblems() []check.Problem {
	switch {
	case !s.Design.Audience.Given():
		return []check.Problem{{Keys: []string{"line.boxes"},
			Text: "[audience] is needed: audience.start and audience.end, the first and last row of each stretch of seats"}}
	case !numeric.Given(s.Model.Stack.TopHeight):
		return []check.Problem{{Keys: []string{"audience.start"},
			Text: "line.top_height is needed: how high the top of the line hangs above the ground under it"}}
	}
	return nil
}

// Audience computes the levels at the seats.
func (s *Study) Audience(ctx context.Context) (*Audience, error) {
	e, err := s.engine("seats", true, 0)
	if err != nil {
		return nil, err
	}
	a, err := e.Audience(ctx, s.audienceSpec())
	if err != nil {
		return nil, err
	}
	return &Audience{a, s.Absorbs(true)}, nil
}

// audienceByMouths is the same with ideal mouths in place of all patterns.
func (s *Study) audienceByMouths(ctx context.Context) (*Audience, error) {
	c := s.Conditions
	c.Choice.Patterns = nil
	c.Shape = nil // the study's design has it already
	ideal, problems := New(s.Design, c)
	if problems != nil {
		return nil, Problems(problems)
	}
	return ideal.Audience(ctx)
}

// MovedNoticeably is from what on a pattern moves a seat so that both levels are shown, dB.
const MovedNoticeably = 1

// Moved is by how much the patterns move the seats: each octave and the A-weighted level, by pattern
// less by mouths, dB.
type Moved struct {
	Octave   [][]float64 // [band][seat]
	Weighted []float64   // [seat]
	Most     float64     // largest of all, either way
	Seat     int         // where
}

// Moved compares the seats by patterns with those by mouths; nil where no pattern hangs.
func (r *Result) Moved() *Moved {
	if r.ByMouths == nil || r.Audience == nil {
		return nil
	}
	out := &Moved{}
	less := func(a, b []float64) []float64 {
		row := make([]float64, len(a))
		for i := range a {
			row[i] = a[i] - b[i]
			if math.Abs(row[i]) > math.Abs(out.Most) {
				out.Most, out.Seat = row[i], i
			}
		}
		return row
	}
	for b := range r.Audience.Level {
		out.Octave = append(out.Octave, less(r.Audience.Level[b], r.ByMouths.Level[b]))
	}
	out.Weighted = less(r.Audience.AWeighted, r.ByMouths.AWeighted)
	return out
}

// Spot is what arrives at one point.
type Spot struct {
	At    field.Vec
	Level []float64 // [frequency], dB
}

// Spots are the levels at points.
type Spots struct {
	Spectrum
	Spot []Spot
}

// Spots computes the levels at points of the world.
func (s *Study) Spots(ctx context.Context, sp Spectrum, at []field.Vec) (*Spots, error) {
	sp, err := s.settle(ctx, s.near, sp, at, false)
	if err != nil {
		return nil, err
	}
	rows, err := s.levelsAt(ctx, s.near, &sp, at)
	if err != nil {
		return nil, err
	}
	out := &Spots{Spectrum: sp}
	for j, v := range at {
		spot := Spot{At: v}
		for i := range rows {
			spot.Level = append(spot.Level, rows[i][j])
		}
		out.Spot = append(out.Spot, spot)
	}
	return out, nil
}
