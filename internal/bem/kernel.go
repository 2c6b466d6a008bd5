package bem

import (
	"math"

	"gapline/internal/hankel"
)

// medium is what the kernels need besides geometry. With η = 0 the plain
// boundary integral equation is formed, else the combined one with the factor
// α = jη before the normal derivative.
type medium struct {
	k     float64 // wavenumber, rad/m
	eta   float64 // η, m
	table *hankel.Table
}

// target is a collocation point, or a mirror image of one, with its normal.
type target struct{ x, n Point }

// sources are nodes with their outward normals and weights, as parallel
// slices for the inner loops.
type sources struct {
	x, y, nx, ny, w []float64
}

func (s *sources) at(i int) Point     { return Point{s.x[i], s.y[i]} }
func (s *sources) normal(i int) Point { return Point{s.nx[i], s.ny[i]} }

// pair returns the kernels of the equation
//
//	½p + Dp − Sq + α(½q − D′q + Np) = incident
//
// for one source point y with normal m: h = ∂G/∂m + α ∂²G/∂n∂m, which
// multiplies p, and g = −G − α ∂G/∂n, which multiplies q. G = −j H0⁽²⁾(kr)/4.
func (md *medium) pair(t target, y, m Point) (h, g complex128) {
	dx, dy := y.X-t.x.X, y.Y-t.x.Y
	r := math.Sqrt(dx*dx + dy*dy)
	inv := 1 / r
	j0, y0, j1, y1 := md.table.At(md.k * r)
	cy := (dx*m.X + dy*m.Y) * inv
	cx := (dx*t.n.X + dy*t.n.Y) * inv
	kq := md.k / 4
	slopeRe, slopeIm := kq*y1, kq*j1 // dG/dr
	b := cx * cy
	a := (t.n.X*m.X + t.n.Y*m.Y - 2*b) * inv
	kk := md.k * kq * b
	nRe, nIm := -slopeRe*a-kk*y0, -slopeIm*a-kk*j0
	h = complex(slopeRe*cy-md.eta*nIm, slopeIm*cy+md.eta*nRe)
	g = complex(y0/4-md.eta*slopeIm*cx, j0/4+md.eta*slopeRe*cx)
	return h, g
}

// rigidRow writes h times the weight for the sources from first to last.
func (md *medium) rigidRow(t target, s *sources, first, last int, h []complex128) {
	x, y, nx, ny, w := s.x[first:last], s.y[first:last], s.nx[first:last], s.ny[first:last], s.w[first:last]
	h = h[first:last]
	k, eta, kq := md.k, md.eta, md.k/4
	for j, xj := range x {
		dx, dy := xj-t.x.X, y[j]-t.x.Y
		r := math.Sqrt(dx*dx + dy*dy)
		inv := 1 / r
		j0, y0, j1, y1 := md.table.At(k * r)
		cy := (dx*nx[j] + dy*ny[j]) * inv
		b := cy * (dx*t.n.X + dy*t.n.Y) * inv
		a := (t.n.X*nx[j] + t.n.Y*ny[j] - 2*b) * inv
		b *= k
		wj := w[j] * kq
		h[j] += complex(wj*(y1*cy+eta*(j1*a+b*j0)), wj*(j1*cy-eta*(y1*a+b*y0)))
	}
}

// fullRow writes h and g times the weight for the sources from first to last;
// see pair, which it repeats for the sake of speed.
func (md *medium) fullRow(t target, s *sources, first, last int, h, g []complex128) {
	x, y, nx, ny, w := s.x[first:last], s.y[first:last], s.nx[first:last], s.ny[first:last], s.w[first:last]
	h, g = h[first:last], g[first:last]
	k, eta := md.k, md.eta
	for j, xj := range x {
		dx, dy := xj-t.x.X, y[j]-t.x.Y
		r := math.Sqrt(dx*dx + dy*dy)
		inv := 1 / r
		j0, y0, j1, y1 := md.table.At(k * r)
		cy := (dx*nx[j] + dy*ny[j]) * inv
		cx := (dx*t.n.X + dy*t.n.Y) * inv
		b := cy * cx
		a := eta * (t.n.X*nx[j] + t.n.Y*ny[j] - 2*b) * inv
		b *= eta * k
		cx *= eta * k
		wj := w[j] / 4
		wk := wj * k
		h[j] += complex(wk*(y1*cy+j1*a+b*j0), wk*(j1*cy-y1*a-b*y0))
		g[j] += complex(wj*(y0-j1*cx), wj*(j0+y1*cx))
	}
}

// regularised returns h and g for a point y of the collocation point's own
// element without the static hypersingular part 1/(2πr²) of N; what is left
// has a logarithm at most.
func (md *medium) regularised(t target, y, m Point) (h, g complex128) {
	dx, dy := y.X-t.x.X, y.Y-t.x.Y
	r := math.Sqrt(dx*dx + dy*dy)
	z := md.k * r
	j0, y0, j1, _ := md.table.At(z)
	y1 := hankel.RegularY1(z) // Y1 + 2/(πz)
	cy, cx := (dx*m.X+dy*m.Y)/r, (dx*t.n.X+dy*t.n.Y)/r
	kq := md.k / 4
	b := cx * cy
	a := (t.n.X*m.X + t.n.Y*m.Y - 2*b) / r
	nRe, nIm := -kq*(y1*a+md.k*b*y0), -kq*(j1*a+md.k*b*j0)
	slopeRe, slopeIm := kq*y1-1/(2*math.Pi*r), kq*j1
	h = complex(slopeRe*cy-md.eta*nIm, slopeIm*cy+md.eta*nRe)
	g = complex(y0/4-md.eta*slopeIm*cx, j0/4+md.eta*slopeRe*cx)
	return h, g
}

// staticRest returns the static part (n·m − 2(r̂·n)(r̂·m))/(2πr²) of N less
// 1/(2πd²): a smooth function on a smooth curve, zero on a straight one. d² is
// the product of the lengths per unit of the reference coordinate at both
// points times the square of the coordinates' difference.
func staticRest(t target, y, m Point, d2 float64) float64 {
	dx, dy := y.X-t.x.X, y.Y-t.x.Y
	r2 := dx*dx + dy*dy
	a := t.n.X*m.X + t.n.Y*m.Y - 2*(dx*m.X+dy*m.Y)*(dx*t.n.X+dy*t.n.Y)/r2
	return (a/r2 - 1/d2) / (2 * math.Pi)
}
