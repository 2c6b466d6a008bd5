package screen

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/result"
	"gapline/internal/study/fold"
	"gapline/internal/study/size"
	"gapline/waveguide"
)

// foldView prints one fold.
type foldView struct {
	st  *fold.Study
	sys quantity.System
}

func (v *foldView) show(si float64, k quantity.Kind) string { return quantity.Format(si, k, v.sys) }

// Fold writes the screen of the fold command.
func Fold(w io.Writer, st *fold.Study, findings []result.Finding, sys quantity.System) error {
	v := foldView{st, sys}
	var b strings.Builder
	b.WriteString(v.heading())
	b.WriteString(terminal.Findings(findings[:1], sys))
	if st.Fits {
		for _, t := range []*Table{v.figures(), v.stack(), v.rays()} {
			if t == nil {
				continue
			}
			if _, err := t.WriteTo(&b); err != nil {
				return err
			}
		}
	}
	b.WriteString(terminal.Findings(findings[1:], sys))
	_, err := io.WriteString(w, b.String())
	return err
}

func (v *foldView) heading() string {
	d := &v.st.Design
	title := d.Title
	if title == "" {
		title = "untitled design"
	}
	text := title + "\n" + fmt.Sprintf("fold for a mouth %s high, layers %s thick", v.show(d.Horn.MouthHeight, quantity.Length), v.show(d.Fold.Layer, quantity.Length))
	if depth := d.FoldDepth(); numeric.Given(depth) {
		text += fmt.Sprintf(", depth %s", v.show(depth, quantity.Length))
	}
	if v.st.Fits {
		text += "; air " + AirText(d, &v.st.Sizing, v.sys)
	}
	return text + "\n"
}

// foldRows are the figures of the fold's table in order.
var foldRows = []*figure.Def{
	figure.FoldFan, figure.FoldPathSpread, figure.FoldFlatTo, figure.FoldFlatToWave, figure.FoldTaper, figure.FoldCrossMode, figure.FoldClearance, figure.FoldWidth,
	figure.FoldDepth, figure.FoldBuiltDepth, figure.FoldDepthSaved,
	figure.FoldToleranceAxial, figure.FoldToleranceLateral, figure.FoldToleranceProfile,
}

func (v *foldView) figures() *Table {
	f := &v.st.Fold
	t := &Table{}
	t.Row("FOLD", "", "trust")
	t.Row("  wall", string(f.Wall.Kind()), figure.Geometry.String())
	t.Row("  throat to wall", v.show(f.Wall.Vertex, quantity.Length), figure.Geometry.String())
	path := "endless"
	if l := f.VirtualPath(); !math.IsInf(l, 1) {
		path = v.show(l, quantity.Length)
	}
	t.Row("  virtual path", path, figure.Geometry.String())
	for _, fig := range foldRows {
		if fig.Trust == figure.Wave && !numeric.Given(size.Of(&v.st.Sizing, fig)) {
			continue // no stored run matches the design
		}
		t.Row("  "+fig.Name, FigureText(fig, &v.st.Sizing, v.sys), fig.Trust.String())
		switch fig {
		case figure.FoldPathSpread:
			t.Row("  budget, a quarter wave at "+v.show(f.Spec.TopFrequency, quantity.Frequency), v.show(f.SpreadBudget(), quantity.Length), figure.Rule.String())
		case figure.FoldBuiltDepth:
			t.Row("  straight horn of the same flatness", v.show(f.StraightLength(), quantity.Length), figure.Geometry.String())
		}
	}
	return t
}

func (v *foldView) stack() *Table {
	s := v.st.Stack
	if s == nil {
		return nil
	}
	t := &Table{}
	count := "endless line"
	if s.Boxes > 0 {
		count = fmt.Sprintf("%d mouths", s.Boxes)
	}
	t.Row(fmt.Sprintf("LINE OF MOUTHS, %s at %s", count, v.show(s.Front.Pitch, quantity.Length)), "this front", "perfect front", "trust")
	aperture := figure.Aperture.String()
	t.Row("  radiating share", v.show(s.Front.Share(), quantity.Number), "", figure.Geometry.String())
	ribbon := "no limit"
	if !math.IsInf(s.RibbonTo, 1) {
		ribbon = v.show(s.RibbonTo, quantity.Frequency)
	}
	t.Row(fmt.Sprintf("  one ribbon up to (lobes under %s)", v.show(s.Target, quantity.Level)), ribbon, "", aperture)
	for _, r := range s.Rows {
		t.Row("  strongest lobe, endless line, "+v.show(r.Frequency, quantity.Frequency), v.lobe(r.FrontLobe), v.lobe(r.PlaneLobe), aperture)
	}
	if s.Top.Visible {
		t.Row(fmt.Sprintf("  strongest lobe, %s, %s", count, v.show(s.Top.Frequency, quantity.Frequency)),
			v.lobeAt(s.Top.Front), v.lobeAt(s.Top.Plane), aperture)
	}
	top := s.At([]float64{v.st.Fold.Spec.TopFrequency})[0]
	t.Row("  loss on axis from the bulge, "+v.show(top.Frequency, quantity.Frequency), noMinusZero(v.show(top.AxisChange, quantity.Level)), "", aperture)
	return t
}

func (v *foldView) lobe(level float64) string {
	switch {
	case math.IsInf(level, -1):
		return "none"
	case level < -60:
		return "under -60 dB"
	}
	return noMinusZero(v.show(level, quantity.Level))
}

func (v *foldView) lobeAt(l waveguide.Lobe) string {
	return fmt.Sprintf("%s at %s", v.lobe(l.Level), v.show(l.Angle, quantity.Angle))
}

// rayColumns are the heads of the ray table and the way to each cell. Lengths are
// in mm or in.
func (v *foldView) rayColumns() (heads []string, cell func(r waveguide.Ray) []string) {
	unit, scale, digits := "mm", 1e3, 2
	if v.sys == quantity.Inch {
		unit, scale, digits = "in", 1/0.0254, 3
	}
	length := func(x float64) string { return fixed(x*scale, digits) }
	first := math.Inf(1)
	for _, r := range v.st.Rays {
		first = math.Min(first, r.Time)
	}
	heads = []string{"  angle, °", "wall z, " + unit, "wall y, " + unit, "path, " + unit, "after the first, µs", "mouth y, " + unit, "level, dB"}
	return heads, func(r waveguide.Ray) []string {
		return []string{"  " + fixed(r.Angle*180/math.Pi, 1), length(r.Wall.Z), length(r.Wall.Y), length(r.Path),
			fixed((r.Time-first)*1e6, 2), length(r.MouthY), fixed(r.Level, 2)}
	}
}

// fixed prints a number to some decimals, without a negative zero.
func fixed(x float64, decimals int) string {
	if math.IsNaN(x) {
		return "-"
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

func (v *foldView) rays() *Table {
	t := &Table{}
	t.Row("RAYS, from the mouth's lower edge up; angle up from the wall's axis, z forward and y up from")
	t.Row("throat and mouth's middle, level re the mouth's middle (rule: rays)")
	inner := &Table{}
	heads, cell := v.rayColumns()
	inner.Row(heads...)
	for _, r := range v.st.Rays {
		inner.Row(cell(r)...)
	}
	var b strings.Builder
	// Writing to memory does not fail.
	_, _ = inner.WriteTo(&b)
	for _, line := range strings.Split(strings.TrimRight(b.String(), "\n"), "\n") {
		t.Row(line)
	}
	return t
}

// FoldCSV writes the ray table, SI but for the angle in degrees.
func FoldCSV(w io.Writer, st *fold.Study) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"angle_deg", "wall_z_m", "wall_y_m", "incidence_deg", "path_m", "arrival_s", "mouth_y_m", "level_db"}}
	for _, r := range st.Rays {
		var row []string
		for _, x := range []float64{r.Angle * 180 / math.Pi, r.Wall.Z, r.Wall.Y, r.Incidence * 180 / math.Pi, r.Path, r.Time, r.MouthY, r.Level} {
			row = append(row, strconv.FormatFloat(x, 'g', 12, 64))
		}
		rows = append(rows, row)
	}
	return out.WriteAll(rows)
}
