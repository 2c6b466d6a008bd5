package generated

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// text writes the design as a file, each number in any of its units, with tolerances and a
// search beside it.
func (m *maker) text() string {
	var b strings.Builder
	if m.chance(0.5) {
		b.WriteString("# drawn by chance; everything in it is invented\n")
	}
	for _, table := range append([]string{""}, schema.Tables()...) {
		m.table(&b, table)
	}
	if m.chance(0.5) {
		b.WriteString(m.follow())
	}
	b.WriteString(m.tolerance())
	b.WriteString(m.search())
	return b.String()
}

// table writes the keys of a table that have a value.
func (m *maker) table(b *strings.Builder, table string) {
	begun := table == ""
	for i := range schema.Keys {
		k := &schema.Keys[i]
		if k.Table() != table {
			continue
		}
		value := m.written(k)
		if value == "" {
			continue
		}
		if !begun {
			fmt.Fprintf(b, "\n[%s]\n", table)
			begun = true
		}
		fmt.Fprintf(b, "%s%s=%s%s%s\n", k.Path[strings.LastIndexByte(k.Path, '.')+1:], m.space(), m.space(), value, oneOf(m, "", "", "", " # as drawn"))
	}
}

func (m *maker) space() string { return oneOf(m, "", " ", "  ", "\t") }

// written is the key's value as TOML; "" where it has none.
func (m *maker) written(k *schema.Key) string {
	v := k.ValueIn(&m.d)
	switch {
	case k.Type == schema.List && len(v.List) > 0:
		parts := make([]string, len(v.List))
		for i, x := range v.List {
			parts[i] = m.quantity(k, x)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case v.Text != "":
		return quoted(v.Text)
	case !k.Numeric():
		return ""
	}
	if k.Path == "cabinet.pitch" { // only where the file gives it itself
		v.Number = m.d.Cabinet.Pitch.Value()
	}
	if math.IsNaN(v.Number) {
		return ""
	}
	return m.quantity(k, v.Number)
}

// quantity writes a number with one of its units.
func (m *maker) quantity(k *schema.Key, x float64) string {
	if w := k.Word(x); w != "" {
		return quoted(w)
	}
	if k.Kind == quantity.Number {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	unit := oneOf(m, strings.Split(k.Kind.UnitNames(), ", ")...)
	return quoted(inUnit(k, x, unit) + oneOf(m, " ", "  ", "") + unit)
}

// inUnit writes a number, SI, in a unit of its kind. The last digits are left out: a unit's
// conversion rounds, and the ends of a range are to stay inside it.
func inUnit(k *schema.Key, x float64, unit string) string {
	if k.Kind == quantity.Number {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return strconv.FormatFloat(k.Kind.In(unit, x), 'g', 15, 64)
}

// quoted writes a text as a TOML string.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`).Replace(s) + `"`
}

// follow is a table of links between lengths that the design gives.
func (m *maker) follow() string {
	var b strings.Builder
	b.WriteString("\n[follow]\n")
	for _, target := range []string{"horn.mouth_height", "insert.mouth_width", "horn.mouth_width"} {
		if !m.given(target) || !m.chance(0.4) {
			continue
		}
		source := oneOf(m, "cabinet.pitch", "cabinet.width", "woofer.size")
		if m.given(source) {
			fmt.Fprintf(&b, "%q = { of = %q, factor = %.3g }\n", target, source, m.in(0.2, 1))
		}
	}
	return b.String()
}
