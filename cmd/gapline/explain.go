package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"gapline/internal/designfile"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/screen"

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
	t := &screen.Listing{}
	var rows, keys []any
	for _, f := range figure.All() {
		if wanted(f.Key) {
			if len(rows) == 0 {
				t.Heading("Figures")
			}
			rows = append(rows, figureObject(f))
			t.Item(f.Key, f.Name, f.Trust.String())
		}
	}
	for i := range designfile.Keys {
		if k := &designfile.Keys[i]; wanted(k.Path) {
			if len(keys) == 0 {
				t.Heading("Keys of the design file")
			}
			keys = append(keys, keyObject(k))
			t.Item(k.Path, k.Doc, "")
		}
	}
	if a.json {
		o := &screen.Object{}
		o.Set("schema_version", screen.SchemaVersion).Set("figures", list(rows)).Set("keys", list(keys))
		return screen.WriteJSON(a.out, o)
	}
	return t.Write(a.out)
}

// list keeps an empty list from becoming null in JSON.
func list(items []any) []any {
	if items == nil {
		return []any{}
	}
	return items
}

// explainOne tells about one figure or key. Part of a name tells about all that
// have it: a table, or the last word of a key.
func explainOne(a *app, key string) error {
	if k := designfile.FindKey(key); k != nil {
		return explainKey(a, k)
	}
	if f := figure.Find(key); f != nil { // a figure's key without its unit may be a key of the file
		return explainFigure(a, f)
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
	if near := designfile.Nearest(key, names); near != "" {
		hint = fmt.Sprintf(" (did you mean %s?)", near)
	}
	return usageError{fmt.Errorf("%q is neither a figure nor a key of the design file%s; gapline explain lists them", key, hint)}
}

func explainKey(a *app, k *designfile.Key) error {
	if a.json {
		return screen.WriteJSON(a.out, keyObject(k))
	}
	_, err := fmt.Fprintf(a.out, "%s (key of the design file)\n%s%s%s", k.Path,
		screen.Wrap(k.Doc, 90, "  ", "  "), screen.Wrap(k.Accepted(), 90, "  takes    ", "           "), sweepUnits(k))
	return err
}

// sweepUnits says in which units the output of a sweep holds an angle; other keys
// are in SI in either format.
func sweepUnits(k *designfile.Key) string {
	if !k.Numeric() || k.Kind != quantity.Angle {
		return ""
	}
	column, _ := k.Column()
	return fmt.Sprintf("  sweep    --json holds it as %s in rad, --csv as %s in degrees\n", k.Path, column)
}

func explainFigure(a *app, f *figure.Def) error {
	if a.json {
		return screen.WriteJSON(a.out, figureObject(f))
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s, %s\n", f.Key, f.Name, f.Symbol)
	line := func(label, text string) {
		if text != "" {
			b.WriteString(screen.Wrap(text, 90, fmt.Sprintf("  %-9s", label), strings.Repeat(" ", 11)))
		}
	}
	line("formula", f.Formula)
	line("inputs", strings.Join(f.Inputs(), ", "))
	line("measures", f.Kind.String())
	line("trust", f.Trust.String()+": "+f.Trust.Meaning())
	line("source", f.Source)
	line("note", f.Note)
	_, err := io.WriteString(a.out, b.String())
	return err
}

func figureObject(f *figure.Def) *screen.Object {
	o := &screen.Object{}
	return o.Set("key", f.Key).Set("name", f.Name).Set("symbol", f.Symbol).Set("measures", f.Kind.String()).
		Set("trust", f.Trust.String()).Set("formula", f.Formula).Set("inputs", f.Inputs()).Set("source", f.Source).Set("note", f.Note)
}

func keyObject(k *designfile.Key) *screen.Object {
	o := &screen.Object{}
	return o.Set("key", k.Path).Set("text", k.Doc).Set("takes", k.Accepted())
}

// explainable lists everything that explain knows.
func explainable() []string {
	var out []string
	for _, f := range figure.All() {
		out = append(out, f.Key)
	}
	for i := range designfile.Keys {
		out = append(out, designfile.Keys[i].Path)
	}
	return out
}
