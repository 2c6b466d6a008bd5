package bem3

import (
	"math"

	"gapline/internal/trimesh"
)

// Vec is a point or a direction, m.
type Vec = trimesh.Vec

func add(a, b Vec) Vec { return Vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func sub(a, b Vec) Vec { return Vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func scaled(a Vec, s float64) Vec { return Vec{s * a[0], s * a[1], s * a[2]} }

func dot(a, b Vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func cross(a, b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func norm(a Vec) float64 { return math.Sqrt(dot(a, a)) }
