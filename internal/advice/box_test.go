package advice

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/reftable"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/box"
)

const loudVent = `[cabinet]
height = "300 mm"
[woofer]
fs = "50 Hz"
qes = 0.4
qms = 5
vas = "40 L"
re = "5.5 ohm"
sd = "330 cm2"
xmax = "6 mm"
power = "300 W"
[enclosure]
volume = "30 L"
tuning = "48 Hz"
vent_area = "60 cm2"
`

func boxOf(t *testing.T, text string, settings ...string) *box.Study {
	t.Helper()
	file, err := designfile.Parse("box.toml", []byte(text), settings)
	if err != nil {
		t.Fatal(err)
	}
	st, err := box.Run(context.Background(), &file.Design, box.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// The vent proposed against its own air speed must keep that speed.
func TestProposedVentIsQuietEnough(t *testing.T) {
	all := BoxFindings(boxOf(t, loudVent))
	i := slices.IndexFunc(all, func(f result.Finding) bool { return f.Severity == result.Try && f.Key == "enclosure.vent_area" })
	if i < 0 {
		t.Fatal("no larger vent is proposed")
	}
	area := terminal.Cell(all[i].Text.Args[0].(result.Cell), quantity.Metric)
	quiet := boxOf(t, loudVent, "enclosure.vent_area="+area)
	// The area is printed with three digits.
	reftable.Near(t, "air speed", quiet.Max[quiet.Fastest()].VentSpeed, 17, 0.01)
}

// Parameters that contradict each other are named with their keys. With qms/(qms+qes)
// of 5/5.4 the given qts of 0.5 is off by 0.37/0.5−1 = −26 %.
func TestContradictionsAreNamed(t *testing.T) {
	all := BoxFindings(boxOf(t, loudVent, "woofer.qts=0.5"))
	i := slices.IndexFunc(all, func(f result.Finding) bool { return f.Severity == result.Contradiction })
	if i < 0 {
		t.Fatal("no contradiction is found")
	}
	const want = "woofer.qes, woofer.qms, woofer.qts contradict each other: qts is 0.5, but the others give 0.37 (-26 %). The circuit takes fs, qes, qms, vas, sd and re."
	if got := terminal.Text(all[i].Text, quantity.Metric); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// 4π²·fs³·vas/(c³·qes) of 560 Hz where 56 Hz was meant is a thousand times that of 56 Hz:
// more than goes in.
func TestMistypedParametersAreToldByTheirEfficiency(t *testing.T) {
	told := func(settings ...string) bool {
		return slices.ContainsFunc(BoxFindings(boxOf(t, loudVent, settings...)), func(f result.Finding) bool {
			return f.Key == "box.driver.efficiency" && f.Severity == result.Contradiction
		})
	}
	st := boxOf(t, loudVent)
	d := st.Setup.Driver
	c := d.Air.SoundSpeed
	usual := 4 * math.Pi * math.Pi * math.Pow(d.Fs.Value()/c, 3) * d.Vas.Value() / d.Qes.Value()
	if usual > 0.2 || told() {
		t.Errorf("efficiency %v is told of", usual)
	}
	for _, want := range []float64{0.19, 0.21, 2} {
		if got := told(fmt.Sprintf("woofer.vas=%g m3", d.Vas.Value()*want/usual)); got != (want > 0.2) {
			t.Errorf("efficiency %v: told is %v", want, got)
		}
	}
}
