package line

import (
	"context"
	"math"
	"slices"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/source"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/quantity"
	"gapline/internal/reftable"
)

var ctx = context.Background()

func mustHang(t testing.TB, d *design.Design, c Conditions) *Study {
	t.Helper()
	s, problems := New(d, c)
	if problems != nil {
		t.Fatal(problems)
	}
	return s
}

// points is a straight line of n point sources: woofers of unknown size.
func points(n int, pitch float64) design.Design {
	d := design.New()
	d.Line.Boxes, d.Cabinet.Pitch, d.Woofer.PerBox = n, optional.Of(pitch), 1
	return d
}

// strip is a straight uniform line of n horn mouths without gaps, length m long
// and narrow.
func strip(n int, length float64) design.Design {
	d := design.New()
	d.Line.Boxes, d.Cabinet.Height = n, optional.Of(length/float64(n))
	d.Horn.MouthHeight, d.Horn.MouthWidth = d.Cabinet.Height, optional.Of(0.001)
	return d
}

// at is the spectrum of single tones.
func at(hz ...float64) Spectrum { return Spectrum{Hz: hz} }

// soundSpeed is that of the standard air. The tables are in other air; what counts
// is the wave number.
var soundSpeed = air.SoundSpeed(air.Standard)

// Superposition of points, through a design: table line_discrete_pressure, whose
// levels are of the mean of the sources. The bound is that of DistanceTolerance
// here, in dB.
func TestDistanceAgainstSuperposition(t *testing.T) {
	const tol = 2e-3
	for _, r := range reftable.Read(t, "line_discrete_pressure") {
		n, dist := int(r.Get("N")), r.Get("d_m")
		d := points(n, r.Get("pitch_m"))
		s := mustHang(t, &d, Conditions{})
		hz := r.Get("f_Hz") * soundSpeed / r.Get("c_m_s")
		got, err := s.Distance(ctx, at(hz), dist, 2*dist, 1)
		if err != nil {
			t.Fatal(err)
		}
		reftable.Within(t, r.Name, got.Level[0][0], r.Get("level_dB")+20*math.Log10(float64(n)), tol)
	}
}

// The exact integral of a uniform line, ripple included: table line_pressure. What
// is asked for is 0.05 dB.
func TestDistanceAgainstTheLineIntegral(t *testing.T) {
	const length, tol = 4.0, 0.05
	rows := reftable.Read(t, "line_pressure")
	for i, r := range rows {
		dist := r.Get("d_over_L") * length
		if i%3 != 0 || dist < 0.1 { // every third keeps the test short; nearer, the width of the mouth counts
			continue
		}
		d := strip(8, length)
		s := mustHang(t, &d, Conditions{})
		hz := r.Get("kL") / length * soundSpeed / (2 * math.Pi)
		got, err := s.Distance(ctx, at(hz), dist, 2*dist, 1)
		if err != nil {
			t.Fatal(err)
		}
		// One box gives 1 over its own length, the whole line |I| over that.
		want := numeric.DB(r.Get("abs_I") / (length / 8))
		reftable.Within(t, r.Name, got.Level[0][0], want, tol)
	}
}

// Far out 6 dB per doubling to 0.02 dB; the crossing of 4.5 dB where the exact
// integral has it; the published formulas to the table's digits.
func TestTransitionAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "line_transition") {
		length, c := r.Get("L_m"), r.Get("c_m_s")
		d := strip(8, length)
		s := mustHang(t, &d, Conditions{})
		hz := r.Get("f_Hz") * soundSpeed / c
		far := 40 * math.Max(r.Get("d_asymptote_m"), length)
		got, err := s.Distance(ctx, at(hz), r.Get("d_slope45_m")/3, far, 12)
		if err != nil {
			t.Fatal(err)
		}
		last := len(got.Metre) - 1
		reftable.Within(t, r.Name+" slope far out", got.Slope[0][last], 6.0206, 0.02)
		// The slope of the study is a difference over 1/32 octave of levels good
		// to 0.004 dB.
		reftable.Near(t, r.Name+" crossing", got.Crossing[0], r.Get("d_slope45_m"), 1e-2)
		reftable.Near(t, r.Name+" half rule", got.Transition[0].HalfRule, r.Get("d_half_m"), 1e-9)
		reftable.Near(t, r.Name+" asymptote", got.Transition[0].Asymptote, r.Get("d_asymptote_m"), 1e-9)
	}
}

// Largest lobes of lines of round pistons: table line_lobes_circle. Half a degree
// between angles costs up to 0.1 dB at the top of a lobe.
func TestCouplingAgainstLobesOfCircles(t *testing.T) {
	const pitch, tol = 0.25, 0.15
	checked := 0
	for _, r := range reftable.Read(t, "line_lobes_circle") {
		if r.Get("p_over_lambda") > 1.5 {
			continue // the table's later rows repeat the level at other angles
		}
		d := points(int(r.Get("N")), pitch)
		d.Woofer.EffectiveDiameter = optional.Of(r.Get("diam_over_p") * pitch)
		s := mustHang(t, &d, Conditions{})
		hz := r.Get("p_over_lambda") * soundSpeed / pitch
		got, err := s.hear(ctx, at(hz), s.variants()[0], -12)
		if err != nil {
			t.Fatal(err)
		}
		reftable.Within(t, r.Name, got.Lobe[0], r.Get("max_secondary_dB"), tol)
		checked++
	}
	if checked < 10 {
		t.Errorf("only %d rows of the table are used", checked)
	}
}

// N omni points in a wall: twice Q = N/(1 + (2/N) Σ (N−n) sinc(2np/λ)) of free
// points (Kinsler et al., chapter on arrays).
func TestCouplingIndexOfPoints(t *testing.T) {
	const n, pitch = 8, 0.25
	d := points(n, pitch)
	s := mustHang(t, &d, Conditions{})
	hz := []float64{100, 343, 686, 1200, 2000}
	got, err := s.hear(ctx, at(hz...), s.variants()[0], -12)
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range hz {
		sum := 1.0
		for m := 1; m < n; m++ {
			sum += 2.0 / n * float64(n-m) * numeric.Sinc(2*math.Pi*f/soundSpeed*float64(m)*pitch)
		}
		reftable.Within(t, "index", got.Index[i], 10*math.Log10(2*n/sum), 1e-3)
	}
}

// Packed cones couple farther up than spread ones, and an insert farther still.
func TestVariantsOfTheStarterKind(t *testing.T) {
	d := points(7, 0.28)
	d.Cabinet.Height, d.Cabinet.Pitch = optional.Of(0.28), optional.Float{}
	d.Woofer.Size, d.Insert.Mouths, d.Insert.MouthHeight, d.Insert.MouthWidth = optional.Of(0.24), 2, optional.Of(0.1), optional.Of(0.08)
	s := mustHang(t, &d, Conditions{})
	c, err := s.Coupling(ctx, s.CouplingSpectrum())
	if err != nil {
		t.Fatal(err)
	}
	var upTo []float64
	for _, v := range c.Variants {
		upTo = append(upTo, v.UpTo)
	}
	// as spaced, with insert, packed, spread
	if !(len(upTo) == 4 && upTo[1] > upTo[2] && upTo[2] > upTo[0] && upTo[0] > upTo[3]) {
		t.Errorf("limits %v", upTo)
	}
}

// −6 dB of a uniform line of length L: sin θ = 0.60247 λ/L (rect_angles:
// πh sin θ/λ = 1.8927); narrow beams must not fall between the angles.
func TestBeamwidthOfNarrowBeams(t *testing.T) {
	for _, n := range []int{8, 64} {
		d := strip(n, 0.25*float64(n))
		s := mustHang(t, &d, Conditions{})
		hz := []float64{2000, 8000}
		got, err := s.Polar(ctx, field.Vertical, at(hz...), AllRound, 2*math.Pi, math.Inf(1))
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range hz {
			want := 2 * math.Asin(1.8927/math.Pi*soundSpeed/f/(0.25*float64(n)))
			reftable.Near(t, "beam", got.Beamwidth[i], want, 0.02)
			reftable.Within(t, "first side lobe", got.Beam[i].Lobe, -13.26, 0.1) // sinc, rect_angles
		}
	}
}

// Averages of a band lie between the extremes of its tones; a single source is
// the same everywhere.
func TestBandAverages(t *testing.T) {
	d := points(1, 0.25)
	s := mustHang(t, &d, Conditions{})
	sp, err := ParseSpectrum("octaves:250Hz:1kHz", true)
	if err != nil {
		t.Fatal(err)
	}
	p, err := s.Polar(ctx, field.Horizontal, sp, 5, math.Pi, 3)
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Hz {
		reftable.Within(t, "one point", p.OnAxis[i], -20*math.Log10(3), 1e-3)
	}
	if p.Pressure != nil {
		t.Error("an average has a phase")
	}
}

func TestAim(t *testing.T) {
	d := points(5, 0.3)
	d.Woofer.Size = optional.Of(0.25)
	d.Line.TopHeight, d.Line.Splay = optional.Of(5), []float64{0.1, 0, 0, 0.05}
	d.Hanging.TiltRange = []float64{-0.1, 0.05}
	d.Audience.Start, d.Audience.End = []float64{4}, []float64{25}
	s := mustHang(t, &d, Conditions{})
	got, err := s.Aim(ctx, AimRequest{Kicks: 1})
	if err != nil {
		t.Fatal(err)
	}
	for i, a := range got.Best.Splay {
		if !slices.ContainsFunc(got.Steps, func(x float64) bool { return math.Abs(x-a) < 1e-12 }) {
			t.Errorf("joint %d turns %g, not an allowed step", i+1, a)
		}
	}
	if !slices.IsSorted(got.Best.Splay) {
		t.Errorf("splay %v does not rise", got.Best.Splay)
	}
	if tilt := -got.Best.Tilt; tilt < -0.1-1e-9 || tilt > 0.05+1e-9 {
		t.Errorf("tilt %g leaves the range", tilt)
	}
	if got.Best.Cost > got.BestArc.Cost || got.Best.Spread > got.Before.Spread {
		t.Errorf("best %.2f dB (%.2f), arc %.2f, before %.2f", got.Best.Spread, got.Best.Cost, got.BestArc.Cost, got.Before.Spread)
	}
	// What is printed as spread is what the seats get with that splay.
	applied := got.Applied(&d)
	now := mustHang(t, &applied, Conditions{})
	a, err := now.near.Audience(ctx, now.audienceSpec())
	if err != nil {
		t.Fatal(err)
	}
	reftable.Within(t, "spread of the splay", a.Spread, got.Best.Spread, 1e-6)
}

// Where the best stack stands among what is allowed, by hand. Tilts are rad down, so that
// the least of them is the highest tilt; a joint that turns by nothing is at no end.
func TestAimEnds(t *testing.T) {
	for _, c := range []struct {
		tilts, steps, splay []float64
		tilt                float64
		stays               bool
		wantTilt, wantSplay AtEnd
		joints              int
	}{
		{[]float64{0.1, 0, -0.1}, []float64{0, 0.1, 0.2}, []float64{0, 0.1}, 0, false, Inside, Inside, 0},
		{[]float64{0.1, 0, -0.1}, []float64{0, 0.1, 0.2}, []float64{0.1, 0.2, 0.2}, -0.1, false, HighEnd, HighEnd, 2},
		{[]float64{0.1, 0, -0.1}, []float64{0.1, 0.2, 0.3}, []float64{0.1, 0.2}, 0.1, false, LowEnd, LowEnd, 1},
		{[]float64{0.1}, []float64{0.1}, []float64{0.1, 0.1}, 0.1, true, Inside, Inside, 0},
		{[]float64{0.1}, nil, nil, 0.1, false, Inside, Inside, 0},
	} {
		a := Aimed{Aimed: &field.Aimed{Best: field.Candidate{Splay: c.splay, Tilt: c.tilt}}, Steps: c.steps, Tilts: c.tilts, TiltStays: c.stays}
		splay, joints := a.SplayEnd()
		if tilt := a.TiltEnd(); tilt != c.wantTilt || splay != c.wantSplay || joints != c.joints {
			t.Errorf("tilt %g among %v: %d, want %d; splay %v among %v: %d at %d, want %d at %d", c.tilt, c.tilts, tilt, c.wantTilt, c.splay, c.steps, joints, splay, c.joints, c.wantSplay)
		}
	}
}

func TestCancelledWorkStops(t *testing.T) {
	stopped, cancel := context.WithCancel(ctx)
	cancel()
	d := points(5, 0.3)
	d.Line.TopHeight, d.Audience.Start, d.Audience.End = optional.Of(5), []float64{4}, []float64{25}
	s := mustHang(t, &d, Conditions{})
	if _, err := s.Aim(stopped, AimRequest{}); err != context.Canceled {
		t.Errorf("aim: %v", err)
	}
	if _, err := s.Side(stopped, at(1000), s.Frame()); err != context.Canceled {
		t.Errorf("side view: %v", err)
	}
	if _, err := s.Coupling(stopped, s.CouplingSpectrum()); err != context.Canceled {
		t.Errorf("coupling: %v", err)
	}
}

func TestParseSpectrum(t *testing.T) {
	for text, want := range map[string][]float64{
		"octaves:125Hz:500Hz": {125.8925412, 251.1886432, 501.1872336}, // exact middles of IEC 61260-1
		"thirds:1kHz:1.25kHz": {1000, 1258.925412},
		"1kHz,250 Hz, 1 kHz":  {250, 1000},
	} {
		s, err := ParseSpectrum(text, false)
		if err != nil || len(s.Hz) != len(want) {
			t.Errorf("%q: %v, %v", text, s.Hz, err)
			continue
		}
		for i := range want {
			reftable.Near(t, text, s.Hz[i], want[i], 1e-8)
		}
	}
	for _, bad := range []string{"", "thirds:1kHz", "thirds:2kHz:1kHz", "5Hz", "100kHz", "1000", "octaves:1m:2m", "fifths"} {
		if s, err := ParseSpectrum(bad, false); err == nil {
			t.Errorf("%q accepted: %v", bad, s.Hz)
		}
	}
	if _, err := ParseSpectrum("250Hz", true); err == nil {
		t.Error("the average of a tone accepted")
	}
}

func TestParseShape(t *testing.T) {
	s, err := ParseShape("progressive:6deg")
	if err != nil {
		t.Fatal(err)
	}
	// 6° over three joints as 1 : 2 : 3.
	for i, want := range []float64{1, 2, 3} {
		reftable.Near(t, "joint", s.splay(4)[i], want*math.Pi/180, 1e-12)
	}
	for _, bad := range []string{"", "arc", "arc:", "arc:-1deg", "arc:90deg", "arc:1m", "straight:1deg", "spiral:1deg"} {
		if s, err := ParseShape(bad); err == nil {
			t.Errorf("%q accepted: %+v", bad, s)
		}
	}
}

// A line of points beside a line of points at the same places: fourth-order
// Linkwitz-Riley sums flat on axis (Linkwitz 1976), without a notch anywhere; its
// level is that of one line.
func TestCrossoverOfCoincidentBands(t *testing.T) {
	d := points(4, 0.2)
	d.Horn.MouthHeight, d.Horn.MouthWidth = optional.Of(0.001), optional.Of(0.001)
	d.Bands.Woofer.Offset, d.Bands.Horn.Offset = optional.Of(0), optional.Of(0)
	d.Crossover.Frequency = optional.Of(1000)
	request := CrossoverRequest{Vertical: numeric.Absent, Horizontal: numeric.Absent, Distance: math.Inf(1), From: 900, To: 1100}
	c, _, err := Crossovers(ctx, &d, Conditions{}, request)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range c.Given.OnAxis {
		reftable.Within(t, "sum on axis", l, 20*math.Log10(4), 0.01)
		if f := c.Hz[i]; math.Abs(f/1000-1) < 1e-9 {
			reftable.Within(t, "low way", c.Given.LowAxis[i], 20*math.Log10(4)+numeric.DB(0.5), 0.01)
		}
	}
	if c.Given.Deepest.Loss < -0.01 {
		t.Errorf("a notch of %.2f dB between coincident bands", c.Given.Deepest.Loss)
	}
	if b := c.Best; math.Abs(b.Delay) > 1e-6 || b.Invert {
		t.Errorf("best delay %g s, inverted %t", b.Delay, b.Invert)
	}
}

// Two columns d apart cancel where d sin θ = λ/2 at the crossover: at 30° for
// d = λ.
func TestCrossoverNotchOfNeighbours(t *testing.T) {
	d := points(1, 0.5)
	d.Horn.MouthHeight, d.Horn.MouthWidth, d.Cabinet.Width = optional.Of(0.001), optional.Of(0.001), optional.Of(0.6)
	d.Crossover.Frequency = optional.Of(1000)
	lambda := soundSpeed / 1000
	d.Bands.Woofer.Offset, d.Bands.Horn.Offset = optional.Of(lambda/2), optional.Of(-lambda/2)
	request := CrossoverRequest{Vertical: numeric.Absent, Horizontal: 70 * quantity.Degree, Distance: math.Inf(1), From: numeric.Absent, To: numeric.Absent, WithoutBest: true,
		Spectrum: at(1000)}
	c, _, err := Crossovers(ctx, &d, Conditions{}, request)
	if err != nil {
		t.Fatal(err)
	}
	n := c.Given.Deepest
	if n.Plane != field.Horizontal || math.Abs(math.Abs(n.Angle)-30*quantity.Degree) > 1e-9 || n.Loss > -40 {
		t.Errorf("notch %+v, want at 30° across", n)
	}
}

// The signal of one band alone, at a point beside the line, is that of its own
// model: what views share must not leak between bands.
func TestSpotsOfOneBand(t *testing.T) {
	d := points(1, 0.25)
	d.Line.TopHeight = optional.Of(3)
	s := mustHang(t, &d, Conditions{Choice: source.Choice{Only: []string{source.Woofers}}, Absorption: WithoutAbsorption})
	// The point source sits 125 mm under the top.
	got, err := s.Spots(ctx, at(500), []field.Vec{{X: 3, Y: 4, Z: 2.875}})
	if err != nil {
		t.Fatal(err)
	}
	reftable.Within(t, "level 5 m away", got.Spot[0].Level[0], -20*math.Log10(5), 1e-6)
}
