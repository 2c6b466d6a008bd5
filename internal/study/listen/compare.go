package listen

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/programme"
	"gapline/internal/signal"
)

// Request says how two places are compared.
type Request struct {
	Signal *Signal
	Match  bool    // bring both to the same A-weighted level
	Peak   float64 // true peak of the louder sound, dB re full scale
	Pause  float64 // between both, s
}

// Heard is one state as it sounds.
type Heard struct {
	*Place
	Levels   []float64 // predicted at Result.Hz, dB
	Sound    float64   // level of the signal, its r.m.s. value at the drive, dB
	Weighted float64   // the same A-weighted, dB
	Gain     float64   // of the file against the predicted pressure, dB re 1/Pa, or relative
	TruePeak float64   // in the file, dB re full scale
	From, To float64   // in the file, s
	Impulse  []float64 // turns the signal into the sound of the file
	Samples  []float64 // the sound of the file
}

// Result is two states as they sound, one after the other.
type Result struct {
	Request
	A, B      Heard
	Hz        []float64
	Absolute  bool // levels are dB re 20 µPa
	Samples   []float64
	Top       float64 // of the band, Hz
	Louder    float64 // sound of B less that of A, dB
	LouderDBA float64 // the same A-weighted
}

// ErrNoCommonLevel is that one state has a level and the other has none.
var ErrNoCommonLevel = errors.New("the level of one state is known and that of the other is not, so that their difference means nothing: match them, or give both a level (woofer parameters with enclosure.volume, or a sensitivity)")

// ErrSilent is that nothing of the signal comes through.
var ErrSilent = fmt.Errorf("nothing of the signal lies between %g Hz and %g Hz, or the design radiates nothing there", Lowest, Highest)

// Compare makes the sounds of two places.
func Compare(ctx context.Context, a, b *Place, r Request) (*Result, error) {
	if a.Model.Absolute != b.Model.Absolute && !r.Match {
		return nil, ErrNoCommonLevel
	}
	out := &Result{Request: r, Hz: tones(Top(r.Signal.Rate)), Absolute: a.Model.Absolute && b.Model.Absolute, Top: Top(r.Signal.Rate)}
	for _, s := range []struct {
		into *Heard
		from *Place
	}{{&out.A, a}, {&out.B, b}} {
		if err := s.into.hear(ctx, s.from, r.Signal, out.Hz); err != nil {
			return nil, err
		}
	}
	out.Louder, out.LouderDBA = out.B.Sound-out.A.Sound, out.B.Weighted-out.A.Weighted
	if a.Model.Absolute != b.Model.Absolute {
		out.Louder, out.LouderDBA = numeric.Absent, numeric.Absent
	}
	out.settle()
	out.lay()
	return out, nil
}

// tones are the frequencies of the printed responses: 48ths of an octave about 1 kHz.
func tones(top float64) []float64 { return measured.Grid(Lowest, top) }

// hear makes the sound of one place, in units of pressure.
func (h *Heard) hear(ctx context.Context, p *Place, s *Signal, hz []float64) error {
	h.Place = p
	var err error
	if h.Levels, err = p.Levels(ctx, hz); err != nil {
		return err
	}
	if h.Impulse, err = p.impulse(ctx, s.Rate); err != nil {
		return err
	}
	length := len(s.Samples) + len(h.Impulse) - 1
	n := signal.Length(length)
	in, response := signal.Spectrum(s.Samples, n), signal.Spectrum(h.Impulse, n)
	if err := ctx.Err(); err != nil {
		return err
	}
	// Parseval over one side of the spectrum; both ends of it are silent.
	dry, wet, weighted := 0.0, 0.0, 0.0
	for k := 1; k < n/2; k++ {
		square := power(in[k])
		dry += square
		in[k] *= response[k]
		square = power(in[k])
		wet += square
		weighted += square * math.Pow(10, programme.AWeighting(float64(k)*float64(s.Rate)/float64(n))/10)
	}
	in[0] *= response[0]
	in[n/2] *= response[n/2]
	if !(wet > 0) {
		return ErrSilent
	}
	h.Sound, h.Weighted = p.level(wet/dry), p.level(weighted/dry)
	h.Samples = signal.Samples(in)[:length]
	return ctx.Err()
}

func power(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// settle brings both sounds to the file's level.
func (r *Result) settle() {
	a, b := signal.TruePeak(r.A.Samples), signal.TruePeak(r.B.Samples)
	louder := 1.0
	if r.Match {
		// Levels of different references are apart by the same factor as the sounds.
		louder = numeric.FromDB(r.A.weightedOf() - r.B.weightedOf())
	}
	gain := numeric.FromDB(r.Peak) / math.Max(a, b*louder)
	r.A.turn(gain, a)
	r.B.turn(gain*louder, b)
}

// weightedOf is the A-weighted level without its reference.
func (h *Heard) weightedOf() float64 { return h.Weighted - h.level(1) }

func (h *Heard) turn(gain, peak float64) {
	for _, x := range [][]float64{h.Samples, h.Impulse} {
		for i := range x {
			x[i] *= gain
		}
	}
	h.Gain, h.TruePeak = numeric.DB(gain), numeric.DB(gain*peak)
}

// lay sets both sounds one after the other, with the pause between them.
func (r *Result) lay() {
	rate := float64(r.Signal.Rate)
	pause := int(math.Round(r.Pause * rate))
	r.Samples = make([]float64, 0, len(r.A.Samples)+pause+len(r.B.Samples))
	r.Samples = append(r.Samples, r.A.Samples...)
	r.Samples = append(r.Samples, make([]float64, pause)...)
	r.B.From = float64(len(r.Samples)) / rate
	r.Samples = append(r.Samples, r.B.Samples...)
	r.A.To, r.B.To = float64(len(r.A.Samples))/rate, float64(len(r.Samples))/rate
}
