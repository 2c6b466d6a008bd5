package waveguide

import (
	"errors"
	"math"
	"math/cmplx"

	"gapline/internal/numeric"
)

// MouthFront describes the sound over a mouth at the height y in m from its
// middle: how far in m the front lags a plane, and the amplitude as any linear
// measure.
type MouthFront func(y float64) (lag, amplitude float64)

// CircularFront is a circular front of even amplitude that bulges by the sagitta
// s in m over the mouth height h in m, 0 <= s < h/2: lag = √(L²+y²) - L with
// L = (h²/4 - s²)/(2s).
func CircularFront(h, s float64) MouthFront {
	if s == 0 {
		return func(float64) (float64, float64) { return 0, 1 }
	}
	l := flatPath(h, s)
	return func(y float64) (float64, float64) { return y * y / (math.Hypot(l, y) + l), 1 }
}

// Front is the front that the fold delivers: the paths of its rays against the
// shortest, and the pressure that goes with their density.
func (f Fold) Front() MouthFront {
	h := f.Spec.MouthHeight / 2
	nearest := f.ray(f.AngleAt(math.Max(-h, math.Min(h, f.apexY)))).Path
	middle := f.Intensity(0)
	return func(y float64) (float64, float64) {
		return f.ray(f.AngleAt(y)).Path - nearest, math.Sqrt(f.Intensity(y) / middle)
	}
}

// StackFront is a straight line of equal mouths, one above the other, each with
// the same front. It tells how near the line comes to one ribbon.
type StackFront struct {
	Count      int     // mouths; 1 or more
	Pitch      float64 // middle to middle, m
	Height     float64 // of one mouth, m, at most Pitch
	Front      MouthFront
	SoundSpeed float64 // m/s
}

// Check reports values that are not possible.
func (s StackFront) Check() error {
	var p problems
	p.addf(s.Count < 1, "the line has %d mouths; it needs at least 1", s.Count)
	p.positive("pitch", s.Pitch, true)
	p.positive("mouth height", s.Height, true)
	p.addf(s.Height > s.Pitch, "the mouths, %s tall, overlap at a pitch of %s", mm(s.Height), mm(s.Pitch))
	p.addf(!(s.SoundSpeed > 0), "sound speed is %g m/s; it must be more than 0", s.SoundSpeed)
	p.addf(s.Front == nil, "the front is not given")
	return errors.Join(p...)
}

// Share is the radiating share of the line, height over pitch.
func (s StackFront) Share() float64 { return s.Height / s.Pitch }

// frontSamples are quadrature points over one mouth.
type frontSamples struct {
	y, lag, weight []float64 // m, m, quadrature weight times amplitude
}

// bulge is the largest lag at the two edges in m.
func (s StackFront) bulge() float64 {
	upper, _ := s.Front(s.Height / 2)
	lower, _ := s.Front(-s.Height / 2)
	return math.Max(math.Abs(upper), math.Abs(lower))
}

// samples places points for a total phase swing over the mouth in rad. Panels of
// 16 Gauss points span at most about ten radians, which leaves the integrals good
// to rounding.
func (s StackFront) samples(swing float64) frontSamples {
	panels := 2 + int(swing/10)
	rule := numeric.Legendre(16)
	var q frontSamples
	dy := s.Height / float64(panels)
	for i := range panels {
		for j, x := range rule.X {
			y := -s.Height/2 + dy*(float64(i)+(1+x)/2)
			lag, amp := s.Front(y)
			q.y = append(q.y, y)
			q.lag = append(q.lag, lag)
			q.weight = append(q.weight, rule.W[j]/2*amp/float64(panels))
		}
	}
	return q
}

// element is one mouth at one wavenumber, sampled for its pattern.
type element struct {
	ky []float64    // k·y at the quadrature points
	w  []complex128 // weight · amplitude · e^{-jk·lag}
}

// element samples the front for the wavenumber k and any angle.
func (s StackFront) element(k float64) element {
	q := s.samples(k * (s.Height + 2*s.bulge()))
	e := element{make([]float64, len(q.y)), make([]complex128, len(q.y))}
	for i := range q.y {
		e.ky[i] = k * q.y[i]
		e.w[i] = cmplx.Rect(q.weight[i], -k*q.lag[i])
	}
	return e
}

// at is the pattern towards the sine u of the angle above the axis,
// (1/h) ∫ A e^{-jk·lag} e^{jkyu} dy.
func (e element) at(u float64) complex128 {
	var re, im float64
	for i, ky := range e.ky {
		s, c := math.Sincos(ky * u)
		a, b := real(e.w[i]), imag(e.w[i])
		re += a*c - b*s
		im += a*s + b*c
	}
	return complex(re, im)
}

// arrayFactor is |sin(N π x)/(N sin π x)| with x = p·u/λ.
func arrayFactor(n int, x float64) float64 {
	x -= math.Round(x)
	d := math.Sin(math.Pi * x)
	if math.Abs(d) < 1e-9 {
		return 1
	}
	return math.Abs(math.Sin(float64(n)*math.Pi*x) / (float64(n) * d))
}

// pattern returns the far-field level in dB of the line against its own level on
// axis, at the frequency f in Hz and the sine of the angle above the axis.
func (s StackFront) pattern(e element, f float64) func(u float64) float64 {
	axis := cmplx.Abs(e.at(0))
	ratio := s.Pitch * f / s.SoundSpeed
	return func(u float64) float64 {
		return numeric.DB(arrayFactor(s.Count, ratio*u) * cmplx.Abs(e.at(u)) / axis)
	}
}

// AxisLoss is the level in dB on axis at the frequency f against the same
// mouths with a plane front; 0 or less.
func (s StackFront) AxisLoss(f float64) float64 {
	e := s.element(2 * math.Pi * f / s.SoundSpeed)
	sum := 0.0
	for _, w := range e.w {
		sum += cmplx.Abs(w)
	}
	return numeric.DB(cmplx.Abs(e.at(0)) / sum)
}

// Lobe is a local maximum of the pattern.
type Lobe struct {
	Order int     // m of the direction sin θ = mλ/p that it belongs to; 0 for a plain side lobe
	Angle float64 // rad above the axis
	Level float64 // dB re the line's own level on axis
}

// Lobes are the side lobes of a finite line at one frequency.
type Lobes struct {
	Grating []Lobe // the strongest of each visible order within one beam's half-width, m = 1, 2, …
	Highest Lobe   // the strongest anywhere beyond the first null; Level -Inf when nothing is there
}

// Lobes finds the side lobes at the frequency f in Hz, above and below the axis.
func (s StackFront) Lobes(f float64) Lobes {
	level := s.pattern(s.element(2*math.Pi*f/s.SoundSpeed), f)
	ratio := s.Pitch * f / s.SoundSpeed // p/λ
	n := float64(s.Count)
	out := Lobes{Highest: Lobe{Level: math.Inf(-1), Angle: numeric.Absent}}
	for m := 1; float64(m) <= ratio; m++ {
		l := highest(level, (float64(m)-1/n)/ratio, math.Min(1, (float64(m)+1/n)/ratio), 40)
		l.Order = m
		out.Grating = append(out.Grating, l)
	}
	if null := 1 / (n * ratio); null < 1 {
		out.Highest = highest(level, null, 1, 20*int(math.Ceil(n*ratio)))
		for _, g := range out.Grating {
			if g.Level >= out.Highest.Level-1e-9 {
				out.Highest = g
			}
		}
	}
	return out
}

// highest scans |u| over [a, b] on both sides of the axis in the given number of
// steps and refines the best by golden section; 0 <= a < b <= 1.
func highest(level func(float64) float64, a, b float64, steps int) Lobe {
	best, at := math.Inf(-1), a
	h := (b - a) / float64(steps)
	for i := range steps + 1 {
		for _, sign := range [2]float64{1, -1} {
			u := sign * math.Min(b, a+h*float64(i)) // the last step may round past b, which is 1 for ±90°
			// Of two equal lobes take the upper, whatever the rounding.
			if l := level(u); l > best+1e-9 {
				best, at = l, u
			}
		}
	}
	lo, hi := math.Max(a, math.Abs(at)-h), math.Min(b, math.Abs(at)+h)
	side := math.Copysign(1, at)
	u := numeric.Minimum(func(u float64) float64 { return -level(side * u) }, lo, hi, 1e-9)
	// The maximum may lie at an end, which golden section only approaches.
	for _, v := range [3]float64{u, lo, hi} {
		if l := level(side * v); l > best {
			best, at = l, side*v
		}
	}
	return Lobe{Angle: math.Asin(at), Level: best}
}
