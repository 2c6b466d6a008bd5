package wav

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// Coding is how samples are written.
type Coding uint8

// The codings.
const (
	PCM24   Coding = iota // 24 bit whole numbers, with dither
	Float32               // 32 bit float, without
)

// codings holds the names and sizes.
var codings = [...]struct {
	name, words string
	code, bytes int
}{
	PCM24:   {"24", "PCM 24 bit with TPDF dither", formatPCM, 3},
	Float32: {"float", "float 32 bit", formatFloat, 4},
}

// String says what is written, in words.
func (c Coding) String() string { return codings[c].words }

// CodingNames lists the names that ParseCoding takes.
func CodingNames() []string {
	var out []string
	for _, c := range codings {
		out = append(out, c.name)
	}
	return out
}

// ParseCoding reads "24" or "float".
func ParseCoding(text string) (Coding, error) {
	for c := range codings {
		if codings[c].name == text {
			return Coding(c), nil
		}
	}
	return 0, fmt.Errorf("%q is no coding: %s is needed", text, strings.Join(CodingNames(), " or "))
}

// Seeds of the dither: the same samples give the same bytes.
const ditherSeed1, ditherSeed2 = 0x6761706c696e65, 0x646974686572

// steps24 is the number of steps of 24 bits from 0 to full scale.
const steps24 = 1 << 23

// Encode returns a WAV file of one channel. rate is a whole number of Hz.
//
// PCM is dithered with triangular noise of ±1 step, the difference of two even ones,
// which makes mean and power of the rounding error independent of the signal
// (S. P. Lipshitz, R. A. Wannamaker and J. Vanderkooy, "Quantization and dither: a
// theoretical survey", JAES 40 (1992) 355-375). Runs of exact silence stay silent.
//
// The error names the first sample that is not finite or, in PCM, beyond full scale:
// nothing is clipped.
func Encode(samples []float64, rate int, c Coding) ([]byte, error) {
	size := len(samples) * codings[c].bytes
	if size > SizeLimit {
		return nil, fmt.Errorf("a sound of %d samples is larger than %d MB", len(samples), SizeLimit>>20)
	}
	out := header(size, rate, c, len(samples))
	dither := rand.New(rand.NewPCG(ditherSeed1, ditherSeed2))
	for i, x := range samples {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("sample %d is not a finite number", i+1)
		}
		if c == Float32 {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(float32(x)))
			continue
		}
		n := 0.0
		if x != 0 {
			n = math.Round(x*steps24 + dither.Float64() - dither.Float64())
		}
		if n < -steps24 || n >= steps24 {
			return nil, fmt.Errorf("sample %d is %.6g of full scale: it would clip", i+1, x)
		}
		v := int32(n)
		out = append(out, byte(v), byte(v>>8), byte(v>>16))
	}
	if size%2 == 1 {
		out = append(out, 0) // chunks are padded to even sizes
	}
	return out, nil
}

// header is everything before the samples. Float needs the longer format chunk and a
// fact chunk (Microsoft, New Multimedia Data Types and Data Techniques, 1994; from memory).
func header(size, rate int, c Coding, samples int) []byte {
	le := binary.LittleEndian
	width := codings[c].bytes
	var b []byte
	b = le.AppendUint16(b, uint16(codings[c].code))
	b = le.AppendUint16(b, 1)
	b = le.AppendUint32(b, uint32(rate))
	b = le.AppendUint32(b, uint32(rate*width))
	b = le.AppendUint16(b, uint16(width))
	b = le.AppendUint16(b, uint16(8*width))
	var fact []byte
	if c == Float32 {
		b = le.AppendUint16(b, 0)
		fact = le.AppendUint32(le.AppendUint32([]byte("fact"), 4), uint32(samples))
	}
	total := 4 + 8 + len(b) + len(fact) + 8 + size + size%2
	out := make([]byte, 0, 8+total)
	out = le.AppendUint32(append(out, "RIFF"...), uint32(total))
	out = append(out, "WAVEfmt "...)
	out = le.AppendUint32(out, uint32(len(b)))
	out = append(append(out, b...), fact...)
	return le.AppendUint32(append(out, "data"...), uint32(size))
}
