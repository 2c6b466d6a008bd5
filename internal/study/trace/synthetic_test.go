package trace

import (
	"bytes"
	"encoding/binary"
	"flag"
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapline/driver"
	"gapline/internal/designfile"
	"gapline/internal/measured"
	"gapline/internal/numeric"
	"gapline/internal/optional"

	"gonum.org/v1/gonum/dsp/fourier"
)

var update = flag.Bool("update", false, "write the synthetic files anew")

var folder = filepath.Join("..", "..", "..", "testdata", "measured")

// What the synthetic responses add to the prediction.
const (
	gain       = -4.5   // dB: another distance and amplifier
	reflection = 0.12   // of the pressure
	echo       = 7e-3   // s
	noiseFloor = 30.0   // dB
	rollOff    = 3000.0 // Hz, of the cone, second order
	detuned    = 1.06   // the vent's tuning against the design's
)

// syntheticCircuit is the starter's box with another tuning.
func syntheticCircuit(t *testing.T, bare bool) *driver.Circuit {
	t.Helper()
	file, err := designfile.LoadStarter("hatch-insert", []string{"enclosure.leak_q=5"})
	if err != nil {
		t.Fatal(err)
	}
	file.Design.Enclosure.Tuning = optional.Of(file.Design.Enclosure.Tuning.Value() * detuned)
	c, err := circuit(&file.Design, bare)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// synthetic is the pressure at 2.83 V, Pa, without noise.
func synthetic(c *driver.Circuit, f float64) complex128 {
	s := complex(0, f/rollOff)
	cone := 1 / (1 + s*math.Sqrt2 + s*s)
	return c.At(f, 2.83).Pressure * cone * complex(numeric.FromDB(gain), 0)
}

func withEcho(p complex128, f, after float64) complex128 {
	return p * (1 + complex(reflection, 0)*cmplx.Rect(1, -2*math.Pi*f*after))
}

// lineFactor is the sum of four boxes at the given pitch seen 20° off the axis
// from far away, against one box.
func lineFactor(f, pitch float64) complex128 {
	const c = 346.7
	sum := complex128(0)
	for n := range 4 {
		y := pitch * (float64(n) - 1.5)
		sum += cmplx.Rect(1, 2*math.Pi*f/c*y*math.Sin(20*math.Pi/180))
	}
	return sum
}

// A strip in a wall, as a horn's mouth: its level at an angle off the axis is that of
// sin(x)/x, x = π·w·sin(angle)/λ.
const (
	stripWidth = 0.295 // m
	edgeAngle  = 42.5 * math.Pi / 180
)

// edgeControlled is where that falls to −6.000 dB: x = 1.8927 solves sin(x)/x = 10^(−6/20).
const edgeControlled = 1.8927 * 346.7 / (math.Pi * stripWidth * 0.675590)

func atEdge(p complex128, f float64) complex128 {
	x := math.Pi * stripWidth * math.Sin(edgeAngle) * f / 346.7
	return p * complex(math.Sin(x)/x, 0)
}

// textFile writes a table of 24 points per octave from 20 Hz to 20 kHz.
func textFile(comment, title, separator string, decimalComma bool, seed uint64, pressure func(f float64) complex128) []byte {
	var b bytes.Buffer
	for _, line := range strings.Split(comment, "\n") {
		fmt.Fprintf(&b, "# %s\n", line)
	}
	b.WriteString(title + "\n")
	random := rand.New(rand.NewPCG(seed, 8))
	for k := -135; k <= 104; k++ {
		f := 1000 * math.Exp2(float64(k)/24)
		noise := cmplx.Rect(2e-5*numeric.FromDB(noiseFloor)*random.Float64(), 2*math.Pi*random.Float64())
		p := pressure(f) + noise
		row := fmt.Sprintf("%.2f%s%.2f%s%.1f\n", f, separator, driver.Level(cmplx.Abs(p)), separator, cmplx.Phase(p)*180/math.Pi)
		if decimalComma {
			row = strings.ReplaceAll(row, ".", ",")
		}
		b.WriteString(row)
	}
	return b.Bytes()
}

const syntheticComment = "synthetic, not measured: made by internal/study/trace/synthetic_test.go from the\n" +
	"predicted response of the invented starter hatch-insert, with its vent tuned 6 %\n" +
	"higher, -4.5 dB of gain, a reflection of 12 % after 7 ms, a cone rolling off at\n" +
	"3 kHz, and noise at 30 dB"

// syntheticWAV is the impulse response of a box as 16384 samples of float 32.
func syntheticWAV(c *driver.Circuit) []byte {
	const n, rate, lead = 16384, 48000, 240 // 5 ms before the sound arrives
	lines := make([]complex128, n/2+1)
	for k := 1; k < len(lines); k++ {
		f := float64(k) * rate / n
		p := withEcho(synthetic(c, f), f, 9e-3)
		lines[k] = p * cmplx.Rect(1, -2*math.Pi*float64(k)*lead/n)
	}
	samples := fourier.NewFFT(n).Sequence(nil, lines)
	var data bytes.Buffer
	for _, x := range samples {
		// The transform leaves out 1/n. Full scale stands for 1 Pa.
		binary.Write(&data, binary.LittleEndian, float32(x/n))
	}
	var b bytes.Buffer
	b.WriteString("RIFF")
	binary.Write(&b, binary.LittleEndian, uint32(36+data.Len()))
	b.WriteString("WAVEfmt ")
	binary.Write(&b, binary.LittleEndian, []uint32{16, 1<<16 | 3, rate, 4 * rate, 32<<16 | 4})
	b.WriteString("data")
	binary.Write(&b, binary.LittleEndian, uint32(data.Len()))
	b.Write(data.Bytes())
	return b.Bytes()
}

// syntheticFiles makes every file of testdata/measured.
func syntheticFiles(t *testing.T) map[string][]byte {
	insert, bare := syntheticCircuit(t, false), syntheticCircuit(t, true)
	echoed := func(c *driver.Circuit) func(f float64) complex128 {
		return func(f float64) complex128 { return withEcho(synthetic(c, f), f, echo) }
	}
	line := func(pitch float64) func(f float64) complex128 {
		return func(f float64) complex128 { return withEcho(synthetic(bare, f)*lineFactor(f, pitch), f, echo) }
	}
	lineComment := syntheticComment + ";\nfour such boxes without insert, seen 20 degrees off the axis from far away"
	flat := func(f float64) complex128 { return complex(numeric.FromDB(-10), 0) }
	edge := func(f float64) complex128 { return atEdge(flat(f), f) }
	hornComment := "synthetic, nothing was measured:\na strip 295 mm wide in a wall, from far away, with noise at 30 dB"
	return map[string][]byte{
		"horn-axis.txt":   textFile(hornComment+"; on its axis", "Hz\tdB\tdegree", "\t", false, 6, flat),
		"horn-edge.txt":   textFile(hornComment+"; 42.5 degrees to the side", "Hz\tdB\tdegree", "\t", false, 7, edge),
		"box-insert.txt":  textFile(syntheticComment, "Hz\tdB\tdegree", "\t", false, 1, echoed(insert)),
		"box-bare.txt":    textFile(syntheticComment+", without the insert", "Hz;dB;degree", ";", true, 2, echoed(bare)),
		"line-packed.txt": textFile(lineComment+", 0.272 m apart", "Hz dB degree", " ", false, 3, line(0.272)),
		"line-spaced.txt": textFile(lineComment+", 0.55 m apart", "Hz dB degree", " ", false, 4, line(0.55)),
		"box-bare.wav":    syntheticWAV(bare),
	}
}

func TestSyntheticFilesAreWhatTheGeneratorMakes(t *testing.T) {
	for name, want := range syntheticFiles(t) {
		path := filepath.Join(folder, name)
		if *update {
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !sameNumbers(t, name, got, want) {
			t.Errorf("%s is not what the generator makes: run go test ./internal/study/trace -run Synthetic -update", name)
		}
	}
}

// sameNumbers compares what the files hold: the last digit may differ from one
// processor to the next.
func sameNumbers(t *testing.T, name string, got, want []byte) bool {
	if strings.HasSuffix(name, ".wav") {
		a, errA := measured.ReadWAV(bytes.NewReader(got), 0)
		b, errB := measured.ReadWAV(bytes.NewReader(want), 0)
		if errA != nil || errB != nil || len(a.Samples) != len(b.Samples) {
			t.Errorf("%s: %v, %v", name, errA, errB)
			return false
		}
		for i := range a.Samples {
			if math.Abs(a.Samples[i]-b.Samples[i]) > 1e-6 {
				return false
			}
		}
		return true
	}
	a, errA := measured.ReadText(bytes.NewReader(got))
	b, errB := measured.ReadText(bytes.NewReader(want))
	if errA != nil || errB != nil || len(a.Frequency) != len(b.Frequency) {
		t.Errorf("%s: %v, %v", name, errA, errB)
		return false
	}
	for i := range a.Frequency {
		if math.Abs(a.Level[i]-b.Level[i]) > 0.011 || math.Abs(math.Remainder(a.Phase[i]-b.Phase[i], 2*math.Pi)) > 0.002 {
			return false
		}
	}
	return true
}
