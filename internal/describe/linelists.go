package describe

import (
	"fmt"
	"iter"
	"math"
	"math/cmplx"

	"gapline/internal/figure"
	"gapline/internal/preferred"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// lists are the views for programs that read one value a row, as CSV.
func (v lineParts) lists() []result.Part {
	r := v.r
	var out []result.Part
	for _, p := range []struct {
		view line.View
		p    *line.Polar
		f    figure.Polar
	}{{line.PolarView, r.Polar, figure.LinePolar}, {line.AngleMapView, r.Map, figure.LineAngleMap}, {line.HorizontalView, r.HorizontalMap, figure.LineHorizontalMap}} {
		if p.p != nil {
			out = append(out, polarList(p.view, p.p, p.f))
		}
	}
	if s := r.Side; s != nil {
		out = append(out, long(string(line.SideView), columnsOf(figure.SideFrequency, figure.SideX, figure.SideZ, figure.SideLevel), func(row func(...float64) bool) {
			for i, f := range s.Hz {
				for k, l := range s.Level[i] {
					if !row(f, s.X[k%len(s.X)], s.Z[k/len(s.X)], l) {
						return
					}
				}
			}
		}))
	}
	if d := r.Distance; d != nil {
		out = append(out, long(string(line.DistanceView), append(columnsOf(figure.DistanceFrequency), result.Column{Key: "distance_m", Fig: figure.DistanceAt},
			result.Column{Fig: figure.DistanceLevel}, result.Column{Fig: figure.DistanceSlope}), func(row func(...float64) bool) {
			for i, f := range d.Hz {
				for j, m := range d.Metre {
					if !row(f, m, d.Level[i][j], d.Slope[i][j]) {
						return
					}
				}
			}
		}))
	}
	if r.Audience != nil {
		out = append(out, seatList(r.Audience))
	}
	if r.Coupling != nil {
		out = append(out, variantList(r.Coupling))
	}
	if r.Maximum != nil {
		out = append(out, v.loudestLists()...)
	}
	return out
}

// long is a listing whose rows are handed on one by one.
func long(view string, columns []result.Column, rows func(row func(...float64) bool)) result.Table {
	return result.Table{Shown: result.View(view, result.Listing), As: result.Records, Columns: columns, Rows: numberRows(columns, rows)}
}

func numberRows(columns []result.Column, rows func(row func(...float64) bool)) iter.Seq[result.Row] {
	return func(yield func(result.Row) bool) {
		cells := make([]result.Cell, len(columns))
		rows(func(si ...float64) bool {
			for i, x := range si {
				cells[i] = result.Fig(columns[i].Fig, x)
			}
			return yield(result.Row{Cells: cells})
		})
	}
}

func polarList(view line.View, p *line.Polar, f figure.Polar) result.Table {
	columns := append(columnsOf(f.Frequency, f.Angle), result.Column{Key: "relative_db", Fig: f.Level}, result.Column{Key: "level_db", Fig: f.Total},
		result.Column{Fig: f.Phase})
	return long(string(view), columns, func(row func(...float64) bool) {
		for i, hz := range p.Hz {
			for j, a := range p.Angle {
				phase := math.NaN()
				if p.Pressure != nil {
					phase = cmplx.Phase(p.Pressure[i][j])
				}
				if !row(hz, a, p.Level[i][j], p.OnAxis[i]+p.Level[i][j], phase) {
					return
				}
			}
		}
	})
}

func seatList(a *line.Audience) result.Table {
	columns := columnsOf(figure.AudienceX, figure.AudienceZ, figure.AudienceWeighted)
	for _, b := range a.Bands {
		columns = append(columns, result.Column{Key: fmt.Sprintf("level_db_%.4ghz", preferred.Nominal(b.Mid)), Fig: figure.AudienceLevel})
	}
	return long(string(line.AudienceView), columns, func(row func(...float64) bool) {
		for j, s := range a.Seat {
			if !row(append([]float64{s.X, s.Z, a.AWeighted[j]}, column(a.Level, j)...)...) {
				return
			}
		}
	})
}

func variantList(c *line.Coupling) result.Table {
	var rows result.List
	for _, v := range c.Variants {
		for i, f := range c.Hz {
			rows.Row(result.Text{}, result.Name(v.Name), result.Fig(figure.VariantFrequency, f), result.Fig(figure.VariantLobe, v.Lobe[i]),
				result.Fig(figure.VariantIndex, v.Index[i]))
		}
	}
	return result.Table{Shown: result.View(string(line.CouplingView), result.Listing), As: result.Records, Rows: rows.Rows(),
		Columns: append([]result.Column{{Key: "variant"}}, columnsOf(figure.VariantFrequency, figure.VariantLobe, figure.VariantIndex)...)}
}
