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
	"gapline/internal/optional"
)

// FrontRun is one of the solutions that make up a run.
type FrontRun uint8

// The solutions.
const (
	AsGiven       FrontRun = iota
	WithoutInsert          // where the design has one and the woofers are driven
	OneBox                 // alone and as given, where more hang in free air
	frontRuns
)

// Front is the outside of a design's box, or of some boxes of its stack, solved in space.
type Front struct {
	Design *design.Design
	Sizing sizing.Sizing // with the figures of this run where it stands for them
	Driven outside.Driven
	Boxes  int
	// Straight says that the boxes hang without splay, as all do that are not the whole stack.
	Straight bool
	With     *outside.Result // of the design as given
	Bare     *outside.Result // WithoutInsert; nil: not solved
	Alone    *outside.Result // OneBox; nil: not solved
	// ByCircuit says that the drivers' circuit moves the cones; otherwise each has 1 m/s².
	ByCircuit bool
	Why       string // why it does not
	// Seen holds what was asked for by FrontOptions.Look; nil: nothing was.
	Seen *outside.Result
}

// FrontOptions say what to solve.
type FrontOptions struct {
	Driven      outside.Driven
	Boxes       int       // at most the stack's; fewer hang straight
	Frequencies []float64 // Hz, ascending
	OpenJoints  bool
	Floor       optional.Float         // height of the lower edge of the lowest front above a rigid floor, m; not given: there is none
	Share       func(i int) bool       // which of Frequencies FrontPart solves, by place
	PerWave     float64                // elements to a wavelength; 0: what the surface takes
	Look        outside.Look           // also at a frequency that is not among Frequencies
	MaxMemory   int64                  // bytes; 0: the solver's
	Progress    func(done, total int)  // may be nil
	Forecast    func(outside.Forecast) // told what all solutions take before the first; may be nil
}

// task is what to solve, and whether the drivers' circuit is known.
func (o *FrontOptions) task(d *design.Design, st *Front) outside.Task {
	t := outside.Task{Driven: o.Driven, Boxes: st.Boxes, Straight: st.Straight, Floor: o.Floor, Frequencies: o.Frequencies, OpenJoints: o.OpenJoints, PerWave: o.PerWave, MaxMemory: o.MaxMemory,
		Volts: design.DefaultVoltage, Sphere: o.hangs()}
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
func (o *FrontOptions) hangs() bool {
	return max(o.Boxes, 1)%2 == 1 && !o.OpenJoints && o.PerWave == 0 && !o.Floor.Given()
}

// frontTask is one of the solutions.
type frontTask struct {
	of FrontRun
	outside.Task
}

// newFront begins a run: what to solve.
func newFront(d *design.Design, o *FrontOptions) (*Front, []frontTask) {
	st := &Front{Design: d, Sizing: sizing.Size(d), Driven: o.Driven, Boxes: max(o.Boxes, 1)}
	whole := d.Line.Boxes
	if whole > 0 {
		st.Boxes = min(st.Boxes, whole)
	}
	st.Straight = st.Boxes < whole || whole == 0
	given := frontTask{AsGiven, o.task(d, st)}
	tasks := []frontTask{given}
	if d.HasInsert() && o.Driven == outside.ByWoofers {
		bare := given
		bare.of, bare.WithoutInsert = WithoutInsert, true
		tasks = append(tasks, bare)
	}
	if st.Boxes > 1 && !o.Floor.Given() {
		alone := given
		alone.of, alone.Boxes, alone.Sphere = OneBox, 1, !o.OpenJoints && o.PerWave == 0
		tasks = append(tasks, alone)
	}
	return st, tasks
}

// RunFront solves the outside with what is driven; again without the insert where the design
// has one; and of several boxes one alone too. The error is of type Problems where the design
// gives no surface; it wraps bem3.ErrTooLarge or bem3.ErrMesh.
func RunFront(ctx context.Context, d *design.Design, o FrontOptions) (*Front, error) {
	st, tasks := newFront(d, &o)
	within := slices.Contains(o.Frequencies, o.Look.Frequency)
	if o.Look.Frequency > 0 && !within { // before the sweep, so that one that is too large is refused at once
		seen := tasks[0].Task
		seen.Look, seen.Frequencies, seen.Sphere = o.Look, []float64{o.Look.Frequency}, false
		var err error
		if st.Seen, err = solved(outside.Solve(ctx, d, seen))(d); err != nil {
			return nil, err
		}
	}
	if within {
		tasks[0].Look = o.Look
	}
	err := o.each(ctx, d, tasks, func(t *frontTask, w *outside.Work) (err error) {
		*st.result(t.of), err = w.Solve(ctx)
		return err
	})
	if within {
		st.Seen = st.With
	}
	return st.whole(err)
}

// result is where the result of a solution belongs.
func (st *Front) result(of FrontRun) **outside.Result {
	switch of {
	case WithoutInsert:
		return &st.Bare
	case OneBox:
		return &st.Alone
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

// each makes all tasks ready, tells what they take together, and does the work on one after the
// other, with the progress of all.
func (o *FrontOptions) each(ctx context.Context, d *design.Design, tasks []frontTask, do func(*frontTask, *outside.Work) error) error {
	works := make([]*outside.Work, len(tasks))
	var whole outside.Forecast
	for k := range tasks {
		if o.Progress != nil {
			tasks[k].Progress = func(done, total int) { o.Progress(k*total+done, len(tasks)*total) }
		}
		w, err := solved(outside.Prepare(ctx, d, tasks[k].Task))(d)
		if err != nil {
			return err
		}
		works[k] = w
		whole.Unknowns, whole.Bytes = max(whole.Unknowns, w.Forecast.Unknowns), max(whole.Bytes, w.Forecast.Bytes)
		whole.Seconds += w.Forecast.Seconds
	}
	whole.Planes = works[0].Forecast.Planes
	if o.Forecast != nil {
		o.Forecast(whole)
	}
	for k := range tasks {
		if err := do(&tasks[k], works[k]); err != nil {
			return err
		}
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

// Stands reports whether the run stands for the design in other commands: one box in free air,
// driven by what meets the horn.
func (st *Front) Stands() bool {
	meets := outside.ByWoofers
	if st.Design.HasMid() {
		meets = outside.ByMids
	}
	return st.Boxes == 1 && st.Driven == meets && !st.With.Task.OpenJoints && !st.With.Surface.Floor
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
	st, _ := newFront(d, &o)
	s, faults, err := surface.New(ctx, d, surface.Options{Frequency: top, PerWave: o.PerWave, Boxes: st.Boxes, Straight: st.Straight, OpenJoints: o.OpenJoints, Whole: true})
	if len(faults) > 0 {
		return nil, Problems(check.Surface(d, layout.New(d), faults))
	}
	return s, err
}
