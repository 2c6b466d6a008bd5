package designfile

import (
	"fmt"
	"strconv"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/cleantext"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// Encode returns a design, its links and its tolerances as the text of a
// design file, under a comment of one or more lines. Parse reads it back to the
// same values, to within the 14th digit.
func Encode(p *schema.Project, comment string) []byte {
	e := encoder{}
	for _, line := range strings.Split(strings.TrimSpace(comment), "\n") {
		e.line("# %s", strings.TrimSpace(cleantext.Line(line)))
	}
	for _, table := range append([]string{""}, schema.Tables()...) {
		e.table(table, &p.Design)
	}
	e.links(p.Links)
	e.tolerances(p.Tolerances)
	return []byte(e.String())
}

type encoder struct{ strings.Builder }

func (e *encoder) line(format string, args ...any) { fmt.Fprintf(e, format+"\n", args...) }

// table writes the keys of one table that have a value.
func (e *encoder) table(name string, d *design.Design) {
	started := false
	for i := range schema.Keys {
		k := &schema.Keys[i]
		if k.Table() != name {
			continue
		}
		text := encoded(k, d)
		if text == "" {
			continue
		}
		if !started {
			e.WriteByte('\n')
			if name != "" {
				e.line("[%s]", name)
			}
			started = true
		}
		e.line("%s = %s", k.Path[strings.LastIndexByte(k.Path, '.')+1:], text)
	}
}

// encoded returns the key's value in d as TOML; "" when it is not given.
func encoded(k *schema.Key, d *design.Design) string {
	switch v := k.ValueIn(d); {
	case k.Type == schema.List && len(v.List) > 0:
		parts := make([]string, len(v.List))
		for i, x := range v.List {
			parts[i] = number(k, x)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case v.Text != "":
		return quote(v.Text)
	case !k.Numeric():
		return ""
	}
	x := k.Number(d)
	if k.Path == "cabinet.pitch" {
		x = d.Cabinet.Pitch.Value() // only when it is given itself
	}
	if !numeric.Given(x) {
		return ""
	}
	return number(k, x)
}

// number writes one number with its unit, or the word that stands for it.
func number(k *schema.Key, x float64) string {
	if w := k.Word(x); w != "" {
		return quote(w)
	}
	if k.Kind == quantity.Number {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return quote(quantity.Canonical(x, k.Kind))
}

// difference writes the difference of two values of the key.
func difference(k *schema.Key, x float64) string {
	if k.Kind == quantity.Temperature {
		return strconv.FormatFloat(x, 'g', 14, 64) + " K"
	}
	return quantity.Canonical(x, k.Kind)
}

func (e *encoder) links(links []schema.Link) {
	if len(links) == 0 {
		return
	}
	e.line("\n[%s]", followTable)
	for i := range links {
		l := &links[i]
		e.line("%s = { of = %s, factor = %s, offset = %s }", quote(l.Target.Path), quote(l.Source.Path),
			strconv.FormatFloat(l.Factor, 'g', -1, 64), quote(difference(l.Target, l.Offset)))
	}
}

func (e *encoder) tolerances(t *schema.Tolerances) {
	if t == nil {
		return
	}
	e.line("\n[%s]", toleranceTable)
	e.line("samples = %d\nseed = %d", t.Samples, t.Seed)
	for i := range t.List {
		one := &t.List[i]
		text := quote(difference(one.Key, one.Amount))
		switch {
		case one.Share:
			text = quote(quantity.Canonical(one.Amount, quantity.Fraction))
		case one.Key.Kind == quantity.Number:
			text = strconv.FormatFloat(one.Amount, 'g', -1, 64)
		}
		if one.Normal {
			text = "{ sigma = " + text + " }"
		}
		e.line("%s = %s", quote(one.Key.Path), text)
	}
}

// quote writes a TOML basic string.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
