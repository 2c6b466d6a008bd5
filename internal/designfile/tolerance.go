package designfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

const toleranceTable = "tolerance"

// Tolerance is how far one key may be off.
type Tolerance struct {
	Key    *Key
	Amount float64 // half width of a uniform spread, or standard deviation; SI, or a share of the value
	Share  bool    // Amount is a share of the key's value
	Normal bool
}

// Half returns the amount in SI for a design.
func (t *Tolerance) Half(d *design.Design) float64 {
	if t.Share {
		return t.Amount * math.Abs(t.Key.Number(d))
	}
	return t.Amount
}

// String returns the tolerance as a person would write it: "± 2 mm".
func (t *Tolerance) String() string { return t.Text(quantity.Metric) }

// Text returns the tolerance in the given units.
func (t *Tolerance) Text(sys quantity.System) string {
	amount := quantity.FormatDifference(t.Amount, t.Key.Kind, sys)
	if t.Share {
		amount = quantity.Format(t.Amount, quantity.Fraction, sys)
	}
	if t.Normal {
		return "sigma " + amount
	}
	return "± " + amount
}

// Tolerances is the [tolerance] table.
type Tolerances struct {
	List    []Tolerance // in the order of the table of keys
	Samples int
	Seed    uint64
}

// Bounds and defaults of the sample.
const (
	defaultSamples = 2000
	minSamples     = 20
	maxSamples     = 200_000
	defaultSeed    = 1
)

// CheckSamples returns an error for a number of samples that is not possible.
func CheckSamples(n int) error {
	return checkCount(n, "samples", minSamples, maxSamples)
}

// checkCount returns an error for a number that is not from least to most.
func checkCount(n int, what string, least, most int) error {
	if n < least || n > most {
		return fmt.Errorf("%d %s: a whole number from %d to %d is needed", n, what, least, most)
	}
	return nil
}

// tolerances reads the [tolerance] table. Its keys may be quoted
// ("cabinet.pitch") or dotted.
func (r *reader) tolerances(table map[string]any) {
	t := &Tolerances{Samples: defaultSamples, Seed: defaultSeed}
	r.file.Tolerances = t
	flat := flatten(table, "sigma")
	for _, path := range sortedKeys(flat) {
		raw, where := flat[path], toleranceTable+"."+path
		var err error
		switch path {
		case "samples":
			t.Samples, err = whole(raw, minSamples, maxSamples)
		case "seed":
			t.Seed, err = seed(raw)
		default:
			var one Tolerance
			if one, err = toleranceFromTOML(path, raw); err == nil {
				t.List = append(t.List, one)
			}
		}
		if err != nil {
			r.fault(where, "%s", err)
		}
	}
	slices.SortFunc(t.List, func(a, b Tolerance) int { return a.Key.Index() - b.Key.Index() })
}

// flatten joins the parts of dotted keys: { cabinet = { pitch = x } } becomes
// { "cabinet.pitch" = x }. A table that has the part called leaf is a value.
func flatten(table map[string]any, leaf string) map[string]any {
	flat := map[string]any{}
	for name, raw := range table {
		sub, ok := raw.(map[string]any)
		if _, isValue := sub[leaf]; ok && !isValue && slices.Contains(keyTables(), name) {
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
func toleranceFromTOML(path string, raw any) (Tolerance, error) {
	t := Tolerance{Key: FindKey(path)}
	switch {
	case t.Key == nil:
		return t, fmt.Errorf("is not a key of the design file%s", DidYouMean(path))
	case t.Key.Type != Quantity:
		return t, fmt.Errorf("can have no tolerance: %s", whyNoTolerance(t.Key))
	}
	if table, ok := raw.(map[string]any); ok {
		sigma, given := table["sigma"]
		if !given || len(table) > 1 {
			return t, fmt.Errorf(`must be a plus-or-minus such as %q, or { sigma = %q }`, t.Key.exampleTolerance(), t.Key.exampleTolerance())
		}
		t.Normal, raw = true, sigma
	}
	return t, t.read(raw)
}

func whyNoTolerance(k *Key) string {
	switch k.Type {
	case Count:
		return "it is a whole number"
	case List:
		return "it is a list"
	}
	return "it is not a number"
}

// exampleTolerance is an ordinary amount in the key's unit.
func (k *Key) exampleTolerance() string {
	if k.Kind == quantity.Number {
		return "5 %"
	}
	return "2 " + strings.Split(k.Kind.UnitNames(), ",")[0]
}

// read reads the amount: a difference in the key's unit, or per cent of the
// value. For a key that is itself in per cent, per cent are of the same unit.
func (t *Tolerance) read(raw any) error {
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
		return fmt.Errorf("is %s: %q is how a tolerance looks", describe(raw), t.Key.exampleTolerance())
	}
	if _, isText := raw.(string); !isText && t.Key.Kind != quantity.Number {
		return fmt.Errorf("is the bare number %s: a string with a unit is needed, in %s or %%, such as %q", short(t.Amount), t.Key.Kind.UnitNames(), t.Key.exampleTolerance())
	}
	return t.checkAmount()
}

func (t *Tolerance) checkAmount() error {
	switch {
	case !(t.Amount > 0) || math.IsInf(t.Amount, 0):
		return fmt.Errorf("is %v: a tolerance above 0 is needed", t)
	case t.Share && t.Amount > 1:
		return fmt.Errorf("is %v of the value: 100 %% at most are possible", t)
	case !t.Share && t.Amount > t.Key.Max-t.Key.Min:
		return fmt.Errorf("is %v: that is more than the whole range of the key, %s to %s", t, t.Key.bound(t.Key.Min), t.Key.bound(t.Key.Max))
	}
	return nil
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
			r.fault(toleranceTable+"."+k.Path, "has a tolerance, but its value is %s", NumberValue(k, x).Show(quantity.Metric))
		}
	}
	if has["cabinet.pitch"] && !numeric.Given(d.Cabinet.Pitch) && (has["cabinet.height"] || has["cabinet.gap"]) {
		r.fault(toleranceTable+".cabinet.pitch", "and cabinet.height or cabinet.gap both have a tolerance, but the pitch is height plus gap here: leave out one")
	}
}
