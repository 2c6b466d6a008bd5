package main

import (
	"fmt"
	"slices"
	"strings"

	"gapline/internal/describe"
	"gapline/internal/figure"
	"gapline/internal/schema"

	"github.com/spf13/cobra"
)

func newExplain(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "explain [KEY]",
		GroupID: "learn",
		Short:   "Tell the formula, inputs, source and level of trust of a figure or key",
		Long: `Tell what stands behind a figure or a verdict that gapline prints, or what a key of
the design file takes. A part of a name, such as horn, lists all that have it; without KEY
everything is listed.`,
		Example: `  gapline explain
  gapline explain gap.open_oct
  gapline explain gap.verdict
  gapline explain insert.spacing
  gapline explain horn`,
		Args:              args(cobra.MaximumNArgs(1), "one key at most"),
		ValidArgsFunction: completeExplain,
		RunE: func(_ *cobra.Command, given []string) error {
			if err := a.refuseFiles("explain"); err != nil {
				return err
			}
			if len(given) == 0 {
				return explainList(a, func(string) bool { return true })
			}
			return explainOne(a, given[0])
		},
	}
}

// explainList lists the figures and keys that are wanted.
func explainList(a *app, wanted func(key string) bool) error {
	figures := slices.DeleteFunc(figure.All(), func(f *figure.Def) bool { return !wanted(f.Key) })
	spoken := slices.DeleteFunc(figure.AllSpoken(), func(s *figure.Spoken) bool { return !wanted(s.Key) })
	var keys []*schema.Key
	for i := range schema.Keys {
		if k := &schema.Keys[i]; wanted(k.Path) {
			keys = append(keys, k)
		}
	}
	return a.show(describe.Explained(figures, spoken, keys))
}

// explainOne tells about one figure, verdict or key. Part of a name tells about all that
// have it: a table, or the last word of a key.
func explainOne(a *app, key string) error {
	// A key's own name comes before a figure's without its unit.
	f, k := figure.Find(key), schema.FindKey(key)
	switch {
	case k != nil && (f == nil || f.Key != key):
		return a.show(describe.ExplainKey(k))
	case f != nil:
		return a.show(describe.ExplainFigure(f))
	}
	if s := figure.FindSpoken(key); s != nil {
		return a.show(describe.ExplainSpoken(s))
	}
	matches := func(full string) bool {
		leaf := full[strings.LastIndexByte(full, '.')+1:]
		return key != "" && (strings.HasPrefix(full, key) || strings.HasPrefix(leaf, key))
	}
	switch found := slices.DeleteFunc(explainable(), func(k string) bool { return !matches(k) }); len(found) {
	case 0:
	case 1:
		return explainOne(a, found[0])
	default:
		return explainList(a, matches)
	}
	hint := ""
	if near := nearestName(key); near != "" {
		hint = fmt.Sprintf(" (did you mean %s?)", near)
	}
	return usageError{fmt.Errorf("%q is neither a figure nor a key of the design file%s; gapline explain lists them", key, hint)}
}

// nearestName is what can be explained and is most like a name: a whole key, its beginning,
// such as a table or a figure without its unit, or else the table that the name is in;
// empty where nothing is near.
func nearestName(name string) string {
	names := explainable()
	groups := map[string]bool{}
	for _, k := range explainable() {
		for i, r := range k {
			if r == '.' || r == '_' {
				names = append(names, k[:i])
				groups[k[:i]] = groups[k[:i]] || r == '.'
			}
		}
	}
	if near := schema.Nearest(name, names); near != "" {
		return near
	}
	for i := strings.LastIndexByte(name, '.'); i > 0; i = strings.LastIndexByte(name[:i], '.') {
		if groups[name[:i]] {
			return name[:i]
		}
	}
	return ""
}

// explainable lists everything that explain knows.
func explainable() []string {
	var out []string
	for _, f := range figure.All() {
		out = append(out, f.Key)
	}
	for _, s := range figure.AllSpoken() {
		out = append(out, s.Key)
	}
	for i := range schema.Keys {
		out = append(out, schema.Keys[i].Path)
	}
	return out
}
