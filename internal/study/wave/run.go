package wave

import (
	"context"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/bem"
	"gapline/internal/check"
	guide "gapline/waveguide/wave"
)

// PlanFrom and PlanTo are the ends of the usual run of the plan section, Hz.
const PlanFrom, PlanTo = 250, 16e3

// Plan is the plan section of a design, solved.
type Plan struct {
	Design *design.Design
	Sizing sizing.Sizing // with the figures of this run
	Check  *section.PlanCheck
	Field  *Field // nil unless asked for
}

// RunPlan solves the plan section. The error is of type Problems where the design
// gives no section, bem.ErrGeometry or bem.ErrTooLarge where it cannot be solved.
func RunPlan(ctx context.Context, d *design.Design, driven section.Driven, o Options) (*Plan, error) {
	p, faults := section.PlanOf(d, driven)
	if len(faults) > 0 {
		return nil, Problems(check.Cut(d, faults))
	}
	o.forecast(p.Problem(section.Air(d)))
	st := &Plan{Design: d, Sizing: sizing.Size(d)}
	if o.Field > 0 { // before the sweep, so that one that is too large is refused at once
		f, err := section.PlanField(ctx, d, p, o.Field, bem.Options{})
		if err != nil {
			return nil, err
		}
		st.Field = &Field{First: f, Reference: section.Reference(f, 0, f.Y[len(f.Y)-1])}
	}
	var err error
	if st.Check, err = section.CheckPlan(ctx, d, p, driven, o.solve(1)); err != nil {
		return nil, err
	}
	st.Sizing.Wave = st.Check.Figures
	return st, nil
}

// Fold is the folded guide of a design, solved.
type Fold struct {
	Design *design.Design
	Sizing sizing.Sizing // with the figures of this run
	Check  *section.FoldCheck
	Field  *Field // nil unless asked for
}

// RunFold solves the two layers of the folded guide. The error is as RunPlan's.
func RunFold(ctx context.Context, d *design.Design, exit guide.Exit, o Options) (*Fold, error) {
	rays, g, faults := section.Fold(d, exit)
	if len(faults) > 0 {
		return nil, Problems(check.Cut(d, faults))
	}
	o.forecast(g.Problem(section.Air(d)))
	st := &Fold{Design: d, Sizing: sizing.Size(d)}
	if o.Field > 0 { // before the sweep, so that one that is too large is refused at once
		first, second, err := section.FoldField(ctx, d, g, o.Field, bem.Options{})
		if err != nil {
			return nil, err
		}
		st.Field = &Field{First: first, Second: second,
			Reference: section.Reference(second, g.Mouth[0].X, (g.Mouth[0].Y+g.Mouth[1].Y)/2)}
	}
	var err error
	if st.Check, err = section.CheckFold(ctx, d, rays, g, o.solve(1)); err != nil {
		return nil, err
	}
	st.Sizing.Wave = st.Check.Figures
	return st, nil
}

// Turn is the turn between the layers of a design's fold, solved.
type Turn struct {
	Design *design.Design
	Sizing sizing.Sizing
	Check  *section.TurnCheck
}

// RunTurn solves the turn about a plate of the given thickness in m; NaN takes what
// the design says. The error is as RunPlan's, or section.ErrCrossMode where no
// frequency lies below the layers' cross mode.
func RunTurn(ctx context.Context, d *design.Design, plate float64, o Options) (*Turn, error) {
	c, faults := section.Turns(d, plate)
	if len(faults) > 0 {
		return nil, Problems(check.Cut(d, faults))
	}
	if err := c.Solve(ctx, d, o.solve(len(c.Turns))); err != nil {
		return nil, err
	}
	return &Turn{Design: d, Sizing: sizing.Size(d), Check: c}, nil
}
