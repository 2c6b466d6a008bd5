package designfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gapline/cabinet/design"
	"gapline/cabinet/filter"
	"gapline/driver"
	"gapline/internal/schema"
	"gapline/waveguide"
)

// contractKeys are the keys that users' files rely on, with a value in the file
// and what it is in SI. The list is the project's contract with its users and
// is written out here so that no key can go away unseen. The SI values follow
// from the definitions of the units: 1 in = 25.4 mm, 1 ft³ = 28.316846592 L,
// 0 °C = 273.15 K.
var contractKeys = []struct {
	key, toml string
	si        float64
}{
	{"title", `"Lantern"`, math.NaN()},
	{"air.temperature", `"68 degF"`, 293.15},
	{"air.humidity", `"50 %"`, 0.5},
	{"air.pressure", `"101.325 kPa"`, 101325},
	{"cabinet.height", `"250 mm"`, 0.25},
	{"cabinet.width", `"2 ft"`, 0.6096},
	{"cabinet.depth", `"40 cm"`, 0.4},
	{"cabinet.gap", `"4 mm"`, 0.004},
	{"cabinet.pitch", `"254 mm"`, 0.254},
	{"line.boxes", `3`, 3},
	{"line.splay", `["1 deg", "0.5 deg"]`, math.NaN()},
	{"line.top_height", `"5 m"`, 5},
	{"line.tilt", `"-2 deg"`, -2 * math.Pi / 180},
	{"woofer.size", `"9 in"`, 0.2286},
	{"woofer.effective_diameter", `"190 mm"`, 0.19},
	{"woofer.per_box", `1`, 1},
	{"woofer.spacing", `"120 mm"`, 0.12},
	{"woofer.fs", `"50 Hz"`, 50},
	{"woofer.qes", `0.35`, 0.35},
	{"woofer.qms", `"5"`, 5},
	{"woofer.vas", `"1 ft3"`, 0.028316846592},
	{"woofer.re", `"5.4 ohm"`, 5.4},
	{"woofer.le", `"0.9 mH"`, 0.0009},
	{"woofer.sd", `"284 cm2"`, 0.0284},
	{"woofer.xmax", `"6 mm"`, 0.006},
	{"woofer.bl", `"12 T m"`, 12},
	{"woofer.mms", `"40 g"`, 0.04},
	{"woofer.power", `"0.3 kW"`, 300},
	{"enclosure.kind", `"passive radiator"`, math.NaN()},
	{"enclosure.volume", `"30 L"`, 0.03},
	{"enclosure.tuning", `"55 Hz"`, 55},
	{"enclosure.leak_q", `7`, 7},
	{"enclosure.vent_area", `"80 cm²"`, 0.008},
	{"enclosure.vent_length", `"90 mm"`, 0.09},
	{"insert.mouths", `2`, 2},
	{"insert.spacing", `"127 mm"`, 0.127},
	{"insert.mouth_height", `"100 mm"`, 0.1},
	{"insert.mouth_width", `"80 mm"`, 0.08},
	{"insert.slot_depth", `"12 mm"`, 0.012},
	{"insert.chamber_volume", `"0.4 L"`, 0.0004},
	{"horn.coverage", `"90 deg"`, math.Pi / 2},
	{"horn.mouth_width", `"300 mm"`, 0.3},
	{"horn.mouth_height", `"240 mm"`, 0.24},
	{"horn.path_length", `"0.6 m"`, 0.6},
	{"horn.throat", `"36 mm"`, 0.036},
	{"horn.profile", `"exponential"`, math.NaN()},
	{"horn.length", `"300 mm"`, 0.3},
	{"horn.lowest", `"0.8 kHz"`, 800},
	{"fold.throat_to_wall", `"150 mm"`, 0.15},
	{"fold.virtual_path", `"flat"`, math.Inf(1)},
	{"fold.layer", `"18 mm"`, 0.018},
	{"crossover.frequency", `"900 Hz"`, 900},
	{"crossover.order", `4`, 4},
	{"crossover.alignment", `"linkwitz-riley"`, math.NaN()},
	{"targets.coupling", `"lobe"`, math.NaN()},
	{"targets.lobe_level", `"-12 dB"`, -12},
	{"targets.flat_to", `"16 kHz"`, 16000},
}

func TestEveryContractKeyIsRead(t *testing.T) {
	var text strings.Builder
	table := ""
	for _, c := range contractKeys {
		head, leaf, dotted := strings.Cut(c.key, ".")
		if !dotted {
			fmt.Fprintf(&text, "%s = %s\n", c.key, c.toml)
			continue
		}
		if head != table {
			table = head
			fmt.Fprintf(&text, "[%s]\n", table)
		}
		fmt.Fprintf(&text, "%s = %s\n", leaf, c.toml)
	}
	f, err := Parse("all.toml", []byte(text.String()), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range contractKeys {
		k := schema.FindKey(c.key)
		if k == nil || !f.Given(c.key) {
			t.Errorf("%s is not read", c.key)
			continue
		}
		if !k.Numeric() {
			continue
		}
		if got := k.Number(&f.Design); got != c.si && math.Abs(got-c.si) > 1e-12*math.Abs(c.si) {
			t.Errorf("%s = %s is %v, want %v", c.key, c.toml, got, c.si)
		}
	}
	d := &f.Design
	if d.Title != "Lantern" || d.Enclosure.Kind != driver.PassiveRadiator || d.Horn.Profile != waveguide.ExponentialProfile ||
		d.Crossover.Alignment != filter.LinkwitzRiley || d.Targets.Coupling != design.Lobe {
		t.Errorf("a text is not read: %+v", d)
	}
	if s := d.Line.Splay; len(s) != 2 || !near(s[0], math.Pi/180) || !near(s[1], math.Pi/360) {
		t.Errorf("line.splay = %v", s)
	}
}

// Both words of targets.coupling and all three enclosures are in the contract.
func TestEveryContractChoiceIsRead(t *testing.T) {
	for key, words := range map[string][]string{
		"targets.coupling": {"half-wave", "lobe"},
		"enclosure.kind":   {"closed", "vented", "passive radiator"},
	} {
		for _, w := range words {
			if _, err := schema.FindKey(key).FromText(w); err != nil {
				t.Errorf("%s = %q: %v", key, w, err)
			}
		}
	}
}

// A folded front may come from a length as well as from infinity.
func TestVirtualPathTakesALength(t *testing.T) {
	v, err := schema.FindKey("fold.virtual_path").FromText("1.5 m")
	if err != nil || v.Number != 1.5 {
		t.Errorf("virtual path = %v, %v", v.Number, err)
	}
}
