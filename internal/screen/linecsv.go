package screen

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"math/cmplx"
	"strconv"

	"gapline/internal/study/line"
)

// LineCSV writes one view as a table, one value of the quantity a row.
func LineCSV(w io.Writer, r *line.Result, view line.View) error {
	c := &table{w: csv.NewWriter(w)}
	switch view {
	case line.PolarView:
		c.polar(r.Polar)
	case line.AngleMapView:
		c.polar(r.Map)
	case line.HorizontalView:
		c.polar(r.HorizontalMap)
	case line.DistanceView:
		c.distance(r.Distance)
	case line.AudienceView:
		c.audience(r.Audience)
	case line.SideView:
		c.side(r.Side)
	case line.CouplingView:
		c.coupling(r.Coupling)
	}
	return c.flush()
}

// table writes rows of numbers and remembers the first failure.
type table struct {
	w   *csv.Writer
	err error
}

func (t *table) row(cells ...string) {
	if t.err == nil {
		t.err = t.w.Write(cells)
	}
}

func (t *table) numbers(xs ...float64) {
	cells := make([]string, len(xs))
	for i, x := range xs {
		cells[i] = csvNumber(x)
	}
	t.row(cells...)
}

func (t *table) flush() error {
	t.w.Flush()
	if t.err != nil {
		return t.err
	}
	return t.w.Error()
}

// csvNumber writes a number; nothing for one that does not exist.
func csvNumber(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x+0, 'g', 9, 64)
}

func (t *table) polar(p *line.Polar) {
	t.row("frequency_hz", "angle_deg", "relative_db", "level_db", "phase_deg")
	for i, f := range p.Hz {
		for j, a := range p.Angle {
			phase := math.NaN()
			if p.Pressure != nil {
				phase = float64(inDegrees(cmplx.Phase(p.Pressure[i][j])))
			}
			t.numbers(f, float64(inDegrees(a)), p.Level[i][j], p.OnAxis[i]+p.Level[i][j], phase)
		}
	}
}

func (t *table) distance(d *line.Distance) {
	t.row("frequency_hz", "distance_m", "spl_db", "slope_db_per_doubling")
	for i, f := range d.Hz {
		for j, m := range d.Metre {
			t.numbers(f, m, d.Level[i][j], d.Slope[i][j])
		}
	}
}

func (t *table) audience(a *line.Audience) {
	head := []string{"x_m", "z_m", "level_dba"}
	for _, b := range a.Bands {
		head = append(head, fmt.Sprintf("level_db_%.4ghz", Nominal(b.Mid)))
	}
	t.row(head...)
	for j, s := range a.Seat {
		xs := []float64{s.X, s.Z, a.AWeighted[j]}
		for i := range a.Level {
			xs = append(xs, a.Level[i][j])
		}
		t.numbers(xs...)
	}
}

func (t *table) side(s *line.Side) {
	t.row("frequency_hz", "x_m", "z_m", "level_db")
	for i, f := range s.Hz {
		for iz, z := range s.Z {
			for ix, x := range s.X {
				t.numbers(f, x, z, s.Level[i][iz*len(s.X)+ix])
			}
		}
	}
}

func (t *table) coupling(c *line.Coupling) {
	t.row("variant", "frequency_hz", "highest_lobe_db", "directivity_index_db")
	for _, v := range c.Variants {
		for i, f := range c.Hz {
			t.row(v.Name, csvNumber(f), csvNumber(v.Lobe[i]), csvNumber(v.Index[i]))
		}
	}
}
