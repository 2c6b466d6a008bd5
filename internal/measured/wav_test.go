package measured

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The files are written by testdata/wav/make.py.
func TestReadWAVFormats(t *testing.T) {
	for name, c := range map[string]struct {
		rate, last, half float64
		channel          int
	}{
		"pcm16.wav":        {48000, 1 - 1.0/(1<<15), 1, 0},
		"pcm24.wav":        {48000, 1 - 1.0/(1<<23), 1, 0},
		"pcm32.wav":        {48000, 1 - 1.0/(1<<31), 1, 1},
		"float32.wav":      {96000, float64(float32(0.99)), 1, 0},
		"extensible24.wav": {48000, 1 - 1.0/(1<<23), 1, 0},
		"stereo16.wav":     {48000, 1 - 1.0/(1<<15), 1, 1},
	} {
		data, err := os.ReadFile(filepath.Join("testdata", "wav", name))
		if err != nil {
			t.Fatal(err)
		}
		got, err := ReadWAV(bytes.NewReader(data), c.channel)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want := []float64{0, 0.5, -0.25, -1, c.last}
		if got.Rate != c.rate || len(got.Samples) != len(want) {
			t.Errorf("%s: rate %g, %d samples", name, got.Rate, len(got.Samples))
			continue
		}
		for i, x := range got.Samples {
			if x != want[i] {
				t.Errorf("%s: sample %d is %v, want %v", name, i, x, want[i])
			}
		}
	}
	data, _ := os.ReadFile(filepath.Join("testdata", "wav", "stereo16.wav"))
	got, err := ReadWAV(bytes.NewReader(data), 2)
	if err != nil || got.Samples[3] != 0.5 { // make.py writes minus half of the first channel
		t.Errorf("channel 2: %v, %v", got.Samples, err)
	}
}

// wave packs a WAV file after the format's description.
func wave(code, channels, bits int, rate uint32, data []byte) []byte {
	var b bytes.Buffer
	put := func(v any) { _ = binary.Write(&b, binary.LittleEndian, v) }
	b.WriteString("RIFF")
	put(uint32(36 + len(data)))
	b.WriteString("WAVEfmt ")
	put(uint32(16))
	put([]uint16{uint16(code), uint16(channels)})
	put([]uint32{rate, rate * uint32(channels*bits/8)})
	put([]uint16{uint16(channels * bits / 8), uint16(bits)})
	b.WriteString("data")
	put(uint32(len(data)))
	b.Write(data)
	return b.Bytes()
}

func floats(xs ...float32) []byte {
	var b bytes.Buffer
	_ = binary.Write(&b, binary.LittleEndian, xs)
	return b.Bytes()
}

func TestReadWAVRefuses(t *testing.T) {
	good := wave(1, 1, 16, 48000, []byte{0, 0, 1, 0})
	swapped := bytes.Replace(good, []byte("RIFF"), []byte("RIFX"), 1)
	noData := good[:36]
	contradiction := bytes.Clone(good)
	contradiction[32] = 4
	extensible := bytes.Clone(good)
	extensible[20], extensible[21] = 0xFE, 0xFF
	for name, c := range map[string]struct {
		data    []byte
		channel int
		want    string
	}{
		"empty":             {nil, 0, "not a WAV file"},
		"text":              {[]byte("20 80.5\n40 81\n"), 0, "not a WAV file"},
		"big endian":        {swapped, 0, "not a WAV file"},
		"8 bit":             {wave(1, 1, 8, 48000, []byte{1, 2}), 0, "PCM 8 bit: want PCM of 16, 24 or 32 bit"},
		"float 16":          {wave(3, 1, 16, 48000, make([]byte, 4)), 0, "float 16 bit: want PCM of 16, 24 or 32 bit, or float of 32 or 64 bit"},
		"mu-law":            {wave(7, 1, 8, 8000, []byte{1, 2}), 0, "coding 7 with 8 bit"},
		"two channels":      {wave(1, 2, 16, 48000, make([]byte, 8)), 0, "2 channels: choose one"},
		"third of two":      {wave(1, 2, 16, 48000, make([]byte, 8)), 3, "channel 3 is asked for, it has 2"},
		"no channel":        {wave(1, 0, 16, 48000, nil), 0, "names no channel"},
		"half a block":      {wave(1, 2, 16, 48000, make([]byte, 6)), 1, "not whole blocks"},
		"cut short":         {good[:len(good)-2], 0, `cut short: its "data" chunk should hold 4 bytes, 2 are there`},
		"no data":           {noData, 0, "without a data chunk"},
		"no format":         {append([]byte("RIFF\x00\x00\x00\x00WAVEdata\x02\x00\x00\x00"), 0, 0), 0, "without a format chunk"},
		"contradiction":     {contradiction, 0, "contradicts itself"},
		"short extensible":  {extensible, 0, "extensible format"},
		"slow":              {wave(1, 1, 16, 100, make([]byte, 4)), 0, "sample rate 100 Hz"},
		"not a number":      {wave(3, 1, 32, 48000, floats(0, float32(math.NaN()))), 0, "sample 2 is not a finite number"},
		"infinite":          {wave(3, 1, 32, 48000, floats(float32(math.Inf(-1)))), 0, "sample 1"},
		"short format":      {[]byte("RIFF\x00\x00\x00\x00WAVEfmt \x02\x00\x00\x00\x01\x00data\x00\x00\x00\x00"), 0, "format chunk holds 2 bytes"},
		"chunk name, no id": {good[:14], 0, "without a format chunk"},
	} {
		_, err := ReadWAV(bytes.NewReader(c.data), c.channel)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: err = %v, want %q", name, err, c.want)
		}
	}
}

func FuzzReadWAV(f *testing.F) {
	for _, name := range []string{"pcm16.wav", "pcm24.wav", "float32.wav", "extensible24.wav", "stereo16.wav"} {
		data, err := os.ReadFile(filepath.Join("testdata", "wav", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data, 1)
	}
	f.Fuzz(func(t *testing.T, data []byte, channel int) {
		p, err := ReadWAV(bytes.NewReader(data), max(channel, 0))
		if err != nil {
			return
		}
		for i, x := range p.Samples {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("sample %d is %g", i, x)
			}
		}
		if tr, err := p.Trace(Gate{}); err == nil && len(tr.Frequency) < 2 {
			t.Fatalf("%d points", len(tr.Frequency))
		}
	})
}
