package outside

import (
	"math"
	"math/cmplx"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/surface"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/bem"
	"gapline/internal/numeric"
)

// Result is the outside of a box or stack against frequency.
type Result struct {
	Task      Task
	Surface   *surface.Surface // of the highest octave
	Frequency []float64        // Hz
	Unknowns  []int
	Steps     []int     // of the iteration; 0: by factors
	Seconds   []float64 // by the clock
	Angle     []float64 // rad, −π to π; 0 ahead, positive up or to the left

	Vertical   [][]complex128 // far field p·r in the upright plane, [frequency][angle], Pa·m rms; NaN below a floor
	Horizontal [][]complex128
	Element    [][]complex128 // Vertical of the middle box alone among its neighbours; nil: not known
	// Load is the radiation impedance [frequency][set][set]: mean pressure on a cone per volume velocity
	// of each cone of another set, Pa·s/m³. Sets are cones that are each other's images.
	Load [][][]complex128
	Area []float64      // of one cone or exit of each set, m²
	Flow [][]complex128 // volume velocity of a cone of each set, [frequency][set], m³/s rms
	// Mouths is the volume flow through each mouth of the middle box's insert, in the order of Parts, by
	// the slope of the pressure; Cones that of its cones together, Out that of its mouths
	// together, which is Cones less what the air in the chambers takes up; nil without an insert.
	Mouths     [][]complex128
	Parts      []int // in Surface.Layout.Parts
	Cones, Out []complex128
	// Baffled is the upright far field of the flow over those mouths in a wide flat baffle, as
	// Vertical is; Pressed the mean pressure over the mouths in the middle of the plate, Pa rms.
	Baffled [][]complex128
	Pressed []complex128

	Sphere [][]complex128 // far field of the middle box over pattern.Directions, [frequency][direction], Pa·m rms; nil: not asked for
	rings  int

	Skin  *Skin // as Task.Look asks for them; nil: it does not
	Field *Field

	air    air.Air
	middle []int // sets with cones or an exit in the middle box; nil: of an even number
	room   room
}

// room is the air behind the mouths of the middle box as lumped elements take it.
type room struct {
	volume float64 // of the chambers, m³
	area   float64 // of the mouths, m²
	inner  float64 // effective length of the inner half of a mouth, with its end correction, m
}

func newResult(d *design.Design, t *Task, j *job, points []Point) *Result {
	r := &Result{Task: *t, Surface: j.surface, Angle: angles, air: air.Of(d.Air), rings: j.rings()}
	for i := range j.sets {
		r.Area = append(r.Area, j.sets[i].area)
	}
	if mid := len(j.surface.Boxes) / 2; len(j.surface.Boxes)%2 == 1 {
		for i := range j.sets {
			if j.sets[i].boxes[mid] > 0 {
				r.middle = append(r.middle, i)
			}
		}
	}
	if j.probes != nil {
		r.Parts, r.room = j.probes.part, j.probes.room(d, j.surface)
	}
	for i := range points {
		r.add(&points[i])
	}
	return r
}

// add reads one point.
func (r *Result) add(p *Point) {
	r.Frequency, r.Unknowns = append(r.Frequency, p.Frequency), append(r.Unknowns, p.Unknowns)
	r.Steps, r.Seconds = append(r.Steps, p.Steps), append(r.Seconds, p.Seconds)
	r.Vertical, r.Horizontal = append(r.Vertical, r.aboveFloor(p.Vertical)), append(r.Horizontal, p.Horizontal)
	r.Load, r.Flow = append(r.Load, p.Load), append(r.Flow, p.Flow)
	if p.skin != nil {
		r.Skin = p.skin
	}
	if p.field != nil {
		r.Field = p.field
	}
	if p.Sphere != nil {
		r.Sphere = append(r.Sphere, p.Sphere)
	}
	if p.Element != nil {
		r.Element = append(r.Element, r.aboveFloor(p.Element))
	}
	if p.Mouths == nil {
		return
	}
	flows := make([]complex128, len(p.Mouths))
	for i, x := range p.Mouths { // from the slope of the pressure to flow
		flows[i] = x / complex(0, 2*math.Pi*p.Frequency*r.air.Density)
	}
	r.Mouths, r.Cones = append(r.Mouths, flows), append(r.Cones, p.Cones)
	r.Baffled, r.Pressed = append(r.Baffled, p.Baffled), append(r.Pressed, p.Pressed)
	stored := p.Held * complex(0, 2*math.Pi*p.Frequency/(r.air.Density*r.air.SoundSpeed*r.air.SoundSpeed))
	r.Out = append(r.Out, p.Cones-stored)
}

// aboveFloor leaves an upright pattern without what lies below the floor, if there is one.
func (r *Result) aboveFloor(pattern []complex128) []complex128 {
	if !r.Surface.Floor {
		return pattern
	}
	out := slices.Clone(pattern)
	for i := 1; i < ahead; i++ {
		out[i] = cmplx.NaN()
	}
	return out
}

// Levels are patterns in dB against the direction ahead.
func (r *Result) Levels(patterns [][]complex128) [][]float64 {
	out := make([][]float64, len(patterns))
	for i, p := range patterns {
		axis := cmplx.Abs(p[ahead])
		for _, x := range p {
			out[i] = append(out[i], numeric.DB(cmplx.Abs(x)/axis))
		}
	}
	return out
}

// OnAxis is the level ahead at 1 m by the far field, dB re 20 µPa.
func (r *Result) OnAxis() []float64 {
	out := make([]float64, len(r.Vertical))
	for i, p := range r.Vertical {
		out[i] = driver.Level(cmplx.Abs(p[ahead]))
	}
	return out
}

// Behind is the level to the rear against that ahead, dB.
func (r *Result) Behind() []float64 {
	out := make([]float64, len(r.Vertical))
	for i, p := range r.Vertical {
		out[i] = numeric.DB(cmplx.Abs(p[0]) / cmplx.Abs(p[ahead]))
	}
	return out
}

// Widths are the −6 dB full widths of patterns about the direction ahead, rad; NaN where the
// level does not fall so far on both sides.
func (r *Result) Widths(patterns [][]complex128) []float64 {
	out := make([]float64, len(patterns))
	for i, p := range patterns {
		below, above := bem.Edges(r.Angle, p, ahead)
		out[i] = above - below
	}
	return out
}

// columns tells for each mouth in which column it stands: mouths one above the other share
// their place across.
func (r *Result) columns() [][]int {
	var out [][]int
	for m, i := range r.Parts {
		y := r.Surface.Layout.Parts[i].At.Y
		found := false
		for c := range out {
			if math.Abs(r.Surface.Layout.Parts[r.Parts[out[c][0]]].At.Y-y) < layout.Touch {
				out[c], found = append(out[c], m), true
			}
		}
		if !found {
			out = append(out, []int{m})
		}
	}
	return out
}
