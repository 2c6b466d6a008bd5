package bem3

import "math"

// width is the number of elements that the kernel takes at once, one to each
// lane of a vector register.
const width = 8

// lanes holds one number for each of width elements.
type lanes = [width]float32

// block is a run of width elements as the kernel reads them. Lanes beyond the
// last element have no area.
type block struct {
	x      [points][3]lanes // points of the rule, from the surface's centre
	normal [3]lanes
	scale  lanes       // area over 4π
	curl   [3][3]lanes // curl of λ, [corner][axis]
}

// outer is the element on which blocks are tested.
type outer struct {
	x      [points][3]float32 // points of the rule, from the surface's centre
	normal [3]float32
	test   [points][points]float32 // area times weight times φ, [node][point]
	curl   [3][3]float32           // area times curl of λ, [corner][axis]
}

// pairing holds the kernel between all points of the rule on an outer element
// and a block, real and imaginary parts.
type pairing struct {
	slope [points][points][2]lanes // what is tested with φ on both sides
	green [points][points][2]lanes // e^{−jkr}/(4πr) times the area of the block's element
	// What the kernel in assembly makes on its way.
	half   [points][points][2]lanes
	tables [4][3][3][2]lanes
}

// wave holds what the kernel needs to know beside the geometry.
type wave struct {
	k    float32
	tiny float32 // square of the least distance
}

// The rule's weights with what they multiply, in single precision.
var (
	trialAt  [points][points]float32 // weight times φ, [node][point]
	linearAt [3][points]float32      // weight times 4λ, [corner][point]
)

func init() {
	for a, w := range ruleWeights {
		for j := range points {
			trialAt[j][a] = float32(w * shapeAt[a][j])
		}
		for m := range 3 {
			linearAt[m][a] = float32(4 * w * rulePoints[a][m])
		}
	}
}

// newBlocks packs elements.
func (s *surface) newBlocks(list []int) []block {
	blocks := make([]block, (len(list)+width-1)/width)
	for i := range len(blocks) * width {
		b, lane := &blocks[i/width], i%width
		e := &s.elements[list[min(i, len(list)-1)]]
		for a := range points {
			x := sub(e.at(rulePoints[a]), s.centre)
			for axis, v := range x {
				b.x[a][axis][lane] = float32(v)
			}
		}
		for axis, v := range e.normal {
			b.normal[axis][lane] = float32(v)
		}
		if i < len(list) {
			b.scale[lane] = float32(e.area / (4 * math.Pi))
		}
		for m, c := range e.curl {
			for axis, v := range c {
				b.curl[m][axis][lane] = float32(v)
			}
		}
	}
	return blocks
}

// newOuter packs an element, or an image of one.
func (s *surface) newOuter(e *element) outer {
	var o outer
	for a := range points {
		for axis, v := range sub(e.at(rulePoints[a]), s.centre) {
			o.x[a][axis] = float32(v)
		}
		for i := range points {
			o.test[i][a] = float32(e.area * ruleWeights[a] * shapeAt[a][i])
		}
	}
	for axis, v := range e.normal {
		o.normal[axis] = float32(v)
	}
	for m, c := range e.curl {
		for axis, v := range c {
			o.curl[m][axis] = float32(e.area * v)
		}
	}
	return o
}

// evaluateGo fills slope with −∂G/∂n + j·coupling·G and green with G, each times
// the area of the element, G being e^{−jkr}/(4πr) from x to the points of the
// rule on the elements of b and n their normals. Lanes with near = 1 lack the
// first real terms, 1/r − k²r/2.
func evaluateGo(x *[3]float32, b *block, near, coupling *lanes, w *wave, slope, green *[points][2]lanes) {
	for p := range points {
		for l := range width {
			dx, dy, dz := x[0]-b.x[p][0][l], x[1]-b.x[p][1][l], x[2]-b.x[p][2][l]
			r2 := max(dx*dx+dy*dy+dz*dz, w.tiny)
			r := float32(math.Sqrt(float64(r2)))
			inverse := 1 / r
			phase := w.k * r
			height := dx*b.normal[0][l] + dy*b.normal[1][l] + dz*b.normal[2][l]
			sin, cos := sincos(phase)
			half := 0.5 * phase * phase
			g := inverse * b.scale[l]
			h := g * inverse * inverse * height
			re, im := g*(cos-near[l]*(1-half)), -g*sin
			hr := h * (cos + phase*sin - near[l]*(1+half))
			hi := h * (phase*cos - sin)
			green[p][0][l], green[p][1][l] = re, im
			slope[p][0][l] = -hr - coupling[l]*im
			slope[p][1][l] = -hi + coupling[l]*re
		}
	}
}

// π in three parts of which the first two have few digits, so that multiples up
// to 65,536 times are exact (W. J. Cody, W. Waite, Software Manual for the
// Elementary Functions, 1980, ch. 8).
const (
	piHigh   = 3.140625
	piMiddle = 9.67502593994140625e-4
	piLow    = 1.509957990978376432e-7
)

// Coefficients of y² in sin(y)/y and in cos(y): Taylor's, which leave 6e-8 and
// 6e-9 at π/2.
var (
	sinSeries = [5]float32{-1. / 6, 1. / 120, -1. / 5040, 1. / 362880, -1. / 39916800}
	cosSeries = [6]float32{-1. / 2, 1. / 24, -1. / 720, 1. / 40320, -1. / 3628800, 1. / 479001600}
)

// sincos returns sine and cosine of x ≥ 0 within 2e-7 below 10, and beyond that
// within what the rounding of x itself makes.
func sincos(x float32) (sin, cos float32) {
	n := float32(math.RoundToEven(float64(x * (1 / math.Pi))))
	y := ((x - n*piHigh) - n*piMiddle) - n*piLow
	y2 := y * y
	s := sinSeries[4]
	for i := 3; i >= 0; i-- {
		s = s*y2 + sinSeries[i]
	}
	c := cosSeries[5]
	for i := 4; i >= 0; i-- {
		c = c*y2 + cosSeries[i]
	}
	sin, cos = y+y*y2*s, 1+y2*c
	if int32(n)&1 != 0 {
		return -sin, -cos
	}
	return sin, cos
}

// rows are the places that take what an outer element gives to its six nodes, by
// node and lane of the block.
type rows [points]*[points][2]lanes

// contractGo tests p with the shape functions of both sides and adds it to out:
// slope with φ and φ, and −j·beta·G with the curls.
func contractGo(o *outer, b *block, p *pairing, beta float32, out *rows) {
	var half [points][2]lanes
	for i := range points {
		half = [points][2]lanes{}
		for a := range points {
			addScaled(half[:], p.slope[a][:], o.test[i][a])
		}
		for j := range points {
			for q := range points {
				addScaled(out[i][j:j+1], half[q:q+1], trialAt[j][q])
			}
		}
	}
	if beta != 0 {
		contractCurls(o, b, p, beta, out)
	}
}

// driveGo adds to sum, lane by lane, G + α∂G/∂n times q over the points of the
// rule, α being −j·beta. slope holds −∂G/∂n.
func driveGo(slope, green, q *[points][2]lanes, beta float32, sum *[2]lanes) {
	for p := range points {
		for l := range width {
			re := green[p][0][l] - beta*slope[p][1][l]
			im := green[p][1][l] + beta*slope[p][0][l]
			sum[0][l] += re*q[p][0][l] - im*q[p][1][l]
			sum[1][l] += re*q[p][1][l] + im*q[p][0][l]
		}
	}
}

func addScaled(to, from [][2]lanes, s float32) {
	for i := range from {
		for c := range 2 {
			for l := range width {
				to[i][c][l] += s * from[i][c][l]
			}
		}
	}
}

// contractCurls adds the part with the curls: the curl of φ_i is 4λ_m − 1 times
// that of λ_m at corner m, and 4λ_v times that of λ_u plus 4λ_u times that of λ_v
// at the midpoint between u and v.
func contractCurls(o *outer, b *block, p *pairing, beta float32, out *rows) {
	full := linearPairs(p, beta)
	product := curlProducts(o, b)
	for i, left := range gradients {
		for j, right := range gradients {
			for _, s := range left {
				for _, t := range right {
					term := curlTerm(full, s, t)
					for c := range 2 {
						for l := range width {
							out[i][j][c][l] += product[s.of][t.of][l] * term[c][l]
						}
					}
				}
			}
		}
	}
}

// linearPairs tests −j·beta·G with 4λ on both sides.
func linearPairs(p *pairing, beta float32) (full [3][3][2]lanes) {
	for s := range 3 {
		var half [points][2]lanes
		for a := range points {
			addScaled(half[:], p.green[a][:], linearAt[s][a])
		}
		for t := range 3 {
			var sum [1][2]lanes
			for q := range points {
				addScaled(sum[:], half[q:q+1], linearAt[t][q])
			}
			for l := range width {
				full[s][t][0][l], full[s][t][1][l] = beta*sum[0][1][l], -beta*sum[0][0][l]
			}
		}
	}
	return full
}

// curlProducts returns the products of the curls of λ on both sides.
func curlProducts(o *outer, b *block) (e [3][3]lanes) {
	for m := range 3 {
		for n := range 3 {
			for axis := range 3 {
				for l := range width {
					e[m][n][l] += o.curl[m][axis] * b.curl[n][axis][l]
				}
			}
		}
	}
	return e
}

// curlTerm picks the linear functions of two terms. A corner's −1 is a quarter
// of the sum of all 4λ.
func curlTerm(full [3][3][2]lanes, s, t gradientTerm) (term [2]lanes) {
	left, right := linearOf(s), linearOf(t)
	for m, x := range left {
		for n, y := range right {
			if x*y == 0 {
				continue
			}
			for c := range 2 {
				for l := range width {
					term[c][l] += x * y * full[m][n][c][l]
				}
			}
		}
	}
	return term
}

// linearOf returns a term's linear function in terms of 4λ.
func linearOf(g gradientTerm) (c [3]float32) {
	for m := range c {
		c[m] = float32(g.offset / 4)
	}
	c[g.at] += float32(g.factor / 4)
	return c
}
