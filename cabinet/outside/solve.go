package outside

import (
	"context"
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/surface"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/bem3"
	"gapline/internal/optional"
)

// Driven is what moves.
type Driven uint8

// What may move.
const (
	ByWoofers Driven = iota
	ByMids
	ByHorn
)

// kind and band of the groups that move.
func (w Driven) moves(g *surface.Group) bool {
	switch w {
	case ByMids:
		return g.Kind == surface.Piston && g.Band == layout.Mids
	case ByHorn:
		return g.Kind == surface.Exit
	}
	return g.Kind == surface.Piston && g.Band == layout.Woofers
}

// rigid are the bands that stand still.
func (w Driven) rigid() []layout.Band {
	var out []layout.Band
	for b, mover := range map[layout.Band]Driven{layout.Woofers: ByWoofers, layout.Mids: ByMids, layout.Horn: ByHorn} {
		if mover != w {
			out = append(out, b)
		}
	}
	return append(out, layout.Enclosure)
}

// Task says what to solve.
type Task struct {
	Driven      Driven
	Boxes       int       // about the middle of the stack; 0: one
	Frequencies []float64 // Hz, ascending
	// Share says which of Frequencies to solve, by place; nil: all. Their surfaces are those of
	// the whole list.
	Share         func(i int) bool
	WithoutInsert bool
	OpenJoints    bool
	Straight      bool // hung without splay, whatever the design's
	// Floor is how high the lower edge of the lowest front is above a rigid floor, m; not given:
	// there is none.
	Floor   optional.Float
	PerWave float64 // elements to a wavelength; 0: what the surface takes
	// Circuit drives the cones with Volts at the terminals of each box; nil: each cone moves with
	// an acceleration of 1 m/s² rms.
	Circuit *driver.Circuit
	Volts   float64
	Look    Look // at one of Frequencies
	Sphere  bool // read the far field of the middle box all round too, for Result.Pattern

	MaxMemory int64                 // bytes; 0: the solver's
	Progress  func(done, total int) // may be nil
}

// Forecast is what a task takes.
type Forecast struct {
	Unknowns int     // of the largest solution
	Bytes    float64 // of the same
	Seconds  float64 // of all, on two cores
	Planes   int     // mirror planes that halve the work
}

// octave is a range of frequencies that share a surface.
type octave struct {
	top   float64   // Hz, which sets the size of the elements
	solve []float64 // those of the share
}

// octaves come from the top. Those of which nothing is to be solved are left out, but for the
// first.
func (t *Task) octaves() []octave {
	var out []octave
	for end := len(t.Frequencies); end > 0; {
		start := end - 1
		for start > 0 && t.Frequencies[start-1] > t.Frequencies[end-1]/2*(1+1e-9) {
			start--
		}
		o := octave{top: t.Frequencies[end-1]}
		for i := start; i < end; i++ {
			if t.Share == nil || t.Share(i) {
				o.solve = append(o.solve, t.Frequencies[i])
			}
		}
		if len(o.solve) > 0 || end == len(t.Frequencies) {
			out = append(out, o)
		}
		end = start
	}
	return out
}

// Work is a task made ready: its surfaces are meshed, and what it takes is known.
type Work struct {
	Forecast Forecast
	design   *design.Design
	task     *Task
	octaves  []octave
	jobs     []*job
	total    int // frequencies
}

// Prepare makes a task ready. What keeps the outside from being meshed comes back as faults. The
// error wraps bem3.ErrTooLarge, bem3.ErrMesh, or is the context's.
func Prepare(ctx context.Context, d *design.Design, t Task) (*Work, []surface.Fault, error) {
	w := &Work{design: d, task: &t, octaves: t.octaves()}
	f := &w.Forecast
	for _, o := range w.octaves {
		j, faults, err := meshed(ctx, d, &t, o.top)
		if err != nil || len(faults) > 0 {
			return nil, faults, err
		}
		w.jobs = append(w.jobs, j)
		if len(o.solve) == 0 {
			continue
		}
		w.total += len(o.solve)
		e, err := j.problem(o.solve[0]).Estimate(len(o.solve), bem3.Options{MaxMemory: t.MaxMemory})
		if err != nil {
			return nil, nil, err
		}
		f.Unknowns, f.Bytes = max(f.Unknowns, e.Unknowns), math.Max(f.Bytes, float64(e.Bytes))
		f.Seconds += e.Seconds
		f.Planes = j.surface.Planes.Count()
	}
	most := t.MaxMemory
	if most == 0 {
		most = bem3.DefaultMemory
	}
	if f.Bytes > float64(most) {
		return nil, nil, fmt.Errorf("%w: %d unknowns need %.3g GB, more than the %.3g GB allowed", bem3.ErrTooLarge, f.Unknowns, f.Bytes/1e9, float64(most)/1e9)
	}
	return w, nil, nil
}

// Points solves the task's share, for Join: the solutions by ascending frequency. The error
// wraps bem3.ErrMesh or is the context's.
func (w *Work) Points(ctx context.Context) ([]Point, error) {
	done := 0
	points := make([]Point, 0, w.total)
	for i, o := range w.octaves {
		if len(o.solve) == 0 {
			continue
		}
		list, err := w.jobs[i].sweep(ctx, o.solve, func() {
			if done++; w.task.Progress != nil {
				w.task.Progress(done, w.total)
			}
		})
		if err != nil {
			return nil, err
		}
		points = append(list, points...) // octaves come from the top
	}
	return points, nil
}

// Solve does the task. Errors are those of Points.
func (w *Work) Solve(ctx context.Context) (*Result, error) {
	points, err := w.Points(ctx)
	if err != nil {
		return nil, err
	}
	return newResult(w.design, w.task, w.jobs[0], points), nil
}

// Solve prepares and does a task. Faults and errors are those of Prepare and Work.Solve.
func Solve(ctx context.Context, d *design.Design, t Task) (*Result, []surface.Fault, error) {
	w, faults, err := Prepare(ctx, d, t)
	if err != nil || len(faults) > 0 {
		return nil, faults, err
	}
	r, err := w.Solve(ctx)
	return r, nil, err
}

// meshed is the job of the octave below a frequency, Hz. Faults and errors are those of
// Solve.
func meshed(ctx context.Context, d *design.Design, t *Task, top float64) (*job, []surface.Fault, error) {
	s, faults, err := surface.New(ctx, d, surface.Options{Frequency: top, PerWave: t.PerWave, Boxes: t.Boxes, WithoutInsert: t.WithoutInsert, OpenJoints: t.OpenJoints, Straight: t.Straight, Floor: t.Floor, Rigid: t.Driven.rigid()})
	if err != nil || len(faults) > 0 {
		return nil, faults, err
	}
	j := newJob(d, t, s)
	if len(j.sets) == 0 {
		return nil, []surface.Fault{{Of: surface.PistonLacks, Band: layout.Woofers, Part: -1}}, nil
	}
	return j, nil, nil
}

// job is the solutions on one surface.
type job struct {
	task    *Task
	surface *surface.Surface
	air     air.Air
	sets    []set
	of      []int // set of each group; −1: stands still
	probes  *probes
}

// set is groups that are each other's images and so move alike.
type set struct {
	first   int         // group that stands for it
	groups  []int       // all of them, images too
	weights []float64   // normal velocity of the triangles for 1 m/s, constant over each
	area    float64     // of one cone or exit, m²
	boxes   map[int]int // how many of its groups are in which box
}

func newJob(d *design.Design, t *Task, s *surface.Surface) *job {
	j := &job{task: t, surface: s, air: air.Of(d.Air), of: make([]int, len(s.About))}
	for g := range j.of {
		j.of[g] = -1
	}
	for g := range s.About {
		if t.Driven.moves(&s.About[g]) && j.of[g] < 0 {
			j.sets = append(j.sets, set{first: g, area: s.About[g].Area, boxes: map[int]int{}})
			j.gather(g, len(j.sets)-1)
		}
	}
	for i := range j.sets {
		j.sets[i].weights = make([]float64, len(s.Triangles))
		for k, v := range j.drive(i, 1) {
			if k%6 == 0 {
				j.sets[i].weights[k/6] = real(v)
			}
		}
	}
	j.probes = newProbes(d, s)
	return j
}

// gather adds a group and its images to a set.
func (j *job) gather(g, into int) {
	if j.of[g] >= 0 {
		return
	}
	j.of[g] = into
	s := &j.sets[into]
	s.groups = append(s.groups, g)
	about := &j.surface.About[g]
	s.boxes[about.Box]++
	for _, image := range about.Image {
		j.gather(int(image), into)
	}
}

// drive is the velocities of a set that moves with 1 m/s at f, Hz.
func (j *job) drive(set int, f float64) []complex128 {
	index := map[*surface.Group]int{}
	for _, g := range j.sets[set].groups {
		index[&j.surface.About[g]] = g
	}
	return j.surface.Drive(f, func(g *surface.Group) complex128 {
		if _, ok := index[g]; ok {
			return 1
		}
		return 0
	})
}

func (j *job) problem(f float64) *bem3.Problem {
	p := &bem3.Problem{Mesh: &j.surface.Mesh, SoundSpeed: j.air.SoundSpeed, Density: j.air.Density}
	if j.surface.Planes.Y {
		p.Mirrors = append(p.Mirrors, bem3.Mirror{Axis: 1})
	}
	if j.surface.Planes.Z || j.surface.Floor {
		p.Mirrors = append(p.Mirrors, bem3.Mirror{Axis: 2})
	}
	p.Velocities = j.velocities(f)
	return p
}

// velocities are those of all sets, each moving with 1 m/s, at f, Hz.
func (j *job) velocities(f float64) (out [][]complex128) {
	for i := range j.sets {
		out = append(out, j.drive(i, f))
	}
	return out
}

// lags reports whether what moves does not move alike all over, so that its drive depends on
// frequency.
func (j *job) lags() bool {
	for _, l := range j.surface.Lag {
		for _, x := range l {
			if x != 0 {
				return true
			}
		}
	}
	return false
}

// sweep solves at each frequency.
func (j *job) sweep(ctx context.Context, frequencies []float64, step func()) ([]Point, error) {
	run := bem3.Run{Options: bem3.Options{MaxMemory: j.task.MaxMemory}, Progress: func(int, int) { step() }}
	if j.lags() {
		run.Velocities = j.velocities
	}
	return bem3.Sweep(ctx, j.problem(frequencies[0]), frequencies, run, func(s *bem3.Solution) (Point, error) { return j.measure(ctx, s) })
}
