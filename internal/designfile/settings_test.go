package designfile

import (
	"strings"
	"testing"

	"gapline/cabinet/design"
)

const plainDesign = `title = "plain"
[cabinet]
height = "240 mm"
width  = "600 mm"
gap    = "10 mm"
[line]
boxes = 3
splay = ["1 deg", "2 deg"]
[horn]
coverage    = "90 deg"
mouth_width = "300 mm"
`

func TestSettingsReplaceTheFile(t *testing.T) {
	f, err := Parse("d.toml", []byte(plainDesign), []string{
		"cabinet.height=9in", " cabinet.gap = 0.5 in ", "line.boxes=1", "line.splay=", "targets.coupling=lobe",
		"title=a = b", "woofer.qes=0.4", "fold.virtual_path=flat",
	})
	if err != nil {
		t.Fatal(err)
	}
	d := &f.Design
	// 1 in = 25.4 mm by definition.
	if got := d.Pitch(); !near(got, 9.5*0.0254) {
		t.Errorf("pitch = %v, want 9.5 in", got)
	}
	if d.Line.Boxes != 1 || len(d.Line.Splay) != 0 || d.Targets.Coupling != design.Lobe || d.Title != "a = b" || d.Woofer.Qes.Value() != 0.4 {
		t.Errorf("settings not in place: %+v", d)
	}
	if !f.Given("fold.virtual_path") || f.Given("fold.layer") {
		t.Error("Given does not follow the settings")
	}
	if d.Horn.MouthWidth.Value() != 0.3 {
		t.Error("a key without a setting changed")
	}
}

// The last of two settings of a key holds, as with every repeated flag.
func TestLastSettingHolds(t *testing.T) {
	f, err := Parse("d.toml", []byte(plainDesign), []string{"cabinet.height=200mm", "cabinet.height=210mm"})
	if err != nil || f.Design.Cabinet.Height.Value() != 0.21 {
		t.Errorf("height = %v, %v", f.Design.Cabinet.Height.Value(), err)
	}
}

func TestBrokenSettings(t *testing.T) {
	for _, c := range []struct{ setting, want string }{
		{"cabinet.height", `--set: "cabinet.height" is not of the form KEY=VALUE`},
		{"", `--set: "" is not of the form KEY=VALUE`},
		{"=3", `--set: "=3" is not of the form KEY=VALUE`},
		{"cabinet.hieght=1m", "--set: cabinet.hieght is an unknown key (did you mean cabinet.height?)"},
		{"cabinet.height=230", `--set: cabinet.height = "230": 230 has no unit: a length is needed, in mm, cm, m, in, ft`},
		{"cabinet.height=", `--set: cabinet.height = "": empty: a number with a unit is needed`},
		{"cabinet.height=9m", "--set: cabinet.height is 9000 mm: between 30 mm and 3 m is needed"},
		{"line.boxes=two", `--set: line.boxes = "two": a whole number from 1 to 100 is needed`},
		{"line.boxes=2.0", `--set: line.boxes = "2.0": a whole number from 1 to 100 is needed`},
		{"line.boxes=101", "--set: line.boxes is 101: between 1 and 100 is needed"},
		{"line.splay=1deg,x", `--set: line.splay entry 2 = "x" does not start with a number`},
		{"targets.coupling=Lobe", `--set: targets.coupling is "Lobe": one of "half-wave", "lobe" is needed (did you mean "lobe"?)`},
		// What contradicts the file is put down to the setting, not to the file's line.
		{"cabinet.rear_height=300mm", "--set: cabinet.rear_height is 300 mm, more than cabinet.height of 240 mm: a cabinet tapers towards its rear"},
		{"line.splay=1deg,2deg,3deg", "--set: line.splay has 3 angles, but line.boxes is 3: 2 are needed, one for each pair of neighbours"},
	} {
		_, err := Parse("d.toml", []byte(plainDesign), []string{c.setting})
		if err == nil || err.Error() != c.want {
			t.Errorf("--set %s:\ngot  %v\nwant %s", c.setting, err, c.want)
		}
	}
}

// Faults of settings and of the file come together, and a file that TOML cannot
// read is reported before any setting.
func TestSettingsAndFileFaultsTogether(t *testing.T) {
	_, err := Parse("d.toml", []byte("[cabinet]\nheight = 3\n"), []string{"nonsense", "a=b"})
	if got := strings.Count(err.Error(), "\n") + 1; got != 3 {
		t.Errorf("%d problems, want 3:\n%v", got, err)
	}
}

// A setting of pitch moves the height where the height gives the pitch: the gap
// between boxes stays.
func TestSettingOfPitch(t *testing.T) {
	f, err := Parse("d.toml", []byte(plainDesign), []string{"cabinet.pitch=260 mm"})
	if err != nil {
		t.Fatal(err)
	}
	if d := &f.Design; !near(d.Cabinet.Height.Value(), 0.25) || !near(d.Pitch(), 0.26) || d.Cabinet.Pitch.Given() {
		t.Errorf("height %v, pitch %v (given %v)", d.Cabinet.Height.Value(), d.Pitch(), d.Cabinet.Pitch.Value())
	}
}

func near(got, want float64) bool { return got >= want-1e-12 && got <= want+1e-12 }
