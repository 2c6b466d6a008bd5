package trace

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/designfile"
	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

func starter(t *testing.T, settings ...string) *design.Design {
	t.Helper()
	file, err := designfile.LoadStarter("hatch-insert", settings)
	if err != nil {
		t.Fatal(err)
	}
	return &file.Design
}

func load(t *testing.T, name string) Input {
	t.Helper()
	trace, err := measured.Load(t.Context(), filepath.Join(folder, name), measured.Import{})
	if err != nil {
		t.Fatal(err)
	}
	return Input{Name: name, Trace: trace}
}

var usual = Options{Against: Auto, Volts: 2.83, Smoothing: measured.Smoothing{Fraction: 12}, PartLevel: 3}

func with(o Options, change func(*Options)) Options {
	change(&o)
	return o
}

// A closed box is a second-order high-pass: at its resonance fc the level lies
// 20·log10 Qtc above the passband, and an octave below it 20·log10 of
// 0.25/√(0.75² + (0.5/Qtc)²) (Small 1972, eq. 20, from memory). The radiation of
// the cone adds less than 0.1 dB at these ka of 0.2.
func TestPredictedClosedBoxIsSecondOrder(t *testing.T) {
	d := starter(t, "enclosure.kind=closed", "woofer.le=0mH", "woofer.qms=1e2", "enclosure.leak_q=1000")
	p, err := predictBox(d, Bare, 2.83)
	if err != nil {
		t.Fatal(err)
	}
	ratio := math.Sqrt(1 + float64(d.WoofersPerBox())*d.Woofer.Vas.Value()/d.Enclosure.Volume.Value())
	fc := d.Woofer.Fs.Value() * ratio
	q := ratio / (1/d.Woofer.Qes.Value() + 1/d.Woofer.Qms.Value())
	c, err := circuit(d, true)
	if err != nil {
		t.Fatal(err)
	}
	passband := numeric.DB(c.PassbandPressure(2.83) / 20e-6)
	got, err := measured.Smoothing{}.Apply(p.trace, []float64{fc / 2, fc})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{
		passband + numeric.DB(0.25/math.Hypot(0.75, 0.5/q)),
		passband + numeric.DB(q),
	} {
		if math.Abs(got[i]-want) > 0.15 {
			t.Errorf("at %g of fc: %.3f dB, closed form %.3f dB", 0.5+0.5*float64(i), got[i], want)
		}
	}
	radius := math.Sqrt(d.Woofer.Sd.Value() / math.Pi)
	if ka := 2 * math.Pi * p.Limit / sizing.Size(d).Air.SoundSpeed * radius; math.Abs(ka-2) > 1e-9 {
		t.Errorf("shown up to ka = %g, want 2", ka)
	}
}

// A trace that is the prediction 7 dB louder moves by -7 dB and leaves nothing.
func TestAlignmentTakesOutAGain(t *testing.T) {
	d := starter(t)
	p, err := predictBox(d, Box, 2.83)
	if err != nil {
		t.Fatal(err)
	}
	louder := p.trace
	louder.Level = append([]float64{}, louder.Level...)
	measured.Shift(louder.Level, 7)
	in := []Input{{"louder", louder}}
	v, err := Compare(d, in, nil, usual)
	if err != nil {
		t.Fatal(err)
	}
	c := v.Curves[0]
	if math.Abs(c.Moved+7) > 1e-9 {
		t.Errorf("moved by %g, want -7", c.Moved)
	}
	for i, x := range c.Difference {
		if beyond := v.Frequency[i] > p.Limit; math.IsNaN(x) != beyond || math.Abs(x) > 1e-9 {
			t.Fatalf("difference at %g Hz is %g", v.Frequency[i], x)
		}
	}
	raw, err := Compare(d, in, nil, with(usual, func(o *Options) { o.Align.Off = true }))
	if err != nil {
		t.Fatal(err)
	}
	if whole := raw.Curves[0].Octaves[len(raw.Curves[0].Octaves)-1]; math.Abs(whole.Mean-7) > 1e-9 || whole.Deviation > 1e-9 {
		t.Errorf("unaligned: mean %g, deviation %g; want 7 and 0", whole.Mean, whole.Deviation)
	}
}

// The synthetic files differ from the prediction by what went into them: gain,
// and a reflection of 12 %, which swings by 20·log10(1.12) = 0.98 dB about it.
func TestSyntheticBoxAgainstItsPrediction(t *testing.T) {
	d := starter(t)
	v, err := Compare(d, []Input{load(t, "box-insert.txt")}, nil, with(usual, func(o *Options) { o.Smoothing.Fraction = 3 }))
	if err != nil {
		t.Fatal(err)
	}
	c := v.Curves[0]
	// The tuning is off by 6 %, which tilts the band of alignment a little.
	if math.Abs(c.Moved+gain) > 0.3 {
		t.Errorf("moved by %.2f dB, want %.2f", c.Moved, -gain)
	}
	for _, b := range c.Octaves {
		if b.Nominal >= 125 && b.Nominal <= 500 && (math.Abs(b.Mean) > 0.5 || b.Deviation > 1) {
			t.Errorf("%g Hz: mean %.2f, deviation %.2f", b.Nominal, b.Mean, b.Deviation)
		}
	}
}

// The gate takes out the reflection after 9 ms: what is left of its swing of ±1 dB
// is less than a tenth above the gate's own resolution.
func TestGateTakesOutTheReflectionOfTheSyntheticImpulse(t *testing.T) {
	d := starter(t)
	swing := func(g measured.Gate) float64 {
		trace, err := measured.Load(t.Context(), filepath.Join(folder, "box-bare.wav"), measured.Import{Gate: g})
		if err != nil {
			t.Fatal(err)
		}
		v, err := Compare(d, []Input{{"wav", trace}}, nil, with(usual, func(o *Options) {
			o.Against, o.Smoothing.Fraction = Bare, 48
		}))
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range v.Curves[0].Octaves {
			if b.Nominal == 500 {
				return b.Deviation
			}
		}
		t.Fatal("no octave of 500 Hz")
		return 0
	}
	whole, gated := swing(measured.Gate{}), swing(measured.Gate{Before: 2e-3, After: 8.5e-3})
	// A cosine of amplitude 0.98 dB has a standard deviation of 0.69 dB.
	if math.Abs(whole-0.69) > 0.12 || gated > 0.12 {
		t.Errorf("deviation in the 500 Hz octave: %.2f dB whole, %.2f dB gated", whole, gated)
	}
}

// Four boxes packed and spaced, 20° off the axis: the limit by root-finding on the
// closed form sin(4x)/(4 sin x), x = π·p·sin 20°·f/c, of both pitches.
func TestPackedAndSpacedLine(t *testing.T) {
	level := func(f, pitch float64) float64 {
		x := math.Pi * pitch * math.Sin(20*math.Pi/180) * f / 346.7
		return numeric.DB(math.Sin(4*x) / (4 * math.Sin(x)))
	}
	want, err := numeric.Root(func(f float64) float64 { return level(f, 0.272) - level(f, 0.55) - 3 }, 50, 400, 1e-9)
	if err != nil {
		t.Fatal(err)
	}
	in := PairInput{With: load(t, "line-spaced.txt"), Without: load(t, "line-packed.txt"), Of: OfStacks}
	v, err := Compare(starter(t), []Input{in.With, in.Without}, []PairInput{in}, with(usual, func(o *Options) { o.Smoothing.Fraction = 24 }))
	if err != nil {
		t.Fatal(err)
	}
	got := v.Pairs[0].Parting
	// Points 1/24 octave apart, noise 60 dB below.
	if math.Abs(math.Log2(got.Limit/want)) > 0.02 {
		t.Errorf("parts at %.1f Hz, closed form %.1f Hz", got.Limit, want)
	}
	if l := v.Pairs[0].Limits[0]; math.Abs(l.Octaves-math.Log2(got.Limit/l.Value)) > 1e-12 || l.Figure.Key != "coupling.open.half_wave_hz" {
		t.Errorf("first limit %s at %g Hz, %g oct", l.Figure.Key, l.Value, l.Octaves)
	}
}

// Each trace of one box is laid over its own prediction: what is predicted of bare cones
// leaves nothing against bare cones, and what is predicted with the insert nothing against
// that. The pair then parts where the prediction does, and no end of coupling stands beside
// it.
func TestEachTraceOfAPairHasItsOwnPrediction(t *testing.T) {
	d := starter(t)
	in := PairInput{}
	for key, to := range map[string]*Input{Box: &in.With, Bare: &in.Without} {
		p, err := predictBox(d, key, 2.83)
		if err != nil {
			t.Fatal(err)
		}
		*to = Input{Name: key, Trace: p.trace}
	}
	v, err := Compare(d, []Input{in.With, in.Without}, []PairInput{in}, usual)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range v.Curves {
		if c.Prediction == nil || c.Prediction.Key != c.Name || c.Prediction.Insert != (c.Name == Box) {
			t.Fatalf("%s is laid over %+v", c.Name, c.Prediction)
		}
		if whole := c.Octaves[len(c.Octaves)-1]; math.Abs(whole.Mean) > 1e-9 || whole.Deviation > 1e-9 {
			t.Errorf("%s: mean %g, deviation %g against itself", c.Name, whole.Mean, whole.Deviation)
		}
	}
	p := v.Pairs[0]
	if len(p.Limits) != 2 || p.Limits[0].Figure.Key != "trace.pairs.predicted_limit_hz" || p.Limits[1].Figure.Key != "coupling.insert.chamber_hz" {
		t.Fatalf("limits %+v", p.Limits)
	}
	if math.Abs(p.Limits[0].Octaves) > 1e-9 {
		t.Errorf("predicted to part %g octaves from where it does", p.Limits[0].Octaves)
	}
	over, err := Compare(d, []Input{in.With, in.Without}, []PairInput{in}, with(usual, func(o *Options) { o.Against = Bare }))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range over.Curves {
		if c.Prediction.Insert {
			t.Errorf("%s is laid over the insert, bare cones were asked for", c.Name)
		}
	}
}

// A stack is laid over no prediction of one box, alone or beside a box.
func TestStacksHaveNoPredictionOfABox(t *testing.T) {
	in := PairInput{With: load(t, "line-spaced.txt"), Without: load(t, "line-packed.txt"), Of: OfStacks}
	v, err := Compare(starter(t), []Input{in.With, in.Without}, []PairInput{in}, usual)
	if err != nil {
		t.Fatal(err)
	}
	if v.Prediction != nil || !strings.Contains(v.Why, "of one box") || v.Pairs[0].Predicted != nil {
		t.Errorf("prediction %v, why %q, of the pair %v", v.Prediction, v.Why, v.Pairs[0].Predicted)
	}
	box := load(t, "box-insert.txt")
	if v, err = Compare(starter(t), []Input{box, in.With, in.Without}, []PairInput{in}, usual); err != nil {
		t.Fatal(err)
	}
	if v.Curves[0].Prediction == nil || v.Curves[1].Prediction != nil || v.Curves[1].Difference != nil || v.Curves[1].Octaves == nil {
		t.Errorf("curves %+v", v.Curves)
	}
}

func TestWithoutParametersTheFirstTraceIsTheReference(t *testing.T) {
	d := design.New()
	flat := measured.Trace{Frequency: []float64{20, 20e3}, Level: []float64{80, 80}}
	tilted := measured.Trace{Frequency: []float64{20, 20e3}, Level: []float64{82, 82}}
	v, err := Compare(&d, []Input{{"flat", flat}, {"louder", tilted}}, nil, usual)
	if err != nil {
		t.Fatal(err)
	}
	if v.Prediction != nil || !strings.Contains(v.Why, "do not suffice") || v.Reference != "flat" {
		t.Errorf("prediction %v, why %q, reference %q", v.Prediction, v.Why, v.Reference)
	}
	if c := v.Curves[0]; c.Difference != nil || c.Octaves[0].Mean != 80 {
		t.Errorf("first trace: difference %v, mean %g", c.Difference, c.Octaves[0].Mean)
	}
	if c := v.Curves[1]; c.Moved != 0 || math.Abs(c.Octaves[0].Mean-2) > 1e-9 {
		t.Errorf("second trace: moved %g, mean difference %g; want 0 and 2", c.Moved, c.Octaves[0].Mean)
	}
}

func TestTraceBesideThePassbandIsShownAsMeasured(t *testing.T) {
	high := measured.Trace{Frequency: []float64{5000, 20e3}, Level: []float64{90, 90}}
	v, err := Compare(starter(t), []Input{{"high", high}}, nil, usual)
	if err != nil {
		t.Fatal(err)
	}
	if c := v.Curves[0]; !math.IsNaN(c.Moved) || c.Octaves != nil || math.Abs(c.Level[0]-90) > 1e-9 {
		t.Errorf("moved %g, octaves %v, level %g", c.Moved, c.Octaves, c.Level[0])
	}
}

func TestCompareRefuses(t *testing.T) {
	blank := design.New()
	box := starter(t)
	mono := measured.Trace{Frequency: []float64{20, 200}, Level: []float64{80, 80}}
	above := measured.Trace{Frequency: []float64{2000, 20e3}, Level: []float64{80, 80}}
	narrow := measured.Trace{Frequency: []float64{101, 101.1}, Level: []float64{80, 80}}
	for name, c := range map[string]struct {
		d      *design.Design
		in     []Input
		pairs  []PairInput
		change func(*Options)
		want   string
	}{
		"nothing":            {box, nil, nil, func(*Options) {}, "no measured response"},
		"box without data":   {&blank, []Input{{"a", mono}}, nil, func(o *Options) { o.Against = Box }, "cannot be predicted"},
		"unknown prediction": {box, []Input{{"a", mono}}, nil, func(o *Options) { o.Against = "horn" }, "not a prediction"},
		"no phase":           {box, []Input{{"a", mono}}, nil, func(o *Options) { o.Smoothing.By = measured.Complex }, "a: has no phase"},
		"chosen band":        {box, []Input{{"a", mono}}, nil, func(o *Options) { o.Align = Align{Low: 300, High: 500} }, "a covers only 0 %"},
		"nothing in common": {box, []Input{{"a", mono}, {"b", above}}, []PairInput{{With: Input{"a", mono}, Without: Input{"b", above}}},
			func(*Options) {}, "a and b have no frequency in common"},
		"two things": {box, []Input{{"a", mono}, {"b", mono}}, []PairInput{{With: Input{"a", mono}, Without: Input{"b", mono}},
			{With: Input{"b", mono}, Without: Input{"a", mono}, Of: OfStacks}}, func(*Options) {}, "b is said to be the box without its insert and a stack"},
		"narrow": {box, []Input{{"a", narrow}}, nil, func(*Options) {}, "less than two grid points"},
	} {
		if _, err := Compare(c.d, c.in, c.pairs, with(usual, c.change)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: err = %v, want %q", name, err, c.want)
		}
	}
}

// What is missing is named in words of the design file.
func TestWhyThereIsNoPrediction(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*design.Design)
		want   string
	}{
		"volume": {func(d *design.Design) { d.Enclosure.Volume = optional.Float{} }, "enclosure.volume"},
		"vent":   {func(d *design.Design) { d.Enclosure.Tuning = optional.Float{} }, "enclosure.tuning"},
		"insert": {func(d *design.Design) { d.Insert.ChamberVolume = optional.Float{} }, "insert.chamber_volume"},
		"driver": {func(d *design.Design) { d.Woofer.Fs = optional.Float{} }, "fs"},
	} {
		d := starter(t)
		c.change(d)
		if _, err := boxSetup(d); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: err = %v, want %q", name, err, c.want)
		}
	}
	d := starter(t)
	d.Insert.ChamberVolume = optional.Float{}
	if _, err := predictBox(d, Bare, 2.83); err != nil {
		t.Errorf("bare cones need no insert: %v", err)
	}
}

func TestPredictedPair(t *testing.T) {
	d := starter(t)
	grid := measured.Grid(20, 2000)
	got, err := predictedPair(d, grid, usual)
	if err != nil || got == nil {
		t.Fatalf("%v, %v", got, err)
	}
	// Well below the chamber's corner the insert does next to nothing but add
	// mass: some tenths of a dB.
	for i, f := range grid {
		if f < 200 && math.Abs(got[i]) > 1 {
			t.Fatalf("at %g Hz the insert changes %g dB", f, got[i])
		}
	}
	none := starter(t)
	none.Insert.Mouths = 0
	if got, err := predictedPair(none, grid, usual); got != nil || err != nil {
		t.Errorf("without an insert: %v, %v", got, err)
	}
}
