package space

import (
	"math"
	"strconv"
	"testing"

	"gapline/internal/schema"

	"pgregory.net/rapid"
)

func values(a Axis) []schema.Value {
	var out []schema.Value
	for i := range a.Len() {
		out = append(out, a.At(i))
	}
	return out
}

func numbers(a Axis) []float64 {
	var out []float64
	for _, v := range values(a) {
		out = append(out, v.Number)
	}
	return out
}

// Values in SI, worked out by hand; 1 in = 25.4 mm, 0 °C = 273.15 K.
func TestParseAxis(t *testing.T) {
	const deg = math.Pi / 180
	for _, c := range []struct {
		text string
		want []float64
	}{
		{"cabinet.pitch=200mm:230mm:10mm", []float64{0.2, 0.21, 0.22, 0.23}},
		{"cabinet.pitch=200:230:10 mm", []float64{0.2, 0.21, 0.22, 0.23}},
		{"cabinet.pitch=20cm:230:10 mm", []float64{0.2, 0.21, 0.22, 0.23}},
		{"cabinet.pitch = 200mm:225mm:10mm", []float64{0.2, 0.21, 0.22}}, // TO between two steps
		{"cabinet.pitch=230mm:200mm:-10mm", []float64{0.23, 0.22, 0.21, 0.2}},
		{"cabinet.pitch=200mm:200mm:10mm", []float64{0.2}},
		{"cabinet.pitch=8in:9in:0.5in", []float64{0.2032, 0.2159, 0.2286}},
		{"cabinet.pitch=0.1m:1.1m:0.1m", []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1}}, // rounding keeps the end
		{"horn.coverage=60:120:30deg", []float64{60 * deg, 90 * deg, 120 * deg}},
		{"air.temperature=0:20:10 degC", []float64{273.15, 283.15, 293.15}}, // the step is a difference
		{"air.temperature=32:50:9 degF", []float64{273.15, 278.15, 283.15}},
		{"insert.mouths=1:4:1", []float64{1, 2, 3, 4}},
		{"insert.mouths=1,3,2", []float64{1, 3, 2}}, // order is kept
		{"woofer.qes=0.3,0.4", []float64{0.3, 0.4}},
		{"woofer.qes=0.3:0.5:0.1", []float64{0.3, 0.4, 0.5}},
		{"cabinet.pitch=200,230,254 mm", []float64{0.2, 0.23, 0.254}},
		{"cabinet.pitch=200mm, 9in,0.254 m", []float64{0.2, 0.2286, 0.254}},
		{"cabinet.pitch=9,10in", []float64{0.2286, 0.254}},
		{"air.temperature=-5,5 degC", []float64{268.15, 278.15}},
		{"line.tilt=−2,2 deg", []float64{-2 * deg, 2 * deg}},
		{"fold.virtual_path=flat,1m", []float64{math.Inf(1), 1}},
		{"air.humidity=30:50:10%", []float64{0.3, 0.4, 0.5}},
	} {
		a, err := ParseAxis(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		got := numbers(a)
		if len(got) != len(c.want) {
			t.Errorf("%s = %v, want %v", c.text, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] && math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%s = %v, want %v", c.text, got, c.want)
				break
			}
		}
	}
}

func TestParseAxisOfChoices(t *testing.T) {
	a, err := ParseAxis("targets.coupling=half-wave,lobe")
	if err != nil || a.Len() != 2 || a.At(0).Text != "half-wave" || a.At(1).Text != "lobe" {
		t.Errorf("got %+v, %v", values(a), err)
	}
}

func TestParseAxisRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", `"" is not of the form KEY=FROM:TO:STEP or KEY=a,b,c`},
		{"cabinet.pitch", `"cabinet.pitch" is not of the form KEY=FROM:TO:STEP or KEY=a,b,c`},
		{"cabinet.pich=1:2:1mm", "cabinet.pich is an unknown key (did you mean cabinet.pitch?)"},
		{"title=a,b", "title cannot be varied: it is neither a number nor a choice"},
		{"line.splay=1deg,2deg", "line.splay cannot be varied: it is neither a number nor a choice"},
		{"cabinet.pitch=", `cabinet.pitch = "": empty: a number with a unit is needed`},
		{"cabinet.pitch=200mm,", `cabinet.pitch = "": empty: a number with a unit is needed`},
		{"cabinet.pitch=1mm:2mm", `cabinet.pitch = "1mm:2mm" is not FROM:TO:STEP`},
		{"cabinet.pitch=1:2:1", "cabinet.pitch = 1 has no unit: a length is needed, in mm, cm, m, in, ft"},
		{"cabinet.pitch=1:2:1Hz", `cabinet.pitch = unit "Hz" is of a frequency: a length is needed, in mm, cm, m, in, ft`},
		{"cabinet.pitch=200mm:300mm:0mm", `cabinet.pitch = "200mm:300mm:0mm": the step must lead from FROM to TO`},
		{"cabinet.pitch=200mm:300mm:-1mm", `cabinet.pitch = "200mm:300mm:-1mm": the step must lead from FROM to TO`},
		{"cabinet.pitch=300mm:200mm:1mm", `cabinet.pitch = "300mm:200mm:1mm": the step must lead from FROM to TO`},
		{"cabinet.pitch=200mm:300mm:1e-9mm", `cabinet.pitch = "200mm:300mm:1e-9mm": 1e+11 values, at most 10000000 are possible`},
		{"cabinet.pitch=-1e308m:1e308m:1e-300m", `cabinet.pitch = "-1e308m:1e308m:1e-300m": +Inf values, at most 10000000 are possible`},
		{"cabinet.pitch=9m,8m", "cabinet.pitch is 9000 mm: between 30 mm and 4 m is needed"},
		{"cabinet.pitch=wide", `cabinet.pitch = "wide" does not start with a number`},
		{"targets.coupling=half-wave:lobe:1", "targets.coupling takes no range: list the values with commas"},
		{"targets.coupling=lobes", `targets.coupling is "lobes": one of "half-wave", "lobe" is needed (did you mean "lobe"?)`},
		{"insert.mouths=1:3:0.5", `insert.mouths = "1:3:0.5": whole numbers are needed`},
		{"insert.mouths=0.5:3:1", `insert.mouths = "0.5:3:1": whole numbers are needed`},
		{"insert.mouths=1.5", `insert.mouths = "1.5": a whole number from 1 to 16 is needed`},
	} {
		a, err := ParseAxis(c.text)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s: got %d values, %v; want %s", c.text, a.Len(), err, c.want)
		}
	}
}

// A range of n equal steps has n + 1 values from one end to the other, however
// its numbers round.
func TestRangeHasBothEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.IntRange(1, 2000).Draw(t, "from")
		step := rapid.IntRange(1, 50).Draw(t, "step")
		n := rapid.IntRange(0, 300).Draw(t, "steps")
		scale := rapid.SampledFrom([]string{"", "e-1", "e-2", "e-3"}).Draw(t, "scale")
		text := func(i int) string { return strconv.Itoa(i) + scale }
		a, err := ParseAxis("horn.lowest=" + text(from) + ":" + text(from+n*step) + ":" + text(step) + "kHz")
		if err != nil {
			t.Fatal(err)
		}
		if a.Len() != n+1 {
			t.Fatalf("%d values, want %d", a.Len(), n+1)
		}
		unit := map[string]float64{"": 1e3, "e-1": 1e2, "e-2": 10, "e-3": 1}[scale]
		for i, v := range values(a) {
			if want := float64(from+i*step) * unit; math.Abs(v.Number-want) > 1e-9*want {
				t.Fatalf("value %d is %v, want %v", i, v.Number, want)
			}
		}
	})
}
