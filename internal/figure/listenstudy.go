package figure

import (
	"slices"

	"gapline/internal/quantity"
)

// Sources and inputs that the figures of a sound share.
const (
	atPlace   = "complex sum of the mouths of all boxes through box, crossover and splay; " + sumOfMouths
	heardOnly = noShadow + "; no room, no distortion; air absorption unless it is switched off"
	bs1770    = "Recommendation ITU-R BS.1770-5, annex 2: a filter of order 48 at four times the sample rate"
)

var placeTerms = slices.Concat(stackTerms, From("crossover.frequency", "audience.start", "audience.end", "audience.ear_height"))

// listenStudy lists what gapline listen prints.
var listenStudy = slices.Concat(
	[]*Def{ListenRate, ListenLength, ListenLow, ListenHigh, ListenFrequency},
	HeardA.all(), HeardB.all(),
	[]*Def{ListenDifference, ListenLouder, ListenLouderDBA},
)

// The signal and the band.
var (
	ListenRate = &Def{Key: "listen.signal.rate_hz", Name: "sample rate", Symbol: "f_s", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "--rate, or that of the sound file", Source: ofRun, Chosen: true}
	ListenLength = &Def{Key: "listen.signal.length_s", Name: "length of the signal", Symbol: "T", Kind: quantity.Time, Trust: Geometry,
		Formula: "--duration, or that of the sound file", Source: ofRun, Chosen: true, Style: seconds}
	ListenLow = &Def{Key: "listen.band.low_hz", Name: "lower end of what is heard", Symbol: "f_1", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "20 Hz; the octave below fades with a raised cosine over log f", Source: ofRun, Chosen: true}
	ListenHigh = &Def{Key: "listen.band.high_hz", Name: "upper end of what is heard", Symbol: "f_2", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "20 kHz·min(1, f_s/44.1 kHz); from there to 1.1 times that it fades with a raised cosine", Terms: []Term{{"f_s", "listen.signal.rate_hz"}}, Source: ofRun}
	ListenFrequency = &Def{Key: "listen.frequency_hz", Name: "frequencies of the responses", Symbol: "f", Kind: quantity.Frequency, Trust: Geometry,
		Formula: "1 kHz·2^(k/48) from f_1 to f_2", Terms: []Term{{"f_1", "listen.band.low_hz"}, {"f_2", "listen.band.high_hz"}}, Source: ofRun}
)

// How B differs from A.
var (
	ListenDifference = &Def{Key: "listen.difference_db", Name: "response of B less that of A", Symbol: "ΔL(f)", Kind: quantity.Level, Trust: Aperture,
		Formula: "ΔL(f) = L_B(f) − L_A(f)", Terms: []Term{{"L_B", "listen.b.response_db"}, {"L_A", "listen.a.response_db"}}, Source: atPlace, Domain: heardOnly, Style: bareLevel}
	ListenLouder = &Def{Key: "listen.difference.sound_db", Name: "sound of B less that of A", Symbol: "ΔL", Kind: quantity.Level, Trust: Aperture,
		Formula: "ΔL = L_B − L_A", Terms: []Term{{"L_B", "listen.b.sound_db"}, {"L_A", "listen.a.sound_db"}}, Source: atPlace, Domain: heardOnly}
	ListenLouderDBA = &Def{Key: "listen.difference.sound_dba", Name: "sound of B less that of A, A-weighted", Symbol: "ΔL_A", Kind: quantity.Level, Trust: Aperture,
		Formula: "ΔL_A = L_B − L_A, A-weighted", Terms: []Term{{"L_B", "listen.b.sound_dba"}, {"L_A", "listen.a.sound_dba"}}, Source: atPlace + "; " + weighting, Domain: heardOnly}
)

// seconds is how times in a file read.
var seconds = quantity.Style{Unit: "s", Verb: "%.2f"}

// Heard is the figures of one of both states.
type Heard struct {
	X, Y, Z, Distance, Response, Sound, SoundDBA, Gain, TruePeak, From, To *Def
}

// Both states.
var (
	HeardA = newHeard("listen.a", "state A")
	HeardB = newHeard("listen.b", "state B")
)

func (h Heard) all() []*Def {
	return []*Def{h.X, h.Y, h.Z, h.Distance, h.Response, h.Sound, h.SoundDBA, h.Gain, h.TruePeak, h.From, h.To}
}

func newHeard(group, what string) Heard {
	place := func(key, name, symbol string) *Def {
		return &Def{Key: group + "." + key, Name: name + ", " + what, Symbol: symbol, Kind: quantity.Length, Trust: Geometry,
			Formula: "seat or point as asked for", Terms: From("audience.start", "audience.end", "audience.ear_height"), Source: geometry, Style: InHall}
	}
	level := func(key, name, symbol, formula, source string, terms ...Term) *Def {
		return &Def{Key: group + "." + key, Name: name + ", " + what, Symbol: symbol, Kind: quantity.Level, Trust: Aperture, Formula: formula,
			Terms: terms, Source: source, Domain: heardOnly}
	}
	at := func(key, name, symbol, formula string) *Def {
		return &Def{Key: group + "." + key, Name: name + ", " + what, Symbol: symbol, Kind: quantity.Time, Trust: Geometry, Formula: formula,
			Terms: From("listen.signal.length_s"), Source: ofRun, Style: seconds}
	}
	response := Term{"L(f)", group + ".response_db"}
	h := Heard{
		X: place("x_m", "place, ahead of the stack", "x"), Y: place("y_m", "place, to the left", "y"), Z: place("z_m", "place, above the ground", "z"),
		Distance: place("distance_m", "way from the middle of the mouths", "r"),
		Response: level("response_db", "predicted level at the place", "L(f)", "L(f) = 20·log10 |p(f)|", atPlace, placeTerms...),
		Sound: level("sound_db", "level of the signal, its r.m.s. value at the drive", "L",
			"10·log10 of Σ |X(f)|²·|p(f)|² / Σ |X(f)|², X the signal's spectrum, |p(f)| from L(f)", atPlace, response),
		SoundDBA: level("sound_dba", "the same A-weighted", "L_A", "as the level of the signal, |p(f)|² from L(f) times the A-weighting", atPlace+"; "+weighting, response),
		Gain: level("gain_db", "gain of the file", "g", "full scale for 1 Pa (or for 0 dB of relative levels) and a signal of full scale, so that the louder true peak is --peak; matched: both L_A alike",
			ofRun, Term{"L_A", group + ".sound_dba"}),
		TruePeak: level("true_peak_db", "true peak in the file, dB re full scale", "TP", "20·log10 of the largest magnitude between and at the samples, after g", bs1770, Term{"g", group + ".gain_db"}),
		From:     at("from_s", "starts in the file at", "t_1", "A, pause, B: at 0 s, or after A and --pause"), To: at("to_s", "ends in the file at", "t_2", "start, length of the signal and that of the impulse response"),
	}
	h.Gain.Domain, h.TruePeak.Domain = "", ""
	h.Response.Style = bareLevel
	return h
}
