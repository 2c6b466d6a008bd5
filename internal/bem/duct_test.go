package bem

import (
	"context"
	"math"
	"math/cmplx"
	"testing"
)

const (
	ductLength = 0.5
	ductWidth  = 0.06
)

// duct is a channel along x, driven at x = 0 with 1 m/s, with the given
// admittance at its end. Cut splits it in two domains there when positive.
func duct(end func(float64) complex128, cut float64) *Problem {
	a, b := Point{0, 0}, Point{ductLength, 0}
	c, d := Point{ductLength, ductWidth}, Point{0, ductWidth}
	piston := Edge{Name: "piston", Curve: Line{d, a}, Wall: Uniform(1)}
	exit := Edge{Name: "end", Curve: Line{b, c}, Wall: Wall{Admittance: end}}
	side := func(p, q Point) Edge { return Edge{Name: "side", Curve: Line{p, q}} }
	if cut <= 0 {
		return bounded([]Edge{side(a, b), exit, side(c, d), piston})
	}
	e, f := Point{cut, 0}, Point{cut, ductWidth}
	joint := Edge{Name: "cut", Curve: Line{e, f}, Join: "cut"}
	back := joint
	back.Flip = true
	p := bounded([]Edge{side(a, e), joint, side(f, d), piston})
	p.Domains = append(p.Domains, Domain{Name: "rest", Outlines: [][]Edge{{side(e, b), exit, side(c, f), back}}})
	return p
}

// ductPressure is the plane-wave field of the duct: amplitude A and reflection
// R with p = A(e^{-jkx} + R e^{jk(x−2L)}), R = (1−β)/(1+β), and v(0) = 1.
func ductPressure(k float64, beta complex128) func(Point) complex128 {
	r := (1 - beta) / (1 + beta)
	a := complex(testRho*testC, 0) / (1 - r*cmplx.Rect(1, -2*k*ductLength))
	return func(x Point) complex128 {
		return a * (cmplx.Rect(1, -k*x.X) + r*cmplx.Rect(1, k*(x.X-2*ductLength)))
	}
}

func TestStraightDuct(t *testing.T) {
	// Plane waves below and above the first cross mode (2.9 kHz), which an even
	// piston does not excite; end rigid, ρc, soft or reactive; one domain or two.
	ends := map[string]complex128{"rigid": 0, "matched": 1, "soft": 20, "reactive": 0.3 - 2i}
	for name, beta := range ends {
		for _, f := range []float64{80, 610, 4100} {
			for _, cut := range []float64{0, 0.2} {
				sol := mustSolve(t, duct(func(float64) complex128 { return beta }, cut), f, Options{})
				want := ductPressure(2*math.Pi*f/testC, beta)
				for _, edge := range []string{"piston", "side"} {
					largest, _ := errorsOn(mustTrace(t, sol, edge), want)
					if largest > sizeRule {
						t.Errorf("%s end, %g Hz, cut at %g m: error on %s %.2g", name, f, cut, edge, largest)
					}
				}
			}
		}
	}
}

func TestDuctPowerBalance(t *testing.T) {
	// What the piston gives the end takes; see the plane wave's ½ρc v² as well.
	sol := mustSolve(t, duct(func(float64) complex128 { return 1 }, 0), 1000, Options{})
	in, out := mustTrace(t, sol, "piston").Power(), mustTrace(t, sol, "end").Power()
	want := testRho * testC / 2 * ductWidth
	if math.Abs(in-want) > 1e-3*want || math.Abs(out+want) > 1e-3*want {
		t.Errorf("power in %g, out %g, want ±%g W/m", in, out, want)
	}
	if flow := mustTrace(t, sol, "piston").Flow(); cmplx.Abs(flow-ductWidth) > 1e-9 {
		t.Errorf("piston flow %v, want %g", flow, ductWidth)
	}
}

func TestLayersOfDifferentThickness(t *testing.T) {
	// A step in layer thickness is a step in area: with S1/S2 = 2 and both ends
	// far apart the plane wave meets β = S2/S1 at the joint, R = (S1−S2)/(S1+S2)
	// (L. E. Kinsler et al., Fundamentals of Acoustics, 4th ed. 2000, ch. 10).
	const f = 900.0
	p := duct(func(float64) complex128 { return 1 }, 0.2)
	p.Domains[0].Thickness, p.Domains[1].Thickness = 2, 1
	sol := mustSolve(t, p, f, Options{})
	k := 2 * math.Pi * f / testC
	r := complex(1.0/3, 0) * cmplx.Rect(1, -2*k*0.2)
	want := complex(testRho*testC, 0) * (1 + r) / (1 - r)
	if got := mustTrace(t, sol, "piston").MeanPressure(); cmplx.Abs(got-want) > sizeRule*cmplx.Abs(want) {
		t.Errorf("pressure on the piston %v, want %v", got, want)
	}
}

// notchedCabinet returns the horn cabinet as one exterior domain, or with the
// horn a bounded domain joined at its mouth.
func notchedCabinet(split bool) *Problem {
	throat := Edge{Name: "throat", Curve: Line{Point{0.02, -0.12}, Point{-0.02, -0.12}}, Wall: Uniform(1)}
	left := Edge{Name: "wall", Curve: Line{Point{-0.02, -0.12}, Point{-0.09, 0}}}
	right := Edge{Name: "wall", Curve: Line{Point{0.09, 0}, Point{0.02, -0.12}}}
	box := polygon(false, Wall{}, Point{-0.09, 0}, Point{-0.25, 0}, Point{-0.25, -0.4}, Point{0.25, -0.4}, Point{0.25, 0}, Point{0.09, 0})
	if !split {
		return exterior(Mirror{}, append(box, right, throat, left))
	}
	mouth := Edge{Name: "mouth", Curve: Line{Point{0.09, 0}, Point{-0.09, 0}}, Join: "mouth"}
	back := mouth
	back.Flip = true
	p := exterior(Mirror{}, append(box, mouth))
	p.Domains = append(p.Domains, Domain{Name: "horn", Outlines: [][]Edge{{right, throat, left, back}}})
	return p
}

func TestTwoDomainsEqualOne(t *testing.T) {
	points := []Point{{0, 1}, {0.6, 0.2}, {0.1, -0.9}}
	for _, f := range []float64{400, 2500, 6000} {
		one := mustSolve(t, notchedCabinet(false), f, Options{})
		two := mustSolve(t, notchedCabinet(true), f, Options{})
		a, err := one.At(context.Background(), "air", points)
		if err != nil {
			t.Fatal(err)
		}
		b, err := two.At(context.Background(), "air", points)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a {
			if e := cmplx.Abs(a[i]-b[i]) / cmplx.Abs(a[0]); !(e < 2*sizeRule) {
				t.Errorf("%g Hz, point %d: one domain %v, two %v", f, i, a[i], b[i])
			}
		}
		inner, err := two.Trace("horn", "throat")
		if err != nil {
			t.Fatal(err)
		}
		pa, pb := mustTrace(t, one, "throat").MeanPressure(), inner.MeanPressure()
		if e := cmplx.Abs(pa-pb) / cmplx.Abs(pa); e > sizeRule {
			t.Errorf("%g Hz: throat pressure, one domain %v, two %v", f, pa, pb)
		}
	}
}

func TestThinWallAlongAPlaneWave(t *testing.T) {
	// A plate along a plane wave does nothing but narrow the channel: it takes
	// 0.2 mm of 60, and its ends are narrower still against the wavelength.
	const f = 2000.0
	p := duct(func(float64) complex128 { return 1 }, 0)
	plate := polygon(true, Wall{}, Point{0.1, 0.0299}, Point{0.3, 0.0299}, Point{0.3, 0.0301}, Point{0.1, 0.0301})
	p.Domains[0].Outlines = append(p.Domains[0].Outlines, plate)
	sol := mustSolve(t, p, f, Options{})
	want := ductPressure(2*math.Pi*f/testC, 1)
	for _, edge := range []string{"piston", "wall", "side"} {
		if _, rms := errorsOn(mustTrace(t, sol, edge), want); rms > 1e-2 {
			t.Errorf("rms error on %s %.2g", edge, rms)
		}
	}
}

func TestReciprocityAcrossAThinWall(t *testing.T) {
	// Source and receiver on opposite sides of a rigid plate 1 mm thick may be
	// exchanged (Rayleigh, The Theory of Sound, 1877, section 294); and the
	// plate hardly changes when it is made four times thinner.
	const f = 1500.0
	a, b := Point{-0.1, 0.13}, Point{0.05, -0.3}
	through := func(from, to Point, thick float64) complex128 {
		plate := polygon(true, Wall{}, Point{-0.2, -thick / 2}, Point{0.2, -thick / 2}, Point{0.2, thick / 2}, Point{-0.2, thick / 2})
		p := exterior(Mirror{}, plate)
		p.Domains[0].Sources = []LineSource{{from, 1}}
		got, err := mustSolve(t, p, f, Options{}).At(context.Background(), "air", []Point{to})
		if err != nil {
			t.Fatal(err)
		}
		return got[0]
	}
	ab, ba := through(a, b, 1e-3), through(b, a, 1e-3)
	if e := cmplx.Abs(ab-ba) / cmplx.Abs(ab); !(e < 1e-3) {
		t.Errorf("from a to b %v, from b to a %v", ab, ba)
	}
	free, _ := LineSource{a, 1}.Field(f, testC, testRho, b)
	thin := through(a, b, 2.5e-4)
	if e := cmplx.Abs(ab-thin) / cmplx.Abs(free); !(e < 2e-2) {
		t.Errorf("1 mm plate %v, 0.25 mm plate %v", ab, thin)
	}
	if cmplx.Abs(ab-free) < 0.3*cmplx.Abs(free) {
		t.Errorf("the plate casts no shadow: %v with, %v without", ab, free)
	}
}
