package listen

import (
	"fmt"
	"math"

	"gapline/internal/programme"
	"gapline/internal/signal"
	"gapline/internal/wav"
)

// Signal is what is played.
type Signal struct {
	Words   string // what it is
	Rate    int    // samples per second
	Samples []float64
	Cut     bool // only its beginning is played
	Faded   bool // at its ends
}

// MostSamples bounds a signal: 87 s at 48 kHz.
const MostSamples = 1 << 22

// The signals that the program makes, beside the programme spectra.
const clicks = "clicks"

// Properties of the signals that the program makes.
const (
	DefaultRate    = 48000
	DefaultSeconds = 6.0
	noiseRMS       = 0.1  // of full scale; the sound's gain is settled later
	clicksEvery    = 0.5  // s
	clickHeight    = 0.5  // of full scale
	fadeTime       = 0.02 // s
	LeastRate      = 8000 // Hz
	MostRate       = 192000
)

// SignalNames lists the signals that Make knows, the usual one first.
func SignalNames() []string {
	var out []string
	for _, s := range programme.Spectra {
		out = append(out, s.Name)
	}
	return append(out, clicks)
}

// Make makes a signal of so many seconds. The error says what would be right.
func Make(name string, rate int, seconds float64) (*Signal, error) {
	if rate < LeastRate || rate > MostRate {
		return nil, fmt.Errorf("a sample rate of %d Hz: %d to %d Hz is needed", rate, LeastRate, MostRate)
	}
	n, err := samples(seconds, rate)
	if err != nil {
		return nil, err
	}
	if name == clicks {
		return &Signal{Words: fmt.Sprintf("clicks, one every %g s", clicksEvery), Rate: rate, Samples: signal.Clicks(n, int(clicksEvery*float64(rate)), clickHeight)}, nil
	}
	s, err := programme.Find(name)
	if err != nil {
		return nil, fmt.Errorf("%w, or %s", err, clicks)
	}
	out := &Signal{Words: "noise, " + s.Title, Rate: rate, Samples: signal.Noise(s, n, rate, noiseRMS), Faded: true}
	fade := int(fadeTime * float64(rate))
	signal.Fade(out.Samples, fade, fade)
	return out, nil
}

// LeastSeconds keeps two fades apart, s.
const LeastSeconds = 0.1

func samples(seconds float64, rate int) (int, error) {
	most := MostSamples / float64(rate)
	if !(seconds >= LeastSeconds && seconds <= most) {
		return 0, fmt.Errorf("%.6g s of sound: %g to %.4g s at %d Hz are needed", seconds, LeastSeconds, math.Floor(10*most)/10, rate)
	}
	return int(math.Round(seconds * float64(rate))), nil
}

// Of makes a signal of a sound that was read: the whole, or its first seconds unless they
// are NaN, faded where it is cut. The error says what a sound must be.
func Of(s wav.Sound, words string, seconds float64) (*Signal, error) {
	rate := int(s.Rate)
	if rate < LeastRate || rate > MostRate {
		return nil, fmt.Errorf("its sample rate is %d Hz: %d to %d Hz is needed", rate, LeastRate, MostRate)
	}
	n := min(len(s.Samples), MostSamples)
	if !math.IsNaN(seconds) {
		wanted, err := samples(seconds, rate)
		if err != nil {
			return nil, err
		}
		n = min(n, wanted)
	}
	out := &Signal{Words: words + ", " + s.Format, Rate: rate, Samples: append([]float64(nil), s.Samples[:n]...), Cut: n < len(s.Samples)}
	if out.Cut {
		signal.Fade(out.Samples, 0, int(fadeTime*s.Rate))
		out.Faded = true
	}
	if signal.RMS(out.Samples) == 0 {
		return nil, fmt.Errorf("holds nothing but silence in its %d samples: a sound is needed", n)
	}
	return out, nil
}
