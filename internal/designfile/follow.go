package designfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/internal/quantity"
	"gapline/internal/schema"
)

const followTable = "follow"

// follow reads the [follow] table. Its keys may be quoted ("horn.mouth_width")
// or dotted.
func (r *reader) follow(table map[string]any) {
	flat := map[string]any{}
	for _, name := range sortedKeys(table) {
		raw := table[name]
		sub, ok := raw.(map[string]any)
		if _, isLink := sub["of"]; ok && !isLink && slices.Contains(tables(), name) {
			for leaf, inner := range sub {
				flat[name+"."+leaf] = inner
			}
			continue
		}
		flat[name] = raw
	}
	for _, name := range sortedKeys(table) {
		if head, leaf, dotted := strings.Cut(name, "."); dotted {
			if sub, ok := table[head].(map[string]any); ok && sub[leaf] != nil {
				r.fault(followTable+"."+name, "stands twice, once with quotes and once without")
			}
		}
	}
	for _, path := range sortedKeys(flat) {
		l, err := linkFromTOML(path, flat[path])
		if err != nil {
			r.fault(followTable+"."+path, "%s", err)
			continue
		}
		r.links = append(r.links, l)
	}
}

// linkFromTOML reads one entry of [follow].
func linkFromTOML(path string, raw any) (schema.OpenLink, error) {
	var l schema.OpenLink
	if l.Target = schema.FindKey(path); l.Target == nil {
		return l, fmt.Errorf("is not a key of the design file%s", schema.DidYouMean(path))
	}
	table, ok := raw.(map[string]any)
	if !ok {
		return l, fmt.Errorf(`is %s: a table is needed, such as { of = "cabinet.pitch", factor = 1.0 }`, describe(raw))
	}
	for _, k := range sortedKeys(table) {
		if !slices.Contains([]string{"of", "factor", "offset"}, k) {
			return l, fmt.Errorf("has the unknown part %q: of, factor and offset are possible", k)
		}
	}
	source, ok := table["of"].(string)
	switch l.Source = schema.FindKey(source); {
	case !ok:
		return l, fmt.Errorf(`has no part of, the key that it follows: write { of = "cabinet.pitch" } or the like`)
	case l.Source == nil:
		return l, fmt.Errorf("follows %q, which is not a key of the design file%s", clip(source), schema.DidYouMean(source))
	}
	if err := l.Check(); err != nil {
		return l, err
	}
	err := readTerms(&l, table)
	return l, err
}

// readTerms reads factor and offset.
func readTerms(l *schema.OpenLink, table map[string]any) error {
	l.Factor = 1
	switch f := table["factor"].(type) {
	case nil:
	case float64:
		l.Factor = f
	case int64:
		l.Factor = float64(f)
	default:
		return fmt.Errorf("has a factor that is %s: a plain number is needed", describe(f))
	}
	if math.IsNaN(l.Factor) || math.Abs(l.Factor) > 1e3 {
		return fmt.Errorf("has the factor %s: a number between -1000 and 1000 is needed", quantity.ShortNumber(l.Factor))
	}
	switch o := table["offset"].(type) {
	case nil:
	case string:
		x, err := quantity.ParseDifference(o, l.Target.Kind)
		if err != nil {
			return fmt.Errorf("has the offset %q: %w", clip(o), err)
		}
		l.Offset, l.OffsetGiven = x, true
	default:
		return fmt.Errorf("has an offset that is %s: a string with a unit is needed, in %s", describe(o), l.Target.Kind.UnitNames())
	}
	return nil
}

// settle puts the links in order and fixes their offsets from the file's own
// values, before settings change any.
func (r *reader) settle() {
	sorted, circle := schema.InOrder(r.links)
	if circle != nil {
		r.fault(followTable+"."+circle[0], "follows itself in a circle: %s", strings.Join(circle, ", "))
		return
	}
	for i := range sorted {
		l := &sorted[i]
		if err := l.Settle(&r.file.Design); err != nil {
			r.fault(followTable+"."+l.Target.Path, "%s", err)
			continue
		}
		l.Apply(&r.file.Design)
		r.file.Links = append(r.file.Links, l.Link)
	}
}
