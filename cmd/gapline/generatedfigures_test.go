package main

import (
	"encoding/json"
	"io"
	"math"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/generated"
	"gapline/internal/schema"
)

// decoded reads the one JSON object of an output.
func (g *generation) decoded(line, out string) map[string]any {
	g.Helper()
	d := json.NewDecoder(strings.NewReader(out))
	var o map[string]any
	if err := d.Decode(&o); err != nil {
		g.Errorf("gapline %s --json: %v in\n%.300s", line, err, out)
		return nil
	}
	if _, err := d.Token(); err != io.EOF {
		g.Errorf("gapline %s --json: more than one object", line)
	}
	return o
}

// physical are bounds of numbers by the ending of their keys, the first that fits.
var physical = []struct {
	ending    string
	low, high float64
	source    string
}{
	{"air.sound_speed_m_s", 300, 375, "c = 331.3·√(T/273.15) m/s from -40 to 60 °C, and 2 % for vapour"},
	{"air.density_kg_m3", 0.4, 1.7, "p/(287·T) from 50 to 110 kPa and -40 to 60 °C, and 5 % for vapour"},
	{"coupling.lower_hz", 0, 375 / 0.03, "c over the line's length, of a pitch of 30 mm at least"},
	{"coupling.length_m", 0.03, 400, "pitch times boxes: 30 mm to 100 times 4 m"},
	{"beamwidth_deg", 0, 360, "a full turn"},
	{"narrowest_deg", 0, 360, "a full turn"},
	{"horn.efficiency", 0, 1, "no more comes out than goes in"},
	{"driver_efficiency", 0, 1, "no more comes out than goes in"},
	{"spl_db", -300, 260, "of linear circuits: 1 kV or 20 kW at any driver of the key table"},
	{"_deg", -3060, 3060, "a quarter turn of the top box and 99 splays of 30°"},
	{"_oct", -40, 40, "40 octaves span from 1 µHz to 1 MHz"},
	{"_hz", 0, 1e9, "frequencies are not negative"},
	{"_db", -1000, 500, "double precision of pressures"},
	{"_m2", 0, 1e6, "areas are not negative"},
	{"_m3", 0, 1e6, "volumes are not negative"},
}

// within holds that the numbers of an output lie where physics allows.
func (g *generation) within(line string, o map[string]any) {
	g.Helper()
	walk("", o, func(path string, x float64) {
		for _, p := range physical {
			if !strings.HasSuffix(path, p.ending) {
				continue
			}
			if !(x >= p.low && x <= p.high) {
				g.Errorf("gapline %s: %s is %v, and %v to %v is possible: %s", line, path, x, p.low, p.high, p.source)
			}
			return
		}
	})
}

// walk hands on every number with its dotted path, without places in arrays.
func walk(path string, v any, do func(path string, x float64)) {
	switch x := v.(type) {
	case float64:
		do(path, x)
	case []any:
		for _, item := range x {
			walk(path, item, do)
		}
	case map[string]any:
		for key, item := range x {
			walk(strings.TrimPrefix(path+"."+key, "."), item, do)
		}
	}
}

// printed is a figure as a command printed it.
type printed struct {
	value   float64
	command string
}

// agree holds that figures of a sizing are one number, whichever command prints them.
func (g *generation) agree(found map[string]printed, cmd *generatedCommand, o map[string]any) {
	for _, s := range seams {
		if s.command != strings.Fields(cmd.args)[0] || s.command == "sweep" || strings.Contains(cmd.args, "--of ") || strings.Contains(cmd.args, "--part ") {
			continue
		}
		for _, f := range figure.Sized() {
			if v, ok := s.value(o, f.Key); ok {
				g.same(found, cmd.args, f.Key, v)
			}
		}
	}
	if strings.HasPrefix(cmd.args, "size ") {
		for _, f := range figure.Sized() {
			if v, ok := at(o, f.Key); ok {
				g.same(found, cmd.args, f.Key, v)
			}
		}
	}
}

// same holds a figure against what another command printed.
func (g *generation) same(found map[string]printed, command, key string, v any) {
	x, isNumber := v.(float64)
	if !isNumber {
		return
	}
	before, seen := found[key]
	if !seen {
		found[key] = printed{x, command}
		return
	}
	// The same arithmetic on the same design but for a rounding of equal steps in another
	// order.
	if math.Abs(x-before.value) > 1e-9*math.Abs(x) {
		g.Errorf("%s is %v in gapline %s and %v in gapline %s", key, before.value, before.command, x, command)
	}
}

// law is a figure that moves one way when a key grows.
type law struct {
	key    string
	figure string
	rises  bool
	source string
}

var laws = []law{
	{"air.temperature", "air.sound_speed_m_s", true, "c = √(γRT/M)"},
	{"air.temperature", "air.density_kg_m3", false, "ρ = pM/(RT)"},
	{"air.pressure", "air.density_kg_m3", true, "ρ = pM/(RT)"},
	{"line.boxes", "coupling.length_m", true, "boxes times pitch"},
	{"line.boxes", "coupling.lower_hz", false, "c over the line's length"},
	{"cabinet.pitch", "coupling.open.half_wave_hz", false, "c/2 over the largest spacing, which is the pitch or what is left of it"},
	{"horn.mouth_width", "horn.pattern_rule_hz", false, "Keele 1975: 10⁶/(W·θ)"},
	{"horn.coverage", "horn.pattern_rule_hz", false, "Keele 1975: 10⁶/(W·θ)"},
	{"insert.chamber_volume", "coupling.insert.chamber_hz", false, "Helmholtz: f ∝ 1/√V"},
	{"insert.slot_depth", "coupling.insert.chamber_hz", false, "Helmholtz: f ∝ 1/√l"},
	{"horn.lowest", "horn.lower_hz", true, "the highest of three limits, of which it is one"},
}

// monotone changes one key by a tenth upward and looks at the figure that it moves.
func (g *generation) monotone() {
	if g.Kind != generated.Valid {
		return
	}
	l := laws[g.Seed%uint64(len(laws))]
	k := schema.FindKey(l.key)
	x := k.Number(&g.Design)
	more := x * 1.1
	if k.Type == schema.Count {
		more = x + 1
	}
	if math.IsNaN(x) || more > k.Max {
		return
	}
	// Links are set aside, so that the key moves alone.
	sized := func(v float64) (float64, bool) {
		r := g.run(&generatedCommands[0], "size DESIGN", "--json", "--quiet", "--unlink", "--set", l.key+"="+k.Canonical(v))
		if r.code != exitDone {
			return 0, false // the tenth more does not go with other keys
		}
		y, _ := at(g.decoded("size", r.out), l.figure)
		f, ok := y.(float64)
		return f, ok
	}
	before, ok := sized(x)
	if !ok {
		return
	}
	after, ok := sized(more)
	// A figure may stay where another limit holds it, and the last digits are rounding.
	slack := 1e-12 * math.Abs(before)
	if ok && (l.rises && after < before-slack || !l.rises && after > before+slack) {
		g.Errorf("%s goes from %v to %v as %s grows from %v to %v: %s", l.figure, before, after, l.key, x, more, l.source)
	}
}
