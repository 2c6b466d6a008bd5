package describe

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
)

// mostSteps is how many levels of inputs of inputs are followed. The longest way in the
// catalogue, from a gap to the keys, is shorter.
const mostSteps = 8

// inDigits has the digits that it takes to do a step again and find those that are printed.
var inDigits = quantity.Style{Verb: "%.6g"}

// WorkFigure tells the formula of a figure, its inputs with their values in a design, its
// result, and the steps from it down to the keys of the design file, each once. What has no
// value says why.
func WorkFigure(f *figure.Def, d *design.Design, s *sizing.Sizing) *result.Result {
	w := worked{d: d, s: s, seen: map[string]bool{f.Key: true}}
	e := explanation{title: fmt.Sprintf("%s: %s, %s", f.Key, f.Name, f.Symbol)}
	e.line("formula", f.Formula)
	e.line("holds in", f.Domain)
	for i, t := range workedTerms(f) {
		label := "inputs"
		if i > 0 {
			label = ""
		}
		v := w.value(t)
		e.say(label, v.text())
	}
	e.say("result", w.result(f))
	e.line("trust", size.Trust(s, f).String())
	e.line("higher", f.Higher)
	w.walk(f, 1)
	return w.explained(f, &e)
}

// worked is a figure being worked down to the keys.
type worked struct {
	d     *design.Design
	s     *sizing.Sizing
	seen  map[string]bool
	steps []workedValue
}

// workedValue is an input with its value.
type workedValue struct {
	figure.Term
	fig    *figure.Def // nil for a key and for what is said in words
	depth  int
	column string      // the input with the unit that data is in
	shown  result.Cell // for people
	data   result.Cell // for programs
	lacks  string      // why there is no value; empty where there is one
}

// soundSpeed finds the speed of sound in formulas, which do not list it among their terms.
var soundSpeed = regexp.MustCompile(`(^|[^\pL\pN_.])c($|[^\pL\pN_.])`)

// workedTerms are the terms of a figure and the speed of sound where its formula has it.
func workedTerms(f *figure.Def) []figure.Term {
	terms := f.Terms
	listed := slices.ContainsFunc(terms, func(t figure.Term) bool { return t.Key == figure.AirSoundSpeed.Key })
	if !listed && f != figure.AirSoundSpeed && soundSpeed.MatchString(strings.Join(append([]string{f.Formula}, f.Hand...), "\n")) {
		terms = append(slices.Clone(terms), figure.Term{Symbol: "c", Key: figure.AirSoundSpeed.Key})
	}
	return terms
}

// walk adds the inputs of a figure, each followed by its own inputs.
func (w *worked) walk(f *figure.Def, depth int) {
	for _, t := range workedTerms(f) {
		v := w.value(t)
		name := t.Key
		if v.fig != nil {
			name = v.fig.Key
		}
		if w.seen[name] {
			continue
		}
		w.seen[name] = true
		v.depth = depth
		w.steps = append(w.steps, v)
		if v.fig != nil && depth < mostSteps {
			w.walk(v.fig, depth+1)
		}
	}
}

// value finds what an input is in the design.
func (w *worked) value(t figure.Term) workedValue {
	v := workedValue{Term: t, column: t.Key, shown: result.None, data: result.None}
	f, k := figure.Find(t.Key), schema.FindKey(t.Key)
	switch {
	case k != nil && (f == nil || f.Key != t.Key):
		v.ofKey(w.d, k)
	case f != nil:
		v.fig, v.column = f, f.Key
		v.lacks = w.lacks(f)
		v.data = w.cell(f)
		v.shown = inFull(v.data)
	default:
		v.lacks = "said in words by gapline size"
	}
	return v
}

// ofKey takes the value of a key.
func (v *workedValue) ofKey(d *design.Design, k *schema.Key) {
	x := k.ValueIn(d)
	switch {
	case k.Numeric() && numeric.Given(x.Number):
		v.column, _ = k.Column()
		v.data = result.Num(k.InColumn(x.Number), quantity.Number)
		v.shown = result.Num(x.Number, k.Kind).As(inDigits).Saying(k.Word(x.Number))
		if word := k.Word(x.Number); word != "" {
			v.data = result.Word(word)
		}
	case len(x.List) > 0:
		v.column, _ = k.Column()
		v.data, v.shown = result.Cell{State: result.Many}, result.Cell{State: result.Many}
		for _, y := range x.List {
			v.data.List = append(v.data.List, result.Num(k.InColumn(y), quantity.Number))
			v.shown.List = append(v.shown.List, result.Num(y, k.Kind).As(inDigits))
		}
	case !k.Numeric() && x.Text != "":
		v.data = result.Word(x.Text)
		v.shown = v.data
	case k.Default != "":
		v.lacks = "not given; " + k.Default + " unless given"
	default:
		v.lacks = "not given"
	}
}

// lacks says why a figure has no value; empty where it has one.
func (w *worked) lacks(f *figure.Def) string {
	c := w.cell(f)
	switch {
	case c.Given():
		return ""
	case figure.FindSized(f.Key) == f:
		return "no value: not enough is given, or the design has no such part"
	}
	command, _, _ := strings.Cut(f.Key, ".")
	if command == "gap" || command == "levers" {
		command = "size"
	}
	return "no sizing holds it; gapline " + command + " prints it where there is one"
}

// cell is a figure as a sizing holds it, or else as its formula in full gives it.
func (w *worked) cell(f *figure.Def) result.Cell {
	if figure.FindSized(f.Key) == f {
		return size.Cell(w.s, f)
	}
	return result.Fig(f, w.of(f))
}

// of is the value of a figure in SI, NaN where there is none: that of the sizing, or of a
// figure that no sizing holds what its formula in full gives.
func (w *worked) of(f *figure.Def) float64 {
	if figure.FindSized(f.Key) == f {
		return size.Of(w.s, f)
	}
	if _, x := w.evaluated(f); x.Known && imag(x.Number) == 0 {
		return real(x.Number)
	}
	return numeric.Absent
}

// inFull is the cell of a figure with the digits that a calculation by hand wants.
func inFull(c result.Cell) result.Cell {
	words := c.Fig != nil && c.Fig.Words != nil && c.Fig.Words(c.SI) != ""
	if c.StateOf() != result.Value || c.Words != "" || c.Phrase != nil || words {
		return c
	}
	c.At = nil
	return c.As(inDigits)
}

// result is the figure's own value, as size shows it.
func (w *worked) result(f *figure.Def) result.Text {
	if why := w.lacks(f); why != "" {
		return result.Plain(why)
	}
	c := w.cell(f)
	digits := inFull(c)
	if digits.Style == nil {
		return result.Say("%s", c)
	}
	return result.Say("%s, in full %s", c, digits)
}

// text is the input in a line: "s = coupling.open.spacing_m = 268.00 mm".
func (v *workedValue) text() result.Text {
	name := v.Key
	if v.Symbol != "" {
		name = v.Symbol + " = " + v.Key
	}
	if v.lacks != "" {
		return result.Say("%s: %s", name, v.lacks)
	}
	return result.Say("%s = %s", name, v.shown)
}

// say adds a line with numbers in it.
func (e *explanation) say(label string, text result.Text) {
	e.lines.Marks, e.lines.Texts = append(e.lines.Marks, fmt.Sprintf("%-*s", labelWidth, label)), append(e.lines.Texts, text)
}

var workedColumns = []string{"depth", "key", "symbol", "column", "value", "lacks", "formula"}

func (v *workedValue) cells() []result.Cell {
	formula := result.None
	if v.fig != nil {
		formula = result.Name(v.fig.Formula)
	}
	return []result.Cell{result.Count(v.depth), result.Name(v.Key), result.Name(v.Symbol), result.Name(v.column), v.data, result.Word(v.lacks), formula}
}

// explained is the explanation with the steps below it.
func (w *worked) explained(f *figure.Def, e *explanation) *result.Result {
	own := w.cell(f)
	names := append(slices.Clone(figureColumns), "value", "lacks")
	r := e.result(fields(names, append(figureCells(f), own, result.Word(w.lacks(f)))))
	r.Add(w.inFull(f)...)
	r.Add(objects("steps", workedColumns, w.steps, func(v workedValue) []result.Cell { return v.cells() }))
	shown := result.At(result.Screen)
	steps := result.Section{Shown: shown, Title: result.Plain("STEPS, each followed by what it comes from")}
	for i := range w.steps {
		v := &w.steps[i]
		indent := strings.Repeat("  ", v.depth)
		texts := []result.Text{v.text()}
		if v.fig != nil {
			texts[0] = texts[0].And(result.Say("; %s", v.fig.Formula))
		}
		steps.Parts = append(steps.Parts, result.Prose{Shown: shown, Indent: indent, Hang: "    ", Texts: texts})
	}
	r.Add(steps)
	return r
}
