package designfile

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// sparse makes a file of the given size that takes no room on the disk.
func sparse(t *testing.T, size int64) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "large.toml")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.Truncate(size); err != nil {
		t.Fatal(err)
	}
	return name
}

func TestLoadRefusesWhatIsNotADesignFile(t *testing.T) {
	dir := t.TempDir()
	empty := filepath.Join(dir, "empty.toml")
	binary := filepath.Join(dir, "binary.toml")
	for name, data := range map[string]string{empty: "", binary: "\x7fELF\x00\x01\xff"} {
		if err := os.WriteFile(name, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	missing := filepath.Join(dir, "missing.toml")
	large := sparse(t, 100<<20)
	for name, want := range map[string]string{
		dir:     "is a folder: a design file is needed",
		missing: "no such file (gapline new FILE writes a starter)",
		empty:   "is empty (gapline new FILE writes a starter)",
		binary:  "is not a text file: a design file is TOML in UTF-8",
		large:   "is 100.0 MB: a design file has at most 1 MB",
		"":      "no such file (gapline new FILE writes a starter)",
	} {
		_, err := Load(t.Context(), name, nil)
		var problems Problems
		if !errors.As(err, &problems) {
			t.Errorf("%s: error %v is not a list of problems", name, err)
			continue
		}
		if name == "" {
			name = `""`
		}
		if err.Error() != name+": "+want {
			t.Errorf("got  %v\nwant %s: %s", err, name, want)
		}
	}
}

// A source without an end is refused, not read.
func TestLoadRefusesADevice(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("needs /dev/zero")
	}
	_, err := Load(t.Context(), "/dev/zero", nil)
	if err == nil || err.Error() != "/dev/zero: is a device: a design file is needed, in a regular file or on standard input" {
		t.Errorf("got %v", err)
	}
}

func TestLoadReadsAFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "plain.toml")
	if err := os.WriteFile(name, []byte(plainDesign), 0o644); err != nil {
		t.Fatal(err)
	}
	f, err := Load(t.Context(), name, []string{"line.boxes=1", "line.splay="})
	if err != nil || f.Name != name || f.Design.Line.Boxes != 1 || f.Design.Title != "plain" {
		t.Errorf("got %+v, %v", f, err)
	}
}

func TestParseBoundsItsText(t *testing.T) {
	_, err := Parse("d.toml", make([]byte, MaxSize+1), nil)
	if err == nil || !strings.HasPrefix(err.Error(), "d.toml: is 1.0 MB") {
		t.Errorf("got %v", err)
	}
}

// The starters are what their texts say: an open gap, and two designs in which
// it is closed. Their limits follow by hand from the files, c/(2·s) for centres
// s apart and 25 400/(W·θ) for a mouth of W m and θ degrees:
//
//	hatch         s = 272 mm                     W = 0.33 m: 905.5 Hz
//	hatch-insert  s = 136 mm, or its chamber     W = 0.33 m
//	hatch-mids    s = 68 mm, four in each box    W = 0.25 m: 1195.3 Hz
//
// c at 24 °C is 331.3 + 0.606·24 = 345.8 m/s dry, and up to 0.4 % more damp.
func TestStartersAreWhatTheySay(t *testing.T) {
	for i, c := range []struct {
		name, doc      string
		spacing, width float64
		open           bool
	}{
		{"hatch", "open crossover gap", 0.272, 0.33, true},
		{"hatch-insert", "closes it", 0.136, 0.28, false},
		{"hatch-mids", "close it", 0.092, 0.25, false},
	} {
		if Starters[i].Name != c.name || !strings.Contains(Starters[i].Doc, c.doc) {
			t.Errorf("starter %d is %+v, want %s: …%s", i, Starters[i], c.name, c.doc)
		}
		f, err := LoadStarter(c.name, nil)
		if err != nil {
			t.Errorf("%s has problems: %v", c.name, err)
			continue
		}
		s := sized(f)
		if c := s.Air.SoundSpeed; c < 345.8 || c > 345.8*1.004 {
			t.Errorf("c = %v", c)
		}
		limit := s.Air.SoundSpeed / (2 * c.spacing)
		if got := s.Gap.Low; got > limit*(1+1e-12) || !s.Coupling.HasInsert && got < limit*(1-1e-12) {
			t.Errorf("%s couples to %v Hz, want %v", c.name, got, limit)
		}
		if want := 25400 / (c.width * 85); math.Abs(s.Gap.High-want) > 1e-9*want {
			t.Errorf("%s: horn from %v Hz, want %v", c.name, s.Gap.High, want)
		}
		if gap := s.Gap.AsGiven(); (gap > 0) != c.open {
			t.Errorf("%s: gap %.2f oct, open should be %v", c.name, gap, c.open)
		}
		if text, _ := StarterText(c.name); !strings.Contains(string(text), "Everything in it is invented.") {
			t.Errorf("%s does not say that it is invented", c.name)
		}
	}
	if _, err := LoadStarter("none", nil); err == nil || !strings.Contains(err.Error(), "hatch, hatch-insert, hatch-mids") {
		t.Errorf("an unknown starter gives %v", err)
	}
}
