package designfile

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/internal/quantity"
	"gapline/internal/schema"
)

const searchTable = "search"

// search reads the [search] table.
func (r *reader) search(table map[string]any) {
	s := schema.NewSearch()
	r.file.Search = s
	for _, name := range sortedKeys(table) {
		raw, where := table[name], searchTable+"."+name
		var err error
		switch name {
		case "designs":
			s.Designs, err = whole(raw, schema.MinDesigns, schema.MaxDesigns)
		case "seed":
			s.Seed, err = seed(raw)
		case "limits":
			s.Limits = each(r, where, raw, schema.MaxLimits, schema.ParseLimit)
		case "goals":
			s.Goals = each(r, where, raw, schema.MaxGoals, schema.ParseGoal)
		case "vary":
			r.variations(s, raw)
		default:
			err = fmt.Errorf("is an unknown key%s: vary, limits, goals, designs and seed are possible",
				schema.Suggest(schema.Nearest(name, []string{"vary", "limits", "goals", "designs", "seed"}), ""))
		}
		if err != nil {
			r.fault(where, "%s", err)
		}
	}
	for _, text := range schema.Contradictions(s.Limits) {
		r.fault(searchTable+".limits", "%s", text)
	}
	for i, g := range s.Goals {
		if slices.ContainsFunc(s.Goals[:i], func(o schema.Goal) bool { return o.Of == g.Of }) {
			r.fault(searchTable+".goals", "names %s twice", g.Of.Name())
		}
	}
}

// each parses a list of texts and reports every fault.
func each[T any](r *reader, where string, raw any, most int, parse func(string) (T, error)) []T {
	items, ok := raw.([]any)
	if !ok {
		r.fault(where, "is %s: a list of texts is needed", describe(raw))
		return nil
	}
	if len(items) > most {
		r.fault(where, "has %d entries: at most %d are possible", len(items), most)
		return nil
	}
	var out []T
	for i, item := range items {
		text, ok := item.(string)
		if !ok {
			r.fault(where, "entry %d is %s: a text is needed", i+1, describe(item))
			continue
		}
		x, err := parse(text)
		if err != nil {
			r.fault(where, "entry %d: %s", i+1, err)
			continue
		}
		out = append(out, x)
	}
	return out
}

// variations reads [search.vary]. Its keys may be quoted or dotted.
func (r *reader) variations(s *schema.Search, raw any) {
	table, ok := raw.(map[string]any)
	if !ok {
		r.fault(searchTable+".vary", `is %s: it is a table, write [search.vary] on a line of its own`, describe(raw))
		return
	}
	flat := flatten(table, "")
	for _, path := range sortedKeys(flat) {
		v, err := variationFromTOML(path, flat[path])
		if err != nil {
			r.fault(searchTable+".vary."+path, "%s", err)
			continue
		}
		s.Vary = append(s.Vary, v)
	}
	if len(s.Vary) > schema.MaxVariations {
		r.fault(searchTable+".vary", "has %d keys: at most %d are possible", len(s.Vary), schema.MaxVariations)
	}
	slices.SortFunc(s.Vary, func(a, b schema.Variation) int { return a.Key.Index() - b.Key.Index() })
}

func variationFromTOML(path string, raw any) (schema.Variation, error) {
	v := schema.Variation{Key: schema.FindKey(path)}
	switch {
	case v.Key == nil:
		return v, fmt.Errorf("is not a key of the design file%s", schema.DidYouMean(path))
	case v.Key.Type == schema.Text || v.Key.Type == schema.List:
		return v, errors.New("cannot be varied: a number or a choice of words is needed")
	}
	switch x := raw.(type) {
	case []any:
		err := readLevels(&v, x)
		return v, err
	case string:
		if v.Key.Numeric() && strings.Contains(x, ":") {
			err := readSpan(&v, x)
			return v, err
		}
	}
	return v, fmt.Errorf("is %s: a range such as %s or a list is needed", describe(raw), exampleRange(v.Key))
}

func exampleRange(k *schema.Key) string {
	switch {
	case !k.Numeric():
		return `["` + strings.Join(k.Choices, `", "`) + `"]`
	case k.Kind == quantity.Number:
		return `"1:3"`
	}
	unit := strings.Split(k.Kind.UnitNames(), ",")[0]
	return fmt.Sprintf(`"200:300 %s" or "200:300:10 %s"`, unit, unit)
}

// readSpan reads FROM:TO or FROM:TO:STEP.
func readSpan(v *schema.Variation, text string) error {
	from, to, step, err := quantity.ParseSpan(text, v.Key.Kind)
	if err != nil {
		return fmt.Errorf("= %w", err)
	}
	v.From, v.To = from, to
	for _, end := range []float64{from, to} {
		if err := acceptsEnd(v.Key, end); err != nil {
			return err
		}
	}
	switch {
	case to <= from:
		return fmt.Errorf("= %q: the range must rise", clip(text))
	case step == 0 && v.Key.Type == schema.Count:
		step = 1
	case step == 0:
		return nil
	}
	n := math.Floor((to-from)/step + 1e-3)
	switch {
	case !(step > 0) || n < 1:
		return fmt.Errorf("= %q: the step must be above 0 and fit into the range", clip(text))
	case n >= schema.MaxLevels:
		return fmt.Errorf("= %q: %.3g steps, at most %d are possible; leave out the step for a continuous range", clip(text), n, schema.MaxLevels)
	}
	for i := range int(n) + 1 {
		x := from + float64(i)*step
		if err := v.Key.Accepts(x); err != nil {
			return err
		}
		v.Values = append(v.Values, schema.NumberValue(v.Key, x))
	}
	return nil
}

// readLevels reads a list of values.
func readLevels(v *schema.Variation, items []any) error {
	if len(items) < 2 || len(items) > schema.MaxLevels {
		return fmt.Errorf("lists %d values: 2 to %d are needed", len(items), schema.MaxLevels)
	}
	for i, item := range items {
		x, err := fromTOML(v.Key, item)
		if err != nil {
			return fmt.Errorf("entry %d %w", i+1, err)
		}
		for _, other := range v.Values {
			if other.Number == x.Number && other.Text == x.Text {
				return fmt.Errorf("lists %s twice", x.Show(quantity.Metric))
			}
		}
		v.Values = append(v.Values, x)
	}
	if v.Key.Numeric() {
		slices.SortFunc(v.Values, func(a, b schema.Value) int {
			if a.Number < b.Number {
				return -1
			}
			return 1
		})
		v.From, v.To = v.Values[0].Number, v.Values[len(v.Values)-1].Number
	}
	return nil
}

// acceptsEnd is Accepts for the end of a range.
func acceptsEnd(k *schema.Key, x float64) error {
	if err := k.Accepts(x); err != nil {
		return fmt.Errorf("has an end that %w", err)
	}
	return nil
}
