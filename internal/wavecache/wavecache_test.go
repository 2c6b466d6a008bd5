package wavecache

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/bem"
	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/waveguide/wave"
)

// box is an invented design with a horn and a fold.
func box() design.Design {
	d := design.New()
	d.Cabinet.Width, d.Cabinet.Depth = optional.Of(0.62), optional.Of(0.43)
	d.Horn.Coverage, d.Horn.MouthWidth, d.Horn.MouthHeight, d.Horn.Throat = optional.Of(1.5), optional.Of(0.33), optional.Of(0.258), optional.Of(0.036)
	d.Fold.ThroatToWall, d.Fold.VirtualPath, d.Fold.Layer = optional.Of(0.11), optional.Of(1.2), optional.Of(0.014)
	d.Bands.Horn.Offset = optional.Of(0)
	return d
}

// steps returns frequencies n to the octave over the given octaves above low.
func steps(low float64, octaves, n int) []float64 {
	return bem.LogFrequencies(low, low*math.Exp2(float64(octaves)), octaves*n+1)
}

var band = steps(250, 3, 3)

func planFigures(pattern float64) sizing.WaveSizing {
	w := sizing.AbsentWave
	w.Pattern, w.Narrowest, w.NarrowestAt = pattern, 1.1, 2*pattern
	return w
}

// figures reads the cache, in which nothing is to be wrong.
func figures(t testing.TB, s Store, d *design.Design) sizing.WaveSizing {
	t.Helper()
	return s.Figures(t.Context(), d, func(err error) { t.Errorf("warned: %v", err) })
}

func putPlan(t *testing.T, s Store, d design.Design, f []float64, w sizing.WaveSizing) {
	t.Helper()
	p, faults := section.PlanOf(&d, section.ByHorn)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if err := s.Put(t.Context(), p, section.Air(&d), f, w); err != nil {
		t.Fatal(err)
	}
}

// files lists the stored runs.
func files(t *testing.T, s Store) []string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(s.dir, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestRoundTrip(t *testing.T) {
	s := Beside(filepath.Join(t.TempDir(), "box.toml"))
	d := box()
	if got := figures(t, s, &d); numeric.Given(got.Pattern) {
		t.Errorf("no cache yet, and pattern control is %g Hz", got.Pattern)
	}
	putPlan(t, s, d, band, planFigures(1173.25))
	_, g, faults := section.Fold(&d, wave.Matched)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	flat := sizing.AbsentWave
	flat.FlatTo = 12345.5
	if err := s.Put(t.Context(), g, section.Air(&d), band, flat); err != nil {
		t.Fatal(err)
	}
	got := figures(t, s, &d)
	if got.Pattern != 1173.25 || got.Narrowest != 1.1 || got.NarrowestAt != 2346.5 || got.FlatTo != 12345.5 || !math.IsNaN(got.FlatBeyond) {
		t.Errorf("read back %+v", got)
	}
	if text, err := os.ReadFile(filepath.Join(s.dir, "README.txt")); err != nil || !strings.Contains(string(text), "Safe to delete") {
		t.Errorf("README.txt: %q, %v", text, err)
	}
}

func TestChangedDesignFindsNothing(t *testing.T) {
	s := Beside(filepath.Join(t.TempDir(), "box.toml"))
	putPlan(t, s, box(), band, planFigures(1173))
	for name, change := range map[string]func(*design.Design){
		"width": func(d *design.Design) { d.Cabinet.Width = optional.Of(d.Cabinet.Width.Value() + 1e-9) }, "coverage": func(d *design.Design) { d.Horn.Coverage = optional.Of(d.Horn.Coverage.Value() * 1.0001) },
		"air":    func(d *design.Design) { d.Air.Temperature += 0.1 },
		"radius": func(d *design.Design) { d.Section.EdgeRadius = optional.Of(0.01) },
		"slot":   func(d *design.Design) { d.Section.SlotWidth = optional.Of(0.03) },
	} {
		d := box()
		change(&d)
		if got := figures(t, s, &d); numeric.Given(got.Pattern) {
			t.Errorf("%s changed, and the old run still shows", name)
		}
	}
	d := box()
	d.Title, d.Woofer.Size, d.Line.Boxes = "another name", optional.Of(0.2), 9
	if got := figures(t, s, &d); got.Pattern != 1173 {
		t.Errorf("what does not enter the section changed, and the run is lost: %+v", got)
	}
}

func TestBrokenFilesAreIgnored(t *testing.T) {
	s := Beside(filepath.Join(t.TempDir(), "box.toml"))
	d := box()
	putPlan(t, s, d, band, planFigures(1173))
	path := files(t, s)[0]
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"empty": "", "cut off": string(good[:len(good)/2]), "not JSON": "\x00\xff", "array": "[1,2]",
		"large":         string(good) + strings.Repeat(" ", 8192),
		"wrong type":    strings.Replace(string(good), "1173", `"1173"`, 1),
		"another digit": strings.Replace(string(good), "1173", "1174", 1),
		"other range":   strings.Replace(string(good), `"from_hz": 250`, `"from_hz": 200`, 1),
		"no digest":     strings.Replace(string(good), `"sha256"`, `"md5"`, 1),
		"negative":      strings.Replace(string(good), "1173", "-1173", 1),
		"other version": strings.Replace(string(good), `"version": 6`, `"version": 99`, 1),
		"other design":  strings.Replace(string(good), `"key": "`, `"key": "0`, 1),
	} {
		if text == string(good) {
			t.Fatalf("%s: nothing was broken", name)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		var warned []string
		got := s.Figures(t.Context(), &d, func(err error) { warned = append(warned, err.Error()) })
		if numeric.Given(got.Pattern) || numeric.Given(got.Narrowest) {
			t.Errorf("%s: read as %+v", name, got)
		}
		if len(warned) != 1 || !strings.HasPrefix(warned[0], path+" ") || !strings.HasSuffix(warned[0], "; it is ignored: run gapline wave again") {
			t.Errorf("%s: warned %q", name, warned)
		}
	}
	putPlan(t, s, d, band, planFigures(900)) // mends it
	if got := figures(t, s, &d); got.Pattern != 900 {
		t.Errorf("after mending: %+v", got)
	}
	if err := os.RemoveAll(s.dir); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(s.dir, nil, 0o600); err != nil { // a file in the folder's place
		t.Fatal(err)
	}
	if got := figures(t, s, &d); numeric.Given(got.Pattern) {
		t.Errorf("no folder, and %+v", got)
	}
	p, _ := section.PlanOf(&d, section.ByHorn)
	if err := s.Put(t.Context(), p, section.Air(&d), band, planFigures(900)); err == nil {
		t.Error("writing into a file succeeds")
	}
}

func TestBetterRunStays(t *testing.T) {
	s := Beside(filepath.Join(t.TempDir(), "box.toml"))
	d := box()
	fine := steps(500, 2, 12)
	putPlan(t, s, d, fine, planFigures(1000))
	putPlan(t, s, d, band, planFigures(1001)) // coarser
	less := sizing.AbsentWave
	less.Pattern = 1002
	putPlan(t, s, d, fine, less)                         // knows less
	putPlan(t, s, d, []float64{1000}, planFigures(1003)) // no run to speak of
	putPlan(t, s, d, fine, sizing.AbsentWave)            // knows nothing
	if got := figures(t, s, &d); got.Pattern != 1000 {
		t.Errorf("stored %g Hz, want the finer run's 1000", got.Pattern)
	}
	putPlan(t, s, d, fine, planFigures(1004)) // as good and newer
	if got := figures(t, s, &d); got.Pattern != 1004 {
		t.Errorf("stored %g Hz, want the newer run's 1004", got.Pattern)
	}
}

// The narrowest width is that of the whole run: one that goes further up knows more,
// and that the width still falls at its end is kept with it.
func TestLongerRunKnowsTheNarrowestWidth(t *testing.T) {
	s := Beside(filepath.Join(t.TempDir(), "box.toml"))
	d := box()
	falling := planFigures(1000)
	falling.FallsTo = 2000
	putPlan(t, s, d, steps(500, 2, 12), planFigures(1000))
	putPlan(t, s, d, steps(500, 5, 6), falling)
	putPlan(t, s, d, steps(500, 3, 12), planFigures(1001)) // shorter
	if got := figures(t, s, &d); got.Pattern != 1000 || got.FallsTo != 2000 {
		t.Errorf("stored %+v, want the longest run's", got)
	}
}

func TestFlatBeyondGivesWayToALimit(t *testing.T) {
	s := Beside(filepath.Join(t.TempDir(), "box.toml"))
	d := box()
	_, g, _ := section.Fold(&d, wave.Matched)
	put := func(f []float64, w sizing.WaveSizing) {
		t.Helper()
		if err := s.Put(t.Context(), g, section.Air(&d), f, w); err != nil {
			t.Fatal(err)
		}
	}
	beyond := func(hz float64) sizing.WaveSizing { w := sizing.AbsentWave; w.FlatBeyond = hz; return w }
	put(band, beyond(2000))
	put(steps(250, 5, 3), beyond(8000)) // farther
	if got := figures(t, s, &d); got.FlatBeyond != 8000 {
		t.Errorf("flat beyond %g Hz, want 8000", got.FlatBeyond)
	}
	found := sizing.AbsentWave
	found.FlatTo = 12e3
	put(steps(250, 6, 3), found)
	put(band, beyond(2000))
	if got := figures(t, s, &d); got.FlatTo != 12e3 || numeric.Given(got.FlatBeyond) {
		t.Errorf("want a limit of 12 kHz alone, have %+v", got)
	}
}

func TestNoFileHasNoCache(t *testing.T) {
	d := box()
	if err := Beside("").Put(t.Context(), wave.Plan{}, section.Air(&d), band, planFigures(1)); err != nil {
		t.Error(err)
	}
	if got := figures(t, Beside(""), &d); numeric.Given(got.Pattern) {
		t.Errorf("%+v", got)
	}
}

func BenchmarkFigures(b *testing.B) {
	s := Beside(filepath.Join(b.TempDir(), "box.toml"))
	d := box()
	p, _ := section.PlanOf(&d, section.ByHorn)
	if err := s.Put(b.Context(), p, section.Air(&d), band, planFigures(1173)); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		figures(b, s, &d)
	}
}

func TestRunWithoutAnswersMakesNoFolder(t *testing.T) {
	s := Beside(filepath.Join(t.TempDir(), "box.toml"))
	putPlan(t, s, box(), band, sizing.AbsentWave)
	putPlan(t, s, box(), []float64{500, 1000, 2000}, planFigures(900)) // octaves apart
	if _, err := os.Stat(s.dir); err == nil {
		t.Error("a run that found nothing or little is stored")
	}
}
