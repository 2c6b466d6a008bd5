package main

import (
	"fmt"
	"strings"

	"gapline/cabinet"
	"gapline/internal/designfile"
	"gapline/internal/screen"

	"github.com/spf13/cobra"
)

func newExplain(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "explain [KEY]",
		GroupID: "learn",
		Short:   "Tell the formula, inputs, source and level of trust of a figure or key",
		Long: `Tell what stands behind a figure that gapline prints, or what a key of the design
file takes. Without KEY it lists them all.`,
		Example: `  gapline explain
  gapline explain gap.open_oct
  gapline explain insert.spacing`,
		Args:              args(cobra.MaximumNArgs(1), "one key at most"),
		ValidArgsFunction: completeExplain,
		RunE: func(_ *cobra.Command, given []string) error {
			if len(given) == 0 {
				return explainAll(a)
			}
			return explainOne(a, given[0])
		},
	}
}

func explainAll(a *app) error {
	if a.json {
		o := &screen.Object{}
		var figures, keys []any
		for i := range cabinet.Figures {
			figures = append(figures, figureObject(&cabinet.Figures[i]))
		}
		for i := range designfile.Keys {
			keys = append(keys, keyObject(&designfile.Keys[i]))
		}
		o.Set("schema_version", screen.SchemaVersion).Set("figures", figures).Set("keys", keys)
		return screen.WriteJSON(a.out, o)
	}
	t := &screen.Listing{}
	t.Heading("Figures")
	for i := range cabinet.Figures {
		f := &cabinet.Figures[i]
		t.Item(f.Key, f.Name, string(f.Level))
	}
	t.Heading("Keys of the design file")
	for i := range designfile.Keys {
		t.Item(designfile.Keys[i].Path, designfile.Keys[i].Doc, "")
	}
	return t.Write(a.out)
}

func explainOne(a *app, key string) error {
	if f := cabinet.FindFigure(key); f != nil {
		if a.json {
			return screen.WriteJSON(a.out, figureObject(f))
		}
		return printFigure(a, f)
	}
	if k := designfile.FindKey(key); k != nil {
		if a.json {
			return screen.WriteJSON(a.out, keyObject(k))
		}
		fmt.Fprintf(a.out, "%s (key of the design file)\n%s", k.Path, screen.Wrap(k.Doc, 90, "  ", "  "))
		fmt.Fprint(a.out, screen.Wrap(k.Accepted(), 90, "  takes    ", "           "))
		return nil
	}
	hint := ""
	if near := designfile.Nearest(key, explainable()); near != "" {
		hint = fmt.Sprintf(" (did you mean %s?)", near)
	}
	return usageError{fmt.Errorf("%q is neither a figure nor a key of the design file%s; gapline explain lists them", key, hint)}
}

func printFigure(a *app, f *cabinet.Figure) error {
	fmt.Fprintf(a.out, "%s: %s, %s\n", f.Key, f.Name, f.Symbol)
	line := func(label, text string) {
		if text != "" {
			fmt.Fprint(a.out, screen.Wrap(text, 90, fmt.Sprintf("  %-9s", label), strings.Repeat(" ", 11)))
		}
	}
	line("formula", f.Formula)
	line("inputs", strings.Join(f.Inputs, ", "))
	line("measures", f.Kind.String())
	line("trust", string(f.Level)+": "+f.Level.Meaning())
	line("source", f.Source)
	line("note", f.Note)
	return nil
}

func figureObject(f *cabinet.Figure) *screen.Object {
	o := &screen.Object{}
	return o.Set("key", f.Key).Set("name", f.Name).Set("symbol", f.Symbol).Set("measures", f.Kind.String()).
		Set("trust", string(f.Level)).Set("formula", f.Formula).Set("inputs", f.Inputs).Set("source", f.Source).Set("note", f.Note)
}

func keyObject(k *designfile.Key) *screen.Object {
	o := &screen.Object{}
	return o.Set("key", k.Path).Set("text", k.Doc).Set("takes", k.Accepted())
}

// explainable lists everything that explain knows.
func explainable() []string {
	var out []string
	for i := range cabinet.Figures {
		out = append(out, cabinet.Figures[i].Key)
	}
	for i := range designfile.Keys {
		out = append(out, designfile.Keys[i].Path)
	}
	return out
}
