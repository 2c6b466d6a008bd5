package listen

import (
	"bytes"
	"context"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/field"
	"gapline/cabinet/source"
	"gapline/internal/designfile"
	"gapline/internal/programme"
	"gapline/internal/reftable"
	"gapline/internal/study/line"
	"gapline/internal/wav"

	"gonum.org/v1/gonum/dsp/fourier"
)

func starter(t testing.TB, name string, settings ...string) *design.Design {
	t.Helper()
	f, err := designfile.LoadStarter(name, settings)
	if err != nil {
		t.Fatal(err)
	}
	return &f.Design
}

func mustOpen(t testing.TB, s State) *Place {
	t.Helper()
	p, err := Open(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

var withoutInsert = source.Choice{WithoutInsert: true}

func front() Seat { return Seat{Name: "front"} }

// dft is the plain sum Σ x[i]·e^{−j2πfi/rate}, by a phasor that is set anew every 256
// samples.
func dft(x []float64, hz, rate float64) complex128 {
	const run = 256
	var sum complex128
	turn := cmplx.Exp(complex(0, -2*math.Pi*hz/rate))
	for lo := 0; lo < len(x); lo += run {
		w := cmplx.Exp(complex(0, -2*math.Pi*math.Mod(hz*float64(lo)/rate, 1)))
		for _, v := range x[lo:min(lo+run, len(x))] {
			sum += w * complex(v, 0)
			w *= turn
		}
	}
	return sum
}

// throughFile is what a float file keeps.
func throughFile(t testing.TB, x []float64, rate int) []float64 {
	t.Helper()
	data, err := wav.Encode(x, rate, wav.Float32)
	if err != nil {
		t.Fatal(err)
	}
	s, err := wav.Read(bytes.NewReader(data), 0)
	if err != nil {
		t.Fatal(err)
	}
	return s.Samples
}

// heardWithin is how far a sound may be from its prediction, dB, where the response lies
// no more than heardRange under the largest of its octave.
const heardWithin, heardRange = 0.1, 30

// The spectrum of the float file over that of the signal, and the difference of both
// states, against the sum of all mouths computed frequency by frequency: by the plain
// sum in the test, at frequencies that are none of the program's own.
func TestSoundAgainstPrediction(t *testing.T) {
	baffle := line.Conditions{Boundary: field.Baffled, Ground: 0.7}
	for _, c := range []struct {
		name   string
		a, b   State
		signal string
		rate   int
	}{
		{"insert", State{Design: starter(t, "hatch-insert"), Seat: front()},
			State{Design: starter(t, "hatch-insert"), Seat: front(), Conditions: line.Conditions{Choice: withoutInsert}}, "iec", 48000},
		{"seats", State{Design: starter(t, "hatch-mids"), Seat: front()}, State{Design: starter(t, "hatch-mids"), Seat: Seat{Name: "back"}}, "clicks", 44100},
		{"floor and curve", State{Design: starter(t, "hatch"), Seat: Seat{Distance: 9.3}, Conditions: baffle},
			State{Design: starter(t, "hatch", "line.splay="), Seat: Seat{Distance: 9.3}, Conditions: line.Conditions{Shape: &line.Shape{Name: "straight"}}}, "pink", 96000},
	} {
		s, err := Make(c.signal, c.rate, 0.6)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Compare(context.Background(), mustOpen(t, c.a), mustOpen(t, c.b), Request{Signal: s, Peak: -1, Pause: 0.5})
		if err != nil {
			t.Fatal(err)
		}
		var hz []float64
		for f := 50.7; f < 16000; f *= 1.0713 { // some ten in each octave, of no common measure with any grid
			hz = append(hz, f)
		}
		file := throughFile(t, r.Samples, c.rate)
		rate := float64(c.rate)
		worst := 0.0
		var errs [2][]float64
		for i, h := range []*Heard{&r.A, &r.B} {
			want, err := h.Place.Levels(context.Background(), hz)
			if err != nil {
				t.Fatal(err)
			}
			out := file[int(math.Round(h.From*rate)):int(math.Round(h.To*rate))]
			for k, f := range hz {
				got := 20*math.Log10(cmplx.Abs(dft(out, f, rate)/dft(s.Samples, f, rate))) - h.Gain + levelOfOne(h)
				errs[i] = append(errs[i], math.NaN())
				if want[k] < octaveTop(hz, want, f)-heardRange {
					continue
				}
				errs[i][k] = got - want[k]
				reftable.Within(t, c.name+", dB", got, want[k], heardWithin)
				worst = math.Max(worst, math.Abs(got-want[k]))
			}
		}
		for k := range hz {
			if d := errs[1][k] - errs[0][k]; math.Abs(d) > heardWithin { // false for NaN
				t.Errorf("%s: the difference of both states at %g Hz is off by %g dB", c.name, hz[k], d)
			}
		}
		t.Logf("%s: largest error %.4f dB", c.name, worst)
	}
}

// levelOfOne is the level of a pressure of one, dB: 20·log10(1/20 µPa), or nothing where
// levels are relative.
func levelOfOne(h *Heard) float64 {
	if h.Model.Absolute {
		return 93.9794
	}
	return 0
}

// octaveTop is the largest level within half an octave of f.
func octaveTop(hz, level []float64, f float64) float64 {
	top := math.Inf(-1)
	for i, g := range hz {
		if math.Abs(math.Log2(g/f)) <= 0.5 {
			top = math.Max(top, level[i])
		}
	}
	return top
}

// The impulse responses make the sound: by the plain sum of products, at a few samples.
func TestImpulseMakesTheSound(t *testing.T) {
	r := compared(t, Request{Peak: -3, Pause: 0.25})
	for _, h := range []*Heard{&r.A, &r.B} {
		for _, at := range []int{7000, 20000, 60000} {
			sum := 0.0
			for i, x := range r.Signal.Samples {
				if k := at - i; k >= 0 && k < len(h.Impulse) {
					sum += x * h.Impulse[k]
				}
			}
			reftable.Within(t, "sample", h.Samples[at], sum, 1e-12)
		}
	}
}

// frontAndBack are the places that several tests hear, none of which runs beside another.
var frontAndBack [2]*Place

func compared(t *testing.T, r Request) *Result {
	t.Helper()
	s, err := Make("iec", 48000, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	r.Signal = s
	if frontAndBack[0] == nil {
		d := starter(t, "hatch-insert")
		frontAndBack = [2]*Place{mustOpen(t, State{Design: d, Seat: front()}), mustOpen(t, State{Design: d, Seat: Seat{Name: "back"}})}
	}
	out, err := Compare(context.Background(), frontAndBack[0], frontAndBack[1], r)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Kept, the levels of the file differ as the predicted ones do; matched, they are alike,
// A-weighted, by their transforms of the test's own. The louder
// peak is where it is asked for and nothing is beyond it.
func TestLevelsAreKeptOrMatched(t *testing.T) {
	for _, match := range []bool{false, true} {
		r := compared(t, Request{Peak: -1.5, Match: match, Pause: 0.25})
		want := r.LouderDBA
		if match {
			want = 0
		}
		reftable.Within(t, "difference in the file, dBA", weighted(r.B.Samples)-weighted(r.A.Samples), want, 1e-6)
		reftable.Within(t, "louder peak", math.Max(r.A.TruePeak, r.B.TruePeak), -1.5, 1e-9)
		for _, x := range r.Samples {
			if math.Abs(x) > math.Pow(10, -1.5/20)+1e-12 {
				t.Fatalf("a sample of %g", x)
			}
		}
		for _, h := range []*Heard{&r.A, &r.B} {
			// The filter of BS.1770 ripples by 0.25 dB and less up to a quarter of the rate, where
			// nearly all of this sound lies.
			reftable.Within(t, "true peak, dB", h.TruePeak, 20*math.Log10(between(h.Samples)), 0.25)
		}
		if !(r.LouderDBA < 0) { // 34 m against 4 m
			t.Errorf("the back seat is %g dB louder", r.LouderDBA)
		}
	}
}

// between is the largest magnitude of the band-limited signal at eight times the rate.
func between(x []float64) float64 {
	const times = 8
	n := len(x) + len(x)%2
	h := make([]complex128, times*n/2+1)
	copy(h, fourier.NewFFT(n).Coefficients(nil, append(append([]float64(nil), x...), make([]float64, n-len(x))...)))
	most := 0.0
	for _, v := range fourier.NewFFT(times*n).Sequence(nil, h) {
		most = math.Max(most, math.Abs(v)/float64(n))
	}
	return most
}

// weighted is the A-weighted level of a sound of 48 kHz, dB, over its whole transform.
func weighted(x []float64) float64 {
	sum := 0.0
	fft := fourier.NewFFT(len(x))
	for k, z := range fft.Coefficients(nil, x) {
		if k > 0 {
			sum += (real(z)*real(z) + imag(z)*imag(z)) * math.Pow(10, programme.AWeighting(fft.Freq(k)*48000)/10)
		}
	}
	return 10 * math.Log10(sum)
}

// Nothing arrives before the nearest mouth but the ringing of the band's ends: what comes
// a quarter of Lead early lies 60 dB down. The sound itself comes at Lead.
func TestImpulseIsCausal(t *testing.T) {
	p := compared(t, Request{Peak: -1}).A.Place
	h, err := p.impulse(context.Background(), 48000)
	if err != nil {
		t.Fatal(err)
	}
	at := 0
	for i, x := range h {
		if math.Abs(x) > math.Abs(h[at]) {
			at = i
		}
	}
	if got, slack := float64(at)/48000, p.engine.Reach(p.At)/p.SoundSpeed(); math.Abs(got-Lead) > slack {
		t.Errorf("the peak comes at %g s, want %g ± %g s", got, Lead, slack)
	}
	early, all := peak(h[:int(0.75*Lead*48000)]), peak(h)
	if early > 1e-3*all {
		t.Errorf("%.1f dB a quarter of the lead early", 20*math.Log10(early/all))
	}
	if late := peak(h[len(h)-len(h)/10:]); late > settled*all {
		t.Errorf("the end of the response lies at %.1f dB", 20*math.Log10(late/all))
	}
}

// Of air alone: a minimum-phase system delays, and what it delays grows with the way.
func TestAirHasItsPhase(t *testing.T) {
	d := starter(t, "hatch-insert")
	near := mustOpen(t, State{Design: d, Seat: front()}).airPhase(48000, 4096)
	back := mustOpen(t, State{Design: d, Seat: Seat{Name: "back"}})
	far := back.airPhase(48000, 4096)
	for k := 100; k < 1500; k += 100 {
		if !(far[k] < near[k] && near[k] < 0) {
			t.Errorf("line %d: %g and %g rad", k, near[k], far[k])
		}
	}
	dry := mustOpen(t, State{Design: d, Seat: front(), Conditions: line.Conditions{Absorption: line.WithoutAbsorption}})
	if dry.airPhase(48000, 64)[20] != 0 {
		t.Error("air that takes nothing has a phase")
	}
}

func TestSeats(t *testing.T) {
	d := starter(t, "hatch-insert") // two stretches, 4 m to 18 m and on to 34 m, the second up to 4 m
	for _, c := range []struct {
		seat Seat
		want field.Vec
	}{
		{front(), field.Vec{X: 4, Z: 1.2}}, {Seat{Name: "back"}, field.Vec{X: 34, Z: 5.2}}, {Seat{Name: "middle"}, field.Vec{X: 19, Z: 1.45}},
		{Seat{Distance: 26}, field.Vec{X: 26, Z: 3.2}}, {Seat{Point: &field.Vec{X: 3, Y: 1, Z: 2}}, field.Vec{X: 3, Y: 1, Z: 2}},
	} {
		p := mustOpen(t, State{Design: d, Seat: c.seat})
		if p.At.Sub(c.want).Norm() > 1e-9 {
			t.Errorf("seat %+v is at %+v, want %+v", c.seat, p.At, c.want)
		}
	}
	gap := *d
	gap.Audience.Start, gap.Audience.End = []float64{4, 24}, []float64{14, 34}
	if p := mustOpen(t, State{Design: &gap, Seat: Seat{Name: "middle"}}); p.At.X != 14 {
		t.Errorf("the middle seat beside a gangway is at %g m", p.At.X)
	}
}

func TestWhatCannotBeHeard(t *testing.T) {
	for name, c := range map[string]struct {
		state State
		want  string
	}{
		"no seats": {State{Design: noSeats(t), Seat: front()}, "--point"},
		"no row":   {State{Design: starter(t, "hatch"), Seat: Seat{Distance: 50}}, "stand from 4 m to 34 m"},
		"one band": {State{Design: oneBand(t), Seat: front()}, "crossover"},
		"no stack": {State{Design: noBoxes(t), Seat: front()}, "line.boxes"},
	} {
		if _, err := Open(c.state); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	for name, f := range map[string]func() (*Signal, error){
		"no such signal": func() (*Signal, error) { return Make("brown", 48000, 1) },
		"slow":           func() (*Signal, error) { return Make("iec", 4000, 1) },
		"long":           func() (*Signal, error) { return Make("iec", 48000, 90) },
		"silent": func() (*Signal, error) {
			return Of(wav.Sound{Rate: 48000, Samples: make([]float64, 10)}, "x", math.NaN())
		},
		"empty": func() (*Signal, error) { return Of(wav.Sound{Rate: 48000}, "x", math.NaN()) },
		"fast":  func() (*Signal, error) { return Of(wav.Sound{Rate: 500e3, Samples: []float64{1}}, "x", math.NaN()) },
	} {
		if _, err := f(); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}

func TestSilenceIsRefused(t *testing.T) {
	p := mustOpen(t, State{Design: starter(t, "hatch"), Seat: front()})
	if _, err := Compare(context.Background(), p, p, Request{Signal: &Signal{Rate: 8000, Samples: make([]float64, 100)}, Peak: -1}); err != ErrSilent {
		t.Errorf("silence: %v", err)
	}
}

func oneBand(t *testing.T) *design.Design {
	d := *starter(t, "hatch")
	d.Horn = design.New().Horn
	return &d
}

func noSeats(t *testing.T) *design.Design {
	d := *starter(t, "hatch")
	d.Audience = design.New().Audience
	return &d
}

func noBoxes(t *testing.T) *design.Design {
	d := *starter(t, "hatch")
	d.Line.Boxes, d.Line.Splay = 0, nil
	return &d
}

// Far above the crossover only the horn is left: what it plays lower is what the response
// loses there.
func TestRematchedHorn(t *testing.T) {
	r := compared(t, Request{Peak: -1})
	if list := r.Rematched(); len(list) != 1 || list[0].By != 0 {
		t.Errorf("one design at two seats: %+v", list)
	}
	d := starter(t, "hatch-insert")
	r.A.Place = mustOpen(t, State{Design: d, Seat: front()})
	r.B.Place = mustOpen(t, State{Design: d, Seat: front(), Conditions: line.Conditions{Choice: withoutInsert}})
	var at [2]float64
	for i, p := range []*Place{r.A.Place, r.B.Place} {
		l, err := p.Levels(context.Background(), []float64{12e3})
		if err != nil {
			t.Fatal(err)
		}
		at[i] = l[0]
	}
	list := r.Rematched()
	if len(list) != 1 || list[0].Band != source.Horn {
		t.Fatalf("%+v", list)
	}
	// Fourth order, three octaves above 1.2 kHz and more: the woofers are 80 dB down.
	reftable.Within(t, "horn, dB", list[0].By, at[1]-at[0], 0.02)
}

// A sound that is cut is faded at the cut, a whole one is left alone.
func TestCutSoundsFade(t *testing.T) {
	ones := make([]float64, 96000)
	for i := range ones {
		ones[i] = 0.5
	}
	whole, err := Of(wav.Sound{Rate: 48000, Samples: ones}, "x", math.NaN())
	if err != nil || whole.Cut || whole.Samples[95999] != 0.5 {
		t.Errorf("whole: %v, %v", whole.Cut, err)
	}
	part, err := Of(wav.Sound{Rate: 48000, Samples: ones}, "x", 1)
	if err != nil || !part.Cut || len(part.Samples) != 48000 || part.Samples[47999] > 1e-3 || part.Samples[0] != 0.5 || ones[47999] != 0.5 {
		t.Errorf("cut: %v", err)
	}
}

func BenchmarkCompare(b *testing.B) {
	s, err := Make("iec", DefaultRate, DefaultSeconds)
	if err != nil {
		b.Fatal(err)
	}
	d := starter(b, "hatch-insert")
	for b.Loop() {
		one := mustOpen(b, State{Design: d, Seat: front()})
		two := mustOpen(b, State{Design: d, Seat: front(), Conditions: line.Conditions{Choice: withoutInsert}})
		if _, err := Compare(context.Background(), one, two, Request{Signal: s, Peak: -1, Pause: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
