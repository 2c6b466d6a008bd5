package section

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/bem"
	"gapline/internal/numeric"
	"gapline/waveguide"
	"gapline/waveguide/wave"
)

// wallPoints is the number of points through which the wall's spline runs: the
// conic is then followed to a micrometre.
const wallPoints = 65

// Fold returns the folded guide of the design, by rays and as two joined layers
// with the given exit. The source is an arc of the throat's radius about its
// centre, or of half the layer's thickness when horn.throat is not given.
func Fold(d *design.Design, exit wave.Exit) (waveguide.Fold, wave.Fold, []Fault) {
	var c faults
	c.need(d.Fold.ThroatToWall.Value(), ThroatToWallLacks)
	c.need(d.Fold.Layer.Value(), LayerLacks)
	c.need(d.Horn.MouthHeight.Value(), MouthHeightLacks)
	if len(c) > 0 {
		return waveguide.Fold{}, wave.Fold{}, c
	}
	rays, err := waveguide.NewFold(d.FoldSpec())
	c.fails(FoldFails, err)
	if len(c) > 0 {
		return waveguide.Fold{}, wave.Fold{}, c
	}
	g := layers(&rays, exit)
	_, err = g.Problem(Air(d))
	c.fails(GuideFails, err)
	return rays, g, c
}

// layers turns the fold of the rays into two layers: z becomes X, y stays Y.
func layers(f *waveguide.Fold, exit wave.Exit) wave.Fold {
	at := func(p waveguide.Point) bem.Point { return bem.Point{X: p.Z, Y: p.Y} }
	radius := f.Spec.ThroatDiameter / 2
	if !numeric.Given(radius) {
		radius = f.Spec.Layer / 2
	}
	g := wave.Fold{
		Throat: at(f.Throat()), ThroatRadius: radius, Thickness: f.Spec.Layer, Exit: exit, Drive: 1,
		Mouth: [2]bem.Point{{X: f.MouthZ(), Y: f.MouthSpan().Low}, {X: f.MouthZ(), Y: f.MouthSpan().High}},
	}
	fan := f.Fan()
	for i := range wallPoints {
		phi := fan.Low + fan.Width()*float64(i)/(wallPoints-1)
		g.Wall = append(g.Wall, at(f.Wall.Point(phi)))
	}
	return g
}

// RayFront is what rays say about the mouth at points of its height.
type RayFront struct {
	Lag   []float64 // of the front behind that at the middle, m
	Level []float64 // dB against the root-mean-square pressure over the points
}

// Rays returns the rays' prediction at heights y, m, of the mouth.
func Rays(f *waveguide.Fold, y []float64) RayFront {
	front := f.Front()
	var r RayFront
	first, _ := front(0)
	sum := 0.0
	for _, v := range y {
		lag, amplitude := front(v)
		r.Lag = append(r.Lag, lag-first)
		r.Level = append(r.Level, numeric.DB(amplitude))
		sum += amplitude * amplitude
	}
	mean := numeric.DB(math.Sqrt(sum / float64(len(y))))
	for i := range r.Level {
		r.Level[i] -= mean
	}
	return r
}
