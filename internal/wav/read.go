package wav

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
)

// Sound is one channel of a WAV file.
type Sound struct {
	Rate    float64   // samples per second
	Samples []float64 // full scale of the file is ±1
	Format  string    // such as "PCM 24 bit"
}

// SizeLimit bounds the size of a WAV file.
const SizeLimit = 256 << 20 // bytes

// The range of sample rates, Hz.
const leastRate, mostRate = 1000, 2e6

// Codes of the format chunk (Microsoft and IBM, Multimedia Programming
// Interface and Data Specifications 1.0, 1991; extensible form: Multiple Channel
// Audio Data and WAVE Files, 2001; from memory).
const (
	formatPCM        = 1
	formatFloat      = 3
	formatExtensible = 0xFFFE
)

// subFormatTail ends the identifier of an extensible format whose first two
// bytes are one of the codes above.
var subFormatTail = []byte{0x00, 0x00, 0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xAA, 0x00, 0x38, 0x9B, 0x71}

// Read reads one channel of a WAV file: PCM of 16, 24 or 32 bits or float of 32 or
// 64 bits. channel counts from 1; 0 takes the only one. The error says what else
// a file holds: other codings, a missing or short data chunk, several channels
// without a choice, samples that are not finite.
func Read(r io.Reader, channel int) (Sound, error) {
	data, err := io.ReadAll(io.LimitReader(r, SizeLimit+1))
	if err != nil {
		return Sound{}, err
	}
	if len(data) > SizeLimit {
		return Sound{}, fmt.Errorf("larger than %d MB", SizeLimit>>20)
	}
	head, samples, err := chunks(data)
	if err != nil {
		return Sound{}, err
	}
	f, err := parseFormat(head)
	if err != nil {
		return Sound{}, err
	}
	return f.decode(samples, channel)
}

// chunks finds the format and data chunks.
func chunks(data []byte) (head, samples []byte, err error) {
	if len(data) < 12 || string(data[:4]) != "RIFF" || string(data[8:12]) != "WAVE" {
		return nil, nil, errors.New("not a WAV file: it does not start with RIFF and WAVE")
	}
	rest := data[12:]
	for len(rest) >= 8 {
		name, size := string(rest[:4]), int64(binary.LittleEndian.Uint32(rest[4:8]))
		rest = rest[8:]
		if size > int64(len(rest)) {
			return nil, nil, fmt.Errorf("cut short: its %q chunk should hold %d bytes, %d are there", name, size, len(rest))
		}
		switch name {
		case "fmt ":
			head = rest[:size]
		case "data":
			samples = rest[:size]
		}
		rest = rest[min(size+size%2, int64(len(rest))):] // chunks are padded to even sizes
	}
	switch {
	case head == nil:
		return nil, nil, errors.New("a WAV file without a format chunk")
	case samples == nil:
		return nil, nil, errors.New("a WAV file without a data chunk")
	}
	return head, samples, nil
}

// format is what the format chunk says.
type format struct {
	code, channels, bits int
	rate                 float64
}

func parseFormat(b []byte) (format, error) {
	if len(b) < 16 {
		return format{}, fmt.Errorf("its format chunk holds %d bytes: at least 16 are needed", len(b))
	}
	u16 := func(at int) int { return int(binary.LittleEndian.Uint16(b[at:])) }
	f := format{code: u16(0), channels: u16(2), bits: u16(14), rate: float64(binary.LittleEndian.Uint32(b[4:]))}
	if f.code == formatExtensible {
		if len(b) < 40 || !bytes.Equal(b[26:40], subFormatTail) {
			return format{}, errors.New("its extensible format is not one of PCM or float")
		}
		f.code = u16(24)
	}
	pcm := f.code == formatPCM && (f.bits == 16 || f.bits == 24 || f.bits == 32)
	switch {
	case !pcm && (f.code != formatFloat || f.bits != 32 && f.bits != 64):
		return format{}, fmt.Errorf("%s: want PCM of 16, 24 or 32 bit, or float of 32 or 64 bit", f)
	case f.channels < 1:
		return format{}, errors.New("its format chunk names no channel")
	case u16(12) != f.channels*f.bits/8:
		return format{}, fmt.Errorf("its format chunk contradicts itself: blocks of %d bytes for %d channels of %d bit", u16(12), f.channels, f.bits)
	case !(f.rate >= leastRate && f.rate <= mostRate):
		return format{}, fmt.Errorf("sample rate %.6g Hz: %.6g to %.6g kHz is needed", f.rate, leastRate/1000.0, mostRate/1000)
	}
	return f, nil
}

// String names the coding.
func (f format) String() string {
	switch f.code {
	case formatPCM:
		return fmt.Sprintf("PCM %d bit", f.bits)
	case formatFloat:
		return fmt.Sprintf("float %d bit", f.bits)
	}
	return fmt.Sprintf("coding %d with %d bit", f.code, f.bits)
}

// decode takes one channel out of the samples.
func (f format) decode(data []byte, channel int) (Sound, error) {
	switch {
	case channel == 0 && f.channels > 1:
		return Sound{}, fmt.Errorf("%d channels: choose one with --channel", f.channels)
	case channel > f.channels:
		return Sound{}, fmt.Errorf("channel %d is asked for, it has %d", channel, f.channels)
	}
	width := f.bits / 8
	block := width * f.channels
	if len(data)%block != 0 {
		return Sound{}, fmt.Errorf("its data of %d bytes are not whole blocks of %d", len(data), block)
	}
	out := Sound{Rate: f.rate, Format: f.String(), Samples: make([]float64, len(data)/block)}
	offset := width * max(channel-1, 0)
	for i := range out.Samples {
		x := f.sample(data[i*block+offset:])
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return Sound{}, fmt.Errorf("sample %d is not a finite number", i+1)
		}
		out.Samples[i] = x
	}
	return out, nil
}

// sample decodes one value; full scale is 1.
func (f format) sample(b []byte) float64 {
	switch {
	case f.code == formatFloat && f.bits == 64:
		return math.Float64frombits(binary.LittleEndian.Uint64(b))
	case f.code == formatFloat:
		return float64(math.Float32frombits(binary.LittleEndian.Uint32(b)))
	case f.bits == 16:
		return float64(int16(binary.LittleEndian.Uint16(b))) / (1 << 15)
	case f.bits == 24:
		// Sign-extended by way of the top of 32 bits.
		return float64(int32(uint32(b[0])<<8|uint32(b[1])<<16|uint32(b[2])<<24)>>8) / (1 << 23)
	}
	return float64(int32(binary.LittleEndian.Uint32(b))) / (1 << 31)
}
