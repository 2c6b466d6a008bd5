package describe

import (
	"math"
	"math/cmplx"
	"slices"

	"gapline/cabinet/outside"
	"gapline/internal/figure"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/result"
)

// Pictures of levels against the greatest have lookSteps colours. They are 3 dB apart, or as
// many more as it takes that lookShare of the values do not lie below the last.
const (
	lookSteps = 12
	lookShare = 0.95
)

// lookLevels are the axis of levels against the greatest, and those between the colours.
func lookLevels(label string, values []float64) (result.Axis, []float64) {
	values = slices.Sorted(slices.Values(values))
	lowest := values[int((1-lookShare)*float64(len(values)-1))]
	step := 3.0
	for step < 6 && -lowest > step*lookSteps {
		step++
	}
	var levels []float64
	for k := 1 - lookSteps; k <= 0; k++ {
		levels = append(levels, step*float64(k))
	}
	return result.Axis{Label: label, Unit: "dB", Low: -step * lookSteps}, levels
}

// greatest is the largest magnitude of pressures, leaving out those that are not given.
func greatest(rows ...[]complex128) float64 {
	most := 0.0
	for _, row := range rows {
		for _, p := range row {
			if a := cmplx.Abs(p); a > most {
				most = a
			}
		}
	}
	return most
}

// below is the level of a pressure against the greatest, dB.
func below(p complex128, most float64) float64 {
	return math.Max(numeric.DB(cmplx.Abs(p)/most), mapFloor)
}

// seen are the pictures of one frequency that the run was asked for.
func (p frontParts) seen() (out []result.Part) {
	if p.Seen == nil {
		return nil
	}
	if s := p.Seen.Skin; s != nil {
		out = append(out, p.skin(s))
	}
	if f := p.Seen.Field; f != nil {
		out = append(out, p.slice(f))
	}
	return out
}

// skin shows the level on the surface.
func (p frontParts) skin(s *outside.Skin) result.Oblique {
	out := result.Oblique{Shown: result.View(WaveSurface, result.Drawn), Triangles: s.Triangles,
		Caption: p.caption(result.Caption{Title: "Pressure level on the " + p.what(), Trust: "wave", TitleAt: result.Say(" at %s", hertz(p.Seen.Task.Look.Frequency))})}
	out.Subtitle = out.Subtitle.And(result.Plain(" Seen from ahead and above; the side shown is the left one as seen from behind."))
	most := greatest(s.Pressure)
	for i, v := range s.Vertices {
		out.Corners, out.Values = append(out.Corners, v), append(out.Values, below(s.Pressure[i], most))
	}
	out.Value, out.Levels = lookLevels("Level re the greatest on the surface", out.Values)
	for _, line := range s.Edges {
		var e [][3]float64
		for _, v := range line {
			e = append(e, v)
		}
		out.Edges = append(out.Edges, e)
	}
	return out
}

func (p frontParts) what() string {
	if p.Boxes == 1 {
		return "box"
	}
	return "boxes"
}

// slice shows the level in a plane through the air.
func (p frontParts) slice(f *outside.Field) result.Grid {
	m := &result.Map{X: result.Axis{Label: "Forward of the front", Kind: quantity.Length}, Y: result.Axis{Label: "Above the middle", Kind: quantity.Length},
		Equal: true, BoldOnly: true, Overlays: solids(f.Bodies)}
	if p.Seen.Surface.Floor {
		m.Y.Label = "Above the floor"
	}
	where := "in the upright plane through the middle"
	if p.Seen.Task.Look.Slice == outside.LevelSlice {
		m.X.Label, m.Y.Label, where = "To the right of the middle", "Forward of the front", "in the level plane through the middle"
	}
	m.Caption = p.caption(result.Caption{Title: "Pressure level " + where, Trust: "wave", TitleAt: result.Say(" at %s", hertz(p.Seen.Task.Look.Frequency))})
	g := result.Grid{Shown: result.View(WaveField, result.Drawn), Fig: figure.WavePolarLevel, X: result.Values{SI: f.Columns}, Y: result.Values{SI: f.Rows}, Look: m}
	var given []float64
	most := greatest(f.Pressure...)
	for _, row := range f.Pressure {
		z := make([]float64, len(row))
		for i, x := range row {
			z[i] = math.NaN()
			if !cmplx.IsNaN(x) {
				z[i] = below(x, most)
				given = append(given, z[i])
			}
		}
		g.Z = append(g.Z, z)
	}
	bleed(g.Z)
	bleed(g.Z) // into the corners of chambers too
	m.Value, m.Levels = lookLevels("Level re the greatest shown", given)
	return g
}

// solids fills what is solid within closed lines, of which those that run the other way round
// than the largest are holes with air in them, and draws the bodies' lines: a chamber is too
// narrow for one.
func solids(lines [][][2]float64) []result.Overlay {
	sign, most := 0.0, 0.0
	for _, l := range lines {
		if a := turned(l); math.Abs(a) > most {
			sign, most = math.Copysign(1, a), math.Abs(a)
		}
	}
	var bodies, holes [][][2]float64
	for _, l := range lines {
		if turned(l)*sign > 0 {
			bodies = append(bodies, l)
		} else {
			holes = append(holes, l)
		}
	}
	var out []result.Overlay
	for _, b := range bodies {
		fill := ring(b)
		for _, h := range holes {
			if outside.Encloses(b, h[0]) { // there and back along a seam, which so has no area
				there := ring(h)
				fill.X, fill.Y = append(append(fill.X, b[0][0]), there.X...), append(append(fill.Y, b[0][1]), there.Y...)
			}
		}
		fill.Solid, fill.Blank = true, true
		out = append(out, fill)
	}
	for _, b := range bodies {
		out = append(out, ring(b))
	}
	return out
}

// ring is a closed line that ends where it began.
func ring(l [][2]float64) result.Overlay {
	o := result.Overlay{Thin: true}
	for i := range len(l) + 1 {
		v := l[i%len(l)]
		o.X, o.Y = append(o.X, v[0]), append(o.Y, v[1])
	}
	return o
}

// turned is the area within a closed line, m²: positive where it runs counter-clockwise.
func turned(l [][2]float64) float64 {
	sum := 0.0
	for i, v := range l {
		w := l[(i+1)%len(l)]
		sum += v[0]*w[1] - v[1]*w[0]
	}
	return sum / 2
}
