package wavecache

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"path/filepath"

	"gapline/cabinet/outside"
	"gapline/cabinet/pattern"
	"gapline/internal/numeric"
	"gapline/internal/openfile"
	"gapline/internal/wholefile"
	"gapline/waveguide/wave"
)

// maxPattern is the largest file of a pattern that is read, bytes: one box at thirty
// frequencies takes some hundred thousand.
const maxPattern = 64 << 20

// PatternOf is all that the pattern of one box depends on.
type PatternOf struct {
	Geometry outside.Geometry
	Driven   outside.Driven
	Bare     bool   // without the design's insert
	Boxes    int    // it is the middle one of so many
	Circuit  string // of the drivers, in words that hold every digit; empty: cones move alike
}

// Pattern is what one box radiates all round, as a run of the wave level found it.
type Pattern struct {
	*pattern.Pattern         // phases count from the middle of the box's front
	Volts            float64 // at the terminals; NaN: the level is not known
	Run              string  // digest of the file
}

// patternEntry is a stored pattern.
type patternEntry struct {
	Version   int       `json:"version"`
	Key       string    `json:"key"`
	Volts     *float64  `json:"volts,omitempty"`
	Rings     int       `json:"rings"`
	Frequency []float64 `json:"frequency_hz"`
	Pressure  string    `json:"pressure"` // singles, little endian, in base 64: real and imaginary parts, direction by direction, frequency by frequency

	Digest string `json:"sha256"` // of the other fields, as JSON
}

func (e patternEntry) digest() (string, error) {
	e.Digest = ""
	data, err := json.Marshal(e)
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]), err
}

func (s Store) patternPath(key string) string { return filepath.Join(s.dir, "pattern-"+key+".json") }

// Pattern returns the stored pattern of a box in its air; nil where there is none. warn, unless
// nil, is told of a file that is there and is not used.
func (s Store) Pattern(ctx context.Context, of PatternOf, a wave.Air, warn func(error)) *Pattern {
	if s.dir == "" {
		return nil
	}
	key := keyOf(of, a)
	p, err := s.readPattern(ctx, key)
	if err != nil {
		if warn != nil && !errors.Is(err, fs.ErrNotExist) {
			warn(fmt.Errorf("%s %w; it is ignored: run gapline wave again", s.patternPath(key), err))
		}
		return nil
	}
	return p
}

func (s Store) readPattern(ctx context.Context, key string) (*Pattern, error) {
	data, err := openfile.ReadAll(ctx, s.patternPath(key), "a stored pattern", maxPattern)
	if err != nil {
		return nil, err
	}
	var e patternEntry
	if json.Unmarshal(data, &e) != nil || e.Version != version || e.Key != key || e.Volts != nil && !(*e.Volts > 0) {
		return nil, errNotARun
	}
	if want, err := e.digest(); err != nil || e.Digest != want {
		return nil, errors.New("was altered since gapline wave stored it")
	}
	raw, err := base64.StdEncoding.DecodeString(e.Pressure)
	if err != nil || e.Rings < 1 || len(e.Frequency) == 0 || len(raw) != 8*len(e.Frequency)*(e.Rings+1)*2*e.Rings {
		return nil, errNotARun
	}
	out := &Pattern{Pattern: &pattern.Pattern{Frequency: e.Frequency, Rings: e.Rings, Smooth: true}, Volts: numeric.Absent, Run: e.Digest}
	if e.Volts != nil {
		out.Volts = *e.Volts
	}
	single := func() float64 {
		x := math.Float32frombits(binary.LittleEndian.Uint32(raw))
		raw = raw[4:]
		return float64(x)
	}
	for range e.Frequency {
		row := make([]complex128, (e.Rings+1)*2*e.Rings)
		for i := range row {
			re := single()
			row[i] = complex(re, single())
		}
		out.Pressure = append(out.Pressure, row)
	}
	if err := out.Validate(); err != nil {
		return nil, errNotARun
	}
	return out, nil
}

// PutPattern stores the pattern of a box in its air, with the volts at its terminals, NaN where its
// level is not known. Runs coarser than third octaves are not kept, and a stored one whose range
// holds this one's, as fine or finer, stays.
func (s Store) PutPattern(ctx context.Context, of PatternOf, a wave.Air, p *pattern.Pattern, volts float64) error {
	n := len(p.Frequency)
	if s.dir == "" || n < 2 || density(p.Frequency) < leastPerOctave*(1-1e-6) {
		return nil
	}
	e := &patternEntry{Version: version, Key: keyOf(of, a), Rings: p.Rings, Frequency: p.Frequency}
	if old, err := s.readPattern(ctx, e.Key); err == nil && holds(old.Frequency, p.Frequency) {
		return nil
	}
	if numeric.Given(volts) {
		e.Volts = &volts
	}
	raw := make([]byte, 0, 8*n*len(p.Pressure[0]))
	for _, row := range p.Pressure {
		for _, x := range row {
			raw = binary.LittleEndian.AppendUint32(raw, math.Float32bits(float32(real(x))))
			raw = binary.LittleEndian.AppendUint32(raw, math.Float32bits(float32(imag(x))))
		}
	}
	e.Pressure = base64.StdEncoding.EncodeToString(raw)
	var err error
	if e.Digest, err = e.digest(); err != nil {
		return err
	}
	data, err := json.MarshalIndent(e, "", "  ")
	if err != nil {
		return err
	}
	if len(data) >= maxPattern {
		return fmt.Errorf("its pattern takes %d MB, more than the %d MB that are kept", len(data)>>20, maxPattern>>20)
	}
	if err := s.makeFolder(); err != nil {
		return err
	}
	return wholefile.Write(s.patternPath(e.Key), append(data, '\n'))
}

// density is how many frequencies there are to the octave.
func density(f []float64) float64 {
	return float64(len(f)-1) / math.Log2(f[len(f)-1]/f[0])
}

// holds reports whether a run over frequencies a serves wherever one over b does.
func holds(a, b []float64) bool {
	const slack = 1 + 1e-9
	return a[0] <= b[0]*slack && a[len(a)-1]*slack >= b[len(b)-1] && density(a)*(1+1e-6) >= density(b)
}
