package screen

import (
	"fmt"
	"io"
	"math"
	"sort"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/advice"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/internal/study/line"
)

// Line writes the summary of a stack: where it hangs, how it radiates, how its
// level falls with distance, what arrives at the seats.
func Line(w io.Writer, r *line.Result, sys quantity.System) error {
	v := lineView{r: r, sys: sys}
	var b strings.Builder
	b.WriteString(v.heading())
	if r.Aimed != nil {
		b.WriteString(v.aimed())
	}
	t := &Table{}
	v.around(t)
	v.distance(t)
	v.audience(t)
	v.spots(t)
	if _, err := t.WriteTo(&b); err != nil {
		return err
	}
	b.WriteString(terminal.Findings(advice.LineFindings(v.r), v.sys))
	_, err := io.WriteString(w, b.String())
	return err
}

type lineView struct {
	r   *line.Result
	sys quantity.System
}

func (v *lineView) show(si float64, k quantity.Kind) string { return quantity.Format(si, k, v.sys) }
func (v *lineView) length(m float64) string                 { return v.show(m, quantity.Length) }
func (v *lineView) angle(rad float64) string                { return v.show(rad, quantity.Angle) }
func (v *lineView) hz(f float64) string                     { return v.show(f, quantity.Frequency) }

// far shows distances in the hall, which read best in m.
func (v *lineView) far(m float64) string {
	switch {
	case math.IsNaN(m):
		return "-"
	case v.sys == quantity.Inch:
		return fmt.Sprintf("%.*f ft", decimals(m/0.3048), m/0.3048)
	}
	return fmt.Sprintf("%.*f m", decimals(m), m)
}

// decimals keeps three figures or so.
func decimals(x float64) int {
	switch {
	case math.Abs(x) >= 100:
		return 0
	case math.Abs(x) >= 10:
		return 1
	}
	return 2
}

// dB shows a level without its unit.
func dB(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "-"
	}
	return fmt.Sprintf("%.1f", math.Round(x*10)/10+0) // + 0: no negative zero
}

// frequencies is the head of the columns.
func (v *lineView) frequencies(t *Table, title string) {
	row := []string{title}
	for _, f := range v.r.Few.Hz {
		row = append(row, shortHz(f))
	}
	t.Row(append(row, "trust")...)
}

// shortHz writes a nominal frequency: "500", "1k", "12.5k".
func shortHz(f float64) string {
	f = preferred.Nominal(f)
	if f >= 1000 {
		return strings.TrimSuffix(fmt.Sprintf("%.4g", f/1000), ".0") + "k"
	}
	return fmt.Sprintf("%.4g", f)
}

func (v *lineView) cells(name string, xs []float64, show func(float64) string, trust string) []string {
	row := []string{"  " + name}
	for _, x := range xs {
		row = append(row, show(x))
	}
	return append(row, trust)
}

func (v *lineView) around(t *Table) {
	p, h := v.r.Polar, v.r.Horizontal
	if p == nil {
		return
	}
	where := "FAR FIELD, levels at 1 m"
	if !math.IsInf(p.Distance, 1) {
		where = "AT " + v.far(p.Distance)
	}
	v.frequencies(t, where)
	t.Row(v.cells("level on axis, dB", p.OnAxis, dB, "aperture")...)
	t.Row(v.cells("vertical beam, −6 dB", p.Beamwidth, v.angle, "aperture")...)
	t.Row(v.cells("highest vertical lobe, dB", p.Lobe, dB, "aperture")...)
	t.Row(v.cells("horizontal beam, −6 dB", h.Beamwidth, v.angle, "aperture")...)
}

func (v *lineView) distance(t *Table) {
	d := v.r.Distance
	if d == nil {
		return
	}
	v.frequencies(t, "LEVEL ALONG THE AXIS")
	v.atDistance(t, d, 10)
	v.atDistance(t, d, 100)
	pick := func(of func(field.Transition) float64) []float64 {
		var out []float64
		for _, x := range d.Transition {
			out = append(out, of(x))
		}
		return out
	}
	t.Row(v.cells("4.5 dB per doubling at", d.Crossing, v.far, "aperture")...)
	t.Row(v.cells("L²/(2λ), straight line", pick(func(x field.Transition) float64 { return x.HalfRule }), v.far, "rule")...)
	t.Row(v.cells("1.5·F·L²·√…, F in kHz", pick(func(x field.Transition) float64 { return x.HeilUrban }), v.far, "rule")...)
	t.Row(v.cells("laws cross, L²/λ", pick(func(x field.Transition) float64 { return x.Asymptote }), v.far, "aperture")...)
}

// atDistance adds the levels at a distance within the range.
func (v *lineView) atDistance(t *Table, d *line.Distance, metre float64) {
	if metre < d.Metre[0] || metre > d.Metre[len(d.Metre)-1] {
		return
	}
	j := max(sort.SearchFloat64s(d.Metre, metre), 1)
	share := math.Log(metre/d.Metre[j-1]) / math.Log(d.Metre[j]/d.Metre[j-1])
	var level []float64
	for i := range d.Level {
		level = append(level, d.Level[i][j-1]+share*(d.Level[i][j]-d.Level[i][j-1]))
	}
	t.Row(v.cells("level at "+v.far(metre)+", dB", level, dB, "aperture")...)
}

func (v *lineView) audience(t *Table) {
	a := v.r.Audience
	if a == nil {
		return
	}
	last := len(a.Seat) - 1
	row := []string{fmt.Sprintf("SEATS, %s to %s", v.far(a.Seat[0].X), v.far(a.Seat[last].X))}
	for _, b := range a.Bands {
		row = append(row, shortHz(b.Mid))
	}
	t.Row(append(row, "dBA")...)
	of := func(name string, at func(xs []float64) float64, weighted float64) {
		row := []string{"  " + name}
		for _, level := range a.Level {
			row = append(row, dB(at(level)))
		}
		t.Row(append(row, dB(weighted))...)
	}
	of("front seat, octave bands", func(xs []float64) float64 { return xs[0] }, a.Front)
	of("back seat", func(xs []float64) float64 { return xs[last] }, a.Back)
	of("largest less smallest", extent, a.Spread)
}

func extent(xs []float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, x := range xs {
		low, high = math.Min(low, x), math.Max(high, x)
	}
	return high - low
}

func (v *lineView) spots(t *Table) {
	if v.r.Spots == nil {
		return
	}
	v.frequencies(t, "AT POINTS x, y, z")
	for _, s := range v.r.Spots.Spot {
		name := fmt.Sprintf("%s, %s, %s", v.far(s.At.X), v.far(s.At.Y), v.far(s.At.Z))
		t.Row(v.cells(name, s.Level, dB, "aperture")...)
	}
}
