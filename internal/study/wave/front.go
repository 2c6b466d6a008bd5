package wave

import (
	"context"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/outside"
	"gapline/cabinet/sizing"
	"gapline/cabinet/surface"
	"gapline/driver"
	"gapline/internal/check"
)

// Front is the outside of a design's box, or of some boxes of its stack, solved in space.
type Front struct {
	Design *design.Design
	Sizing sizing.Sizing // with the figures of this run where it stands for them
	Driven outside.Driven
	Boxes  int
	With   *outside.Result // of the design as given
	Bare   *outside.Result // without its insert; nil where it has none, and of a run driven by the horn
	// ByCircuit says that the drivers' circuit moves the cones; otherwise each has 1 m/s².
	ByCircuit bool
	Why       string // why it does not
	// Seen holds what was asked for by FrontOptions.Look; nil: nothing was.
	Seen *outside.Result
}

// FrontOptions say what to solve.
type FrontOptions struct {
	Driven      outside.Driven
	Boxes       int
	Frequencies []float64 // Hz, ascending
	OpenJoints  bool
	Share       func(i int) bool       // which of Frequencies FrontPart solves, by place
	PerWave     float64                // elements to a wavelength; 0: what the surface takes
	Look        outside.Look           // also at a frequency that is not among Frequencies
	MaxMemory   int64                  // bytes; 0: the solver's
	Progress    func(done, total int)  // may be nil
	Forecast    func(outside.Forecast) // may be nil
}

// task is what to solve, and whether the drivers' circuit is known.
func (o *FrontOptions) task(d *design.Design, st *Front) outside.Task {
	t := outside.Task{Driven: o.Driven, Boxes: o.Boxes, Frequencies: o.Frequencies, OpenJoints: o.OpenJoints, PerWave: o.PerWave, MaxMemory: o.MaxMemory, Volts: design.DefaultVoltage, Sphere: o.hangs()}
	if o.Driven != outside.ByWoofers {
		st.Why = "only the woofers' circuit is known here"
		return t
	}
	_, c, err := circuitOf(d)
	if err != nil {
		st.Why = err.Error()
		return t
	}
	t.Circuit, st.ByCircuit = c, true
	return t
}

// circuitOf is the woofers' circuit behind what is solved.
func circuitOf(d *design.Design) (driver.Setup, *driver.Circuit, error) {
	setup, err := check.BoxSetup(d)
	if err != nil {
		return setup, nil, err
	}
	setup.Insert = nil // what stands in front is solved
	c, err := driver.NewCircuit(setup)
	return setup, c, err
}

// hangs reports whether a run has the pattern of a box to be hung in a stack: one by itself, or the
// middle one of several.
func (o *FrontOptions) hangs() bool { return max(o.Boxes, 1)%2 == 1 && !o.OpenJoints && o.PerWave == 0 }

// newFront begins a run: what to solve, and whether again without the insert.
func newFront(d *design.Design, o *FrontOptions) (st *Front, t outside.Task, bare bool) {
	st = &Front{Design: d, Sizing: sizing.Size(d), Driven: o.Driven, Boxes: max(o.Boxes, 1)}
	return st, o.task(d, st), d.HasInsert() && o.Driven == outside.ByWoofers
}

// RunFront solves the outside with what is driven, and again without the insert where the
// design has one. The error is of type Problems where the design gives no surface; it wraps
// bem3.ErrTooLarge or bem3.ErrMesh.
func RunFront(ctx context.Context, d *design.Design, o FrontOptions) (*Front, error) {
	st, t, bare := newFront(d, &o)
	within := slices.Contains(o.Frequencies, o.Look.Frequency)
	if o.Look.Frequency > 0 && !within { // before the sweep, so that one that is too large is refused at once
		seen := t
		seen.Look, seen.Frequencies, seen.Sphere = o.Look, []float64{o.Look.Frequency}, false
		var err error
		if st.Seen, err = solved(outside.Solve(ctx, d, seen))(d); err != nil {
			return nil, err
		}
	}
	err := o.twice(&t, bare, func() (err error) {
		if t.Look = (outside.Look{}); within && !t.WithoutInsert {
			t.Look = o.Look
		}
		to := st.result(t.WithoutInsert)
		*to, err = solved(outside.Solve(ctx, d, t))(d)
		return err
	})
	if within {
		st.Seen = st.With
	}
	return st.whole(err)
}

// result is where the result with or without the insert belongs.
func (st *Front) result(bare bool) **outside.Result {
	if bare {
		return &st.Bare
	}
	return &st.With
}

// whole sizes the design with what a run found, unless it failed.
func (st *Front) whole(err error) (*Front, error) {
	if err != nil {
		return nil, err
	}
	if st.Stands() {
		st.Sizing.Wave = st.Figures()
	}
	return st, nil
}

// twice does the work on a task, and where there is one for the task without the insert, with
// the progress of both.
func (o *FrontOptions) twice(t *outside.Task, bare bool, work func() error) error {
	runs := 1
	if bare {
		runs = 2
	}
	t.Forecast = o.Forecast
	for k := range runs {
		if o.Progress != nil {
			t.Progress = func(done, total int) { o.Progress(k*total+done, runs*total) }
		}
		if err := work(); err != nil {
			return err
		}
		t.WithoutInsert, t.Forecast = true, nil
	}
	return nil
}

// solved turns what the outside says into a result or an error about the design.
func solved[T any](r T, faults []surface.Fault, err error) func(*design.Design) (T, error) {
	return func(d *design.Design) (T, error) {
		if len(faults) > 0 {
			return r, Problems(check.Surface(d, layout.New(d), faults))
		}
		return r, err
	}
}

// Stands reports whether the run stands for the design in other commands: one box, driven by
// what meets the horn.
func (st *Front) Stands() bool {
	meets := outside.ByWoofers
	if st.Design.HasMid() {
		meets = outside.ByMids
	}
	return st.Boxes == 1 && st.Driven == meets && !st.With.Task.OpenJoints
}

// Figures are the limits of the run as sizings hold them.
func (st *Front) Figures() sizing.WaveSizing {
	w := sizing.AbsentWave
	r, d := st.With, st.Design
	lobe, chamber, part := r.Lobe(d.Pitch(), d.Targets.LobeLevel.Or(design.DefaultLobeLevel)), r.Chamber(), r.Parted()
	w.Lobe, w.LobeFrom, w.LobeTo = lobe.Hz, lobe.From, lobe.To
	w.Chamber, w.ChamberFrom, w.ChamberTo = chamber.Hz, chamber.From, chamber.To
	w.Part, w.PartFrom, w.PartTo = part.Hz, part.From, part.To
	w.FrontTo = r.Frequency[len(r.Frequency)-1]
	return w
}

// Mesh is the surface that would be solved at the highest frequency. The error is as
// RunFront's.
func Mesh(ctx context.Context, d *design.Design, o FrontOptions) (*surface.Surface, error) {
	top := o.Frequencies[len(o.Frequencies)-1]
	s, faults, err := surface.New(ctx, d, surface.Options{Frequency: top, PerWave: o.PerWave, Boxes: o.Boxes, OpenJoints: o.OpenJoints, Whole: true})
	if len(faults) > 0 {
		return nil, Problems(check.Surface(d, layout.New(d), faults))
	}
	return s, err
}
