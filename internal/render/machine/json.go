package machine

import (
	"io"
	"slices"

	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
)

// JSON writes the parts of r that JSON holds as one object.
func JSON(w io.Writer, r *result.Result) error { return Write(w, ObjectOf(r)) }

// ObjectOf returns the JSON object of r.
func ObjectOf(r *result.Result) *Object {
	o := &Object{}
	o.Set("schema_version", SchemaVersion)
	if !r.Untitled {
		o.Set("title", r.Title)
	}
	return o.Add(r)
}

// Add adds the parts of r that JSON holds.
func (o *Object) Add(r *result.Result) *Object {
	add(o, r.Chosen(result.Choice{Place: result.Data}))
	return o
}

func add(o *Object, parts []result.Part) {
	for _, part := range parts {
		switch x := part.(type) {
		case result.Section:
			addSection(o, &x)
		case result.Table:
			addTable(o, &x)
		case result.Grid:
			addGrid(o, &x)
		case result.Findings:
			addFindings(o, &x)
		}
	}
}

func addSection(o *Object, s *result.Section) {
	switch {
	case s.Null:
		o.Path(s.Key, nil)
	case s.List:
		objects := make([]*Object, 0, len(s.Parts))
		for _, part := range s.Parts {
			if one, ok := part.(result.Section); ok {
				sub := &Object{}
				add(sub, one.Parts)
				objects = append(objects, sub)
			}
		}
		o.Path(s.Key, objects)
	case s.Key == "":
		add(o, s.Parts)
	default:
		sub := &Object{}
		add(sub, s.Parts)
		o.Path(s.Key, sub)
	}
}

func addTable(o *Object, t *result.Table) {
	into := o
	if t.Key != "" && t.As != result.Records {
		into = &Object{}
		o.Path(t.Key, into)
	}
	switch t.As {
	case result.ByColumn:
		addColumns(into, t)
	case result.Records:
		objects := []*Object{}
		for row := range t.Rows {
			objects = append(objects, record(t, &row))
		}
		o.Path(t.Key, objects)
	default:
		for row := range t.Rows {
			addRow(into, t, &row)
		}
	}
}

// addColumns adds an array for each column.
func addColumns(o *Object, t *result.Table) {
	arrays := make([][]any, len(t.Columns))
	for i := range arrays {
		arrays[i] = []any{}
	}
	for row := range t.Rows {
		for i := range row.Cells {
			arrays[i] = append(arrays[i], Value(&row.Cells[i]))
		}
	}
	for i := range t.Columns {
		if t.Columns[i].Empty {
			o.Path(t.Columns[i].Name(), nil)
			continue
		}
		o.Path(t.Columns[i].Name(), arrays[i])
	}
}

func addRow(o *Object, t *result.Table, row *result.Row) {
	var v any
	if values(t) == 1 {
		v = Value(&row.Cells[0])
	} else {
		v = record(t, row)
	}
	if t.As == result.ByName {
		o.Set(row.Key, v)
		return
	}
	o.Path(row.Key, v)
}

// values counts the columns that hold cells.
func values(t *result.Table) int {
	n := 0
	for i := range t.Columns {
		if !t.Columns[i].Trust {
			n++
		}
	}
	return n
}

// record is a row as an object by column.
func record(t *result.Table, row *result.Row) *Object {
	o := &Object{}
	next := 0
	for i := range t.Columns {
		c := &t.Columns[i]
		switch {
		case c.Trust:
			o.Path(c.Name(), row.Trust.String())
		case next < len(row.Cells):
			o.Path(c.Name(), Value(&row.Cells[next]))
			next++
		}
	}
	return o
}

// Value is a cell as JSON holds it.
func Value(c *result.Cell) any {
	switch c.StateOf() {
	case result.Value:
		return Number(machine(c))
	case result.Truth:
		return c.Truth
	case result.Many:
		list := make([]any, len(c.List))
		for i := range c.List {
			list[i] = Value(&c.List[i])
		}
		return list
	case result.Wording:
		if c.Phrase != nil {
			return terminal.Text(*c.Phrase, quantity.Metric)
		}
		if c.Words != "" || c.Blank {
			return c.Words
		}
	}
	return nil
}

// Text is a cell's number as JSON writes it.
func Text(c *result.Cell) string {
	if c.StateOf() != result.Value {
		return "null"
	}
	text, err := Number(machine(c)).MarshalJSON()
	if err != nil {
		return "null" // a number or null always can be written
	}
	return string(text)
}

// machine is the number in the unit that the figure's key names.
func machine(c *result.Cell) float64 {
	if c.Fig != nil {
		return c.Fig.Machine(c.SI)
	}
	return c.SI
}

func addGrid(o *Object, g *result.Grid) {
	into := o
	if g.Key != "" {
		into = &Object{}
		o.Path(g.Key, into)
	}
	if g.X.Key != "" {
		into.Path(g.X.Key, axisNumbers(&g.X))
	}
	if g.Y.Key != "" {
		into.Path(g.Y.Key, axisNumbers(&g.Y))
	}
	rows := make([]any, len(g.Z))
	for i, row := range g.Z {
		switch {
		case row == nil:
		case g.Split > 0:
			var plane [][]Number
			for line := range slices.Chunk(row, g.Split) {
				plane = append(plane, numbers(g.Fig.Machine, line))
			}
			rows[i] = plane
		default:
			rows[i] = numbers(g.Fig.Machine, row)
		}
	}
	into.Path(g.Name(), rows)
}

func axisNumbers(v *result.Values) []Number { return numbers(v.Fig.Machine, v.SI) }

func numbers(unit func(float64) float64, si []float64) []Number {
	out := make([]Number, len(si))
	for i, x := range si {
		out[i] = Number(unit(x))
	}
	return out
}

func addFindings(o *Object, f *result.Findings) {
	key := f.Key
	if key == "" {
		key = "findings"
	}
	if f.Bare {
		o.Path(key, Texts(f.List))
		return
	}
	o.Path(key, Findings(f.List))
}

// Findings are the JSON objects of findings. Texts are for programs to pass on: they
// keep to metric units.
func Findings(list []result.Finding) []*Object {
	out := []*Object{}
	for i, text := range Texts(list) {
		one := &Object{}
		out = append(out, one.Set("severity", list[i].Severity.String()).Set("key", list[i].Key).Set("text", text))
	}
	return out
}

// Texts are the texts of findings alone.
func Texts(list []result.Finding) []string {
	out := []string{}
	for _, x := range list {
		out = append(out, terminal.Text(x.Text, quantity.Metric))
	}
	return out
}
