package fold

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// Study is everything that is worked out about one fold.
type Study struct {
	Design design.Design // with the wall that was solved for, when the design left it open
	Sizing sizing.Sizing // with the figures that only a study fills
	Solved *waveguide.FoldDesign
	Asked  float64 // virtual path that the design asks for, m; NaN: the wall's as it comes out
	Fits   bool    // false: the solver found no wall, and all below is empty

	Fold  waveguide.Fold
	Rays  []waveguide.Ray       // for people
	Fine  []waveguide.Ray       // for programs and charts
	Room  *waveguide.FoldDesign // what the solver says, when the given wall is too deep
	Stack *Stack                // nil when no pitch is known
}

// Options are what may be asked of a study.
type Options struct {
	Rays   int  // 2 or more; 0: FewRays for people and ManyRays for programs and charts
	Ribbon bool // work out the line of mouths against frequency
}

// The numbers of rays where none is asked for.
const (
	FewRays  = 9
	ManyRays = 201
)

// ribbonPoints is how many frequencies the line of mouths is worked out at, 24 to the
// octave from ribbonFrom to ribbonTo, Hz.
const (
	ribbonPoints         = 129
	ribbonFrom, ribbonTo = 500, 20e3
)

// Run works out the design's fold. Where the design leaves the throat to wall distance open, the wall is solved
// for from the depth and the flatness wanted; a fold that cannot fit comes back
// with Fits false. The error is what is missing or impossible.
func Run(d *design.Design, o Options) (*Study, error) {
	st := &Study{Design: *d, Fits: true}
	if !d.Fold.ThroatToWall.Given() {
		if err := st.solve(); err != nil || !st.Fits {
			return st, err
		}
	}
	var err error
	if st.Fold, err = waveguide.NewFold(st.Design.FoldSpec()); err != nil {
		return nil, err
	}
	if st.Rays, err = st.Fold.Rays(cmp.Or(o.Rays, FewRays)); err != nil {
		return nil, err
	}
	if st.Fine, err = st.Fold.Rays(cmp.Or(o.Rays, ManyRays)); err != nil {
		return nil, err
	}
	st.Sizing = sizing.Size(&st.Design)
	tolerance, err := st.Fold.Tolerance()
	if err != nil {
		return nil, err
	}
	s := &st.Sizing.Fold
	s.ToleranceAxial, s.ToleranceLateral, s.ToleranceProfile = tolerance.Axial, tolerance.Lateral, tolerance.Profile
	if st.Solved == nil && s.BuiltDepth > d.FoldDepth() {
		room, err := waveguide.DesignFold(st.Fold.Spec.Unsolved())
		if err != nil {
			return nil, err
		}
		st.Room = &room
	}
	if st.Stack, err = studyStack(&st.Design, st.Fold); err == nil && st.Stack != nil && o.Ribbon {
		st.Stack.Fine = st.Stack.At(driver.Frequencies(ribbonFrom, ribbonTo, ribbonPoints))
	}
	return st, err
}

// solve finds the wall and puts it into the study's design.
func (st *Study) solve() error {
	st.Asked = st.Design.Fold.VirtualPath.Value()
	solved, err := waveguide.DesignFold(st.Design.FoldSpec())
	if err != nil {
		return err
	}
	st.Solved, st.Fits = &solved, solved.Fits
	if !solved.Fits {
		return nil
	}
	best, f := solved.Best, &st.Design.Fold
	f.ThroatToWall, f.VirtualPath, f.Wall = optional.Of(best.Wall.Vertex), optional.Of(best.VirtualPath()), 0
	if best.Spec.Wall == waveguide.StraightWall {
		f.VirtualPath, f.Wall = optional.Float{}, waveguide.StraightWall
	}
	return nil
}

// writtenTo is the step in m in which a wall that was solved for is written down: far
// under any workshop's tolerance.
const writtenTo = 1e-5

// Rounded is the distance from throat to wall that was solved for, m, rounded where the
// rounded wall passes the same checks.
func (st *Study) Rounded() float64 {
	exact := st.Fold.Spec.ThroatToWall
	spec := st.Fold.Spec
	spec.ThroatToWall = math.Round(exact/writtenTo) * writtenTo
	if spec.Wall == waveguide.StraightWall {
		spec.VirtualPath = numeric.Absent
	}
	f, err := waveguide.NewFold(spec)
	if err != nil || !slices.Equal(f.Notes(), st.Fold.Notes()) {
		return exact
	}
	return spec.ThroatToWall
}

// Binding lists what keeps the solver from a wall, each once.
func Binding(d *waveguide.FoldDesign) []waveguide.FoldLimit {
	var out []waveguide.FoldLimit
	for _, b := range d.Binding {
		if b != 0 && !slices.Contains(out, b) {
			out = append(out, b)
		}
	}
	return out
}

// Stack says how near the line of folded mouths comes to one ribbon.
type Stack struct {
	Front, Plane waveguide.StackFront // with the fold's front, and with a plane one of even amplitude
	Boxes        int                  // 0: not given, an endless line
	Target       float64              // highest lobe allowed, dB re axis
	RibbonTo     float64              // Hz; +Inf: no lobe passes the target at any frequency
	Rows         []StackRow
	Fine         []StackRow // against frequency, where asked for
	Top          StackTop   // of the line of Boxes at the frequency to be flat to
}

// StackRow is the endless line at one frequency. A level is -Inf where no lobe is
// visible.
type StackRow struct {
	Frequency  float64 // Hz
	FrontLobe  float64 // strongest lobe, dB re axis
	PlaneLobe  float64 // the same with a perfect front
	AxisChange float64 // on-axis level against a front without bulge, dB
}

// StackTop is the finite line at one frequency.
type StackTop struct {
	Frequency    float64
	Front, Plane waveguide.Lobe // strongest lobe beside the beams' directions sin θ = mλ/p
	Visible      bool           // there is such a lobe
}

// stackFrequencies are the rows of a stack study, Hz.
var stackFrequencies = []float64{1e3, 2e3, 4e3, 8e3, 16e3}

func studyStack(d *design.Design, f waveguide.Fold) (*Stack, error) {
	pitch := d.Pitch()
	if !numeric.Given(pitch) {
		return nil, nil
	}
	front := waveguide.StackFront{
		Count: max(d.Line.Boxes, 1), Pitch: pitch, Height: d.Horn.MouthHeight.Value(), Front: f.Front(), SoundSpeed: f.Spec.SoundSpeed,
	}
	if err := front.Check(); err != nil {
		return nil, errors.Join(errors.New("line of mouths"), err)
	}
	plane := front
	plane.Front = waveguide.CircularFront(front.Height, 0)
	st := &Stack{
		Front: front, Plane: plane, Boxes: d.Line.Boxes,
		Target:   d.Targets.LobeLevel.Or(design.DefaultLobeLevel),
		RibbonTo: f.LobeLimit(pitch, d.LobeTarget()),
	}
	st.Rows = st.At(stackFrequencies)
	st.top(f.Spec.TopFrequency)
	return st, nil
}

// At works out the endless line at the frequencies in Hz.
func (st *Stack) At(frequencies []float64) []StackRow {
	rows := make([]StackRow, len(frequencies))
	for i, f := range frequencies {
		rows[i] = StackRow{
			Frequency: f, FrontLobe: strongest(st.Front, f), PlaneLobe: strongest(st.Plane, f), AxisChange: st.Front.AxisLoss(f),
		}
	}
	return rows
}

// strongest is the level in dB of the strongest visible lobe of the endless line.
func strongest(s waveguide.StackFront, f float64) float64 {
	best := math.Inf(-1)
	for m := 1; float64(m)*s.SoundSpeed <= f*s.Pitch; m++ {
		best = math.Max(best, s.EndlessLobe(f, m))
	}
	return best
}

func (st *Stack) top(f float64) {
	st.Top = StackTop{Frequency: f}
	if st.Boxes < 2 {
		return
	}
	front, plane := st.Front.Lobes(f).Grating, st.Plane.Lobes(f).Grating
	if len(front) == 0 {
		return
	}
	higher := func(a, b waveguide.Lobe) int { return cmp.Compare(a.Level, b.Level) }
	st.Top.Front, st.Top.Plane, st.Top.Visible = slices.MaxFunc(front, higher), slices.MaxFunc(plane, higher), true
}
