package schema

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/cleantext"
	"gapline/internal/figure"
	"gapline/internal/quantity"
)

// Measure is a number that a design can be judged by: a figure or a key.
type Measure struct {
	Figure *figure.Def // nil for a key
	Key    *Key        // nil for a figure
}

// FindMeasure returns the figure or numeric key of the given name. The error
// says which name is near.
func FindMeasure(name string) (Measure, error) {
	if f := figure.FindSized(name); f != nil {
		return Measure{Figure: f}, nil
	}
	switch k := FindKey(name); {
	case k == nil:
		return Measure{}, fmt.Errorf("%q is neither a figure nor a key%s; gapline explain lists them", cleantext.Cut(name), Suggest(nearestMeasure(name), ""))
	case !k.Numeric():
		return Measure{}, fmt.Errorf("%s is not a number, but %s", name, k.Accepted())
	default:
		return Measure{Key: k}, nil
	}
}

// FindColumn returns the figure or the key, whatever it takes, of the given name: what a
// table of many designs can have a column of.
func FindColumn(name string) (Measure, error) {
	if f := figure.FindSized(name); f != nil {
		return Measure{Figure: f}, nil
	}
	if k := FindKey(name); k != nil {
		return Measure{Key: k}, nil
	}
	return Measure{}, fmt.Errorf("%q is neither a figure nor a key%s; gapline explain lists them", cleantext.Cut(name), Suggest(nearestMeasure(name), ""))
}

func nearestMeasure(name string) string {
	var names []string
	for _, f := range figure.Sized() {
		names = append(names, f.Key)
	}
	for i := range Keys {
		if Keys[i].Numeric() {
			names = append(names, Keys[i].Path)
		}
	}
	return Nearest(name, names)
}

// Name returns the figure's key or the key's path.
func (m Measure) Name() string {
	if m.Figure != nil {
		return m.Figure.Key
	}
	return m.Key.Path
}

// Label returns a short name for people.
func (m Measure) Label() string {
	if m.Figure != nil {
		return m.Figure.Name
	}
	return m.Key.Label()
}

// Kind returns what the measure measures.
func (m Measure) Kind() quantity.Kind {
	if m.Figure != nil {
		return m.Figure.Kind
	}
	return m.Key.Kind
}

// parse reads a value of the measure. A figure's name carries its unit, so that
// a bare number of that unit is understood too.
func (m Measure) parse(text string) (float64, error) {
	x, err := quantity.Parse(text, m.Kind())
	if err == nil || m.Figure == nil {
		return x, err
	}
	if bare, e := quantity.Parse(text, quantity.Number); e == nil {
		if strings.HasSuffix(m.Figure.Key, "_deg") {
			bare *= degrees
		}
		return bare, nil
	}
	return x, err
}

// Limit is one condition that a design must meet.
type Limit struct {
	Of     Measure
	AtMost bool // else at least
	Value  float64
}

// Sign returns the limit's comparison.
func (l Limit) Sign() string {
	if l.AtMost {
		return "<="
	}
	return ">="
}

// Text returns the limit as a person would write it.
func (l Limit) Text(sys quantity.System) string {
	return fmt.Sprintf("%s %s %s", l.Of.Name(), l.Sign(), quantity.Format(l.Value, l.Of.Kind(), sys))
}

// Excess returns by how much the value misses the limit; 0 or less when it is
// met.
func (l Limit) Excess(value float64) float64 {
	if l.AtMost {
		return value - l.Value
	}
	return l.Value - value
}

// comparisons are the signs of limits; a strict one means the same as its
// neighbour, since measures are not exact to the last digit.
var comparisons = []struct {
	sign   string
	atMost bool
}{{"<=", true}, {">=", false}, {"≤", true}, {"≥", false}, {"<", true}, {">", false}}

// ParseLimit reads "NAME <= VALUE" or "NAME >= VALUE".
func ParseLimit(text string) (Limit, error) {
	for _, c := range comparisons {
		name, value, ok := strings.Cut(text, c.sign)
		if !ok {
			continue
		}
		m, err := FindMeasure(strings.TrimSpace(name))
		if err != nil {
			return Limit{}, err
		}
		x, err := m.parse(strings.TrimSpace(value))
		if err != nil {
			return Limit{}, fmt.Errorf("%s: %w", m.Name(), err)
		}
		return Limit{m, c.atMost, x}, nil
	}
	return Limit{}, fmt.Errorf(`%q is not of the form NAME <= VALUE or NAME >= VALUE`, cleantext.Cut(text))
}

// Goal is one thing to make small or large.
type Goal struct {
	Of       Measure
	Maximise bool
}

// String returns the goal as the file writes it.
func (g Goal) String() string {
	if g.Maximise {
		return "maximise " + g.Of.Name()
	}
	return "minimise " + g.Of.Name()
}

// Score turns a value into a number that is smaller for better.
func (g Goal) Score(value float64) float64 {
	if g.Maximise {
		return -value
	}
	return value
}

// ParseGoal reads "minimise NAME" or "maximise NAME".
func ParseGoal(text string) (Goal, error) {
	words := strings.Fields(text)
	if len(words) != 2 {
		return Goal{}, fmt.Errorf(`%q is not of the form "minimise NAME" or "maximise NAME"`, cleantext.Cut(text))
	}
	var g Goal
	switch words[0] {
	case "minimise", "minimize":
	case "maximise", "maximize":
		g.Maximise = true
	default:
		return g, fmt.Errorf(`%q starts with %q: "minimise" or "maximise" is needed`, cleantext.Cut(text), cleantext.Cut(words[0]))
	}
	m, err := FindMeasure(words[1])
	g.Of = m
	return g, err
}

// Contradictions lists pairs of limits on one measure that exclude each other.
func Contradictions(limits []Limit) []string {
	var out []string
	for i, a := range limits {
		for _, b := range limits[:i] {
			low, high := a, b
			if a.AtMost {
				low, high = b, a
			}
			if a.Of == b.Of && a.AtMost != b.AtMost && low.Value > high.Value && !math.IsNaN(low.Value) {
				out = append(out, fmt.Sprintf("%q and %q exclude each other", b.Text(quantity.Metric), a.Text(quantity.Metric)))
			}
		}
	}
	return out
}
