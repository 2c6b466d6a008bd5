package screen

import (
	"fmt"
	"io"
	"math"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/study/size"
	"gapline/internal/study/space"
)

// ToleranceView is the result of the tolerance command with what it was asked.
type ToleranceView struct {
	Study  *space.Tolerance
	Result *space.ToleranceResult
	Lever  []space.LeverBand // nil without --vary
}

// Write prints the result for people.
func (v *ToleranceView) Write(w io.Writer, sys quantity.System) error {
	var b strings.Builder
	d := v.Study.Base
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
	writeCautions(&b, advice.DesignCautions(v.loud()))
	_, err := io.WriteString(w, b.String())
	return err
}

func titleOf(d *design.Design) string {
	if d.Title == "" {
		return "untitled design"
	}
	return d.Title
}

func (v *ToleranceView) sampleText() string {
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

func (v *ToleranceView) targetRows(t *Table, sys quantity.System) {
	if len(v.Result.Targets) == 0 {
		return
	}
	t.Row("CHANCE TO MEET A TARGET", "chance", "95 % interval", "trust")
	for _, c := range v.Result.Targets {
		t.Row("  "+c.Target.Text(sys), percent(c.Share), fmt.Sprintf("%.1f to %s", 100*c.Low, percent(c.High)), v.trust(c.Target.Of.Figure))
	}
}

func (v *ToleranceView) trust(f *figure.Def) string {
	return size.Trust(&v.Result.Sizing, f).String()
}

// effectRows ranks the tolerances by what each does to the gap.
func (v *ToleranceView) effectRows(t *Table, sys quantity.System) {
	t.Row("ONE TOLERANCE AT A TIME", "as designed", "low end: gap", "high end: gap", "moves it by")
	t.Row("  "+space.GapFigure(v.Study.Base).Key, OctaveText(v.Result.Gap))
	if math.IsNaN(v.Result.Gap) {
		return // the design does not give enough for a gap
	}
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

func (v *ToleranceView) figureRows(t *Table, sys quantity.System) {
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
func valueText(f *figure.Def, x float64, sys quantity.System) string {
	switch {
	case math.IsNaN(x):
		return "-"
	case f.Kind == quantity.Frequency && math.IsInf(x, 1):
		return "no limit"
	case f.Kind == quantity.Octaves:
		return signedOctaves(x)
	case f.Kind == quantity.Level && x <= -100:
		return "no lobe"
	}
	return quantity.Format(x, f.Kind, sys)
}

func (v *ToleranceView) leverRows(t *Table, sys quantity.System) {
	if v.Lever == nil {
		return
	}
	t.Row("GAP AGAINST "+v.Lever[0].Value.Key.Path, "no tolerance", "5 % below", "median", "5 % above", "cannot exist")
	for _, b := range v.Lever {
		t.Row("  "+b.Value.Show(sys), OctaveText(b.Nominal), OctaveText(b.Low), OctaveText(b.Median), OctaveText(b.High), impossibleText(b))
	}
}

func impossibleText(b space.LeverBand) string {
	of := b.Given + b.Impossible
	if b.Impossible == 0 {
		return "-"
	}
	return percent(float64(b.Impossible) / float64(of))
}
