package field

import (
	"math"

	"gapline/internal/air"
)

// plan is what all field points share: frequencies ascending and what depends
// on them alone.
type plan struct {
	hz       []float64
	perHz    []float64 // 1/f
	perHz32  []float64 // f^{-3/2}
	waves    []float64 // k, rad/m
	alpha    []float64 // absorption, Np/m, ascending; nil: none
	c        float64   // m/s
	tol      float64
	baffled  bool
	drives   int
	boxes    []*boxPlan // of each drive; nil where its mouths sound
	all      int        // sums: of the drives, and of mouths beside a pattern
	waveStep float64    // 2π/c: k per Hz
	// pathTurns is 2/c: half turns of phase per Hz and m of path.
	pathTurns float64
	tables    *patternTables
	curves    [][2]*curve // of each mouth's sides y and z; nil: flat
	ones      terms       // of a side without extent
}

// lowestHz stands in for lower frequencies, whose powers leave the range of numbers: no
// path turns a phase at either.
const lowestHz = 1e-60

// plan prepares the sum for frequencies in ascending order.
func (e *Engine) plan(hz []float64) *plan {
	p := &plan{
		hz:        make([]float64, len(hz)),
		perHz:     make([]float64, len(hz)),
		perHz32:   make([]float64, len(hz)),
		waves:     make([]float64, len(hz)),
		c:         e.air.SoundSpeed,
		tol:       e.within(DefaultTolerance).options.Tolerance,
		baffled:   e.options.Boundary == Baffled,
		drives:    len(e.stack.Drives),
		waveStep:  2 * math.Pi / e.air.SoundSpeed,
		pathTurns: 2 / e.air.SoundSpeed,
		tables:    tables(),
	}
	for i, f := range hz {
		f = max(f, lowestHz)
		p.hz[i], p.perHz[i], p.perHz32[i] = f, 1/f, 1/(f*math.Sqrt(f))
		p.waves[i] = p.waveStep * f
	}
	p.boxes = boxPlans(e.stack.Drives, p.hz)
	_, p.all = besides(e.stack.Drives)
	p.curves = e.curves(p.waves)
	p.ones = newTerms(len(hz))
	fill(p.ones.e0r, 1)
	if e.options.Absorption {
		p.alpha = make([]float64, len(hz))
		for i, f := range hz {
			p.alpha[i] = air.Absorption(e.options.Air, f) / (20 * math.Log10E)
		}
	}
	return p
}

// curves returns the tables of each mouth's sides, y and z; alike sides share
// theirs, and flat ones have none.
func (e *Engine) curves(waves []float64) [][2]*curve {
	known := map[curveShape]*curve{}
	out := make([][2]*curve, len(e.sources))
	for i, s := range e.sources {
		for j, c := range []curveShape{{s.a, s.apexY}, {s.b, s.apexZ}} {
			if c.apex == 0 {
				continue
			}
			if known[c] == nil {
				known[c] = newCurve(c, waves)
			}
			out[i][j] = known[c]
		}
	}
	return out
}

// strengths returns s(f) in Pa·m for each drive and frequency.
func (e *Engine) strengths(hz []float64) [][]complex128 {
	angle := 4 * math.Pi
	if e.options.Boundary == Baffled {
		angle = 2 * math.Pi
	}
	out := make([][]complex128, len(e.stack.Drives))
	for d, drive := range e.stack.Drives {
		out[d] = make([]complex128, len(hz))
		for i, f := range hz {
			s := complex(1, 0)
			switch {
			case present(drive.Pressure):
				s = complex(drive.Pressure, 0)
			case present(drive.VolumeVelocity):
				s = complex(0, 2*math.Pi*f*e.air.Density*drive.VolumeVelocity/angle)
			}
			if drive.Filter != nil {
				s *= drive.Filter(f)
			}
			out[d][i] = s
		}
	}
	return out
}
