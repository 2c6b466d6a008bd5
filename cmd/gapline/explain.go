package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"gapline/cabinet/sizing"
	"gapline/internal/describe"
	"gapline/internal/figure"
	"gapline/internal/schema"
	"gapline/internal/study/stored"

	"github.com/spf13/cobra"
)

func newExplain(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "explain [NAME [FILE]]",
		GroupID: "learn",
		Short:   "Tell the formula, inputs, source and level of trust of a figure or key",
		Long: `Tell what stands behind a figure or a verdict that gapline prints, what a key of the
design file takes, or what a term of the trade or of this program means. A part of a name,
such as horn, lists all that have it; without NAME everything is listed.

With a design FILE it puts the file's values into the formula of a figure, and goes step by
step down to the keys that it comes from, so that it can be done again on paper.`,
		Example: `  gapline explain
  gapline explain gap.open_oct
  gapline explain gap.open_oct box.toml
  gapline explain gap.verdict
  gapline explain insert.spacing
  gapline explain horn
  gapline explain half-wave
  gapline explain crossover gap`,
		Args:              cobra.ArbitraryArgs, // a term may have several words
		ValidArgsFunction: completeExplain,
		RunE: func(cmd *cobra.Command, given []string) error {
			if err := a.refuseFiles("explain"); err != nil {
				return err
			}
			if len(given) == 0 {
				return explainList(a, func(string) bool { return true })
			}
			name, file := nameAndFile(given)
			if file == "" {
				return explainOne(a, name)
			}
			return explainIn(cmd.Context(), a, name, file)
		},
	}
}

// nameAndFile tells a name from the file behind it: a term may have several words.
func nameAndFile(given []string) (name, file string) {
	whole := strings.Join(given, " ")
	if last := len(given) - 1; last > 0 && figure.FindEntry(whole) == nil {
		return strings.Join(given[:last], " "), given[last]
	}
	return whole, ""
}

// explainIn works a figure in the design of a file.
func explainIn(ctx context.Context, a *app, name, file string) error {
	f := figure.Find(strings.ToLower(name))
	if f == nil {
		hint := ""
		if near := nearestName(name); near != "" && near != name {
			hint = fmt.Sprintf(" (did you mean %s?)", near)
		}
		return usageError{fmt.Errorf("%q is no figure%s, and only a figure is worked in a file: gapline explain lists them", name, hint)}
	}
	design, err := a.load(ctx, file)
	if err != nil {
		return err
	}
	s := sizing.Size(&design.Design)
	stored.Into(ctx, design.Name, &design.Design, &s, a.warn)
	return a.show(describe.WorkFigure(f, &design.Design, &s))
}

// explainList lists the figures, keys and terms that are wanted.
func explainList(a *app, wanted func(name string) bool) error {
	x := describe.Explainable{
		Figures: slices.DeleteFunc(figure.All(), func(f *figure.Def) bool { return !wanted(f.Key) }),
		Spoken:  slices.DeleteFunc(figure.AllSpoken(), func(s *figure.Spoken) bool { return !wanted(s.Key) }),
		Terms:   slices.DeleteFunc(figure.Glossary(), func(e *figure.Entry) bool { return !wanted(e.Name) }),
	}
	for i := range schema.Keys {
		if k := &schema.Keys[i]; wanted(k.Path) {
			x.Keys = append(x.Keys, k)
		}
	}
	return a.show(describe.Explained(&x))
}

// explainOne tells about one figure, verdict, key or term, whatever its case. Part of a name
// tells about all that have it: a table, or the last word of a key.
func explainOne(a *app, given string) error {
	name := strings.ToLower(given)
	// A key's own name comes before a figure's without its unit.
	f, k := figure.Find(name), schema.FindKey(name)
	switch {
	case k != nil && (f == nil || f.Key != name):
		return a.show(describe.ExplainKey(k))
	case f != nil:
		return a.show(describe.ExplainFigure(f))
	}
	if s := figure.FindSpoken(name); s != nil {
		return a.show(describe.ExplainSpoken(s))
	}
	if e := figure.FindEntry(name); e != nil {
		return a.show(describe.ExplainTerm(e, namedAs(e)))
	}
	names := append(explainable(), termNames()...)
	switch found := slices.DeleteFunc(names, func(n string) bool { return !isPartOf(name, n) }); len(found) {
	case 0:
	case 1:
		return explainOne(a, found[0])
	default:
		return explainList(a, func(n string) bool { return isPartOf(name, n) })
	}
	hint := ""
	if near := nearestName(name); near != "" {
		hint = fmt.Sprintf(" (did you mean %s?)", near)
	}
	return usageError{fmt.Errorf("%q is neither a figure nor a key of the design file nor a term%s; gapline explain lists them", given, hint)}
}

// isPartOf reports whether a full name, or its last word, begins with part.
func isPartOf(part, full string) bool {
	full = strings.ToLower(full)
	leaf := full[strings.LastIndexByte(full, '.')+1:]
	return part != "" && (strings.HasPrefix(full, part) || strings.HasPrefix(leaf, part))
}

// namedAs lists the figures and keys that have a term in their name, without those that the
// term lists itself.
func namedAs(e *figure.Entry) []string {
	part := strings.ToLower(strings.NewReplacer(" ", "_", "-", "_").Replace(e.Name))
	return slices.DeleteFunc(explainable(), func(n string) bool { return slices.Contains(e.Keys, n) || !isPartOf(part, n) })
}

// termNames lists the terms of the glossary.
func termNames() []string {
	var out []string
	for _, e := range figure.Glossary() {
		out = append(out, e.Name)
	}
	return out
}

// nearestName is what can be explained and is most like a name: a whole key, its beginning,
// such as a table or a figure without its unit, a term, or else the table that the name is
// in; empty where nothing is near.
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
	for _, e := range figure.Glossary() {
		names = append(names, e.Spellings()...)
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

// explainable lists all figures, verdicts and keys, which explain knows beside the terms.
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
