package screen

import (
	"fmt"
	"io"
	"math"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/quantity"
	"gapline/internal/study/line"
)

// LineViews writes the views asked for as short tables, thinned to what reads
// well; CSV and JSON have every value.
func LineViews(w io.Writer, r *line.Result, views []line.View, sys quantity.System) error {
	v := lineView{r: r, sys: sys}
	var b strings.Builder
	b.WriteString(v.heading())
	if r.Aimed != nil {
		b.WriteString(v.aimed())
	}
	for _, view := range views {
		t := &Table{}
		v.view(t, view)
		b.WriteByte('\n')
		_, _ = t.WriteTo(&b) // a Builder does not fail
	}
	b.WriteString(v.remarks())
	_, err := io.WriteString(w, b.String())
	return err
}

func (v *lineView) view(t *Table, view line.View) {
	switch view {
	case line.PolarView:
		v.angles(t, v.r.Polar)
	case line.AngleMapView:
		v.beams(t, v.r.Map)
	case line.HorizontalView:
		v.beams(t, v.r.HorizontalMap)
	case line.DistanceView:
		v.alongAxis(t)
	case line.AudienceView:
		v.seats(t)
	case line.SideView:
		v.hall(t)
	case line.CouplingView:
		v.coupling(t)
	}
}

// head is a title and one column for each frequency.
func head(title string, hz []float64) []string {
	row := []string{title}
	for _, f := range hz {
		row = append(row, shortHz(f))
	}
	return row
}

// angles lists a polar every five degrees in front.
func (v *lineView) angles(t *Table, p *line.Polar) {
	t.Row(head("VERTICAL, dB re axis", p.Hz)...)
	for j := range p.Angle {
		deg := p.Angle[j] * degrees
		if math.Abs(deg) > 90.01 || math.Abs(deg/5-math.Round(deg/5)) > 1e-6 {
			continue
		}
		row := []string{fmt.Sprintf("  %+.0f°", deg)}
		for i := range p.Hz {
			row = append(row, dB(p.Level[i][j]))
		}
		t.Row(row...)
	}
}

// beams lists the beamwidth against frequency.
func (v *lineView) beams(t *Table, p *line.Polar) {
	plane := "VERTICAL"
	if p.Plane == field.Horizontal {
		plane = "HORIZONTAL"
	}
	t.Row(plane, "on axis, dB", "−6 dB beam", "highest lobe, dB")
	step := max(1, len(p.Hz)/32)
	for i := 0; i < len(p.Hz); i += step {
		t.Row("  "+v.hz(p.Hz[i]), dB(p.OnAxis[i]), v.angle(p.Beamwidth[i]), dB(p.Lobe[i]))
	}
}

func (v *lineView) alongAxis(t *Table) {
	d := v.r.Distance
	t.Row(head("LEVEL ALONG THE AXIS, dB", d.Hz)...)
	step := max(1, len(d.Metre)/24)
	for j := 0; j < len(d.Metre); j += step {
		row := []string{"  " + v.far(d.Metre[j])}
		for i := range d.Hz {
			row = append(row, dB(d.Level[i][j]))
		}
		t.Row(row...)
	}
	t.Row(v.cells("4.5 dB per doubling at", d.Crossing, v.far, "")...)
}

func (v *lineView) seats(t *Table) {
	a := v.r.Audience
	row := []string{"SEATS, dB"}
	for _, b := range a.Bands {
		row = append(row, shortHz(b.Mid))
	}
	t.Row(append(row, "dBA")...)
	step := max(1, len(a.Seat)/24)
	for j := 0; j < len(a.Seat); j += step {
		v.seat(t, a, j)
	}
	if last := len(a.Seat) - 1; last%step != 0 {
		v.seat(t, a, last)
	}
	t.Row(append(append([]string{"  largest less smallest"}, make([]string, len(a.Bands))...), dB(a.Spread))...)
}

func (v *lineView) seat(t *Table, a *line.Audience, j int) {
	row := []string{"  " + v.far(a.Seat[j].X)}
	for i := range a.Level {
		row = append(row, dB(a.Level[i][j]))
	}
	t.Row(append(row, dB(a.AWeighted[j]))...)
}

// hall lists a coarse grid of a side view, top row first.
func (v *lineView) hall(t *Table) {
	const columns, lines = 9, 8
	s := v.r.Side
	for i, f := range s.Hz {
		row := []string{fmt.Sprintf("%s, dB; height by distance", v.hz(f))}
		for c := range columns {
			row = append(row, v.far(s.X[c*(len(s.X)-1)/(columns-1)]))
		}
		t.Row(row...)
		for l := lines - 1; l >= 0; l-- {
			iz := l * (len(s.Z) - 1) / (lines - 1)
			row := []string{"  " + v.far(s.Z[iz])}
			for c := range columns {
				row = append(row, dB(s.Level[i][iz*len(s.X)+c*(len(s.X)-1)/(columns-1)]))
			}
			t.Row(row...)
		}
	}
}

func (v *lineView) coupling(t *Table) {
	c := v.r.Coupling
	at := c.Pick(250, 500, 1000, 2000)
	row := []string{"LINE HUNG STRAIGHT, in a wall", "half-wave rule", fmt.Sprintf("lobe over %s dB from", dB(c.Target))}
	for _, i := range at {
		row = append(row, "lobe, DI at "+shortHz(c.Hz[i]))
	}
	t.Row(row...)
	for _, x := range c.Variants {
		upTo := "none"
		if !math.IsInf(x.UpTo, 1) {
			upTo = v.hz(x.UpTo)
		}
		row := []string{"  " + x.Name, v.hz(x.Half), upTo}
		for _, i := range at {
			row = append(row, dB(x.Lobe[i])+", "+dB(x.Index[i]))
		}
		t.Row(row...)
	}
}
