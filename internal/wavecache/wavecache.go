// Package wavecache keeps the figures of runs of the wave level beside the
// design file, so that commands that do not solve can show them.
//
// The folder .gapline-cache holds one small JSON file for each geometry, named
// by a hash of everything that enters the solution but the choice of
// frequencies: outline, air, exit and version of the solver. A design that has
// changed has another name and finds nothing. The folder may be deleted at any
// time. Each file carries a digest of what it says; one that was altered, cannot be
// read or makes no sense counts as absent, and the caller is told.
package wavecache

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"

	"gapline/cabinet/design"
	"gapline/cabinet/outside"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/numeric"
	"gapline/internal/openfile"
	"gapline/internal/wholefile"
	"gapline/waveguide/wave"
)

// Folder is the name of the cache beside the design file.
const Folder = ".gapline-cache"

// version is that of the solver and of the file's form. It rises when either
// changes what a stored figure would be.
const version = 6

// leastPerOctave is how fine a run must be to be kept: third octaves. Between
// points farther apart a limit is not to be interpolated.
const leastPerOctave = 3

// maxSize is the largest file that is read, bytes; a stored run takes a few
// hundred.
const maxSize = 4096

// Store is the cache of one folder of designs.
type Store struct{ dir string }

// Beside returns the cache beside a design file; the empty name has none.
func Beside(file string) Store {
	if file == "" {
		return Store{}
	}
	return Store{filepath.Join(filepath.Dir(file), Folder)}
}

// Exists reports whether anything was stored.
func (s Store) Exists() bool {
	if s.dir == "" {
		return false
	}
	info, err := os.Stat(s.dir)
	return err == nil && info.IsDir()
}

// entry is one stored run.
type entry struct {
	Version   int     `json:"version"`
	Key       string  `json:"key"`
	From      float64 `json:"from_hz"`
	To        float64 `json:"to_hz"`
	PerOctave float64 `json:"per_octave"`

	Pattern     *float64 `json:"pattern_hz,omitempty"`
	PatternFrom *float64 `json:"pattern_from_hz,omitempty"`
	PatternTo   *float64 `json:"pattern_to_hz,omitempty"`
	Narrowest   *float64 `json:"narrowest_rad,omitempty"`
	NarrowestAt *float64 `json:"narrowest_hz,omitempty"`
	FallsTo     *float64 `json:"falls_to_hz,omitempty"`
	FlatTo      *float64 `json:"flat_to_hz,omitempty"`
	FlatBeyond  *float64 `json:"flat_beyond_hz,omitempty"`

	Lobe        *float64 `json:"lobe_hz,omitempty"`
	LobeFrom    *float64 `json:"lobe_from_hz,omitempty"`
	LobeTo      *float64 `json:"lobe_to_hz,omitempty"`
	Chamber     *float64 `json:"chamber_hz,omitempty"`
	ChamberFrom *float64 `json:"chamber_from_hz,omitempty"`
	ChamberTo   *float64 `json:"chamber_to_hz,omitempty"`
	Part        *float64 `json:"part_hz,omitempty"`
	PartFrom    *float64 `json:"part_from_hz,omitempty"`
	PartTo      *float64 `json:"part_to_hz,omitempty"`
	FrontTo     *float64 `json:"front_to_hz,omitempty"`

	Digest string `json:"sha256"` // of the other fields, as JSON
}

// digest is what the entry's Digest must be.
func (e entry) digest() (string, error) {
	e.Digest = ""
	data, err := json.Marshal(e)
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]), err
}

// fields lists the entry's figures beside those of a sizing.
func (e *entry) fields(s *sizing.WaveSizing) map[**float64]*float64 {
	return map[**float64]*float64{
		&e.Pattern: &s.Pattern, &e.PatternFrom: &s.PatternFrom, &e.PatternTo: &s.PatternTo, &e.Narrowest: &s.Narrowest, &e.NarrowestAt: &s.NarrowestAt, &e.FallsTo: &s.FallsTo,
		&e.FlatTo: &s.FlatTo, &e.FlatBeyond: &s.FlatBeyond,
		&e.Lobe: &s.Lobe, &e.LobeFrom: &s.LobeFrom, &e.LobeTo: &s.LobeTo,
		&e.Chamber: &s.Chamber, &e.ChamberFrom: &s.ChamberFrom, &e.ChamberTo: &s.ChamberTo,
		&e.Part: &s.Part, &e.PartFrom: &s.PartFrom, &e.PartTo: &s.PartTo, &e.FrontTo: &s.FrontTo,
	}
}

// keyOf names a geometry in its air. The Go syntax of a value holds every digit.
func keyOf(geometry any, a wave.Air) string {
	h := sha256.New()
	fmt.Fprintf(h, "%d %#v %#v", version, geometry, a)
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// Figures returns what stored runs say about the design, absent where there is
// none. It costs a stat when there is no cache, a small read for each section
// otherwise. warn, unless nil, is told of each file that is there and is not
// used.
func (s Store) Figures(ctx context.Context, d *design.Design, warn func(error)) sizing.WaveSizing {
	out := sizing.AbsentWave
	if !s.Exists() {
		return out
	}
	if p, faults := section.PlanOf(d, section.ByHorn); len(faults) == 0 {
		s.add(ctx, &out, keyOf(p, section.Air(d)), warn)
	}
	if _, g, faults := section.Fold(d, wave.Matched); len(faults) == 0 {
		s.add(ctx, &out, keyOf(g, section.Air(d)), warn)
	}
	s.add(ctx, &out, keyOf(outside.GeometryOf(d), section.Air(d)), warn)
	return out
}

// add takes over the figures of one stored run.
func (s Store) add(ctx context.Context, out *sizing.WaveSizing, key string, warn func(error)) {
	e, err := s.read(ctx, key)
	if err != nil {
		if warn != nil && !errors.Is(err, fs.ErrNotExist) {
			warn(fmt.Errorf("%s %w; it is ignored: run gapline wave again", s.path(key), err))
		}
		return
	}
	for from, to := range e.fields(out) {
		if *from != nil {
			*to = **from
		}
	}
	if e.Pattern != nil {
		out.Run = e.Digest
	}
}

// errNotARun says that a file is not what Put writes.
var errNotARun = errors.New("is not a run that gapline wave stored")

// read returns a stored run, or an error when there is none that makes sense.
func (s Store) read(ctx context.Context, key string) (*entry, error) {
	data, err := openfile.ReadAll(ctx, s.path(key), "a stored run", maxSize)
	if err != nil {
		return nil, err
	}
	var e entry
	if json.Unmarshal(data, &e) != nil || e.Version != version || e.Key != key {
		return nil, errNotARun
	}
	for v := range e.fields(new(sizing.WaveSizing)) {
		if *v != nil && !(**v > 0) {
			return nil, errNotARun
		}
	}
	if want, err := e.digest(); err != nil || e.Digest != want {
		return nil, errors.New("was altered since gapline wave stored it")
	}
	return &e, nil
}

func (s Store) path(key string) string { return filepath.Join(s.dir, key+".json") }

// Put stores the figures of a run over the given frequencies, Hz, ascending, of
// a geometry, which is a wave.Plan, a wave.Fold or an outside.Geometry, in its air. Runs that found
// nothing or were coarser than third octaves are not kept, and a stored run that
// knows more, or was finer, stays.
func (s Store) Put(ctx context.Context, geometry any, a wave.Air, frequencies []float64, figures sizing.WaveSizing) error {
	if s.dir == "" || len(frequencies) < 2 {
		return nil
	}
	low, high := frequencies[0], frequencies[len(frequencies)-1]
	e := &entry{
		Version: version, Key: keyOf(geometry, a), From: low, To: high,
		PerOctave: float64(len(frequencies)-1) / math.Log2(high/low),
	}
	for to, from := range e.fields(&figures) {
		if numeric.Given(*from) {
			v := *from
			*to = &v
		}
	}
	if e.answers() == 0 || e.PerOctave < leastPerOctave*(1-1e-6) {
		return nil
	}
	if old, err := s.read(ctx, e.Key); err == nil && old.better(e) {
		return nil
	}
	var err error
	if e.Digest, err = e.digest(); err != nil {
		return err
	}
	data, err := json.MarshalIndent(e, "", "  ")
	if err != nil {
		return err
	}
	if err := s.makeFolder(); err != nil {
		return err
	}
	return wholefile.Write(s.path(e.Key), append(data, '\n'))
}

// better reports whether the run e should stay when f has been done: it answers
// more, or as much and more finely.
func (e *entry) better(f *entry) bool {
	if a, b := e.answers(), f.answers(); a != b {
		return a > b
	}
	return e.PerOctave > f.PerOctave*(1+1e-6)
}

// answers counts the figures; a front flat beyond a higher frequency is more
// than one flat beyond a lower one, and a found limit more than either. The
// narrowest width of a run that goes further up is more too.
func (e *entry) answers() float64 {
	n := 0.0
	upTo := func(f float64) float64 { return f / (1e6 + f) }
	for _, v := range []*float64{e.Pattern, e.FlatTo, e.Lobe, e.Chamber, e.Part} {
		if v != nil {
			n++
		}
	}
	if e.Narrowest != nil || e.FrontTo != nil {
		n += upTo(e.To)
	}
	if e.FlatTo == nil && e.FlatBeyond != nil {
		n += upTo(*e.FlatBeyond)
	}
	return n
}

// readme stands in the folder for whoever finds it.
const readme = "Figures and patterns of runs of gapline wave, for size and other commands to show.\nSafe to delete.\n"

func (s Store) makeFolder() error {
	if err := os.MkdirAll(s.dir, 0o777); err != nil {
		return err
	}
	path := filepath.Join(s.dir, "README.txt")
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return wholefile.Write(path, []byte(readme))
}
