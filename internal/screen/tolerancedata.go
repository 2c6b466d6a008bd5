package screen

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/schema"
	"gapline/internal/study/space"
)

// Object is the result as JSON.
func (v *ToleranceView) Object() *Object {
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
	o.Set("schema_version", SchemaVersion).Set("title", v.Study.Base.Title).Set("samples", r.Samples).Set("seed", v.Study.Seed).
		Set("impossible", r.Impossible).Set("first_impossible", r.First).Set("gap", space.GapFigure(v.Study.Base).Key).
		Set("targets", targets).Set("effects", effects).Set("figures", figures)
	if v.Lever != nil {
		o.Set("lever", v.leverObject())
	}
	return o.Set("cautions", machine.Texts(advice.DesignCautions(v.loud())))
}

// inKeyUnit turns SI into the unit that a figure's key names.
func inKeyUnit(f *figure.Def, x float64) float64 {
	if strings.HasSuffix(f.Key, "_deg") {
		return x * 180 / math.Pi
	}
	return x
}

func (v *ToleranceView) leverObject() *Object {
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
func (v *ToleranceView) Rows() [][]string {
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

func (v *ToleranceView) leverCSV() [][]string {
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

// ToleranceLine is a tolerance with the name of its key, for pictures.
func ToleranceLine(t *schema.Tolerance, sys quantity.System) string {
	return t.Key.Label() + " " + t.Text(sys)
}
