package plots

import (
	"fmt"
	"gapline/internal/quantity"
	"image"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// Map shows a quantity over two variables as filled bands between labelled
// contour lines, with a colour bar: the gap over two levers, level over angle
// and frequency, or a pressure field over a side view.
type Map struct {
	Caption
	X, Y     Axis
	XValues  []float64   // increasing
	YValues  []float64   // increasing
	Z        [][]float64 // Z[i] belongs to YValues[i]; NaN: no value, left white
	Value    Axis        // what Z is; Low and High limit the colours
	Levels   []float64   // contour levels; nil: round steps
	Bold     []BoldLevel // contours drawn bold
	BoldOnly bool        // draw no other contours than the bold ones: for fine-grained maps
	Scheme   Scheme
	// EqualAxes draws both axes to one scale, for maps of space.
	EqualAxes bool
	Marks     []Mark
	Overlays  []Overlay
	Hollow    [][]bool // as Z: places that are computed but cannot be built, marked by rings; nil: none
	Height    float64  // of the map, points; zero: 250
}

// BoldLevel is a contour of special meaning, such as a gap of zero.
type BoldLevel struct {
	Value float64
	Text  string // its label; empty: the value
}

// Overlay is a line drawn over a map, such as seating or a box's outline.
type Overlay struct {
	Label string
	X, Y  []float64
	Thin  bool
	Solid bool // a body seen in section: closed, and filled
	Blank bool // without its line
}

// Measures of maps, in points.
const (
	mapHeight      vg.Length = 250
	mapMax         vg.Length = 400
	barGap         vg.Length = 12
	barWidth       vg.Length = 12
	mapPixels                = 3   // per point: 216 per inch
	mapFine                  = 160 // points per axis for contour lines, at least
	mapLevels                = 12  // about how many contour levels
	labelsPerLevel           = 4
	labelApart     vg.Length = 90 // between labels of one level
	minLabelled    vg.Length = 40 // shorter contours carry no label
)

func (m Map) layout() (*sheet, error) {
	plan, err := m.plan()
	if err != nil {
		return nil, err
	}
	barTicks := plan.barTicks()
	barRoom := barGap + barWidth + 5 + barTickWidth(barTicks)
	if m.Value.title() != "" {
		barRoom += yTitleRoom
	}
	height := vg.Length(m.Height)
	if height <= 0 {
		height = m.pick(mapHeight, 165)
	}
	var left, width vg.Length
	for range 3 { // tick labels, width and height depend on each other
		left, _ = leftRoom(plan.yTicks(height), m.Y.title(), height)
		width = m.bodyWidth() - left - barRoom
		if m.EqualAxes {
			ratio := vg.Length((plan.y.high - plan.y.low) / (plan.x.high - plan.x.low))
			height = width * ratio
			if height > mapMax {
				height = mapMax
				width = height / ratio
			}
		}
	}
	s, body := newSheet(m.describing(m.words()...), height+xTickRoom+xTitleRoom+topRoom)
	plan.rect = rect(body.Min.X+left, body.Max.Y-topRoom-height, body.Min.X+left+width, body.Max.Y-topRoom)
	plan.draw(s, barTicks)
	return s, nil
}

// mapPlan is a map with its scales, levels and colours worked out.
type mapPlan struct {
	Map
	panel
	low, high float64 // range of the colours
	levels    []float64
	bands     color.Palette // bands[k] lies below levels[k]; the last above all
	table     grid2
}

func (m Map) plan() (*mapPlan, error) {
	if err := checkGrid(m.XValues, m.YValues, m.Z, m.X.Kind != Linear, m.Y.Kind != Linear); err != nil {
		return nil, err
	}
	for _, o := range m.Overlays {
		c := Curve{Label: o.Label, X: o.X, Y: o.Y}
		if err := c.check(m.X.Kind != Linear, m.Y.Kind != Linear); err != nil {
			return nil, fmt.Errorf("overlay: %w", err)
		}
	}
	p := &mapPlan{Map: m}
	var err error
	if p.x, err = fitAxis(m.X, m.XValues); err != nil {
		return nil, err
	}
	if p.y, err = fitAxis(m.Y, m.YValues); err != nil {
		return nil, err
	}
	low, high := valueRange(m.Z)
	v, err := m.Value.scaleFor(low, high, mapLevels)
	if err != nil {
		return nil, err
	}
	p.low, p.high = v.low, v.high
	p.setLevels()
	p.table = grid2{x: units(p.x, m.XValues), y: units(p.y, m.YValues), z: m.Z}
	return p, nil
}

// fitAxis gives an automatic axis of a map exactly the extent of its data.
func fitAxis(a Axis, values []float64) (scale, error) {
	if a.automatic() {
		a.Low, a.High = values[0], values[len(values)-1]
	}
	return a.scaleFor(a.Low, a.High, 6)
}

func units(s scale, values []float64) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = s.unit(v)
	}
	return out
}

// setLevels settles the contour levels and the colours between them.
func (p *mapPlan) setLevels() {
	p.levels = slices.Clone(p.Levels)
	if p.levels == nil {
		for _, t := range numberTicks(p.low, p.high, mapLevels) {
			if t.major {
				p.levels = append(p.levels, t.value)
			}
		}
	}
	for _, b := range p.Bold {
		p.levels = append(p.levels, b.Value)
	}
	slices.Sort(p.levels)
	p.levels = slices.CompactFunc(p.levels, func(a, b float64) bool { return math.Abs(a-b) < (p.high-p.low)*1e-9 })
	p.levels = slices.DeleteFunc(p.levels, func(v float64) bool { return v < p.low || v > p.high || math.IsNaN(v) })
	edges := append(append([]float64{p.low}, p.levels...), p.high)
	for k := range len(edges) - 1 {
		p.bands = append(p.bands, p.Scheme.colour((edges[k]+edges[k+1])/2, p.low, p.high))
	}
}

// band is the number of levels at or below v.
func (p *mapPlan) band(v float64) int {
	k, found := slices.BinarySearch(p.levels, v)
	if found {
		k++
	}
	return k
}

// raster paints the bands; cells without value stay transparent.
func (p *mapPlan) raster() image.Image {
	nx := max(2, int(float64(p.rect.Max.X-p.rect.Min.X)*mapPixels))
	ny := max(2, int(float64(p.rect.Max.Y-p.rect.Min.Y)*mapPixels))
	colours := append(slices.Clone(p.bands), color.NRGBA{})
	img := image.NewPaletted(image.Rect(0, 0, nx, ny), colours)
	columns, shares := make([]int, nx), make([]float64, nx)
	for i := range nx {
		columns[i], shares[i] = cell(p.table.x, (float64(i)+0.5)/float64(nx))
	}
	for j := range ny {
		row, share := cell(p.table.y, 1-(float64(j)+0.5)/float64(ny))
		for i, column := range columns {
			k := len(p.bands)
			if row >= 0 && column >= 0 {
				if z := bilinear(p.table.z, column, row, shares[i], share); !math.IsNaN(z) {
					k = p.band(z)
				}
			}
			img.Pix[j*img.Stride+i] = uint8(k)
		}
	}
	return img
}

func (p *mapPlan) yTicks(height vg.Length) []tick { return p.Y.ticks(p.y, max(2, int(height/30))) }

func (p *mapPlan) draw(s *sheet, barTicks []tick) {
	height := p.rect.Max.Y - p.rect.Min.Y
	xTicks := p.X.ticks(p.x, max(2, int((p.rect.Max.X-p.rect.Min.X)/45)))
	yTicks := p.yTicks(height)
	s.picture(p.rect, p.raster())
	fine := stroke{color: color.NRGBA{R: 0xFF, G: 0xFF, B: 0xFF, A: 0x38}, width: 0.4}
	for _, t := range xTicks {
		if t.major {
			s.line(fine, p.xAt(t.value), p.rect.Min.Y, p.xAt(t.value), p.rect.Max.Y)
		}
	}
	for _, t := range yTicks {
		if t.major {
			s.line(fine, p.rect.Min.X, p.yAt(t.value), p.rect.Max.X, p.yAt(t.value))
		}
	}
	place := &placer{bounds: grow(p.rect, -2)}
	contours := p.drawContours(s)
	overlays := p.drawOverlays(s)
	place.avoid(curveCost, overlays...)
	p.drawHollow(s)
	p.drawMarks(s, place)
	p.labelOverlays(s, place)
	p.labelContours(s, place, contours)
	p.frame(s, xTicks, yTicks)
	_, room := leftRoom(yTicks, p.Y.title(), height)
	p.yLabels(s, yTicks, p.Y.title(), room)
	p.xLabels(s, xTicks, p.X.title())
	p.drawBar(s, barTicks)
}

// words says what the map shows and its range.
func (m Map) words() []string {
	low, high := valueRange(m.Z)
	out := []string{fmt.Sprintf("%s over %s and %s, from %s to %s", m.Value.title(), m.X.title(), m.Y.title(), quantity.Significant(low, 3), quantity.Significant(high, 3))}
	for _, o := range m.Overlays {
		out = append(out, o.Label)
	}
	for _, mark := range m.Marks {
		out = append(out, fmt.Sprintf("%s at %s, %s", mark.Text, quantity.Significant(mark.X, 3), quantity.Significant(mark.Y, 3)))
	}
	return out
}
