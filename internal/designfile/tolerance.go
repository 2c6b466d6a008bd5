package designfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

const toleranceTable = "tolerance"

// tolerances reads the [tolerance] table. Its keys may be quoted
// ("cabinet.pitch") or dotted.
func (r *reader) tolerances(table map[string]any) {
	t := schema.NewTolerances()
	r.file.Tolerances = t
	flat := flatten(table, "sigma")
	for _, path := range sortedKeys(flat) {
		raw, where := flat[path], toleranceTable+"."+path
		var err error
		switch path {
		case "samples":
			t.Samples, err = whole(raw, schema.MinSamples, schema.MaxSamples)
		case "seed":
			t.Seed, err = seed(raw)
		default:
			var one schema.Tolerance
			if one, err = toleranceFromTOML(path, raw); err == nil {
				t.List = append(t.List, one)
			}
		}
		if err != nil {
			r.fault(where, "%s", err)
		}
	}
	slices.SortFunc(t.List, func(a, b schema.Tolerance) int { return a.Key.Index() - b.Key.Index() })
}

// flatten joins the parts of dotted keys: { cabinet = { pitch = x } } becomes
// { "cabinet.pitch" = x }. A table that has the part called leaf is a value.
func flatten(table map[string]any, leaf string) map[string]any {
	flat := map[string]any{}
	for name, raw := range table {
		sub, ok := raw.(map[string]any)
		if _, isValue := sub[leaf]; ok && !isValue && slices.Contains(schema.Tables(), name) {
			for inner, x := range sub {
				flat[name+"."+inner] = x
			}
			continue
		}
		flat[name] = raw
	}
	return flat
}

// whole reads a whole number within bounds.
func whole(raw any, lo, hi int) (int, error) {
	n, ok := raw.(int64)
	if !ok || n < int64(lo) || n > int64(hi) {
		return 0, fmt.Errorf("is %s: a whole number from %d to %d is needed", describe(raw), lo, hi)
	}
	return int(n), nil
}

func seed(raw any) (uint64, error) {
	n, ok := raw.(int64)
	if !ok || n < 0 {
		return 0, fmt.Errorf("is %s: a whole number from 0 up is needed", describe(raw))
	}
	return uint64(n), nil
}

// toleranceFromTOML reads one entry of [tolerance].
func toleranceFromTOML(path string, raw any) (schema.Tolerance, error) {
	t := schema.Tolerance{Key: schema.FindKey(path)}
	switch {
	case t.Key == nil:
		return t, fmt.Errorf("is not a key of the design file%s", schema.DidYouMean(path))
	case t.Key.Type != schema.Quantity:
		return t, fmt.Errorf("can have no tolerance: %s", whyNoTolerance(t.Key))
	}
	if table, ok := raw.(map[string]any); ok {
		sigma, given := table["sigma"]
		if !given || len(table) > 1 {
			return t, fmt.Errorf(`must be a plus-or-minus such as %q, or { sigma = %q }`, exampleTolerance(t.Key), exampleTolerance(t.Key))
		}
		t.Normal, raw = true, sigma
	}
	err := readTolerance(&t, raw)
	return t, err
}

func whyNoTolerance(k *schema.Key) string {
	switch k.Type {
	case schema.Count:
		return "it is a whole number"
	case schema.List:
		return "it is a list"
	}
	return "it is not a number"
}

// exampleTolerance is an ordinary amount in the key's unit.
func exampleTolerance(k *schema.Key) string {
	if k.Kind == quantity.Number {
		return "5 %"
	}
	return "2 " + strings.Split(k.Kind.UnitNames(), ",")[0]
}

// readTolerance reads the amount: a difference in the key's unit, or per cent of the
// value. For a key that is itself in per cent, per cent are of the same unit.
func readTolerance(t *schema.Tolerance, raw any) error {
	var err error
	switch x := raw.(type) {
	case string:
		if t.Key.Kind != quantity.Fraction && strings.HasSuffix(strings.TrimSpace(x), "%") {
			t.Share = true
			t.Amount, err = quantity.Parse(x, quantity.Fraction)
		} else {
			t.Amount, err = quantity.ParseDifference(x, t.Key.Kind)
		}
		if err != nil {
			return fmt.Errorf("= %q: %w; per cent of the value are possible too", clip(x), err)
		}
	case int64:
		t.Amount = float64(x)
	case float64:
		t.Amount = x
	default:
		return fmt.Errorf("is %s: %q is how a tolerance looks", describe(raw), exampleTolerance(t.Key))
	}
	if _, isText := raw.(string); !isText && t.Key.Kind != quantity.Number {
		return fmt.Errorf("is the bare number %s: a string with a unit is needed, in %s or %%, such as %q", quantity.ShortNumber(t.Amount), t.Key.Kind.UnitNames(), exampleTolerance(t.Key))
	}
	return t.Check()
}

// checkTolerances compares the table with the design, once all settings stand.
func (r *reader) checkTolerances() {
	t := r.file.Tolerances
	if t == nil {
		return
	}
	d := &r.file.Design
	has := map[string]bool{}
	for i := range t.List {
		k := t.List[i].Key
		has[k.Path] = true
		switch x := k.Number(d); {
		case !numeric.Given(x):
			r.fault(toleranceTable+"."+k.Path, "has a tolerance, but the design gives no value for it")
		case math.IsInf(x, 0):
			r.fault(toleranceTable+"."+k.Path, "has a tolerance, but its value is %s", schema.NumberValue(k, x).Show(quantity.Metric))
		}
	}
	if has["cabinet.pitch"] && !d.Cabinet.Pitch.Given() && (has["cabinet.height"] || has["cabinet.gap"]) {
		r.fault(toleranceTable+".cabinet.pitch", "and cabinet.height or cabinet.gap both have a tolerance, but the pitch is height plus gap here: leave out one")
	}
}
