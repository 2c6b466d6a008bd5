package field

import (
	"fmt"
	"math"
	"slices"

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
	if o.Boundary == Baffled && slices.ContainsFunc(s.Drives, func(d Drive) bool { return d.Box != nil }) {
		return nil, fmt.Errorf("the pattern of a box has its own cabinet round the mouths: it cannot stand in a wall")
	}
	e := &Engine{stack: s, options: o, air: air.Of(o.Air), poses: s.poses()}
	if !(e.air.SoundSpeed > 0) || math.IsInf(e.air.SoundSpeed, 0) {
		return nil, fmt.Errorf("air %+v has no speed of sound: check temperature, humidity and pressure", o.Air)
	}
	e.sources = s.sources(e.air.SoundSpeed)
	mouths := 0
	for _, b := range s.Boxes {
		mouths += len(b.Mouths)
	}
	for _, m := range e.sources {
		if m.kind != directed {
			e.centre = e.centre.Add(m.middle.Scale(1 / float64(mouths)))
		}
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

// HalfSpan returns how far the outermost mouth's middle lies from the mean place of the
// mouths in a plane, m.
func (e *Engine) HalfSpan(p Plane) float64 {
	far := 0.0
	for _, m := range e.sources {
		d := m.middle.Sub(e.centre)
		if p == Horizontal {
			far = math.Max(far, math.Hypot(d.X, d.Y))
		} else {
			far = math.Max(far, math.Hypot(d.X, d.Z))
		}
	}
	return far
}

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

// referencePressure is 20 µPa.
const referencePressure = 20e-6

// Level returns the level of a pressure, dB re 20 µPa when it is Absolute, or re
// one mouth at 1 m.
func (e *Engine) Level(p complex128) float64 {
	return e.levelOfSquare(real(p)*real(p) + imag(p)*imag(p))
}

func (e *Engine) levelOfSquare(p2 float64) float64 {
	if e.Absolute() {
		p2 /= referencePressure * referencePressure
	}
	return 10 * math.Log10(p2)
}
