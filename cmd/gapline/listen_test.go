package main

import (
	"encoding/binary"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// floatFile reads the samples of a float file that the program wrote, by the layout of its
// chunks alone.
func floatFile(t *testing.T, path string) []float64 {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for at := 12; at+8 <= len(b); {
		size := int(binary.LittleEndian.Uint32(b[at+4:]))
		if string(b[at:at+4]) == "data" {
			var out []float64
			for i := at + 8; i < at+8+size; i += 4 {
				out = append(out, float64(math.Float32frombits(binary.LittleEndian.Uint32(b[i:]))))
			}
			return out
		}
		at += 8 + size
	}
	t.Fatal("no data chunk")
	return nil
}

// toneOf is the plain sum Σ x[i]·e^{−j2πfi/rate}.
func toneOf(x []float64, hz, rate float64) complex128 {
	var sum complex128
	for i, v := range x {
		if v != 0 {
			sin, cos := math.Sincos(-2 * math.Pi * hz * float64(i) / rate)
			sum += complex(v*cos, v*sin)
		}
	}
	return sum
}

// The user's own sound, 16 bit, two channels, 44.1 kHz: what the files hold over what went
// in is what the JSON predicts, within 0.1 dB where a response lies no more than 30 dB
// under the largest of its octave, and so is the difference of both states.
func TestListenFilesHoldThePrediction(t *testing.T) {
	dir := t.TempDir()
	file := starterFile(t, "hatch-insert")
	own := filepath.Join(dir, "own.wav")
	const rate, n = 44100, 6000
	r := rand.New(rand.NewPCG(3, 4))
	right := make([]float64, n)
	data := make([]byte, 0, 4*n)
	for i := range right {
		v := int16(r.IntN(40000) - 20000)
		right[i] = float64(v) / (1 << 15)
		data = binary.LittleEndian.AppendUint16(data, uint16(int16(i)))
		data = binary.LittleEndian.AppendUint16(data, uint16(v))
	}
	le := binary.LittleEndian
	head := le.AppendUint32([]byte("RIFF"), uint32(36+len(data)))
	head = le.AppendUint32(append(head, "WAVEfmt "...), 16)
	for _, v := range []uint16{1, 2} {
		head = le.AppendUint16(head, v)
	}
	head = le.AppendUint32(le.AppendUint32(head, rate), 4*rate)
	head = le.AppendUint16(le.AppendUint16(head, 4), 16)
	head = le.AppendUint32(append(head, "data"...), uint32(len(data)))
	if err := os.WriteFile(own, append(head, data...), 0o666); err != nil {
		t.Fatal(err)
	}
	o := jsonOf(t, "listen", file, "--wav", own, "--channel", "2", "--format", "float", "--split", "-o", filepath.Join(dir, "ab.wav"))
	hz := numbersOf(o["frequency_hz"])
	both := floatFile(t, filepath.Join(dir, "ab.wav"))
	var errs [2]map[int]float64
	for s, name := range []string{"a", "b"} {
		want := numbersOf(under(t, o, name, "response_db"))
		gain := under(t, o, name, "gain_db").(float64)
		from, to := under(t, o, name, "from_s").(float64), under(t, o, name, "to_s").(float64)
		alone := floatFile(t, filepath.Join(dir, "ab-"+name+".wav"))
		out := both[int(math.Round(from*rate)):int(math.Round(to*rate))]
		for i, v := range out {
			if v != alone[i] {
				t.Fatalf("sample %d of %s differs between the files", i, name)
			}
		}
		errs[s] = map[int]float64{}
		for i := 0; i < len(hz); i += 7 { // no whole part of an octave
			if hz[i] < 50 || hz[i] > 16000 || want[i] < topOf(hz, want, hz[i])-30 {
				continue
			}
			ratio := 20*math.Log10(cmplx.Abs(toneOf(out, hz[i], rate)/toneOf(right, hz[i], rate))) - gain + 20*math.Log10(1/20e-6)
			errs[s][i] = ratio - want[i]
			if math.Abs(errs[s][i]) > 0.1 {
				t.Errorf("state %s at %s Hz: the file says %.3f dB, the prediction %.3f dB", name, strconv.FormatFloat(hz[i], 'f', 1, 64), ratio, want[i])
			}
		}
		if len(errs[s]) < 40 {
			t.Errorf("only %d frequencies looked at", len(errs[s]))
		}
	}
	for i, e := range errs[0] {
		if f, ok := errs[1][i]; ok && math.Abs(f-e) > 0.1 {
			t.Errorf("the difference of both states at %g Hz is off by %g dB", hz[i], f-e)
		}
	}
}

// topOf is the largest level within half an octave of f.
func topOf(hz, level []float64, f float64) float64 {
	top := math.Inf(-1)
	for i, g := range hz {
		if math.Abs(math.Log2(g/f)) <= 0.5 {
			top = math.Max(top, level[i])
		}
	}
	return top
}
