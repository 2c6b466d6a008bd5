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
)

// CrossoverRequest says how a crossover is looked at.
type CrossoverRequest struct {
	Low         string   // the lower band; empty: the one below the horn, or the highest there is
	Spectrum    Spectrum // tones; an empty one: twelfths two octaves about the crossover
	Vertical    float64  // full coverage, rad; NaN: that of the splay
	Horizontal  float64  // full coverage, rad; NaN: the horn's
	Distance    float64  // m; +Inf: far field
	From, To    float64  // window of the search, Hz; NaN: the gap's
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
	system, err := s.system(ctx, out)
	if err != nil {
		return nil, nil, err
	}
	if out.Given, err = system.Sum(x.LowPath, x.HighPath); err != nil {
		return nil, nil, err
	}
	out.setWindow(r)
	if r.WithoutBest {
		return out, s, nil
	}
	out.Best, err = system.Best(ctx, filter.Window{Alignment: x.Alignment, Order: x.Order, From: out.From, To: out.To, MaxDelay: numeric.Absent})
	return out, s, err
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

// system sums both bands over both planes.
func (s *Study) system(ctx context.Context, c *Crossover) (*filter.System, error) {
	e, err := s.engine("crossover", false, 0)
	if err != nil {
		return nil, err
	}
	vertical := math.Min(math.Pi, math.Max(60*quantity.Degree, 3*c.Vertical))
	horizontal := math.Min(math.Pi, math.Max(60*quantity.Degree, 1.6*c.Horizontal))
	return filter.NewSystem(ctx, e, filter.Spec{
		Low: s.Model.Band(c.Crossing.Low), High: s.Model.Band(c.Crossing.High), Frequency: c.Hz,
		Vertical: evenAngles(vertical), Horizontal: evenAngles(horizontal),
		VerticalCoverage: c.Vertical, HorizontalCoverage: c.Horizontal, Distance: c.Distance, Axis: numeric.Absent,
	})
}

// evenAngles are about anglesApart apart over span, the axis among them.
func evenAngles(span float64) []float64 {
	n := int(math.Ceil(span/2/anglesApart - 1e-9))
	return field.Angles(2*n+1, span)
}

// setWindow bounds the search: as asked, else the gap's two ends, else half an
// octave about the crossover.
func (c *Crossover) setWindow(r CrossoverRequest) {
	x := &c.Crossing
	c.From, c.To = numeric.Or(r.From, x.WindowLow), numeric.Or(r.To, x.WindowHigh)
	c.From, c.To = numeric.Or(c.From, x.Frequency/math.Sqrt2), numeric.Or(c.To, x.Frequency*math.Sqrt2)
	if c.From > c.To {
		c.From, c.To = c.To, c.From
	}
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
