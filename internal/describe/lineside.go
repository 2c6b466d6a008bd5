package describe

import (
	"math"
	"slices"

	"gapline/cabinet/field"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
	"gapline/internal/study/line"
)

// side draws the hall at the first frequency.
func (v lineParts) side() result.Grid {
	s := v.r.Side
	g := result.Grid{Shown: drawnIn(line.SideView, result.Page), Fig: figure.SideLevel,
		X: result.Values{Fig: figure.SideX, SI: s.X}, Y: result.Values{Fig: figure.SideZ, SI: s.Z}}
	for row := range slices.Chunk(s.Whole[0], len(s.X)) {
		g.Z = append(g.Z, finite(row))
	}
	low, high, step := v.sideColours(s)
	m := &result.Map{Form: result.FieldMap, X: inHall("Distance"), Y: inHall("Height"), Overlays: append(v.section(s), v.outlines()...),
		Value: result.Axis{Label: "Level", Kind: quantity.Level, Unit: v.levelUnit(), Low: low, High: high}}
	for l := low; l <= high; l += step {
		m.Levels = append(m.Levels, l)
	}
	m.Caption = v.caption(result.Caption{
		ID: "side", Title: "The hall from the side", TitleAt: result.Say(" at %s", nominal(s.Hz[0])), Page: "The hall from the side",
		Subtitle: result.Say("%s; %s, %s; %s; %s", v.boxes(), s.Words(), absorbed(s.Absorbed), v.reference(), v.conditions()),
		Alt:      result.Say("Side view of the level over the hall at %s.", nominal(s.Hz[0])),
	})
	g.Look = m
	return g
}

// The colours of a side view reach over the levels of the air away from the stack, but
// for the loudest and the quietest of its area.
const (
	outermostShare        = 0.02
	nearStack             = 1.0 // m
	leastRange, mostRange = 12, 42
	fineRange             = 30 // up to here a colour stands for 3 dB, beyond for 6
)

// sideColours returns the range of the colours and what one stands for, dB.
func (v lineParts) sideColours(s *line.Side) (low, high, step float64) {
	var air []float64
	boxes := v.Outlines()
	for k, l := range s.Level[0] {
		x, z := s.X[k%len(s.X)], s.Z[k/len(s.X)]
		near := slices.ContainsFunc(boxes, func(o field.Outline) bool {
			return slices.ContainsFunc(o.Corner[:], func(c field.Vec) bool { return math.Hypot(x-c.X, z-c.Z) < nearStack })
		})
		if numeric.Given(l) && !math.IsInf(l, 0) && !near {
			air = append(air, l)
		}
	}
	if len(air) == 0 {
		return -mostRange, 0, 6
	}
	slices.Sort(air)
	at := func(share float64) float64 { return air[int(share*float64(len(air)-1))] }
	low, high = 3*math.Floor(at(outermostShare)/3), 3*math.Ceil(at(1-outermostShare)/3)
	low = math.Min(math.Max(low, high-mostRange), high-leastRange)
	if high-low <= fineRange {
		return low, high, 3
	}
	if math.Mod(high-low, 6) != 0 {
		low -= 3
	}
	return low, high, 6
}

// section is the ground, and the floors over others, as bodies over a side view.
func (v lineParts) section(s *line.Side) []result.Overlay {
	g := s.Ground
	if g == nil {
		return nil
	}
	deep := s.Z[0] - 1
	from, to := s.X[0]-1, s.X[len(s.X)-1]+1
	ground := result.Overlay{Solid: true, Thin: true, X: []float64{from}, Y: []float64{g.At(from)}}
	for i, x := range g.X {
		if i == 0 && g.Z[0] == 0 || i > 0 || x > from {
			ground.X, ground.Y = append(ground.X, x), append(ground.Y, g.Z[i])
		}
	}
	if end := len(g.X) - 1; end < 0 || g.X[end] < to {
		ground.X, ground.Y = append(ground.X, to), append(ground.Y, g.At(to))
	}
	last := ground.X[len(ground.X)-1]
	ground.X, ground.Y = append(ground.X, last, from), append(ground.Y, deep, deep)
	out := []result.Overlay{ground}
	for _, b := range g.Balconies {
		out = append(out, result.Overlay{Solid: true, Thin: true, X: []float64{b.Start, b.End, b.End, b.Start},
			Y: []float64{b.StartFloor, b.EndFloor, b.EndFloor - balcony, b.StartFloor - balcony}})
	}
	return out
}

// balcony is how thick a floor over another one is drawn, m.
const balcony = 0.3

// outlines are the boxes and the seats over a side view.
func (v lineParts) outlines() []result.Overlay {
	var out []result.Overlay
	for i, o := range v.Outlines() {
		box := result.Overlay{Thin: true, Solid: true}
		if i == 0 {
			box.Label = "stack"
		}
		for _, c := range o.Corner {
			box.X, box.Y = append(box.X, c.X), append(box.Y, c.Z)
		}
		out = append(out, box)
	}
	for i, g := range v.Seating() {
		ears := result.Overlay{X: []float64{g.Start, g.End}, Y: []float64{g.StartFloor + g.Ear, g.EndFloor + g.Ear}}
		if i == 0 {
			ears.Label = "ears"
		}
		out = append(out, ears)
	}
	return out
}
