package outside

import (
	"context"
	"math"

	"gapline/internal/bem3"
	"gapline/internal/clinalg"
)

// Point is what is read off the solution at one frequency, Hz.
type Point struct {
	Frequency  float64
	Unknowns   int
	Steps      int            // of the iteration; 0: by factors
	Seconds    float64        // by the clock
	Vertical   []complex128   // far field p·r in the upright plane over angles, Pa·m rms
	Horizontal []complex128   // likewise in the level plane
	Element    []complex128   // Vertical, of the middle box alone; nil where it has no drive of its own
	Load       [][]complex128 // mean pressure on a cone of set i per volume velocity of each cone of set j, Pa·s/m³
	Flow       []complex128   // volume velocity of a cone of each set, m³/s rms
	Mouths     []complex128   // slope of the pressure over the area of each probed mouth, Pa·m; nil without an insert
	Baffled    []complex128   // far field p·r over angles of the same flow in a wide flat baffle, Pa·m; likewise
	Pressed    complex128     // mean pressure over the mouths in the middle of the plate, Pa
	Cones      complex128     // volume velocity of the cones behind them together, m³/s rms
	Held       complex128     // integral of the pressure over the chambers of the same box, Pa·m³
	Sphere     []complex128   // far field of the middle box over pattern.Directions, Pa·m rms; nil: not asked for
	skin       *Skin          // where the task asks for it; so field
	field      *Field
}

// angles are those of both planes, rad: −180 to 180 degrees in steps of one.
var angles = func() []float64 {
	out := make([]float64, 361)
	for i := range out {
		out[i] = float64(i-180) * math.Pi / 180
	}
	return out
}()

// ahead is the index of the direction ahead.
const ahead = 180

func directions() (list []bem3.Vec) {
	for _, a := range angles {
		sin, cos := math.Sincos(a)
		list = append(list, bem3.Vec{cos, 0, sin})
	}
	for _, a := range angles {
		sin, cos := math.Sincos(a)
		list = append(list, bem3.Vec{cos, sin, 0})
	}
	return list
}

func (j *job) measure(ctx context.Context, s *bem3.Solution) (Point, error) {
	p := Point{Frequency: s.Frequency, Unknowns: s.Unknowns, Steps: s.Steps, Seconds: s.Seconds}
	far, err := s.Far(ctx, directions())
	if err != nil {
		return p, err
	}
	p.Load = j.loads(s)
	p.Flow = j.flows(s.Frequency, p.Load)
	weights := make([]complex128, len(j.sets)) // velocity of each set
	for i := range j.sets {
		weights[i] = p.Flow[i] / complex(j.sets[i].area, 0)
	}
	both := combine(far, weights)
	p.Vertical, p.Horizontal = both[:len(angles)], both[len(angles):]
	if p.Sphere, err = j.sphere(ctx, s, weights); err != nil {
		return p, err
	}
	if look := j.task.Look; look.Frequency == s.Frequency {
		if look.Skin {
			p.skin = j.skin(s, weights)
		}
		if look.Slice != NoSlice {
			if p.field, err = j.slice(ctx, s, weights); err != nil {
				return p, err
			}
		}
	}
	if element := j.middle(weights); element != nil {
		p.Element = combine(far, element)[:len(angles)]
	}
	if j.probes != nil && j.task.Driven == ByWoofers {
		err = j.probes.read(ctx, s, weights, 2*math.Pi*s.Frequency/j.air.SoundSpeed, &p)
		for _, g := range j.probes.cones(j.surface) {
			if i := j.of[g]; i >= 0 {
				p.Cones += p.Flow[i]
			}
		}
	}
	return p, err
}

// loads are the mean pressures on the cones.
func (j *job) loads(s *bem3.Solution) [][]complex128 {
	out := make([][]complex128, len(j.sets))
	for i := range out {
		for k := range j.sets {
			out[i] = append(out[i], s.Mean(k, j.sets[i].weights)/complex(j.sets[k].area, 0))
		}
	}
	return out
}

// flows solves for the volume velocity of a cone of each set.
func (j *job) flows(f float64, load [][]complex128) []complex128 {
	n := len(j.sets)
	out := make([]complex128, n)
	c := j.task.Circuit
	if c == nil || j.task.Driven != ByWoofers {
		for i := range out { // 1 m/s²
			out[i] = complex(j.sets[i].area, 0) / complex(0, 2*math.Pi*f)
		}
		return out
	}
	behind := c.Behind(f)
	m := clinalg.New(n, n)
	for i := range j.sets {
		row := m.Row(i)
		copy(row, load[i])
		row[i] += behind.Own
		for k := range j.sets {
			row[k] += behind.Box * complex(float64(j.sets[k].boxes[j.box(i)]), 0)
		}
		out[i] = behind.Source * complex(j.task.Volts, 0)
	}
	lu, err := clinalg.Factor(context.Background(), m, 1)
	if err != nil {
		panic("outside: the drivers' equations are singular") // own has the motor's resistance
	}
	lu.SolveVec(out)
	return out
}

// box is the box of the group that stands for a set.
func (j *job) box(set int) int { return j.surface.About[j.sets[set].first].Box }

// middle is the weights of the cones of the middle box alone, nil where they have images in
// other boxes.
func (j *job) middle(all []complex128) []complex128 {
	mid := len(j.surface.Boxes) / 2
	if len(j.surface.Boxes)%2 == 0 {
		return nil
	}
	out := make([]complex128, len(all))
	for i := range j.sets {
		switch n := j.sets[i].boxes[mid]; {
		case n == len(j.sets[i].groups):
			out[i] = all[i]
		case n > 0:
			return nil
		}
	}
	return out
}

// combine sums the fields of the sets.
func combine(fields [][]complex128, weights []complex128) []complex128 {
	out := make([]complex128, len(fields[0]))
	for i, f := range fields {
		for k, x := range f {
			out[k] += weights[i] * x
		}
	}
	return out
}
