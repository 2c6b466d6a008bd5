package screen

import (
	"fmt"
	"io"
	"math"
	"strings"

	"gapline/cabinet"
	"gapline/internal/designfile"
	"gapline/internal/quantity"
	"gapline/internal/study"
)

// DoubtView is the result of the tolerance command with what it was asked.
type DoubtView struct {
	Study  *study.Doubt
	Result *study.DoubtResult
	Lever  []study.LeverBand // nil without --vary
}

// Write prints the result for people.
func (v *DoubtView) Write(w io.Writer, sys quantity.System) error {
	var b strings.Builder
	d := &v.Study.Base.Design
	b.WriteString(titleOf(d) + "\n" + Wrap(v.sampleText(), lineWidth, "", ""))
	for _, rows := range []func(*Table, quantity.System){v.targetRows, v.effectRows, v.figureRows, v.leverRows} {
		t := &Table{}
		rows(t, sys)
		if len(t.rows) == 0 {
			continue
		}
		b.WriteByte('\n')
		if _, err := t.WriteTo(&b); err != nil {
			return err
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func titleOf(d *cabinet.Design) string {
	if d.Title == "" {
		return "untitled design"
	}
	return d.Title
}

func (v *DoubtView) sampleText() string {
	r := v.Result
	text := fmt.Sprintf("%d designs within the tolerances (Latin hypercube, seed %d); ", r.Samples, v.Study.Seed)
	if r.Impossible == 0 {
		return text + "all can exist."
	}
	return fmt.Sprintf("%s%d of them cannot exist (%s): they miss every target and are in no band. The first: %s.",
		text, r.Impossible, percent(float64(r.Impossible)/float64(r.Samples)), strings.TrimSuffix(r.First, "."))
}

// percent writes a share with one decimal.
func percent(x float64) string {
	if math.IsNaN(x) {
		return "-"
	}
	return fmt.Sprintf("%.1f %%", 100*x)
}

func (v *DoubtView) targetRows(t *Table, sys quantity.System) {
	if len(v.Result.Targets) == 0 {
		return
	}
	t.Row("CHANCE TO MEET A TARGET", "chance", "95 % interval", "trust")
	for _, c := range v.Result.Targets {
		t.Row("  "+c.Target.Text(sys), percent(c.Share), fmt.Sprintf("%.1f to %s", 100*c.Low, percent(c.High)), v.trust(c.Target.Of.Figure))
	}
}

func (v *DoubtView) trust(f *cabinet.Figure) string { return string(v.Result.Sizing.LevelOf(f)) }

// effectRows ranks the tolerances by what each does to the gap.
func (v *DoubtView) effectRows(t *Table, sys quantity.System) {
	t.Row("ONE TOLERANCE AT A TIME", "as designed", "low end: gap", "high end: gap", "moves it by")
	t.Row("  "+study.GapKey(&v.Study.Base.Design), OctaveText(v.Result.Gap))
	for _, e := range v.Result.Effects {
		k := e.Tolerance.Key
		show := func(in, gap float64) string {
			if math.IsNaN(gap) {
				return quantity.Format(in, k.Kind, sys) + ": cannot exist"
			}
			return quantity.Format(in, k.Kind, sys) + ": " + signedOctaves(gap)
		}
		t.Row(fmt.Sprintf("  %s %s", k.Path, e.Tolerance.Text(sys)), quantity.Format(e.At, k.Kind, sys),
			show(e.InLow, e.AtLow), show(e.InHigh, e.AtHigh), fmt.Sprintf("%.3f oct", e.Swing))
	}
}

// signedOctaves writes a gap short: + is open, - an overlap.
func signedOctaves(gap float64) string {
	if math.IsInf(gap, -1) {
		return "closed"
	}
	return fmt.Sprintf("%+.2f oct", gap)
}

func (v *DoubtView) figureRows(t *Table, sys quantity.System) {
	t.Row("FIGURES", "as designed", "5 % below", "median", "5 % above", "trust")
	still := 0
	for i := range v.Result.Figures {
		b := &v.Result.Figures[i]
		if math.IsNaN(b.Value) {
			continue
		}
		if !b.Moves() {
			still++
			continue
		}
		cells := []string{"  " + b.Figure.Key}
		for _, x := range []float64{b.Value, b.Low, b.Median, b.High} {
			cells = append(cells, valueText(b.Figure, x, sys))
		}
		t.Row(append(cells, v.trust(b.Figure))...)
	}
	if still > 0 {
		t.Row(fmt.Sprintf("  (%d more that no tolerance moves)", still))
	}
}

// valueText writes a figure's value from outside a sizing.
func valueText(f *cabinet.Figure, x float64, sys quantity.System) string {
	switch {
	case math.IsNaN(x):
		return "-"
	case f.Kind == quantity.Frequency && math.IsInf(x, 1):
		return "no limit"
	case f.Kind == quantity.Octaves:
		return signedOctaves(x)
	case f.Kind == quantity.Level && x <= -100:
		return "cancelled"
	}
	return quantity.Format(x, f.Kind, sys)
}

func (v *DoubtView) leverRows(t *Table, sys quantity.System) {
	if v.Lever == nil {
		return
	}
	t.Row("GAP AGAINST "+v.Lever[0].Value.Key.Path, "no tolerance", "5 % below", "median", "5 % above", "cannot exist")
	for _, b := range v.Lever {
		t.Row("  "+b.Value.Show(sys), OctaveText(b.Nominal), OctaveText(b.Low), OctaveText(b.Median), OctaveText(b.High), impossibleText(b))
	}
}

func impossibleText(b study.LeverBand) string {
	of := b.Given + b.Impossible
	if b.Impossible == 0 {
		return "-"
	}
	return percent(float64(b.Impossible) / float64(of))
}

// Object is the result as JSON.
func (v *DoubtView) Object() *Object {
	r := v.Result
	figures := &Object{}
	for i := range r.Figures {
		b := &r.Figures[i]
		scale := func(x float64) Number { return Number(inKeyUnit(b.Figure, x)) }
		o := &Object{}
		figures.Set(b.Figure.Key, o.Set("as_designed", scale(b.Value)).Set("p05", scale(b.Low)).Set("median", scale(b.Median)).
			Set("p95", scale(b.High)).Set("computed", b.Given).Set("trust", v.trust(b.Figure)))
	}
	targets := []any{}
	for _, c := range r.Targets {
		o := &Object{}
		targets = append(targets, o.Set("figure", c.Target.Of.Name()).Set("sign", c.Target.Sign()).Set("value", Number(c.Target.Value)).
			Set("chance", Number(c.Share)).Set("low", Number(c.Low)).Set("high", Number(c.High)).Set("met", c.Met).Set("of", c.Of))
	}
	effects := []any{}
	for _, e := range r.Effects {
		name, factor := e.Tolerance.Key.Column()
		o := &Object{}
		effects = append(effects, o.Set("key", e.Tolerance.Key.Path).Set("column", name).
			Set("as_designed", Number(e.At*factor)).Set("low", Number(e.InLow*factor)).Set("high", Number(e.InHigh*factor)).
			Set("gap_at_low_oct", Number(e.AtLow)).Set("gap_at_high_oct", Number(e.AtHigh)).Set("moves_oct", Number(e.Swing)))
	}
	o := &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", v.Study.Base.Design.Title).Set("samples", r.Samples).Set("seed", v.Study.Seed).
		Set("impossible", r.Impossible).Set("first_impossible", r.First).Set("gap", study.GapKey(&v.Study.Base.Design)).
		Set("targets", targets).Set("effects", effects).Set("figures", figures)
	if v.Lever != nil {
		o.Set("lever", v.leverObject())
	}
	return o
}

// inKeyUnit turns SI into the unit that a figure's key names.
func inKeyUnit(f *cabinet.Figure, x float64) float64 {
	if strings.HasSuffix(f.Key, "_deg") {
		return x * 180 / math.Pi
	}
	return x
}

func (v *DoubtView) leverObject() *Object {
	var values, nominal, low, median, high []Number
	var impossible []int
	for _, b := range v.Lever {
		values = append(values, Number(b.Value.Number))
		nominal, low = append(nominal, Number(b.Nominal)), append(low, Number(b.Low))
		median, high = append(median, Number(b.Median)), append(high, Number(b.High))
		impossible = append(impossible, b.Impossible)
	}
	o := &Object{}
	return o.Set("key", v.Lever[0].Value.Key.Path).Set("values", values).Set("gap_oct", nominal).
		Set("p05_oct", low).Set("median_oct", median).Set("p95_oct", high).Set("impossible", impossible)
}

// Rows is the table of figures for CSV, or that of the lever when there is one.
func (v *DoubtView) Rows() [][]string {
	if v.Lever != nil {
		return v.leverCSV()
	}
	rows := [][]string{{"figure", "as_designed", "p05", "median", "p95", "trust"}}
	for i := range v.Result.Figures {
		b := &v.Result.Figures[i]
		row := []string{b.Figure.Key}
		for _, x := range []float64{b.Value, b.Low, b.Median, b.High} {
			row = append(row, numberCell(inKeyUnit(b.Figure, x)))
		}
		rows = append(rows, append(row, v.trust(b.Figure)))
	}
	return rows
}

func (v *DoubtView) leverCSV() [][]string {
	name, factor := v.Lever[0].Value.Key.Column()
	rows := [][]string{{name, "gap_oct", "p05_oct", "median_oct", "p95_oct", "impossible"}}
	for _, b := range v.Lever {
		row := []string{numberCell(b.Value.Number * factor)}
		for _, x := range []float64{b.Nominal, b.Low, b.Median, b.High} {
			row = append(row, numberCell(x))
		}
		rows = append(rows, append(row, fmt.Sprint(b.Impossible)))
	}
	return rows
}

// numberCell writes a number for CSV, empty when it does not exist.
func numberCell(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return fmt.Sprintf("%.9g", x)
}

// ToleranceLine is a tolerance with its key, for pictures.
func ToleranceLine(t *designfile.Tolerance, sys quantity.System) string {
	return t.Key.Path + " " + t.Text(sys)
}
