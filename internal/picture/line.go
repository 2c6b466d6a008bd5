package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gapline/cabinet/field"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/numeric"
	"gapline/internal/preferred"
	"gapline/internal/quantity"
	"gapline/internal/screen"
	"gapline/internal/study/line"
	"gapline/plots"
)

// Line draws one view of a stack. The view must have been computed.
func Line(r *line.Result, view line.View, sys quantity.System) plots.Figure {
	p := linePicture{r: r, sys: sys}
	switch view {
	case line.PolarView:
		return p.polar()
	case line.AngleMapView:
		return p.angleMap(r.Map)
	case line.HorizontalView:
		return p.angleMap(r.HorizontalMap)
	case line.SideView:
		return p.side()
	case line.DistanceView:
		return p.distance()
	case line.AudienceView:
		return p.audience()
	}
	return p.coupling()
}

type linePicture struct {
	r   *line.Result
	sys quantity.System
}

const (
	degrees = 180 / math.Pi
	foot    = 0.3048
)

// metre returns the unit in which the hall is drawn and the factor to it.
func (p *linePicture) metre() (unit string, factor float64) {
	if p.sys == quantity.Inch {
		return "ft", 1 / foot
	}
	return "m", 1
}

// caption carries the caution that belongs to every picture of a stack.
func (p *linePicture) caption(title, subtitle, alt string) plots.Caption {
	var s sizing.Sizing
	s.Air.SoundSpeed = p.r.SoundSpeed()
	return caption(title, subtitle+". "+advice.SuspensionCaution, p.r.Design, &s, "aperture", alt, p.sys)
}

// stack says what is heard in a few words.
func (p *linePicture) stack() string {
	text := fmt.Sprintf("%d boxes", p.r.Design.Line.Boxes)
	if turn := p.r.TotalSplay(); turn != 0 {
		return text + fmt.Sprintf(", %s of splay", quantity.Format(turn, quantity.Angle, p.sys))
	}
	return text + ", straight"
}

func (p *linePicture) where(distance float64) string {
	if math.IsInf(distance, 1) {
		return "far field"
	}
	unit, factor := p.metre()
	return fmt.Sprintf("at %.3g %s", distance*factor, unit)
}

func (p *linePicture) conditions() string { return screen.LineConditions(p.r.Study) }

// polar draws the vertical polars of a few octaves.
func (p *linePicture) polar() plots.Polar {
	v := p.r.Polar
	chart := plots.Polar{}
	from, to := front(v.Angle)
	shown := few(v.Spectrum, mostPolars, 250, 500, 1000, 4000)
	for n, i := range shown {
		chart.Curves = append(chart.Curves, plots.PolarCurve{Label: hzName(v.Hz[i]), AngleDeg: scaled(v.Angle[from:to], degrees),
			LevelDB: floored(v.Level[i][from:to], -60), Colour: 1 + n})
	}
	chart.Caption = p.caption("Vertical polar: up is to the right", fmt.Sprintf("%s; %s; %s, 0 dB on the axis; %s",
		p.stack(), p.where(v.Distance), v.Words(), p.conditions()), "Vertical polar of the stack at "+hzNames(v.Hz, shown)+".")
	return chart
}

// mostPolars is how many curves a polar can show apart.
const mostPolars = 4

// front returns the range of angles in front: behind the stack the model only
// mirrors them.
func front(angle []float64) (from, to int) {
	const slack = 1e-9
	for from < len(angle) && angle[from] < -math.Pi/2-slack {
		from++
	}
	for to = from; to < len(angle) && angle[to] <= math.Pi/2+slack; {
		to++
	}
	return from, to
}

// few returns every frequency where there are at most n, else the nearest to the
// ones given.
func few(s line.Spectrum, n int, otherwise ...float64) []int {
	if len(s.Hz) > n {
		return s.Pick(otherwise...)
	}
	all := make([]int, len(s.Hz))
	for i := range all {
		all[i] = i
	}
	return all
}

// hzName writes a frequency by its nominal name.
func hzName(f float64) string { return plots.Hz(preferred.Nominal(f)) }

func hzNames(hz []float64, shown []int) string {
	var parts []string
	for _, i := range shown {
		parts = append(parts, hzName(hz[i]))
	}
	return strings.Join(parts, ", ")
}

// floored keeps exact cancellations drawable.
func floored(xs []float64, low float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = math.Max(x, low)
	}
	return out
}

func scaled(xs []float64, by float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = x * by
	}
	return out
}

// angleMap draws level over frequency and angle.
func (p *linePicture) angleMap(v *line.Polar) plots.Figure {
	plane, side := "vertical", "positive up"
	if v.Plane == field.Horizontal {
		plane, side = "horizontal", "positive to the left, seen from behind; even amplitude over the horn's mouth (real horns taper)"
	}
	title := "Level over frequency and angle, " + plane
	subtitle := fmt.Sprintf("%s; %s; %s, 0 dB on the axis; angles %s", p.stack(), p.where(v.Distance), v.Words(), side)
	if v.Plane == field.Vertical {
		subtitle += "; " + p.conditions()
	}
	alt := fmt.Sprintf("Map of relative level over frequency and angle in the %s plane, −6 dB contours bold.", plane)
	if len(v.Hz) < 2 {
		return plots.Polar{Caption: p.caption("Polar, "+plane, subtitle, alt), Curves: []plots.PolarCurve{
			{Label: hzName(v.Hz[0]), AngleDeg: scaled(v.Angle, degrees), LevelDB: floored(v.Level[0], -60)}}}
	}
	m := plots.AngleMap{Caption: p.caption(title, subtitle, alt), FrequencyHz: v.Hz, AngleDeg: scaled(v.Angle, degrees)}
	for j := range v.Angle {
		row := make([]float64, len(v.Hz))
		for i := range v.Hz {
			row[i] = relative(v.Level[i][j])
		}
		m.Level = append(m.Level, row)
	}
	level(m.Level)
	return m
}

// relative keeps exact cancellations drawable.
func relative(level float64) float64 { return math.Max(level, -60) }

// level keeps a map that nowhere lies more than a hair above the axis from opening
// a colour of its own for that.
func level(rows [][]float64) {
	const hair = 0.25 // dB
	top := math.Inf(-1)
	for _, row := range rows {
		top = math.Max(top, slices.Max(row))
	}
	if top > hair {
		return
	}
	for _, row := range rows {
		for i := range row {
			row[i] = math.Min(row[i], 0)
		}
	}
}

// sideRange is how far below its highest level beyond a metre of the stack the
// side view is coloured, dB.
const sideRange = 42

// side draws the hall at the first frequency.
func (p *linePicture) side() plots.FieldMap {
	s := p.r.Side
	unit, factor := p.metre()
	m := plots.FieldMap{X: plots.Axis{Label: "Distance", Unit: unit}, Y: plots.Axis{Label: "Height", Unit: unit},
		XValues: scaled(s.X, factor), YValues: scaled(s.Z, factor)}
	top := math.Inf(-1)
	for iz := range s.Z {
		row := finite(s.Level[0][iz*len(s.X) : (iz+1)*len(s.X)])
		m.Level = append(m.Level, row)
		for ix, l := range row {
			if s.X[ix] > 2 && l > top {
				top = l
			}
		}
	}
	top = 3 * math.Ceil(top/3)
	m.Value = plots.Axis{Label: "Level", Unit: shortReference(p.r), Low: top - sideRange, High: top}
	for v := top - sideRange; v <= top; v += 6 {
		m.Levels = append(m.Levels, v)
	}
	p.outlines(&m, factor)
	absorbed := "without air absorption"
	if s.Absorbed {
		absorbed = "with air absorption"
	}
	m.Caption = p.caption("The hall from the side at "+hzName(s.Hz[0]), fmt.Sprintf("%s; %s, %s; %s; %s", p.stack(), s.Words(),
		absorbed, screen.LineReference(p.r.Study), p.conditions()), "Side view of the level over the hall at "+hzName(s.Hz[0])+".")
	return m
}

func shortReference(r *line.Result) string {
	if r.Model.Absolute {
		return "dB SPL"
	}
	return "dB, relative"
}

// outlines draws the boxes and the seats over a side view.
func (p *linePicture) outlines(m *plots.FieldMap, factor float64) {
	for i, o := range p.r.Outlines() {
		line := plots.Overlay{Thin: true}
		if i == 0 {
			line.Label = "stack"
		}
		for j := range 5 {
			c := o.Corner[j%4]
			line.X, line.Y = append(line.X, c.X*factor), append(line.Y, c.Z*factor)
		}
		m.Overlays = append(m.Overlays, line)
	}
	for i, g := range p.r.Seating() {
		ears := plots.Overlay{X: []float64{g.Start * factor, g.End * factor},
			Y: []float64{(g.StartFloor + g.Ear) * factor, (g.EndFloor + g.Ear) * factor}}
		if i == 0 {
			ears.Label = "ears"
		}
		m.Overlays = append(m.Overlays, ears)
	}
}

// drawable reports whether a curve has a value to draw.
func drawable(xs []float64) bool {
	for _, x := range xs {
		if numeric.Given(x) && !math.IsInf(x, 0) {
			return true
		}
	}
	return false
}
