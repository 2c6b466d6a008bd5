package layout

import (
	"math"

	"gapline/waveguide"
)

// Layers of the sheets in a file to cut by.
const (
	FrontLayer = "FRONT"
	SideLayer  = "SIDE"
	RearLayer  = "REAR"
	PlateLayer = "PLATE"
	FoldLayer  = "FOLD"
)

var sheetLayers = [...]string{FrontSheet: FrontLayer, LeftSheet: SideLayer, RightSheet: SideLayer, RearSheet: RearLayer, PlateSheet: PlateLayer}

// Outlines returns all panels beside each other on one sheet with the closed outlines of
// the fold, each on the layer of its kind. It is an error where the fold's wall is too
// strongly curved for its turn or its material.
func (l *Layout) Outlines() ([]waveguide.Outline, error) {
	var r row
	for _, c := range l.Panels() {
		r.put(c.outlines())
	}
	if f, ok := l.design.Folded(); ok {
		list, err := f.Outlines(l.design.Fold.WallMaterial.Value())
		if err != nil {
			return nil, err
		}
		var closed []waveguide.Outline
		for _, o := range list {
			if o.Closed {
				o.Part = FoldLayer
				closed = append(closed, o)
			}
		}
		r.put(closed)
	}
	return r.out, nil
}

// outlines are those of the panel and its cut-outs, mm.
func (c *Cut) outlines() []waveguide.Outline {
	layer := sheetLayers[c.Sheet]
	out := []waveguide.Outline{{Part: layer, Closed: true, MM: inMM(c.Outline)}}
	for i := range c.Holes {
		h := &c.Holes[i]
		o := waveguide.Outline{Part: layer, Closed: true}
		switch {
		case h.Round && math.Abs(h.Width-h.Height) < Touch:
			o.MM, o.Radius = [][2]float64{{1e3 * h.X, 1e3 * h.Y}}, 1e3*h.Width/2
		case h.Round:
			o.MM = inMM(h.ellipse())
		default:
			w, k := h.Width/2, h.Height/2
			o.MM = inMM([][2]float64{{h.X - w, h.Y - k}, {h.X + w, h.Y - k}, {h.X + w, h.Y + k}, {h.X - w, h.Y + k}})
		}
		out = append(out, o)
	}
	return out
}

// ellipse is the hole of a turned cone, its chords within waveguide.OutlineTolerance.
func (h *Hole) ellipse() [][2]float64 {
	n := int(math.Ceil(math.Pi/math.Acos(1-waveguide.OutlineTolerance/math.Max(h.Width, h.Height)*2))) + 1
	out := make([][2]float64, n)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = [2]float64{h.X + h.Width/2*cos, h.Y + h.Height/2*sin}
	}
	return out
}

func inMM(points [][2]float64) [][2]float64 {
	out := make([][2]float64, len(points))
	for i, p := range points {
		out[i] = [2]float64{1e3 * p[0], 1e3 * p[1]}
	}
	return out
}

// row puts pieces beside each other, from left to right.
type row struct {
	out []waveguide.Outline
	end float64 // mm
}

// between two pieces, mm.
const apart = 50

func (r *row) put(piece []waveguide.Outline) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, o := range piece {
		for _, p := range o.MM {
			low, high = math.Min(low, p[0]-o.Radius), math.Max(high, p[0]+o.Radius)
		}
	}
	if high < low {
		return
	}
	shift := 0.0
	if len(r.out) > 0 {
		shift = r.end + apart - low
	}
	for _, o := range piece {
		for i := range o.MM {
			o.MM[i][0] += shift
		}
		r.out = append(r.out, o)
	}
	r.end = high + shift
}
