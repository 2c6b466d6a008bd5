package designfile

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/openfile"
	"gapline/internal/schema"
)

// Text returns the text of the design file called name.
func Text(ctx context.Context, name string) ([]byte, error) {
	data, err := readAll(ctx, name, designKind, newHint)
	if err != nil {
		return nil, Problems{{Where: name, Text: err.Error()}}
	}
	return data, nil
}

// Read is Load for a text that was read before from the file called name, beside which
// the files lie that the design names.
func Read(ctx context.Context, name string, text []byte, settings []string) (*File, error) {
	if len(text) > MaxSize {
		return nil, Problems{{Where: name, Text: openfile.TooLarge(int64(len(text)), designKind, MaxSize).Error()}}
	}
	return parse(ctx, name, text, settings)
}

// Edited returns the text of the design file called name with settings written into it:
// read without settings, it gives the design that text gives with them. Comments and all
// other lines stay. A key that is set no longer follows another, so that its line in [follow]
// goes; a key that follows is written too where the file gives it, since its own value may
// settle the offset. The error says which key cannot be written in the file's form.
func Edited(ctx context.Context, name string, text []byte, settings []string) (string, error) {
	before, err := Read(ctx, name, text, nil)
	if err != nil {
		return "", err
	}
	now, err := Read(ctx, name, text, settings)
	if err != nil {
		return "", err
	}
	out := string(text)
	for _, l := range before.Links {
		path := followTable + "." + l.Target.Path
		if !slices.ContainsFunc(now.Links, func(kept schema.Link) bool { return kept.Target == l.Target }) || slices.Contains(settings, Unlink) {
			out = withoutKey(out, path)
		}
	}
	for i := range schema.Keys {
		k := &schema.Keys[i]
		was, is := encoded(k, &before.Design), encoded(k, &now.Design)
		switch {
		case was == is:
		case is == "":
			out = withoutKey(out, k.Path)
		default:
			out = rewriteOne(out, Change{k.Path, is})
		}
	}
	return out, sameDesign(ctx, name, out, now)
}

// withoutKey takes the lines of a key out of a text that has them.
func withoutKey(text, path string) string {
	lines := strings.Split(text, "\n")
	n, ok := keyLines(text)[path]
	if !ok {
		return text
	}
	return strings.Join(slices.Delete(lines, n-1, lastLine(lines, n-1)+1), "\n")
}

// sameDesign returns an error unless the text gives the design of now.
func sameDesign(ctx context.Context, name, text string, now *File) error {
	got, err := Read(ctx, name, []byte(text), nil)
	if err != nil {
		return fmt.Errorf("the settings cannot be written into this file: %w", err)
	}
	for i := range schema.Keys {
		if k := &schema.Keys[i]; !sameValue(k, &got.Design, &now.Design) {
			return fmt.Errorf("%s cannot be written into this file: give the key a line of its own under its table", k.Path)
		}
	}
	for _, l := range now.Links {
		if !slices.ContainsFunc(got.Links, func(g schema.Link) bool { return g.Target == l.Target }) {
			return fmt.Errorf("%s cannot be kept in [%s] of this file", l.Target.Path, followTable)
		}
	}
	return nil
}

// sameValue compares a key in two designs; numbers to the digits that a file holds.
func sameValue(k *schema.Key, a, b *design.Design) bool {
	x, y := k.ValueIn(a), k.ValueIn(b)
	if k.Numeric() {
		return math.IsNaN(x.Number) && math.IsNaN(y.Number) || x.Number == y.Number || math.Abs(x.Number-y.Number) <= 1e-12*math.Abs(y.Number)+1e-15
	}
	return x.Text == y.Text && slices.Equal(x.List, y.List)
}
