package designfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/optional"
)

const driverText = `title = "Ten-inch from the shelf (invented)"
size = "10 in"
fs   = "44 Hz"
qes  = 0.4
qms  = 5.5
vas  = "50 L"
re   = "5.6 ohm"
sd   = "330 cm2"
xmax = "6 mm"
cost = 87.5
`

const designText = `[woofer]
file = "drivers/ten.toml"
fs = "50 Hz"
[enclosure]
volume = "30 L"
`

// folder writes files and returns their folder.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// The path is relative to the design file; keys of the design file go before
// those of the driver file, and settings before both.
func TestDesignTakesItsDriverFile(t *testing.T) {
	dir := folder(t, map[string]string{"box.toml": designText, "drivers/ten.toml": driverText, "drivers/other.toml": "[woofer]\nfs = \"60 Hz\"\nqes = 0.5\n"})
	name := filepath.Join(dir, "box.toml")
	f, err := Load(t.Context(), name, []string{"woofer.qes=0.45"})
	if err != nil {
		t.Fatal(err)
	}
	w := &f.Design.Woofer
	if w.Fs.Value() != 50 || w.Qes.Value() != 0.45 || w.Qms.Value() != 5.5 || w.Title != "Ten-inch from the shelf (invented)" || f.Design.Cost.Woofer.Value() != 87.5 {
		t.Errorf("woofer %+v, cost %g", w, f.Design.Cost.Woofer.Value())
	}
	if f, err = Load(t.Context(), name, []string{"woofer.file=drivers/other.toml"}); err != nil {
		t.Fatal(err)
	}
	if w := &f.Design.Woofer; w.Fs.Value() != 50 || w.Qes.Value() != 0.5 || w.Title != "" {
		t.Errorf("another file: %+v", w)
	}
}

// A driver file serves the mids as well: its values become those of [mid].
func TestMidsTakeADriverFile(t *testing.T) {
	dir := folder(t, map[string]string{"box.toml": "[mid]\nfile = \"drivers/ten.toml\"\nper_box = 2\nqes = 0.6\n", "drivers/ten.toml": driverText,
		"drivers/large.toml": "size = \"27 in\"\n"})
	name := filepath.Join(dir, "box.toml")
	f, err := Load(t.Context(), name, nil)
	if err != nil {
		t.Fatal(err)
	}
	d := &f.Design
	if m := &d.Mid; m.Qes.Value() != 0.6 || m.Qms.Value() != 5.5 || m.Title != "Ten-inch from the shelf (invented)" || d.Cost.Mid.Value() != 87.5 || d.Woofer.Qms.Given() {
		t.Errorf("mid %+v, woofer %+v, cost %g", m, d.Woofer, d.Cost.Mid.Value())
	}
	// What fits a woofer need not fit a mid.
	if _, err := Load(t.Context(), name, []string{"mid.file=drivers/large.toml"}); err == nil || !strings.Contains(err.Error(), "mid.size is 686 mm") {
		t.Errorf("a mid of 27 in: %v", err)
	}
}

func TestFaultsOfDriverFiles(t *testing.T) {
	for name, c := range map[string]struct {
		driver string
		want   []string
	}{
		"unknown key":   {"fs = \"44 Hz\"\n\nqess = 0.4\n", []string{"ten.toml:3: qess is not a key of a driver file (did you mean qes?)"}},
		"design's key":  {"per_box = 2\n", []string{"ten.toml:1: per_box is not a key", "belongs into the design file"}},
		"bare number":   {"fs = 44\n", []string{"ten.toml:1: fs is the bare number 44"}},
		"out of range":  {"[woofer]\nfs = \"9 kHz\"\n", []string{"ten.toml:2: woofer.fs is 9000 Hz"}},
		"twice":         {"fs = \"44 Hz\"\n[woofer]\nfs = \"45 Hz\"\n", []string{"ten.toml:3: woofer.fs is given twice"}},
		"two faults":    {"fs = 44\nqes = \"x\"\n", []string{"ten.toml:1: fs", "ten.toml:2: qes"}},
		"syntax":        {"fs = \n", []string{"ten.toml:1: "}},
		"empty":         {"\n", []string{"box.toml:2: woofer.file", "is empty"}},
		"title alone":   {"title = \"x\"\n", []string{"box.toml:2: woofer.file", "gives no parameter"}},
		"not a text":    {"\xff\xfe\x00", []string{"is not a text file"}},
		"missing file":  {"", []string{"box.toml:2: woofer.file", "no such file"}},
		"wrong literal": {"power = true\n", []string{"ten.toml:1: power is true"}},
	} {
		files := map[string]string{"box.toml": designText, "drivers/ten.toml": c.driver}
		if name == "missing file" {
			delete(files, "drivers/ten.toml")
		}
		_, err := Load(t.Context(), filepath.Join(folder(t, files), "box.toml"), nil)
		if err == nil {
			t.Errorf("%s: accepted", name)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q does not say %q", name, err, w)
			}
		}
	}
}

func TestPutReplacesTheDriver(t *testing.T) {
	w, err := ParseDriver("ten.toml", []byte(driverText))
	if err != nil {
		t.Fatal(err)
	}
	d := design.New()
	d.Woofer.Bl, d.Woofer.PerBox, d.Woofer.Wiring, d.Cost.Woofer = optional.Of(12), 2, driver.Series, optional.Of(40)
	w.Put(&d)
	if d.Woofer.Bl.Value() == 12 || d.Woofer.PerBox != 2 || d.Woofer.Wiring != driver.Series || d.Woofer.Vas.Value() != 0.05 || d.Cost.Woofer.Value() != 87.5 {
		t.Errorf("%+v", d.Woofer)
	}
}

// Every key that a driver file may hold exists and belongs to the driver.
func TestDriverKeysExist(t *testing.T) {
	for _, leaf := range DriverKeys {
		if driverKey(leaf) == nil {
			t.Errorf("%s is no key", leaf)
		}
	}
}

func FuzzParseDriver(f *testing.F) {
	f.Add([]byte(driverText))
	f.Add([]byte("[woofer]\nfs = \"60 Hz\"\nfs = 3"))
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := ParseDriver("fuzz.toml", data)
		if (d == nil) != (err != nil) {
			t.Errorf("driver %v, error %v", d, err)
		}
	})
}

// A driver file for mids takes what [mid] takes: the table of keys lets mids resonate up to
// 5 kHz and woofers up to 2 kHz.
func TestDriverFileForMidsHasTheRangesOfMids(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"small.toml": "fs = \"3 kHz\"\n", "box.toml": "[mid]\nsize = \"80 mm\"\nfile = \"small.toml\"\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	f, err := Load(t.Context(), filepath.Join(dir, "box.toml"), nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := f.Design.Mid.Fs.Value(); got != 3000 {
		t.Errorf("fs = %v, want 3000", got)
	}
	_, err = Load(t.Context(), filepath.Join(dir, "box.toml"), []string{"mid.file=", "woofer.size=200mm", "woofer.file=small.toml"})
	if err == nil || !strings.Contains(err.Error(), "small.toml:1: fs is") {
		t.Errorf("a woofer of 3 kHz: %v", err)
	}
}
