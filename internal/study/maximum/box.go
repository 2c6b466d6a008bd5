package maximum

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/source"
	"gapline/internal/air"
	"gapline/internal/check"
	"gapline/internal/numeric"
)

// The range of the study, Hz: that of the programme spectra.
const (
	lowestHz  = 20
	highestHz = 20e3
)

// Box is one box with what each band of it is given for.
type Box struct {
	Bands  []Band
	design *design.Design
	model  *source.Model // of one box
	air    air.Air
	engine *field.Engine
}

// Frequencies are those at which largest levels are worked out: twelfths of a base-ten
// octave about 1 kHz, so that the middles of octaves and third octaves (IEC 61260-1) are
// among them, 20 Hz to 20 kHz.
func Frequencies() []float64 {
	const below, above = 68, 52
	var out []float64
	for k := -below; k <= above; k++ {
		out = append(out, 1000*math.Pow(10, 0.3*float64(k)/12))
	}
	return out
}

// New takes one box out of the design. Problems name the keys without which there is no
// box; a box whose levels are relative has no maximum, see Absolute.
func New(ctx context.Context, d *design.Design, c source.Choice) (*Box, []check.Problem, error) {
	one := *d
	one.Line.Boxes, one.Line.Splay = 1, nil
	c.Straight, c.Only, c.Open, c.HalfSpace = true, nil, "", true
	o := &Box{design: d, air: air.Of(d.Air)}
	var problems []check.Problem
	if o.model, problems = source.New(&one, c); problems != nil {
		return nil, problems, nil
	}
	var err error
	if o.engine, err = field.New(o.model.Stack, field.Options{Air: d.Air, Boundary: field.Baffled}); err != nil {
		return nil, nil, err
	}
	for i := range o.model.Bands {
		b, err := o.bandOf(ctx, i)
		if err != nil {
			return nil, nil, err
		}
		o.Bands = append(o.Bands, b)
	}
	return o, nil, nil
}

// Absolute reports whether the levels of the box are known, so that it has a maximum.
func (o *Box) Absolute() bool { return o.model.Absolute }

// Any reports whether any band has a level and a limit.
func (o *Box) Any() bool {
	for i := range o.Bands {
		if o.counts(i) {
			return o.Absolute()
		}
	}
	return false
}

// counts reports whether a band can stop the others.
func (o *Box) counts(i int) bool { return o.Bands[i].Known() && o.Bands[i].Limited() }

// Missing lists the bands that cannot stop the others, as their level for a volt or their
// limits are not known.
func (o *Box) Missing() []*Band {
	var out []*Band
	for i := range o.Bands {
		if !o.counts(i) {
			out = append(out, &o.Bands[i])
		}
	}
	return out
}

// Limit is what stops a box: a cause in one of its bands.
type Limit struct {
	Band  int // −1: none
	Cause Cause
}

// None is no limit.
var None = Limit{-1, NoCause}

// held is how far below its crossover the horn is equalised flat, as a ratio.
const held = 0.5

// volts returns the r.m.s. voltage at the terminals of a band while the design's own
// drive plays a tone of each frequency, given what a volt does.
func (o *Box) volts(i int, hz []float64, u []unit) []float64 {
	m := &o.model.Bands[i]
	out := make([]float64, len(hz))
	from := 0.0
	if m.Circuit == nil { // equalised flat: not without end
		from = o.crossover(i) * held
	}
	hold := numeric.Absent
	if from > hz[0] {
		hold = o.Bands[i].at([]float64{from})[0].pressure
	}
	for k, f := range hz {
		pressure, at := u[k].pressure, f
		if f < from {
			pressure, at = hold, from
		}
		out[k] = cmplx.Abs(m.Response(at)) / pressure * cmplx.Abs(m.Path.Response(f))
	}
	return out
}

// crossover is the frequency at which a band takes over from the one below; 0 for the
// lowest.
func (o *Box) crossover(i int) float64 {
	if i == 0 {
		return 0
	}
	return o.model.Crossing[i-1].Frequency
}

// load is what the box does to its drivers at the design's own drive, tone by tone:
// the stress of each cause in each band, and the voltage.
type load struct {
	hz     []float64
	stress [][causeCount][]float64 // [band][cause][frequency], a share of the limit
	volts  [][]float64             // [band][frequency]; nil: not known
	units  [][]unit
}

func (o *Box) load(hz []float64) *load {
	l := &load{hz: hz, stress: make([][causeCount][]float64, len(o.Bands)), volts: make([][]float64, len(o.Bands)), units: make([][]unit, len(o.Bands))}
	for i := range o.Bands {
		b := &o.Bands[i]
		if !b.Known() {
			continue
		}
		u := b.at(hz)
		v := o.volts(i, hz, u)
		l.volts[i], l.units[i] = v, u
		for c := Excursion; c < causeCount; c++ {
			l.stress[i][c] = make([]float64, len(hz))
			for k := range hz {
				l.stress[i][c][k] = v[k] * b.stress(&u[k], c)
			}
		}
	}
	return l
}

// Levels are the largest levels of one box against frequency, in dB re 20 µPa on its axis
// at 1 m; NaN where they are not known.
type Levels struct {
	Hz    []float64
	Bands []BandLevels
	Sum   []float64 // through the crossover
	Limit []Limit   // what stops the sum
	Scale []float64 // by how much the design's own drive can be raised, ratio of voltages
}

// BandLevels are those of one band by itself, without the crossover.
type BandLevels struct {
	Level []float64
	Cause []Cause
	By    [causeCount][]float64 // the level at which each cause alone stops it; nil: never
}

// faint is the share of the largest band's pressure above which a band matters.
const faint = 0.1

// Levels works out the largest level of tones.
func (o *Box) Levels(ctx context.Context, hz []float64) (*Levels, error) {
	l := o.load(hz)
	out := &Levels{Hz: hz, Limit: make([]Limit, len(hz)), Sum: make([]float64, len(hz)), Scale: make([]float64, len(hz))}
	for i := range o.Bands {
		out.Bands = append(out.Bands, o.alone(i, l))
	}
	parts, err := o.engine.PolarParts(ctx, field.PolarSpec{Angle: []float64{0}, Frequency: hz, Distance: math.Inf(1), Axis: 0})
	if err != nil {
		return nil, err
	}
	for k := range hz {
		out.Scale[k], out.Limit[k] = o.first(l, k)
		sum := complex(0, 0)
		for i := range parts {
			sum += parts[i][k][0]
		}
		out.Sum[k] = o.engine.Level(sum) + numeric.DB(out.Scale[k])
		if !o.settled(parts, k) || !o.Absolute() {
			out.Scale[k], out.Limit[k], out.Sum[k] = numeric.Absent, None, numeric.Absent
		}
	}
	return out, nil
}

// alone is the largest level of band i by itself.
func (o *Box) alone(i int, l *load) BandLevels {
	b := &o.Bands[i]
	n := len(l.hz)
	out := BandLevels{Level: make([]float64, n), Cause: make([]Cause, n)}
	for k := range n {
		out.Level[k] = numeric.Absent
		if !o.counts(i) {
			continue
		}
		u, most := &l.units[i][k], 0.0
		for c := Excursion; c < causeCount; c++ {
			s := b.stress(u, c)
			if s == 0 {
				continue
			}
			if out.By[c] == nil {
				out.By[c] = absent(n)
			}
			out.By[c][k] = 20 * math.Log10(u.pressure/s/referencePressure)
			if s > most {
				most, out.Cause[k], out.Level[k] = s, c, out.By[c][k]
			}
		}
	}
	return out
}

const referencePressure = 20e-6 // Pa

func absent(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = numeric.Absent
	}
	return out
}

// first returns by how much a tone can be raised, and what stops it.
func (o *Box) first(l *load, k int) (scale float64, by Limit) {
	most, by := 0.0, None
	for i := range o.Bands {
		if !o.counts(i) {
			continue
		}
		for c := Excursion; c < causeCount; c++ {
			if s := l.stress[i][c][k]; s > most {
				most, by = s, Limit{i, c}
			}
		}
	}
	if most == 0 {
		return numeric.Absent, None
	}
	return 1 / most, by
}

// settled reports whether every band that is heard at a frequency has limits.
func (o *Box) settled(parts [][][]complex128, k int) bool {
	loudest := 0.0
	for i := range parts {
		loudest = math.Max(loudest, cmplx.Abs(parts[i][k][0]))
	}
	for i := range parts {
		if !o.counts(i) && cmplx.Abs(parts[i][k][0]) > faint*loudest {
			return false
		}
	}
	return true
}

// Overdriven is a band that the design's own drive takes beyond a limit.
type Overdriven struct {
	Limit
	Hz   float64 // the tone that takes it farthest
	Over float64 // beyond the limit, dB
	Is   float64 // what it does there: W, or m peak
	May  float64 // what it may
}

// Overdriven lists, for tones from low to high Hz at the design's own drive, what takes a
// driver beyond a limit that harms it: band by band, the power first.
func (o *Box) Overdriven(low, high float64) []Overdriven {
	bands, err := field.Bands(6, low, high)
	if err != nil {
		panic(fmt.Sprintf("maximum: %v", err))
	}
	hz := make([]float64, len(bands))
	for i, b := range bands {
		hz[i] = b.Mid
	}
	if !o.Absolute() {
		return nil
	}
	l := o.load(hz)
	var out []Overdriven
	for i := range o.Bands {
		if !o.Bands[i].Known() {
			continue
		}
		for _, c := range []Cause{Power, Excursion, Radiator} {
			if x, over := o.worst(l, i, c); over {
				out = append(out, x)
			}
		}
	}
	return out
}

// drivenOver is what a limit may be exceeded by from rounding, as a ratio.
const drivenOver = 1 + 1e-9

func (o *Box) worst(l *load, i int, c Cause) (Overdriven, bool) {
	most, at := 0.0, 0
	for k, s := range l.stress[i][c] {
		if s > most {
			most, at = s, k
		}
	}
	if !(most > drivenOver) {
		return Overdriven{}, false
	}
	out := Overdriven{Limit: Limit{i, c}, Hz: l.hz[at], Over: numeric.DB(most)}
	if c == Power {
		out.May = o.Bands[i].Rated
		out.Is = out.May * most * most
	} else {
		out.May = o.Bands[i].limits[c]
		out.Is = out.May * most
	}
	return out, true
}
