package field

import (
	"context"
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// maxDirections bounds a sphere.
const maxDirections = 500_000

// Directivity is how the sound of a stack is spread over all directions.
type Directivity struct {
	Frequency []float64 // Hz
	Factor    []float64 // Q on the axis against the same power into full space
	Index     []float64 // 10 log10 Q, dB
}

// DirectivityIndex integrates the far field over the sphere (in a baffle the
// half sphere in front; then all mouths must face one way):
//
//	Q = 4π|p(axis)|² / ∮|p|² dΩ
//
// The map has Gauss-Legendre points in the sine of the height and even points
// around, enough for each frequency: the pattern of a source of radius R has
// degree kR, its square 2kR. Floor and absorption are left out. Where that is more than
// half a million directions factor and index are NaN.
func (e *Engine) DirectivityIndex(ctx context.Context, hz []float64) (*Directivity, error) {
	if err := checkFrequencies(hz); err != nil {
		return nil, err
	}
	if e.options.Boundary == Baffled && !e.oneWall() {
		return nil, fmt.Errorf("directivity of a baffled stack: its mouths must all face one way, without splay")
	}
	sorted, index := ascending(hz)
	out := &Directivity{Frequency: hz, Factor: make([]float64, len(hz)), Index: make([]float64, len(hz))}
	for lo := 0; lo < len(sorted); {
		// Frequencies of about half an octave share the map of the highest.
		hi := lo + 1
		for hi < len(sorted) && sorted[hi] < 1.5*sorted[lo] && hi-lo < directivityRun {
			hi++
		}
		q, err := e.directivity(ctx, sorted[lo:hi])
		if err != nil {
			return nil, err
		}
		for i, f := range q {
			out.Factor[index[lo+i]], out.Index[index[lo+i]] = f, 10*math.Log10(f)
		}
		lo = hi
	}
	return out, nil
}

// directivityRun bounds how many frequencies share a map, and so the memory.
const directivityRun = 16

// directivity returns Q at ascending frequencies from one map.
func (e *Engine) directivity(ctx context.Context, hz []float64) ([]float64, error) {
	top := hz[len(hz)-1]
	tall, wide := e.extent()
	k := 2 * math.Pi * top / e.air.SoundSpeed
	if k*(tall+wide) > maxDirections {
		return absent(len(hz)), nil
	}
	rings, spokes := eights(k*tall+20), eights(2*k*wide+48)
	if rings*spokes > maxDirections {
		return absent(len(hz)), nil
	}
	at, weight := e.sphere(rings, spokes)
	p, err := e.with(noGround).pressures(ctx, directions(at), hz)
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(hz))
	for i, row := range p {
		power := 0.0
		for j, w := range weight {
			power += w * square(row[j])
		}
		out[i] = 4 * math.Pi * square(row[len(row)-1]) / power
	}
	return out, nil
}

// absent is a list of what cannot be computed.
func absent(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = numeric.Absent
	}
	return out
}

// eights rounds up to a multiple of 8. It also keeps clear of the 26-point rule,
// whose tabulated weights in gonum v0.17.0 do not add up to 2.
func eights(x float64) int { return 8 * (int(x)/8 + 1) }

// oneWall reports whether all mouths face along the axis.
func (e *Engine) oneWall() bool {
	axis := worldFrame.down(e.AxisAngle()).forward
	for _, s := range e.sources {
		if s.axes.forward.Dot(axis) < 1-1e-12 {
			return false
		}
	}
	return true
}

func square(p complex128) float64 { return real(p)*real(p) + imag(p)*imag(p) }

// extent returns how far mouths reach from the centre along the height and
// across it, m.
func (e *Engine) extent() (tall, wide float64) {
	f := worldFrame.down(e.AxisAngle())
	for _, s := range e.sources {
		l := f.local(s.middle.Sub(e.centre))
		bulge := 0.0
		for _, apex := range []float64{s.apexY, s.apexZ} {
			d, _, _ := front(apex, max(s.a, s.b))
			bulge = max(bulge, math.Abs(d))
		}
		size := math.Hypot(s.a, s.b) + math.Abs(l.X) + bulge
		tall = max(tall, math.Abs(l.Z)+size)
		wide = max(wide, math.Abs(l.Y)+size)
	}
	return tall, wide
}

// sphere returns directions with the solid angle of each, and the axis last.
// In a baffle the half sphere is a Gauss rule of its own in the angle across, as
// the pattern ends at the wall.
func (e *Engine) sphere(rings, spokes int) (at []Vec, weight []float64) {
	f := worldFrame.down(e.AxisAngle())
	rule := numeric.Legendre(rings)
	around := numeric.Legendre(spokes)
	for i, z := range rule.X {
		c := math.Sqrt(1 - z*z)
		for j := range spokes {
			azimuth, w := 2*math.Pi*float64(j)/float64(spokes), 2*math.Pi/float64(spokes)
			if e.options.Boundary == Baffled {
				azimuth, w = math.Pi/2*around.X[j], math.Pi/2*around.W[j]
			}
			s, co := math.Sincos(azimuth)
			at = append(at, f.at(Vec{X: c * co, Y: c * s, Z: z}))
			weight = append(weight, rule.W[i]*w)
		}
	}
	return append(at, f.forward), weight
}
