package generated

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gapline/internal/quantity"
	"gapline/internal/schema"
)

// place is a key of a file and the line that gives it.
type place struct {
	key  *schema.Key
	line int // index of it
}

// faulty is the text of the design with one fault in it.
func (m *maker) faulty() (string, Fault) {
	lines := strings.Split(m.text(), "\n")
	at := placesIn(lines)
	for {
		p := at[m.IntN(len(at))]
		line, what := m.spoil(p.key)
		if line == "" {
			continue
		}
		lines[p.line] = line
		fault := Fault{Line: p.line + 1, Key: p.key.Path, What: what}
		if what == "unknown key" {
			fault.Key = strings.TrimSuffix(p.key.Table()+"."+strings.Fields(line)[0], " ")
			fault.Key = strings.TrimPrefix(fault.Key, ".")
		}
		return strings.Join(lines, "\n"), fault
	}
}

// placesIn finds the keys of a design that the lines of a file give.
func placesIn(lines []string) []place {
	var out []place
	table := ""
	for i, line := range lines {
		if strings.HasPrefix(line, "[") {
			table = strings.Trim(line, "[]") + "."
			continue
		}
		leaf, _, is := strings.Cut(line, "=")
		if k := schema.FindKey(table + strings.TrimSpace(leaf)); is && k != nil {
			out = append(out, place{k, i})
		}
	}
	return out
}

// spoil is a line that gives a key wrongly, and how; an empty one where the fault that was
// drawn is none for such a key.
func (m *maker) spoil(k *schema.Key) (line, what string) {
	leaf := k.Path[strings.LastIndexByte(k.Path, '.')+1:]
	line = func() string {
		switch m.IntN(8) {
		case 0:
			what = "unknown key"
			return m.mistyped(leaf) + " = 1"
		case 1:
			what = "out of range"
			return m.beyond(k)
		case 2:
			what = "no unit"
			if k.Type == schema.Quantity && k.Kind != quantity.Number {
				return oneOf(m, "1", "0.25", "-3", `"12"`)
			}
		case 3:
			what = "unit of another kind"
			return m.otherUnit(k)
		case 4:
			what = "another type"
			return oneOf(m, "true", "1979-05-27", "{ a = 1 }")
		case 5:
			what = "not finite"
			if k.Type != schema.Text {
				return oneOf(m, "nan", "inf", "-inf", `"1e999 mm"`)
			}
		case 6:
			what = "too long a list"
			if k.Type == schema.List {
				return "[" + strings.Repeat(m.quantity(k, k.Max)+", ", 100) + "]"
			}
		case 7:
			what = "unknown word"
			if k.Type != schema.Text {
				return oneOf(m, `"large"`, `""`, `"\u001b[31mred"`)
			}
		}
		return ""
	}()
	if line != "" && what != "unknown key" {
		line = leaf + " = " + line
	}
	return line, what
}

// mistyped is a key with a letter too many that no table has.
func (m *maker) mistyped(leaf string) string {
	at := m.IntN(len(leaf) + 1)
	return leaf[:at] + "q" + leaf[at:] + "x"
}

// beyond is a value outside the key's range, in its first unit.
func (m *maker) beyond(k *schema.Key) string {
	if !k.Numeric() {
		return ""
	}
	wide := math.Max(math.Abs(k.Min), math.Abs(k.Max))
	by := wide * m.between(0.01, 1000)
	x := oneOf(m, k.Min-by, k.Max+by)
	if k.Type == schema.Count {
		return strconv.FormatFloat(math.Round(x), 'f', 0, 64)
	}
	unit, _, _ := strings.Cut(k.Kind.UnitNames(), ",")
	if k.Kind == quantity.Number {
		return inUnit(k, x, unit)
	}
	return quoted(inUnit(k, x, unit) + " " + unit)
}

// otherUnit is a value in a unit of another kind.
func (m *maker) otherUnit(k *schema.Key) string {
	if k.Type != schema.Quantity {
		return ""
	}
	units := []string{"mm", "Hz", "kg", "dB", "oct", "m/s", "furlong"}
	own := strings.Split(k.Kind.UnitNames(), ", ")
	units = slices.DeleteFunc(units, func(u string) bool { return slices.Contains(own, u) })
	return quoted(fmt.Sprintf("%.3g %s", m.in(1, 100), oneOf(m, units...)))
}
