package live

import (
	"math"
	"slices"
	"strconv"

	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// usual are the keys that have a slider where the design gives them.
var usual = []string{"cabinet.pitch", "horn.mouth_width", "horn.coverage", "insert.mouths", "insert.chamber_volume", "horn.length", "air.temperature"}

// slider is one key on the page. Numbers are in its unit.
type slider struct {
	Key     string   `json:"key"`
	Label   string   `json:"label"`
	Doc     string   `json:"doc"`
	Unit    string   `json:"unit"`
	Min     float64  `json:"min"`
	Max     float64  `json:"max"`
	Step    float64  `json:"step"`
	Value   *float64 `json:"value"`   // nil: not given
	Text    string   `json:"text"`    // the value as people write it
	Exact   string   `json:"exact"`   // the value as --set takes it
	Follows string   `json:"follows"` // the file's link; empty: none
	Linked  bool     `json:"linked"`  // the link acts
	Set     bool     `json:"set"`     // the page sets it
	Choices []string `json:"choices"` // of a key that is no number
	Word    string   `json:"word"`    // chosen
}

// sliders are the usual keys, those that follow others, and those that were added.
func (s *Server) sliders(original, now *state, q *request) []slider {
	var paths []string
	add := func(path string) {
		if !slices.Contains(paths, path) {
			paths = append(paths, path)
		}
	}
	for _, p := range usual {
		if k := schema.FindKey(p); numeric.Given(k.Number(&original.Design)) {
			add(p)
		}
	}
	for _, l := range original.Links {
		add(l.Target.Path)
	}
	for _, p := range q.Keys {
		add(p)
	}
	var out []slider
	for _, p := range paths {
		if k := schema.FindKey(p); k != nil && (k.Numeric() || k.Type == schema.Choice) {
			out = append(out, s.slider(k, original, now, q))
		}
	}
	return out
}

func (s *Server) slider(k *schema.Key, original, now *state, q *request) slider {
	unit := unitOf(k, s.o.Units)
	x := slider{Key: k.Path, Label: k.Label(), Doc: k.Doc, Unit: unit, Text: k.Text(&now.Design, s.o.Units), Choices: k.Choices, Set: sets(q.Set, k.Path)}
	for _, l := range original.Links {
		if l.Target == k {
			x.Follows = "follows " + l.Source.Path
			x.Linked = slices.ContainsFunc(now.Links, func(n schema.Link) bool { return n.Target == k })
		}
	}
	if !k.Numeric() {
		x.Word = k.ValueIn(&now.Design).Text
		return x
	}
	value := k.Number(&now.Design)
	x.Min, x.Max, x.Step = travel(k, baseOf(k, original, now), unit)
	if numeric.Given(value) && !math.IsInf(value, 0) {
		v := inUnit(k, unit, value)
		x.Value, x.Exact = &v, k.Canonical(value)
	}
	return x
}

// baseOf is the value that a slider's range is made about: the file's, or else the present one.
func baseOf(k *schema.Key, original, now *state) float64 {
	if base := k.Number(&original.Design); numeric.Given(base) && !math.IsInf(base, 0) {
		return base
	}
	return k.Number(&now.Design)
}

// inUnit is a number in the slider's unit.
func inUnit(k *schema.Key, unit string, si float64) float64 {
	if unit == "" {
		return si
	}
	return k.Kind.In(unit, si)
}

// Ends of a slider for a temperature, °C: what a stage meets.
const coldest, warmest = -15, 45

// travel is the range of a slider in its unit: half to twice the file's value, or what makes
// sense for the kind, within what the key takes, in steps of about a two-hundredth.
func travel(k *schema.Key, base float64, unit string) (low, high, step float64) {
	least, most := inUnit(k, unit, k.Min), inUnit(k, unit, k.Max)
	switch b := inUnit(k, unit, base); {
	case k.Kind == quantity.Temperature:
		zero := 273.15
		low, high = inUnit(k, unit, zero+coldest), inUnit(k, unit, zero+warmest)
	case k.Kind == quantity.Fraction:
		low, high = 0, 100
	case !numeric.Given(base) || b == 0:
		low, high = least, most
		if !(high-low < 1e4) {
			low, high = max(least, -100), min(most, 100)
		}
	case b < 0:
		low, high = 2*b, -2*b
	case k.Type == schema.Count:
		low, high = 1, max(4, 2*b)
	default:
		low, high = b/2, 2*b
	}
	low, high = max(low, least), min(high, most)
	step = round125((high - low) / 200)
	if k.Type == schema.Count {
		step = 1
	}
	low, high = math.Ceil(low/step-1e-9)*step, math.Floor(high/step+1e-9)*step
	return tidy(low), tidy(high), tidy(step)
}

// round125 is the largest of 1, 2 and 5 times a power of ten that is not above x.
func round125(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{5, 2} {
		if m*ten <= x {
			return m * ten
		}
	}
	return ten
}

// tidy takes the last digits of a division away.
func tidy(x float64) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64) // of a number that was just written
	return y
}

// sets reports whether a setting is of the key.
func sets(settings []string, path string) bool {
	return slices.ContainsFunc(settings, func(x string) bool { return len(x) > len(path) && x[:len(path)] == path && x[len(path)] == '=' })
}
