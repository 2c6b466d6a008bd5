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
		Long: `Tell what stands behind a figure that gapline prints, or what a key of the design
file takes. A part of a name, such as horn, lists all that have it; without KEY
everything is listed.`,
		Example: `  gapline explain
  gapline explain gap.open_oct
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
	var keys []*schema.Key
	for i := range schema.Keys {
		if k := &schema.Keys[i]; wanted(k.Path) {
			keys = append(keys, k)
		}
	}
	return a.show(describe.Explained(figures, keys))
}

// explainOne tells about one figure or key. Part of a name tells about all that
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
	names := explainable()
	for _, k := range names {
		if i := strings.LastIndexByte(k, '.'); i > 0 {
			names = append(names, k[:i]) // the table or group
		}
	}
	hint := ""
	if near := schema.Nearest(key, names); near != "" {
		hint = fmt.Sprintf(" (did you mean %s?)", near)
	}
	return usageError{fmt.Errorf("%q is neither a figure nor a key of the design file%s; gapline explain lists them", key, hint)}
}

// explainable lists everything that explain knows.
func explainable() []string {
	var out []string
	for _, f := range figure.All() {
		out = append(out, f.Key)
	}
	for i := range schema.Keys {
		out = append(out, schema.Keys[i].Path)
	}
	return out
}
