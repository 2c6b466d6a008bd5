package wav

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"gapline/internal/reftable"
)

func read(t *testing.T, data []byte) Sound {
	t.Helper()
	s, err := Read(bytes.NewReader(data), 0)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What is written is read back: float to its own precision, PCM within its step and the
// dither's, 1.5 steps at most. Both lengths, for the padding.
func TestWrittenIsReadBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{0, 1, 999, 1000} {
		x := make([]float64, n)
		for i := range x {
			x[i] = 1.9*r.Float64() - 0.95
		}
		for c, within := range map[Coding]float64{PCM24: 1.5 / (1 << 23), Float32: 1.0 / (1 << 25)} {
			data, err := Encode(x, 44100, c)
			if err != nil {
				t.Fatal(err)
			}
			if len(data)%2 != 0 {
				t.Errorf("%d bytes are odd", len(data))
			}
			s := read(t, data)
			if s.Rate != 44100 || len(s.Samples) != n {
				t.Errorf("rate %g, %d samples", s.Rate, len(s.Samples))
			}
			for i, v := range s.Samples {
				reftable.Within(t, "sample", v, x[i], within)
			}
			again, _ := Encode(x, 44100, c)
			if !bytes.Equal(data, again) {
				t.Error("two runs differ")
			}
		}
	}
}

// The error of a constant of a third of a step has mean 0 and variance 1/4 step²: 1/12 of
// the rounding and 1/6 of the dither (Lipshitz et al. 1992). Over 2^18 samples the mean
// stays within 4 standard errors, 4·0.5/512.
func TestDitherHidesTheStep(t *testing.T) {
	const n, value = 1 << 18, 1.0 / 3
	x := make([]float64, n)
	for i := range x {
		x[i] = value / steps24
	}
	data, err := Encode(x, 48000, PCM24)
	if err != nil {
		t.Fatal(err)
	}
	mean, square := 0.0, 0.0
	for _, v := range read(t, data).Samples {
		e := v*steps24 - value
		mean, square = mean+e/n, square+e*e/n
	}
	reftable.Within(t, "mean", mean, 0, 0.004)
	reftable.Within(t, "variance", square, 0.25, 0.004)
}

func TestSilenceStaysSilent(t *testing.T) {
	data, _ := Encode(make([]float64, 100), 48000, PCM24)
	for _, v := range read(t, data).Samples {
		if v != 0 {
			t.Fatal("silence is dithered")
		}
	}
}

func TestNothingIsClipped(t *testing.T) {
	for _, bad := range []float64{1.1, -1.1, math.NaN(), math.Inf(1)} {
		if _, err := Encode([]float64{0, bad}, 48000, PCM24); err == nil {
			t.Errorf("%g is written", bad)
		}
	}
	if _, err := Encode([]float64{3}, 48000, Float32); err != nil {
		t.Errorf("float holds more than full scale: %v", err)
	}
}

// Float of 64 bit is read.
func TestReadFloat64(t *testing.T) {
	data, _ := Encode([]float64{0, 0}, 48000, Float32)
	at := bytes.Index(data, []byte("fmt ")) + 8
	data[at+12], data[at+14] = 8, 64 // two floats of 32 bit become one of 64
	end := len(data) - 8
	for i, b := range []byte{0, 0, 0, 0, 0, 0, 0xE0, 0xBF} { // −0.5, IEEE 754
		data[end+i] = b
	}
	if s := read(t, data); len(s.Samples) != 1 || s.Samples[0] != -0.5 {
		t.Errorf("%v", s.Samples)
	}
}

func TestParseCoding(t *testing.T) {
	for _, n := range CodingNames() {
		if _, err := ParseCoding(n); err != nil {
			t.Error(err)
		}
	}
	if _, err := ParseCoding("16"); err == nil {
		t.Error("16 is accepted")
	}
}
