package trace

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/figure"
	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/study/size"
)

// Frequencies of the box prediction.
const (
	lowestPredicted = 5   // Hz
	predictedDense  = 192 // points per octave, far finer than any feature of the circuit
	// passbandFrom and passbandTo bound the alignment in multiples of the
	// half-power frequency: above the slope, two octaves wide.
	passbandFrom, passbandTo = 2, 8
)

// predict returns the prediction that the options ask for; nil and the reason
// where Auto finds none. A prediction asked for by name that cannot be had is
// an error.
func predict(d *design.Design, o Options) (p *Prediction, why string, err error) {
	switch o.Against {
	case None:
		return nil, "not asked for", nil
	case Auto:
		p, err = predictBox(d, Box, o.Volts)
		if err != nil {
			return nil, err.Error(), nil
		}
	case Box, Bare:
		if p, err = predictBox(d, o.Against, o.Volts); err != nil {
			return nil, "", fmt.Errorf("the box response cannot be predicted: %w", err)
		}
	default:
		return nil, "", fmt.Errorf("%q is not a prediction: want one of %v", o.Against, Choices)
	}
	return p, "", nil
}

// circuit returns the design's box with the exact radiation of cones and
// mouths, which traces show.
func circuit(d *design.Design, bare bool) (*driver.Circuit, error) {
	if bare && d.HasInsert() {
		without := *d
		without.Insert.Mouths = 0
		d = &without
	}
	s, err := boxSetup(d)
	if err != nil {
		return nil, err
	}
	s.Loading = driver.FullRadiation
	return driver.NewCircuit(s)
}

// predictBox predicts the low-frequency response of one box.
func predictBox(d *design.Design, key string, volts float64) (*Prediction, error) {
	c, err := circuit(d, key == Bare)
	if err != nil {
		return nil, err
	}
	radius := math.Sqrt(d.Woofer.PistonArea() / math.Pi)
	p := &Prediction{
		Key: key, Insert: d.HasInsert() && key == Box, Volts: volts, Trust: figure.Aperture,
		Limit: PistonLimit * air.Of(d.Air).SoundSpeed / (2 * math.Pi * radius),
	}
	if f3 := c.Summary().F3; numeric.Given(f3) {
		p.Passband = [2]float64{passbandFrom * f3, passbandTo * f3}
	}
	p.trace = boxTrace(c, 2*p.Limit, volts)
	return p, nil
}

// boxTrace samples the circuit densely, beyond what is shown, so that smoothing
// has both sides.
func boxTrace(c *driver.Circuit, top, volts float64) measured.Trace {
	n := int(math.Ceil(predictedDense*math.Log2(top/lowestPredicted))) + 1
	t := measured.Trace{Frequency: driver.Frequencies(lowestPredicted, top, n)}
	for _, x := range c.Sweep(nil, t.Frequency, volts) {
		t.Level = append(t.Level, x.Level())
		t.Phase = append(t.Phase, x.Phase())
	}
	return t
}

// on puts the prediction on the grid, smoothed, and cuts it at its limit.
func (p *Prediction) on(grid []float64, s measured.Smoothing) error {
	var err error
	if p.Level, err = s.Apply(p.trace, grid); err != nil {
		return err
	}
	for i, f := range grid {
		if f > p.Limit {
			p.Level[i] = numeric.Absent
		}
	}
	return nil
}

// predictedPair returns the predicted level with the insert less that without,
// on the grid; nil when the design has no insert or not enough is given.
func predictedPair(d *design.Design, grid []float64, o Options) ([]float64, error) {
	if !d.HasInsert() || o.Against == None {
		return nil, nil
	}
	var level [2][]float64
	for i, key := range []string{Box, Bare} {
		p, err := predictBox(d, key, o.Volts)
		if err != nil {
			return nil, nil // the comparison says elsewhere that there is no prediction
		}
		if err := p.on(grid, o.Smoothing); err != nil {
			return nil, err
		}
		level[i] = p.Level
	}
	return measured.Subtract(level[0], level[1]), nil
}

// stackLimits are the predicted ends of coupling that stand beside a measured one.
var stackLimits = []*figure.Def{
	figure.CouplingOpen.HalfWave, figure.CouplingOpen.Lobe,
	figure.CouplingInsert.HalfWave, figure.CouplingInsert.Lobe, figure.CouplingInsertChamber,
	figure.CouplingMid.HalfWave, figure.CouplingMid.Lobe,
}

// edgeLimits are the predicted ends of pattern control.
var edgeLimits = []*figure.Def{figure.HornPatternRule, figure.HornPatternComputed, figure.HornPatternWave}

// limits lists those of the predicted limits that the design has, with the distance of
// the measured one.
func limits(s *sizing.Sizing, among []*figure.Def, found float64) []Limit {
	var out []Limit
	for _, f := range among {
		v := size.Of(s, f)
		if !numeric.Given(v) || math.IsInf(v, 0) {
			continue
		}
		out = append(out, Limit{Figure: f, Trust: size.Trust(s, f), Value: v, Octaves: math.Log2(found / v)})
	}
	return out
}
