package line

import (
	"context"
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/filter"
	"gapline/cabinet/source"
	"gapline/internal/check"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/study/maximum"
)

// CrossoverRequest says how a crossover is looked at.
type CrossoverRequest struct {
	Low         string   // the lower band; empty: the one below the horn, or the highest there is
	Spectrum    Spectrum // tones; an empty one: twelfths two octaves about the crossover
	Vertical    float64  // full coverage, rad; NaN: that of the splay
	Horizontal  float64  // full coverage, rad; NaN: the horn's
	Distance    float64  // m; +Inf: far field
	From, To    float64  // window of the search, Hz; NaN: what both bands cover, or the gap
	WithoutBest bool     // leave the search out
}

// Crossover is two bands summed through their crossover with true places.
type Crossover struct {
	Spectrum
	Crossing             source.Crossing
	Vertical, Horizontal float64 // full coverage in which notches count, rad
	Distance             float64 // m; +Inf: far field
	From, To             float64 // window searched, Hz
	Given                *filter.Sum
	Best                 *filter.Best // nil: not looked for
	Low, High            Way          // of the sound to the front
	One                  *maximum.Box // nil: levels are relative
	Overdriven           []maximum.Overdriven
}

// Way is how a band's sound gets to the front of the box.
type Way struct {
	// Inside is from the drivers to the mouths, m. The model leaves it out.
	Inside float64
	// Setback is from the mouths to the front, m. It is in the places of the mouths.
	Setback float64
	speed   float64 // of sound, m/s
}

// Time is how long the sound takes over what the model leaves out, s.
func (w Way) Time() float64 { return w.Inside / w.speed }

// SetbackTime is how long it takes over the setback, s.
func (w Way) SetbackTime() float64 { return w.Setback / w.speed }

// Outputs returns the delays in s that a processor must give both bands, so that they
// have those of a sum at the mouths: the band with the longer way inside is early by what
// that takes. The lesser of both is 0.
func (c *Crossover) Outputs(s *filter.Sum) (low, high float64) {
	low, high = s.Low.Delay-c.Low.Time(), s.High.Delay-c.High.Time()
	least := math.Min(low, high)
	return low - least, high - least
}

// LeastBad reports whether what the search found is only the least bad crossover: both
// bands' limits are known, and no frequency, or not this one, is covered by both.
func (c *Crossover) LeastBad() bool {
	h := &c.Crossing.Handover
	return c.Best != nil && h.Known() && !h.Covers(c.Best.Frequency)
}

// Coverage in the vertical plane when the stack is straight or nearly so, rad: a
// beam has some width.
const leastCoverage = 10 * quantity.Degree

// anglesApart is the step of the maps, rad.
const anglesApart = quantity.Degree

// Crossovers sums two neighbouring bands and looks for the best crossover between
// them.
func Crossovers(ctx context.Context, d *design.Design, c Conditions, r CrossoverRequest) (*Crossover, *Study, error) {
	s, x, err := openStudy(d, c, r.Low)
	if err != nil {
		return nil, nil, err
	}
	out := &Crossover{Spectrum: r.Spectrum, Crossing: x, Distance: r.Distance,
		Vertical: numeric.Or(r.Vertical, math.Max(math.Abs(s.TotalSplay()), leastCoverage)), Horizontal: numeric.Or(r.Horizontal, d.Horn.Coverage.Value())}
	out.Horizontal = numeric.Or(out.Horizontal, math.Pi/2)
	if len(out.Hz) == 0 {
		out.Spectrum = about(x.Frequency)
	}
	out.Low, out.High = s.way(x.Low), s.way(x.High)
	if out.One, err = s.One(ctx); err != nil {
		return nil, nil, err
	}
	if out.One != nil {
		out.Overdriven = out.One.Overdriven(lowestDriven, highestDriven)
	}
	if err := out.setWindow(r); err != nil {
		return nil, nil, err
	}
	system, err := s.system(ctx, out, len(r.Spectrum.Hz) > 0)
	if err != nil {
		return nil, nil, err
	}
	if out.Given, err = system.Sum(x.LowPath, x.HighPath); err != nil || r.WithoutBest {
		return out, s, err
	}
	out.Best, err = system.Best(ctx, filter.Window{Alignment: x.Alignment, Order: x.Order, From: out.From, To: out.To, MaxDelay: longestDelay, Way: s.between(x)})
	return out, s, err
}

// between is what the sound takes from one band's mouths to the other's in a box, at
// most, s.
func (s *Study) between(x source.Crossing) float64 {
	far := 0.0
	for _, a := range s.Model.Bands[s.Model.Band(x.Low)].Mouths {
		for _, b := range s.Model.Bands[s.Model.Band(x.High)].Mouths {
			far = math.Max(far, a.Position.Sub(b.Position).Norm())
		}
	}
	return far / s.SoundSpeed()
}

// longestDelay is what a processor and the design file take, s.
const longestDelay = 0.1

// way is how the sound of a band gets to the front.
func (s *Study) way(name string) Way {
	b := &s.Model.Bands[s.Model.Band(name)]
	w := Way{Inside: b.Inside, speed: s.SoundSpeed()}
	for _, m := range b.Mouths {
		w.Setback -= m.Position.X / float64(len(b.Mouths))
	}
	w.Setback = math.Max(w.Setback, 0)
	return w
}

// about is the twelfths of an octave two octaves to both sides of a frequency, which
// is one of them.
func about(f float64) Spectrum {
	var s Spectrum
	for k := -24; k <= 24; k++ {
		if hz := f * math.Exp2(float64(k)/12); hz >= lowestHz && hz <= highestHz {
			s.Hz = append(s.Hz, hz)
		}
	}
	return s
}

// openStudy hangs the design without the crossover above the named band.
func openStudy(d *design.Design, c Conditions, low string) (*Study, source.Crossing, error) {
	s, problems := New(d, c)
	if problems != nil {
		return nil, source.Crossing{}, Problems(problems)
	}
	n := len(s.Model.Crossing)
	if n == 0 {
		return nil, source.Crossing{}, Problems{{Keys: []string{"horn.mouth_width", "woofer.size"},
			Text: "a crossover needs two bands: woofers (woofer.size) and a horn (horn.mouth_width, horn.mouth_height) or mids"}}
	}
	x := s.Model.Crossing[n-1]
	if low != "" {
		found := false
		for _, y := range s.Model.Crossing {
			if y.Low == low {
				x, found = y, true
			}
		}
		if !found {
			return nil, x, fmt.Errorf("there is no crossover above the %s in this design", low)
		}
	}
	c.Choice.Open = x.Low
	s, problems = New(d, c)
	if problems != nil {
		return nil, x, Problems(problems)
	}
	return s, x, nil
}

// Problems are faults of a design as an error.
type Problems []check.Problem

// Error returns the first fault.
func (p Problems) Error() string { return p[0].Text }

// reach is how far from the crossover notches count, octaves to both sides, unless the
// frequencies are asked for.
const reach = 2

// crossoverTolerance is that of the sums, see field.Options: notches are small differences.
const crossoverTolerance = 1e-4

// system sums both bands over both planes. Notches count over the frequencies that were
// asked for, or about each crossover.
func (s *Study) system(ctx context.Context, c *Crossover, asked bool) (*filter.System, error) {
	e, err := s.engine("crossover", false, crossoverTolerance)
	if err != nil {
		return nil, err
	}
	vertical := math.Min(math.Pi, math.Max(60*quantity.Degree, 3*c.Vertical))
	horizontal := math.Min(math.Pi, math.Max(60*quantity.Degree, 1.6*c.Horizontal))
	spec := filter.Spec{
		Low: s.Model.Band(c.Crossing.Low), High: s.Model.Band(c.Crossing.High), Frequency: c.Hz,
		Vertical: evenAngles(vertical), Horizontal: evenAngles(horizontal),
		VerticalCoverage: c.Vertical, HorizontalCoverage: c.Horizontal, Distance: c.Distance, Axis: numeric.Absent,
		Match: func(f float64) (low, high float64) { return s.Model.Match(&c.Crossing, f) },
	}
	if !asked {
		low, high := math.Min(c.From, c.Crossing.Frequency), math.Max(c.To, c.Crossing.Frequency)
		spec.Reach, spec.From, spec.To = reach, math.Max(low/4, lowestHz), math.Min(high*4, highestHz)
	}
	return filter.NewSystem(ctx, e, spec)
}

// evenAngles are about anglesApart apart over span, the axis among them.
func evenAngles(span float64) []float64 {
	n := int(math.Ceil(span/2/anglesApart - 1e-9))
	return field.Angles(2*n+1, span)
}

// setWindow bounds the search: as asked, else what both bands cover or the gap between
// them, else half an octave about the crossover; never under what the upper band allows.
func (c *Crossover) setWindow(r CrossoverRequest) error {
	x := &c.Crossing
	h := &x.Handover
	if r.To < h.Lowest && !r.WithoutBest {
		return WindowTooLow{Lowest: h.Lowest, To: r.To}
	}
	c.From, c.To = numeric.Or(r.From, h.From), numeric.Or(r.To, h.To)
	c.From, c.To = numeric.Or(c.From, x.Frequency/math.Sqrt2), numeric.Or(c.To, x.Frequency*math.Sqrt2)
	if h.Lowest > c.From {
		c.From = h.Lowest
	}
	if math.IsInf(c.To, 1) {
		c.To = 2 * c.From
	}
	c.To = math.Max(c.From, c.To)
	return nil
}

// WindowTooLow says that a window that was asked for ends under the lowest frequency that
// the upper band allows, Hz.
type WindowTooLow struct{ Lowest, To float64 }

// Error says so.
func (e WindowTooLow) Error() string {
	return fmt.Sprintf("the window ends at %.4g Hz: at least %.4g Hz is needed, the lowest crossover that the upper band allows", e.To, e.Lowest)
}

// CrossoverView is one way of looking at a crossover.
type CrossoverView string

// The views of a crossover: level and phase on axis, each way and the sum; level
// over frequency and angle in either plane.
const (
	ResponseView CrossoverView = "response"
	UprightView  CrossoverView = "vertical"
	AcrossView   CrossoverView = "horizontal"
)

// CrossoverViews lists the views.
var CrossoverViews = []CrossoverView{ResponseView, UprightView, AcrossView}

// Apart returns the horizontal distance between the middles of two bands, m.
func (s *Study) Apart(low, high string) float64 {
	middle := func(name string) float64 {
		b := &s.Model.Bands[s.Model.Band(name)]
		sum := 0.0
		for _, m := range b.Mouths {
			sum += m.Position.Y
		}
		return sum / float64(len(b.Mouths))
	}
	return math.Abs(middle(low) - middle(high))
}
