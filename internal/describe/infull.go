package describe

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/formula"
	"gapline/internal/result"
	"gapline/internal/schema"
	"gapline/internal/study/size"
)

// inFullText shows the lines of a formula in full, with what each gives where that is known.
func inFullText(lines []string, values []formula.Value) []result.Part {
	if len(lines) == 0 {
		return nil
	}
	title := "IN FULL, line by line in SI units (m, s, kg, K, Pa, rad)"
	if values != nil {
		title += ", and what each line gives"
	}
	shown := result.At(result.Screen)
	p := result.Prose{Shown: shown, Indent: "  ", Hang: "    "}
	for i, text := range lines {
		if i < len(values) && values[i].Known {
			text += " → " + complexText(values[i].Number)
		}
		p.Texts = append(p.Texts, result.Plain(text))
	}
	return []result.Part{result.Section{Shown: shown, Title: result.Plain(title), Parts: []result.Part{p}}}
}

// complexText is a number in the digits that a calculation by hand wants.
func complexText(x complex128) string {
	text := fmt.Sprintf("%.6g", real(x))
	if imag(x) != 0 {
		text = fmt.Sprintf("%.6g %+.6gj", real(x), imag(x))
		text = strings.NewReplacer(" +", " + ", " -", " − ").Replace(text)
	}
	if minus, ok := strings.CutPrefix(text, "-"); ok {
		return "−" + minus
	}
	return text
}

// inFull is the formula of a figure in full, with the values of the lines where they lead to
// the figure; where they do not, the design lies outside of what the lines are written for.
func (w *worked) inFull(f *figure.Def) []result.Part {
	values := w.byHand(f)
	data := result.Cell{State: result.Many}
	for _, v := range values {
		cell := result.None
		if v.Known {
			cell = result.Name(complexText(v.Number))
		}
		data.List = append(data.List, cell)
	}
	return append([]result.Part{fields([]string{"by_hand_values"}, []result.Cell{data})}, inFullText(f.Hand, values)...)
}

// byHandError is how far what the lines give may be off the figure, relative: searches and
// sums that the figure takes another way round agree to far better.
const byHandError = 1e-6

// byHand works out the formula in full; nil where it does not lead to the figure.
func (w *worked) byHand(f *figure.Def) []formula.Value {
	lines, err := formula.Parse(f.Hand)
	if err != nil || len(lines) == 0 {
		return nil // a test holds that every formula can be read
	}
	values, err := formula.Evaluate(lines, w.inputs(f))
	last := lastKnown(values)
	if err != nil || last == nil || w.lacks(f) != "" {
		return nil
	}
	want := size.Of(w.s, f)
	if !(cmplx.Abs(last.Number-complex(want, 0)) <= byHandError*math.Max(math.Abs(want), 1e-3)) {
		return nil
	}
	return values
}

// lastKnown is the last value, the remarks behind it left aside; nil where it is not known.
func lastKnown(values []formula.Value) *formula.Value {
	i := len(values) - 1
	for i >= 0 && !values[i].Known {
		i--
	}
	if i < 0 {
		return nil
	}
	return &values[i]
}

// inputs are the terms of a figure with their values in the design, under their symbols and
// under their keys. A key that is not given has its default.
func (w *worked) inputs(f *figure.Def) formula.Inputs {
	in := formula.Inputs{Numbers: map[string]float64{}, Words: map[string]string{}}
	for _, t := range workedTerms(f) {
		for _, name := range slices.Compact([]string{t.Key, t.Symbol}) {
			if name != "" {
				w.input(&in, name, t)
			}
		}
	}
	return in
}

// input adds a term under a name.
func (w *worked) input(in *formula.Inputs, name string, t figure.Term) {
	v := w.value(t)
	if v.fig != nil {
		if x := size.Of(w.s, v.fig); !math.IsNaN(x) {
			in.Numbers[name] = x
		}
		return
	}
	k := schema.FindKey(t.Key)
	if k == nil {
		return
	}
	given := k.ValueIn(w.d)
	if v.lacks != "" && k.Default != "" {
		if d, err := k.FromText(k.Default); err == nil {
			given = d
		}
	}
	switch {
	case k.Numeric() && !math.IsNaN(given.Number):
		in.Numbers[name] = given.Number
		in.Words[name] = k.Word(given.Number)
	case given.Text != "":
		in.Words[name] = given.Text
	}
}
