package plots

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"gapline/internal/quantity"

	"gonum.org/v1/plot/vg"
)

// Oblique shows a body in parallel projection, from the front, its left side and above, with a
// quantity on its surface as coloured bands and a colour bar. It has no axes.
type Oblique struct {
	Caption
	Corners   [][3]float64 // x forward, y to the left as seen from behind, z up, in one unit
	Triangles [][3]int32
	Value     []float64      // at each of Corners; linear between them
	Edges     [][][3]float64 // connected lines, drawn where they can be seen
	Scale     Axis           // what Value is; Low and High limit the colours
	Levels    []float64      // between the bands; nil: round steps
}

// From where a body is seen: how far to the left of ahead, and how far up.
const (
	obliqueAzimuth   = 35 * math.Pi / 180
	obliqueElevation = 25 * math.Pi / 180
)

// Measures of oblique views, in points.
const (
	obliqueMax vg.Length = 400
	obliquePad vg.Length = 6
)

// seen is a point as projected: to the right, up, and towards the viewer.
type seen struct{ x, y, near float64 }

func projected(p [3]float64) seen {
	sa, ca := math.Sincos(obliqueAzimuth)
	se, ce := math.Sincos(obliqueElevation)
	ahead := p[0]*ca + p[1]*sa
	return seen{x: p[1]*ca - p[0]*sa, y: p[2]*ce - ahead*se, near: p[2]*se + ahead*ce}
}

func (b Oblique) check() error {
	if len(b.Triangles) == 0 {
		return errors.New("body without triangles")
	}
	if len(b.Value) != len(b.Corners) {
		return fmt.Errorf("body has %d values for %d corners", len(b.Value), len(b.Corners))
	}
	for i, c := range b.Corners {
		if !finite(c[0]) || !finite(c[1]) || !finite(c[2]) || !finite(b.Value[i]) {
			return fmt.Errorf("corner %d of the body at (%g, %g, %g) with value %g cannot be drawn", i+1, c[0], c[1], c[2], b.Value[i])
		}
	}
	for i, t := range b.Triangles {
		for _, c := range t {
			if c < 0 || int(c) >= len(b.Corners) {
				return fmt.Errorf("triangle %d of the body has corner %d of %d", i+1, c+1, len(b.Corners))
			}
		}
	}
	for i, e := range b.Edges {
		for _, c := range e {
			if !finite(c[0]) || !finite(c[1]) || !finite(c[2]) {
				return fmt.Errorf("edge %d of the body has a point that is not finite", i+1)
			}
		}
	}
	return nil
}

func (b Oblique) layout() (*sheet, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	p, err := b.plan()
	if err != nil {
		return nil, err
	}
	ticks := p.bar.barTicks()
	barRoom := barGap + barWidth + 5 + barTickWidth(ticks)
	if b.Scale.title() != "" {
		barRoom += yTitleRoom
	}
	width := b.bodyWidth() - barRoom
	across, up := p.x.high-p.x.low, p.y.high-p.y.low
	if !(across > 0) || !(up > 0) {
		return nil, errors.New("body without extent: it is seen as a line or a point")
	}
	ratio := min(float64(width-2*obliquePad)/across, float64(obliqueMax-2*obliquePad)/up) // points to a unit
	height := vg.Length(up*ratio) + 2*obliquePad
	s, body := newSheet(b.describing(b.words()...), height+topRoom)
	top := body.Max.Y - topRoom
	left := body.Min.X + (width-vg.Length(across*ratio))/2
	p.rect = rect(left, top-height+obliquePad, left+vg.Length(across*ratio), top-obliquePad)
	p.draw(s)
	p.bar.rect = rect(body.Min.X, top-height, body.Min.X+width, top)
	p.bar.drawBar(s, ticks)
	return s, nil
}

// obliquePlan is a body with its scales and colours worked out.
type obliquePlan struct {
	Oblique
	panel
	corners []seen
	bar     *mapPlan  // for levels, colours and the bar
	near    []float64 // of the surface at each pixel; −Inf: none
	nx, ny  int
}

func (b Oblique) plan() (*obliquePlan, error) {
	p := &obliquePlan{Oblique: b, panel: panel{x: scale{low: math.Inf(1), high: math.Inf(-1)}, y: scale{low: math.Inf(1), high: math.Inf(-1)}}}
	for _, c := range b.Corners {
		q := projected(c)
		p.corners = append(p.corners, q)
		p.x.low, p.x.high = math.Min(p.x.low, q.x), math.Max(p.x.high, q.x)
		p.y.low, p.y.high = math.Min(p.y.low, q.y), math.Max(p.y.high, q.y)
	}
	v, err := b.Scale.scaleFor(slices.Min(b.Value), slices.Max(b.Value), mapLevels)
	if err != nil {
		return nil, err
	}
	p.bar = &mapPlan{Map: Map{Value: b.Scale, Levels: b.Levels}, low: v.low, high: v.high}
	p.bar.setLevels()
	return p, nil
}

func (p *obliquePlan) draw(s *sheet) {
	s.picture(p.rect, p.raster())
	var lines [][]vg.Point
	for _, e := range p.Edges {
		lines = append(lines, p.visible(e)...)
	}
	s.lines(stroke{color: paper, width: 2}, lines...)
	s.lines(stroke{color: ink, width: 0.8}, lines...)
}

// raster paints the bands of what is nearest to the viewer at each pixel (E. Catmull, A
// Subdivision Algorithm for Computer Display of Curved Surfaces, University of Utah 1974);
// the rest stays transparent.
func (p *obliquePlan) raster() image.Image {
	p.nx = max(2, int(float64(p.rect.Max.X-p.rect.Min.X)*mapPixels))
	p.ny = max(2, int(float64(p.rect.Max.Y-p.rect.Min.Y)*mapPixels))
	img := image.NewPaletted(image.Rect(0, 0, p.nx, p.ny), append(slices.Clone(p.bar.bands), color.NRGBA{}))
	for i := range img.Pix {
		img.Pix[i] = uint8(len(p.bar.bands))
	}
	p.near = slices.Repeat([]float64{math.Inf(-1)}, p.nx*p.ny)
	for _, t := range p.Triangles {
		p.paint(img, t)
	}
	return img
}

// pixel is where a point lies in the raster, in pixels from its upper left corner.
func (p *obliquePlan) pixel(q seen) (x, y float64) {
	return p.x.unit(q.x) * float64(p.nx), (1 - p.y.unit(q.y)) * float64(p.ny)
}

// paint paints a triangle where nothing nearer is painted.
func (p *obliquePlan) paint(img *image.Paletted, t [3]int32) {
	var x, y, near, value [3]float64
	for i, c := range t {
		x[i], y[i] = p.pixel(p.corners[c])
		near[i], value[i] = p.corners[c].near, p.Value[c]
	}
	area := (x[1]-x[0])*(y[2]-y[0]) - (x[2]-x[0])*(y[1]-y[0])
	if area == 0 {
		return
	}
	const slack = -1e-9 // so that no pixel between two triangles is left out
	bottom, top := max(0, int(slices.Min(y[:])-0.5)), min(p.ny-1, int(slices.Max(y[:])+0.5))
	left, right := max(0, int(slices.Min(x[:])-0.5)), min(p.nx-1, int(slices.Max(x[:])+0.5))
	for j := bottom; j <= top; j++ {
		for i := left; i <= right; i++ {
			px, py := float64(i)+0.5, float64(j)+0.5
			v := ((px-x[0])*(y[2]-y[0]) - (x[2]-x[0])*(py-y[0])) / area
			w := ((x[1]-x[0])*(py-y[0]) - (px-x[0])*(y[1]-y[0])) / area
			u := 1 - v - w
			if u < slack || v < slack || w < slack {
				continue
			}
			if z := u*near[0] + v*near[1] + w*near[2]; z > p.near[j*p.nx+i] {
				p.near[j*p.nx+i] = z
				img.Pix[j*img.Stride+i] = uint8(p.bar.band(u*value[0] + v*value[1] + w*value[2]))
			}
		}
	}
}

// visible are the parts of a line that nothing is in front of.
func (p *obliquePlan) visible(line [][3]float64) [][]vg.Point {
	const step = 2 // pixels between the places that are tried
	var out [][]vg.Point
	var run []vg.Point
	end := func() {
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	for k := 1; k < len(line); k++ {
		a, b := projected(line[k-1]), projected(line[k])
		ax, ay := p.pixel(a)
		bx, by := p.pixel(b)
		n := max(1, int(math.Hypot(bx-ax, by-ay)/step))
		for i := range n + 1 {
			if i == 0 && k > 1 {
				continue // the end of the piece before
			}
			t := float64(i) / float64(n)
			q := seen{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y), a.near + t*(b.near-a.near)}
			if !p.shows(q) {
				end()
				continue
			}
			run = append(run, p.at(q.x, q.y))
		}
	}
	end()
	return out
}

// shows reports whether a point of an edge is in front of the surface at one of the pixels
// about it: at least one of the faces that meet at it is.
func (p *obliquePlan) shows(q seen) bool {
	const slope = 4 // pixels by which a face at a grazing angle may come nearer within one
	slack := slope * (p.x.high - p.x.low) / float64(p.nx)
	x, y := p.pixel(q)
	for j := int(math.Floor(y)) - 1; j <= int(math.Floor(y))+1; j++ {
		for i := int(math.Floor(x)) - 1; i <= int(math.Floor(x))+1; i++ {
			if i < 0 || j < 0 || i >= p.nx || j >= p.ny {
				continue
			}
			if z := p.near[j*p.nx+i]; !math.IsInf(z, -1) && q.near >= z-slack {
				return true
			}
		}
	}
	return false
}

// words says what the picture shows and its range.
func (b Oblique) words() []string {
	return []string{fmt.Sprintf("%s on the surface, from %s to %s", b.Scale.title(),
		quantity.Significant(slices.Min(b.Value), 3), quantity.Significant(slices.Max(b.Value), 3))}
}
