package bem3

import (
	"errors"
	"fmt"
	"math"

	"gapline/internal/parallel"
	"gapline/internal/trimesh"
)

// ErrMesh says that a surface cannot be solved on.
var ErrMesh = errors.New("surface cannot be used")

// ErrTooLarge says that a problem needs more memory than allowed.
var ErrTooLarge = errors.New("problem is too large")

func meshError(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrMesh, fmt.Sprintf(format, args...))
}

// Mirror is a rigid plane, or a plane of symmetry of everything: coordinate Axis
// (0, 1 or 2) equals At, m. All of the mesh lies on one side of it. What the
// mesh has on the plane is open edges.
type Mirror struct {
	Axis int
	At   float64
}

// Problem is a surface that moves in free air, or in what mirror planes leave
// of it.
type Problem struct {
	// Mesh is closed except for edges on mirror planes; its normals point into
	// the air.
	Mesh *trimesh.Mesh
	// Velocities holds for each drive the normal velocity of every triangle into
	// the air, m/s; or, for walls that bend, six of them for every triangle, at its
	// corners and then at the midpoints of the sides opposite to them. Each drive
	// has a solution of its own.
	Velocities [][]complex128
	Mirrors    []Mirror // at most one for each axis
	SoundSpeed float64  // c, m/s
	Density    float64  // ρ, kg/m³
}

// Defaults of Options.
const (
	// DefaultElementsPerWave is the coarsest mesh that is accepted: with three
	// elements to a wavelength the pressure on a cabinet has errors of 2 %, with
	// four of 0.7 %, with six of 0.3 %.
	DefaultElementsPerWave = 3
	// DefaultMemory bounds the memory, in bytes.
	DefaultMemory = 4 << 30
	// DefaultTolerance is the residual, of the right-hand side, at which the
	// iteration ends.
	DefaultTolerance = 3e-5
)

// Options says how strictly and with what means to solve. The zero value means
// the defaults.
type Options struct {
	// ElementsPerWave is how many times the longest side of an element must go
	// into a wavelength at least; 0 means DefaultElementsPerWave.
	ElementsPerWave float64
	// DirectBelow is the number of unknowns below which the equations are solved
	// by factors; from it on by iteration, and by factors only where that does not
	// converge. 0 means by measured speeds.
	DirectBelow int
	Tolerance   float64 // of the iteration; 0 means DefaultTolerance
	Workers     int     // goroutines, at most one for each core; 0 means that many
	MaxMemory   int64   // bytes; 0 means DefaultMemory
}

func (o Options) withDefaults() Options {
	if o.ElementsPerWave == 0 {
		o.ElementsPerWave = DefaultElementsPerWave
	}
	if o.Tolerance == 0 {
		o.Tolerance = DefaultTolerance
	}
	if o.MaxMemory == 0 {
		o.MaxMemory = DefaultMemory
	}
	o.Workers = parallel.Workers(o.Workers)
	return o
}

// check refuses what no mesh could mend.
func (p *Problem) check() error {
	if !(p.SoundSpeed > 0) || !(p.Density > 0) || math.IsInf(p.SoundSpeed+p.Density, 0) {
		return fmt.Errorf("sound speed %g m/s and density %g kg/m³ must be positive numbers", p.SoundSpeed, p.Density)
	}
	seen := [3]bool{}
	for _, m := range p.Mirrors {
		if m.Axis < 0 || m.Axis > 2 || math.IsNaN(m.At) || math.IsInf(m.At, 0) {
			return fmt.Errorf("mirror plane %+v: the axis must be 0, 1 or 2 and the coordinate a number", m)
		}
		if seen[m.Axis] {
			return fmt.Errorf("there are two mirror planes across axis %c; one is allowed", "xyz"[m.Axis])
		}
		seen[m.Axis] = true
	}
	if p.Mesh == nil || len(p.Mesh.Triangles) == 0 {
		return meshError("it has no triangles")
	}
	if len(p.Velocities) == 0 {
		return errors.New("there is no drive: Velocities is empty")
	}
	for d, v := range p.Velocities {
		if t := len(p.Mesh.Triangles); len(v) != t && len(v) != points*t {
			return fmt.Errorf("drive %d has %d velocities for %d triangles: one or six are needed for each", d, len(v), t)
		}
		for i, u := range v {
			if s := real(u) + imag(u); math.IsNaN(s) || math.IsInf(s, 0) {
				return fmt.Errorf("velocity %d of drive %d is %v", i, d, u)
			}
		}
	}
	return nil
}

// checkFrequency refuses frequencies that make no sense, or for which the
// elements are too long.
func (s *surface) checkFrequency(f float64, o Options) error {
	if !(f > 0) || math.IsInf(f, 0) {
		return fmt.Errorf("frequency %g Hz must be a positive number", f)
	}
	if !(o.ElementsPerWave > 0) {
		return fmt.Errorf("%g elements per wavelength: must be positive", o.ElementsPerWave)
	}
	e := &s.elements[s.longest]
	wave := s.problem.SoundSpeed / f
	if e.length*o.ElementsPerWave > wave*(1+1e-9) {
		return meshError("triangle %d at %.4g has a side of %.4g m; %g Hz with %g elements per wavelength allows %.4g m",
			s.original[s.longest], e.centre, e.length, f, o.ElementsPerWave, wave/o.ElementsPerWave)
	}
	return nil
}

// velocityAt returns the velocities of triangle t at the points of the rule.
func (p *Problem) velocityAt(drive, t int) (v [points]complex128) {
	all := p.Velocities[drive]
	if len(all) == len(p.Mesh.Triangles) {
		for a := range v {
			v[a] = all[t]
		}
		return v
	}
	for a := range v {
		for i, phi := range shapeAt[a] {
			v[a] += complex(phi, 0) * all[points*t+i]
		}
	}
	return v
}
