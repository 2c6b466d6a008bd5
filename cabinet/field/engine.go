package field

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"sort"
	"sync"
	"sync/atomic"

	"gapline/internal/air"
)

// Boundary says what surrounds a mouth.
type Boundary int

// The boundaries.
const (
	FreeField Boundary = iota // monopoles, 4π
	Baffled                   // each mouth in its own infinite wall, 2π
)

// The tolerance is the largest error of the sum over each mouth, as a part of
// what the mouth would give if all its sound arrived in phase. Unless
// Options.Tolerance sets another, views use these.
const (
	DefaultTolerance  = 5e-3 // 0.04 dB: polars, seats, single points
	MapTolerance      = 2e-2 // 0.17 dB: side views
	DistanceTolerance = 1e-6 // level against distance, so that the slope is that of the sound
)

// minTolerance is what phasor and pattern tables allow.
const minTolerance = 1e-6

// Options are the conditions of a sum. The zero value is: standard air without
// absorption, free field, no floor, DefaultTolerance, all cores.
type Options struct {
	Air        air.Conditions
	Absorption bool
	Boundary   Boundary
	Ground     float64 // reflection coefficient of the floor, 0 (none) to 1 (rigid)
	Tolerance  float64 // see DefaultTolerance; 1e-6 to 0.1; 0: as the view wants
	Workers    int     // 0: one for each core
	// Progress, if set, is told the field points done and to do, never twice
	// at once.
	Progress func(done, total int)
}

// Engine is a stack ready to be summed. It is safe for concurrent use.
type Engine struct {
	stack   Stack
	options Options
	air     air.Air
	sources []source
	poses   []pose
	centre  Vec // mean place of the mouths
}

// New checks the stack and the options and hangs the mouths.
func New(s Stack, o Options) (*Engine, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	if o.Air == (air.Conditions{}) {
		o.Air = air.Standard
	}
	if o.Tolerance != 0 && !(o.Tolerance >= minTolerance && o.Tolerance <= 0.1) {
		return nil, fmt.Errorf("tolerance of %v: need %v to 0.1", o.Tolerance, minTolerance)
	}
	if !(o.Ground >= 0 && o.Ground <= 1) {
		return nil, fmt.Errorf("reflection coefficient of the ground %v: need 0 to 1", o.Ground)
	}
	if o.Ground > 0 && math.IsNaN(s.TopHeight) {
		return nil, fmt.Errorf("the ground reflects but the stack has no height: give the height of its top")
	}
	e := &Engine{stack: s, options: o, air: air.Of(o.Air), poses: s.poses()}
	if !(e.air.SoundSpeed > 0) || math.IsInf(e.air.SoundSpeed, 0) {
		return nil, fmt.Errorf("air %+v has no speed of sound: check temperature, humidity and pressure", o.Air)
	}
	e.sources = s.sources(e.air.SoundSpeed)
	for _, m := range e.sources {
		e.centre = e.centre.Add(m.middle.Scale(1 / float64(len(e.sources))))
	}
	return e, nil
}

// within returns the engine with a tolerance, unless the options set one.
func (e *Engine) within(tolerance float64) *Engine {
	return e.with(func(o *Options) {
		if o.Tolerance == 0 {
			o.Tolerance = tolerance
		}
	})
}

// with returns the same engine with changed options.
func (e *Engine) with(change func(*Options)) *Engine {
	c := *e
	change(&c.options)
	return &c
}

// Stack returns the stack that is summed.
func (e *Engine) Stack() Stack { return e.stack }

// SoundSpeed returns c, m/s.
func (e *Engine) SoundSpeed() float64 { return e.air.SoundSpeed }

// Centre returns the mean position of the mouths.
func (e *Engine) Centre() Vec { return e.centre }

// AxisAngle returns the mean downward angle of the boxes, rad.
func (e *Engine) AxisAngle() float64 {
	sum := 0.0
	for _, p := range e.poses {
		sum += p.angle
	}
	return sum / float64(len(e.poses))
}

// Absolute reports whether pressures are in Pa.
func (e *Engine) Absolute() bool { return e.stack.Drives[0].absolute() }

// Reference names what 0 dB is.
func (e *Engine) Reference() string {
	if e.Absolute() {
		return "dB re 20 µPa"
	}
	return "dB re one mouth at 1 m"
}

// referencePressure is 20 µPa.
const referencePressure = 20e-6

// Level returns the level of a pressure, see Reference.
func (e *Engine) Level(p complex128) float64 {
	return e.levelOfSquare(real(p)*real(p) + imag(p)*imag(p))
}

func (e *Engine) levelOfSquare(p2 float64) float64 {
	if e.Absolute() {
		p2 /= referencePressure * referencePressure
	}
	return 10 * math.Log10(p2)
}

// Inside returns the number of the box, from 1, that holds the point, or 0.
func (e *Engine) Inside(p Vec) int {
	const skin = 1e-9
	for i, q := range e.poses {
		b := e.stack.Boxes[i]
		l := q.frame.local(p.Sub(q.origin))
		if l.X < -skin && l.X > -b.Depth+skin &&
			math.Abs(l.Y) < b.Width/2-skin && math.Abs(l.Z) < b.Height/2-skin {
			return i + 1
		}
	}
	return 0
}

// checkPoint refuses points where there is no field.
func (e *Engine) checkPoint(p Vec) error {
	if !p.finite() {
		return fmt.Errorf("field point %v is not finite", p)
	}
	if i := e.Inside(p); i > 0 {
		return fmt.Errorf("field point (%.4g, %.4g, %.4g) m lies inside box %d", p.X, p.Y, p.Z, i)
	}
	if e.options.Ground > 0 && p.Z < -1e-9 {
		return fmt.Errorf("field point (%.4g, %.4g, %.4g) m lies below the ground", p.X, p.Y, p.Z)
	}
	return nil
}

// checkFrequencies wants at least one, all above 0 and finite.
func checkFrequencies(hz []float64) error {
	if len(hz) == 0 {
		return fmt.Errorf("no frequency: need at least 1")
	}
	for _, f := range hz {
		if !(f > 0 && f <= 1e6) {
			return fmt.Errorf("frequency %v Hz: need more than 0 and at most 1 MHz", f)
		}
	}
	return nil
}

// plan prepares the sum for frequencies in ascending order.
func (e *Engine) plan(hz []float64) *plan {
	p := &plan{
		hz:       hz,
		waves:    make([]float64, len(hz)),
		c:        e.air.SoundSpeed,
		tol:      e.within(DefaultTolerance).options.Tolerance,
		baffled:  e.options.Boundary == Baffled,
		drives:   len(e.stack.Drives),
		waveStep: 2 * math.Pi / e.air.SoundSpeed,
		tables:   tables(),
	}
	for i, f := range hz {
		p.waves[i] = p.waveStep * f
	}
	p.curves = e.curves(p.waves)
	p.ones = make([]terms, len(hz))
	for i := range p.ones {
		p.ones[i].e0 = 1
	}
	if e.options.Absorption {
		p.alpha = make([]float64, len(hz))
		for i, f := range hz {
			p.alpha[i] = air.Absorption(e.options.Air, f) / (20 * math.Log10E)
		}
	}
	return p
}

// curves returns the tables of each mouth's sides, y and z; alike sides share
// theirs, and flat ones have none.
func (e *Engine) curves(waves []float64) [][2]*curve {
	known := map[curveShape]*curve{}
	out := make([][2]*curve, len(e.sources))
	for i, s := range e.sources {
		for j, c := range []curveShape{{s.a, s.apexY}, {s.b, s.apexZ}} {
			if c.apex == 0 {
				continue
			}
			if known[c] == nil {
				known[c] = newCurve(c, waves)
			}
			out[i][j] = known[c]
		}
	}
	return out
}

// strengths returns s(f) in Pa·m for each drive and frequency.
func (e *Engine) strengths(hz []float64) [][]complex128 {
	angle := 4 * math.Pi
	if e.options.Boundary == Baffled {
		angle = 2 * math.Pi
	}
	out := make([][]complex128, len(e.stack.Drives))
	for d, drive := range e.stack.Drives {
		out[d] = make([]complex128, len(hz))
		for i, f := range hz {
			s := complex(1, 0)
			switch {
			case present(drive.Pressure):
				s = complex(drive.Pressure, 0)
			case present(drive.VolumeVelocity):
				s = complex(0, 2*math.Pi*f*e.air.Density*drive.VolumeVelocity/angle)
			}
			if drive.Filter != nil {
				s *= drive.Filter(f)
			}
			out[d][i] = s
		}
	}
	return out
}

// place is where a sum is taken: a point, or a direction (unit vector from the
// stack's centre) in the far field, where pressures are times distance, Pa·m.
type place struct {
	at  Vec
	far bool
}

func points(at []Vec) []place {
	out := make([]place, len(at))
	for i, p := range at {
		out[i].at = p
	}
	return out
}

func directions(at []Vec) []place {
	out := make([]place, len(at))
	for i, p := range at {
		out[i] = place{p, true}
	}
	return out
}

// sumAt takes the sum at one place for all drives at unit strength.
func (e *Engine) sumAt(w *worker, p place) {
	w.clear()
	w.at = receiver{point: p.at, far: p.far, centre: e.centre, gain: 1}
	if p.far {
		e.addAll(w)
		return
	}
	direct := p.at.Sub(e.centre).Norm()
	if e.options.Ground > 0 {
		// The image of a mouth, heard at p, is the mouth heard at p's image.
		w.at.point.Z, w.at.gain = -p.at.Z, e.options.Ground
		w.at.base = w.at.point.Sub(e.centre).Norm()
		e.addAll(w)
		w.absorb(w.at.base - direct)
		w.at.point, w.at.gain = p.at, 1
	}
	w.at.base = direct
	e.addAll(w)
	w.absorb(direct)
}

// addAll adds every mouth.
func (e *Engine) addAll(w *worker) {
	for i := range e.sources {
		w.add(&e.sources[i], w.curves[i])
	}
}

// absorb multiplies the sums by the absorption over a path, m.
func (w *worker) absorb(path float64) {
	if w.alpha == nil {
		return
	}
	n := len(w.hz)
	for i, a := range w.alpha {
		g := math.Exp(-a * path)
		for d := range w.drives {
			w.re[d*n+i] *= g
			w.im[d*n+i] *= g
		}
	}
}

// blockSize is how many places a worker takes at a time.
const blockSize = 16

// each calls visit once for each place, on several cores. visit gets the sums
// of each drive at unit strength, real and imaginary, [drive·nf + frequency];
// it must copy what it keeps and write only to what belongs to place i.
func (e *Engine) each(ctx context.Context, at []place, p *plan, visit func(i int, re, im []float64)) error {
	workers := e.options.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	blocks := (len(at) + blockSize - 1) / blockSize
	workers = max(1, min(workers, blocks))
	var next, done atomic.Int64
	var report sync.Mutex
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			w := newWorker(p)
			for {
				b := int(next.Add(1)) - 1
				if b >= blocks || ctx.Err() != nil {
					return
				}
				lo, hi := b*blockSize, min((b+1)*blockSize, len(at))
				for i := lo; i < hi; i++ {
					e.sumAt(w, at[i])
					visit(i, w.re, w.im)
				}
				if e.options.Progress != nil {
					report.Lock()
					e.options.Progress(int(done.Add(int64(hi-lo))), len(at))
					report.Unlock()
				}
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}

// ascending returns the frequencies sorted and, for each sorted one, its index
// in hz.
func ascending(hz []float64) (sorted []float64, index []int) {
	index = make([]int, len(hz))
	for i := range index {
		index[i] = i
	}
	sort.SliceStable(index, func(a, b int) bool { return hz[index[a]] < hz[index[b]] })
	sorted = make([]float64, len(hz))
	for i, j := range index {
		sorted[i] = hz[j]
	}
	return sorted, index
}

// parts sums each drive with its strength: [drive][frequency][place].
func (e *Engine) parts(ctx context.Context, at []place, hz []float64) ([][][]complex128, error) {
	if err := checkFrequencies(hz); err != nil {
		return nil, err
	}
	sorted, index := ascending(hz)
	strength := e.strengths(sorted)
	out := make([][][]complex128, len(strength))
	for d := range out {
		out[d] = table2(len(hz), len(at))
	}
	n := len(sorted)
	err := e.each(ctx, at, e.plan(sorted), func(i int, re, im []float64) {
		for d := range strength {
			for j := range n {
				out[d][index[j]][i] = strength[d][j] * complex(re[d*n+j], im[d*n+j])
			}
		}
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// table2 returns rows of zeros.
func table2(rows, columns int) [][]complex128 {
	out := make([][]complex128, rows)
	for i := range out {
		out[i] = make([]complex128, columns)
	}
	return out
}

// pressures sums all drives with their strengths: [frequency][place].
func (e *Engine) pressures(ctx context.Context, at []place, hz []float64) ([][]complex128, error) {
	if err := checkFrequencies(hz); err != nil {
		return nil, err
	}
	sorted, index := ascending(hz)
	strength := e.strengths(sorted)
	out := table2(len(hz), len(at))
	n := len(sorted)
	err := e.each(ctx, at, e.plan(sorted), func(i int, re, im []float64) {
		for j := range n {
			var sum complex128
			for d := range strength {
				sum += strength[d][j] * complex(re[d*n+j], im[d*n+j])
			}
			out[index[j]][i] = sum
		}
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// Pressure returns the complex pressure at points of the world, [frequency][point],
// see Engine.Reference. Points inside a box or below a reflecting ground are
// errors.
func (e *Engine) Pressure(ctx context.Context, at []Vec, hz []float64) ([][]complex128, error) {
	for _, p := range at {
		if err := e.checkPoint(p); err != nil {
			return nil, err
		}
	}
	return e.pressures(ctx, points(at), hz)
}

// Parts is Pressure for each drive alone, [drive][frequency][point].
func (e *Engine) Parts(ctx context.Context, at []Vec, hz []float64) ([][][]complex128, error) {
	for _, p := range at {
		if err := e.checkPoint(p); err != nil {
			return nil, err
		}
	}
	return e.parts(ctx, points(at), hz)
}
