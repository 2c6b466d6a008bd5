package programme

import (
	"fmt"
	"math"
	"strings"
)

// Spectrum is the power of a programme signal in third octaves.
type Spectrum struct {
	Name   string // as the command line spells it
	Title  string // in words
	Source string
	first  int       // third octaves from 1 kHz, of the first level
	level  []float64 // relative, dB, third octave by third octave
}

// IEC is the simulated programme signal of IEC 60268-1:1985, clause 7, table II: the
// mean over speech and several kinds of music, 20 Hz to 20 kHz.
var IEC = Spectrum{
	Name: "iec", Title: "simulated programme signal of IEC 60268-1", Source: "IEC 60268-1:1985, clause 7, table II", first: -17,
	level: []float64{
		-13.5, -10.2, -7.4, -5.2, -3.5, -2.3, -1.4, -0.9, -0.5, -0.2, // 20 Hz to 160 Hz
		-0.1, 0, 0, 0, 0, 0, 0, -0.1, -0.3, -0.6, // to 1.6 kHz
		-1, -1.6, -2.5, -3.7, -5.1, -7, -9.4, -11.9, -14.8, -18.2, -21.6, // to 20 kHz
	},
}

// Pink is pink noise over the same band: equal power in every third octave.
var Pink = Spectrum{
	Name: "pink", Title: "pink noise, 20 Hz to 20 kHz", Source: "equal power in every third octave", first: IEC.first, level: make([]float64, len(IEC.level)),
}

// Spectra lists the spectra, the usual one first.
var Spectra = []*Spectrum{&IEC, &Pink}

// Find returns the spectrum of the given name. The error lists the names.
func Find(name string) (*Spectrum, error) {
	var names []string
	for _, s := range Spectra {
		if strings.EqualFold(s.Name, strings.TrimSpace(name)) {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return nil, fmt.Errorf("%q is not a programme spectrum: %s is needed", name, strings.Join(names, " or "))
}

// Third is one third octave of a spectrum: exact middle and edges in Hz (IEC 61260-1:2014,
// base ten), its level as published in dB, and its share of the power, whose sum is 1.
type Third struct{ Low, Mid, High, Level, Share float64 }

// Thirds lists the third octaves from the lowest up.
func (s *Spectrum) Thirds() []Third {
	out := make([]Third, len(s.level))
	sum := 0.0
	for _, l := range s.level {
		sum += math.Pow(10, l/10)
	}
	half := math.Pow(10, 0.05)
	for i, l := range s.level {
		mid := 1000 * math.Pow(10, float64(s.first+i)/10)
		out[i] = Third{Low: mid / half, Mid: mid, High: mid * half, Level: l, Share: math.Pow(10, l/10) / sum}
	}
	return out
}

// Octave returns the index of the octave that a third octave belongs to, counted from the
// octave of 1 kHz: 0 for 800 Hz to 1.25 kHz, −1 for 400 Hz to 630 Hz.
func (t Third) Octave() int {
	return int(math.Floor((math.Round(10*math.Log10(t.Mid/1000)) + 1) / 3))
}

// Crest is the ratio of the peak of a programme signal to its r.m.s. value.
type Crest float64

// DefaultCrest is 2, the middle of the range 1.8 to 2.2 in which the clipped programme
// signal of power tests lies: IEC 60268-7:2010, 8.3.2; IEC 60268-5 and EN 50332-1
// likewise (from memory).
// Programme itself has more, 4 and above (common practice, no source).
const DefaultCrest Crest = 2

// DB returns the crest factor in dB.
func (c Crest) DB() float64 { return 20 * math.Log10(float64(c)) }

// CrestOf returns the crest factor of so many dB. The error says what can be one: a
// square wave has 0 dB, and 30 dB is beyond any programme.
func CrestOf(db float64) (Crest, error) {
	if !(db >= 0 && db <= 30) {
		return 0, fmt.Errorf("a crest factor of %.6g dB: 0 to 30 dB is needed", db)
	}
	return Crest(math.Pow(10, db/20)), nil
}
