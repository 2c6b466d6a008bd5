package designfile

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gapline/internal/quantity"
)

// tiny is the least design that the tables can refer to.
const tiny = `[cabinet]
height = "268 mm"
gap = "4 mm"
[air]
temperature = "20 degC"
humidity = "50 %"
[woofer]
qes = 0.4
`

func TestTolerances(t *testing.T) {
	_, err := Parse("x.toml", []byte(tiny+`[tolerance]
samples = 500
seed = 9
"cabinet.pitch" = "2 mm"
cabinet.gap = { sigma = "1 mm" }
"air.temperature" = "9 degF"
"air.humidity" = "10 %"
woofer.qes = "5 %"
`), nil)
	var ps Problems
	if !errors.As(err, &ps) || !strings.Contains(err.Error(), "x.toml:12: tolerance.cabinet.pitch and cabinet.height or cabinet.gap both") {
		t.Fatalf("pitch and gap: %v", err)
	}
	f, err := Parse("x.toml", []byte(tiny+`[tolerance]
samples = 500
seed = 9
"cabinet.pitch" = "2 mm"
"air.temperature" = { sigma = "9 degF" }
"air.humidity" = "10 %"
woofer.qes = "5 %"
`), nil)
	if err != nil {
		t.Fatal(err)
	}
	// A difference of 9 °F is 5 K; 10 % of humidity are ten points of it, 5 % of
	// a Q are a twentieth of it.
	want := map[string]float64{"cabinet.pitch": 2e-3, "air.temperature": 5, "air.humidity": 0.1, "woofer.qes": 0.02}
	if f.Tolerances.Samples != 500 || f.Tolerances.Seed != 9 || len(f.Tolerances.List) != len(want) {
		t.Errorf("%+v", f.Tolerances)
	}
	for _, one := range f.Tolerances.List {
		if w := want[one.Key.Path]; math.Abs(one.Half(&f.Design)-w) > 1e-12 {
			t.Errorf("%s: %g, want %g", one.Key.Path, one.Half(&f.Design), w)
		}
		if one.Normal != (one.Key.Path == "air.temperature") {
			t.Errorf("%s: normal %v", one.Key.Path, one.Normal)
		}
	}
	for i, text := range []string{"sigma 5 °C", "± 10 %", "± 2 mm", "± 5 %"} {
		if got := f.Tolerances.List[i].String(); got != text {
			t.Errorf("text %q, want %q", got, text)
		}
	}
}

// faults are one table each with the fault that must be named, and its line.
var faults = []struct{ table, want string }{
	{`[tolerance]
"cabinet.ptich" = "2 mm"`, "9+1: tolerance.cabinet.ptich is not a key of the design file (did you mean cabinet.pitch?)"},
	{`[tolerance]
"cabinet.pitch" = 2`, "9+1: tolerance.cabinet.pitch is the bare number 2: a string with a unit is needed, in mm, cm, m, in, ft or %"},
	{`[tolerance]
"cabinet.pitch" = "2 Hz"`, `9+1: tolerance.cabinet.pitch = "2 Hz": unit "Hz" is of a frequency`},
	{`[tolerance]
"cabinet.pitch" = "-2 mm"`, "9+1: tolerance.cabinet.pitch is ± -2 mm: a tolerance above 0 is needed"},
	{`[tolerance]
"cabinet.pitch" = "9 m"`, "9+1: tolerance.cabinet.pitch is ± 9000 mm: that is more than the whole range of the key"},
	{`[tolerance]
"cabinet.pitch" = "120 %"`, "9+1: tolerance.cabinet.pitch is ± 120 % of the value: 100 % at most"},
	{`[tolerance]
"cabinet.pitch" = { sgima = "1 mm" }`, `9+1: tolerance.cabinet.pitch must be a plus-or-minus such as "2 mm", or { sigma = "2 mm" }`},
	{`[tolerance]
"line.boxes" = "1 mm"`, "9+1: tolerance.line.boxes can have no tolerance: it is a whole number"},
	{`[tolerance]
"title" = "1 mm"`, "9+1: tolerance.title can have no tolerance: it is not a number"},
	{`[tolerance]
"line.splay" = "1 deg"`, "9+1: tolerance.line.splay can have no tolerance: it is a list"},
	{`[tolerance]
"horn.coverage" = "2 deg"`, "9+1: tolerance.horn.coverage has a tolerance, but the design gives no value for it"},
	{`[tolerance]
samples = 3`, "9+1: tolerance.samples is the number 3: a whole number from 20 to 200000 is needed"},
	{`[tolerance]
seed = -1`, "9+1: tolerance.seed is the number -1: a whole number from 0 up is needed"},
	{`tolerance = 3`, "9: woofer.tolerance is an unknown key"},

	{`[search]
limits = ["gap.opne_oct <= 0 oct"]`, `9+1: search.limits entry 1: "gap.opne_oct" is neither a figure nor a key (did you mean gap.open_oct?)`},
	{`[search]
limits = ["cabinet.height = 3 mm"]`, `9+1: search.limits entry 1: "cabinet.height = 3 mm" is not of the form`},
	{`[search]
limits = ["cabinet.height <= 300"]`, "9+1: search.limits entry 1: cabinet.height: 300 has no unit"},
	{`[search]
limits = ["targets.coupling <= 300 mm"]`, "9+1: search.limits entry 1: targets.coupling is not a number, but one of"},
	{`[search]
limits = ["gap.low_hz >= 1 kHz", "gap.low <= 900 Hz"]`, `9+1: search.limits "gap.low_hz >= 1000 Hz" and "gap.low_hz <= 900 Hz" exclude each other`},
	{`[search]
limits = "gap.low_hz >= 1 kHz"`, "9+1: search.limits is the text"},
	{`[search]
limits = [3]`, "9+1: search.limits entry 1 is the number 3: a text is needed"},
	{`[search]
goals = ["minimise gap.low_hz", "maximise gap.low_hz"]`, "9+1: search.goals names gap.low_hz twice"},
	{`[search]
goals = ["lower gap.low_hz"]`, `9+1: search.goals entry 1: "lower gap.low_hz" starts with "lower"`},
	{`[search]
goals = ["gap.low_hz"]`, `9+1: search.goals entry 1: "gap.low_hz" is not of the form`},
	{`[search]
goals = ["minimise a", "minimise b", "minimise c", "minimise d"]`, "9+1: search.goals has 4 entries: at most 3"},
	{`[search]
goal = ["minimise gap.low_hz"]`, "9+1: search.goal is an unknown key (did you mean goals?)"},
	{`[search]
designs = 7`, "9+1: search.designs is the number 7"},
	{`[search]
vary = "x"`, "9+1: search.vary is the text"},
	{`[search.vary]
"cabinet.pitch" = "320:200 mm"`, "9+1: search.vary.cabinet.pitch = \"320:200 mm\": the range must rise"},
	{`[search.vary]
"cabinet.pitch" = "200:20000 mm"`, "9+1: search.vary.cabinet.pitch has an end that is"},
	{`[search.vary]
"cabinet.pitch" = "200:300 Hz"`, `9+1: search.vary.cabinet.pitch = unit "Hz"`},
	{`[search.vary]
"cabinet.pitch" = "200 mm"`, "9+1: search.vary.cabinet.pitch is the text \"200 mm\": a range such as"},
	{`[search.vary]
"cabinet.pitch" = "200:300:-5 mm"`, "9+1: search.vary.cabinet.pitch = \"200:300:-5 mm\": the step"},
	{`[search.vary]
"cabinet.pitch" = "200:300:0.0001 mm"`, "leave out the step"},
	{`[search.vary]
"cabinet.pitch" = ["200 mm"]`, "9+1: search.vary.cabinet.pitch lists 1 values"},
	{`[search.vary]
"cabinet.pitch" = ["200 mm", "20 cm"]`, "9+1: search.vary.cabinet.pitch lists 200 mm twice"},
	{`[search.vary]
"line.boxes" = "1:4.5:1"`, "search.vary.line.boxes has an end that is 4.5: a whole number is needed"},
	{`[search.vary]
"targets.coupling" = ["lobe", "half"]`, "9+1: search.vary.targets.coupling entry 2 is \"half\""},
	{`[search.vary]
"title" = ["a", "b"]`, "9+1: search.vary.title cannot be varied"},
	{`[search.vary]
"cabinet.ptich" = "1:2 mm"`, "9+1: search.vary.cabinet.ptich is not a key of the design file (did you mean cabinet.pitch?)"},
}

func TestFaultsOfTables(t *testing.T) {
	for _, c := range faults {
		want := strings.ReplaceAll(c.want, "9+1:", "10:")
		_, err := Parse("x.toml", []byte(tiny+c.table+"\n"), nil)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s\n  gives %v\n  want  %s", c.table, err, want)
		}
	}
}

// All faults of both tables come at once.
func TestFaultsComeTogether(t *testing.T) {
	_, err := Parse("x.toml", []byte(tiny+`[tolerance]
"cabinet.pitch" = 2
samples = 1
[search]
goals = ["minimise nothing", "minimise gap.low_hz"]
limits = ["x", "y <= 3"]
[search.vary]
"cabinet.pitch" = "9:1 mm"
`), nil)
	var ps Problems
	if !errors.As(err, &ps) || len(ps) != 6 {
		t.Fatalf("%d problems, want 6:\n%v", len(ps), err)
	}
}

func TestSearchTable(t *testing.T) {
	f, err := Parse("x.toml", []byte(tiny+`[search]
designs = 500
limits = ["gap.insert_oct <= 0", "horn.flat_to >= 16 kHz", "cabinet.height ≤ 300 mm", "horn.narrowest_deg > 60"]
goals = ["minimise gap.low_hz", "maximize coupling.length_m"]
[search.vary]
"cabinet.pitch" = "200:320 mm"
"line.boxes" = "4:8:2"
insert.mouths = [3, 1, 2]
"air.temperature" = "20:30:5 degC"
"targets.coupling" = ["lobe", "half-wave"]
`), nil)
	if err != nil {
		t.Fatal(err)
	}
	s := f.Search
	if s.Designs != 500 || s.Seed != 1 || len(s.Vary) != 5 || len(s.Limits) != 4 {
		t.Fatalf("%+v", s)
	}
	var got []string
	for _, v := range s.Vary {
		text := v.Key.Path
		if v.Continuous() {
			text += fmt.Sprintf(" %g..%g", v.From, v.To)
		}
		for _, x := range v.Values {
			text += " " + x.Show(quantity.Metric)
		}
		got = append(got, text)
	}
	for _, l := range s.Limits {
		got = append(got, l.Text(quantity.Metric))
	}
	for _, g := range s.Goals {
		got = append(got, g.String())
	}
	want := []string{"air.temperature 20 °C 25 °C 30 °C", "cabinet.pitch 0.2..0.32", "line.boxes 4 6 8", "insert.mouths 1 2 3",
		"targets.coupling lobe half-wave", "gap.insert_oct <= 0.00 oct", "horn.flat_to_hz >= 16 kHz", "cabinet.height <= 300 mm",
		"horn.narrowest_deg >= 60°", "minimise gap.low_hz", "maximise coupling.length_m"}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}
