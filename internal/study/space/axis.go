package space

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// Axis is one varied key and the values that it takes: a list, or equal steps.
// Steps are worked out when they are asked for, so that an axis of millions
// takes no room.
type Axis struct {
	Key        *schema.Key
	list       []schema.Value
	from, step float64 // SI
	steps      int
}

// Len returns the number of values.
func (a *Axis) Len() int { return len(a.list) + a.steps }

// At returns value i.
func (a *Axis) At(i int) schema.Value {
	if a.list != nil {
		return a.list[i]
	}
	return schema.NumberValue(a.Key, a.from+float64(i)*a.step)
}

// MaxDesigns bounds the values of one axis.
const MaxDesigns = 10_000_000

// ParseAxis reads KEY=FROM:TO:STEP or KEY=a,b,c. FROM and TO are both included
// when the steps meet them.
func ParseAxis(text string) (Axis, error) {
	path, values, ok := strings.Cut(text, "=")
	path = strings.TrimSpace(path)
	if !ok {
		return Axis{}, fmt.Errorf("%q is not of the form KEY=FROM:TO:STEP or KEY=a,b,c", text)
	}
	key := schema.FindKey(path)
	if key == nil {
		return Axis{}, fmt.Errorf("%s is an unknown key%s", path, schema.DidYouMean(path))
	}
	if !key.Numeric() && key.Type != schema.Choice {
		return Axis{}, fmt.Errorf("%s cannot be varied: it is neither a number nor a choice", path)
	}
	a := Axis{Key: key}
	if strings.Contains(values, ":") {
		err := a.fill(values)
		return a, err
	}
	for _, part := range splitList(values, key) {
		v, err := key.FromText(part)
		if err != nil {
			return a, fmt.Errorf("%s %w", path, err)
		}
		a.list = append(a.list, v)
	}
	return a, nil
}

// splitList splits a,b,c and gives parts without a unit the unit of the last
// part that has one, as in 200,230,254 mm.
func splitList(values string, key *schema.Key) []string {
	parts := strings.Split(values, ",")
	if !key.Numeric() || key.Kind == quantity.Number {
		return parts
	}
	unit := strings.TrimLeft(strings.TrimSpace(parts[len(parts)-1]), "+-−.0123456789eE")
	for i, p := range parts {
		if p = strings.TrimSpace(p); p != "" && strings.Trim(p, "+-−.0123456789eE") == "" {
			parts[i] = p + " " + strings.TrimSpace(unit)
		}
	}
	return parts
}

// fill expands FROM:TO:STEP.
func (a *Axis) fill(text string) error {
	if !a.Key.Numeric() {
		return fmt.Errorf("%s takes no range: list the values with commas", a.Key.Path)
	}
	from, to, step, err := quantity.ParseRange(text, a.Key.Kind)
	if err != nil {
		return fmt.Errorf("%s = %w", a.Key.Path, err)
	}
	n := (to - from) / step
	switch {
	case step == 0 || n < -1e-9:
		return fmt.Errorf("%s = %q: the step must lead from FROM to TO", a.Key.Path, text)
	case n > MaxDesigns:
		return fmt.Errorf("%s = %q: %.3g values, at most %d are possible", a.Key.Path, text, n, MaxDesigns)
	case a.Key.Type == schema.Count && (from != math.Trunc(from) || step != math.Trunc(step)):
		return fmt.Errorf("%s = %q: whole numbers are needed", a.Key.Path, text)
	}
	// A thousandth of a step of rounding still counts as having met TO.
	a.from, a.step, a.steps = from, step, int(math.Floor(n+1e-3))+1
	return nil
}
