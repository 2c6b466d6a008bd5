package waveguide

import (
	"math"
	"testing"

	"gapline/internal/numeric"
	"gapline/internal/optional"
	"gapline/internal/reftable"

	"pgregory.net/rapid"
)

const degree = math.Pi / 180

// Table horn_control: mpmath/scipy roots of the same aperture integral, 1e-7.
func TestControlAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "horn_control") {
		theta := r.Get("theta_deg") * degree
		got := FindControl(1, theta, 1)
		reftable.Near(t, r.Name+" q_plane", got.WidthInWavelength, r.Get("q_plane"), 1e-8)
		reftable.Near(t, r.Name+" waist", got.Narrowest/degree, r.Get("min_plane_deg"), 1e-7)
		// The position of a flat minimum is known only to the root of the
		// precision of its value.
		reftable.Near(t, r.Name+" waist at", got.NarrowestAt, r.Get("q_min_plane"), 2e-4)
		reftable.Near(t, r.Name+" q_flat", flatControlWidth/math.Sin(theta/2), r.Get("q_flat"), 1e-9)
		reftable.Near(t, r.Name+" Keele", KeeleFrequency(1, theta)/r.Get("c_m_s"), r.Get("q_keele"), 1e-9)
	}
}

// Table horn_beamwidth: beamwidth of the aperture at multiples of the rule's
// frequency.
func TestBeamwidthAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "horn_beamwidth") {
		a := CoverageAperture(1, r.Get("theta_deg")*degree)
		got := a.Beamwidth(1/r.Get("X_over_lambda")) / degree
		reftable.Within(t, r.Name, got, r.Get("plane_first_deg"), 1e-6)
	}
}

// Table rect_angles: -6 dB width of a flat mouth; blank where the level stays
// above -6 dB to 90°.
func TestFlatBeamwidthAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "rect_angles") {
		a := Aperture{Width: r.Get("h_over_lambda"), Apex: math.Inf(1)}
		got, want := a.Beamwidth(1)/degree, r.Get("beamwidth6_deg")
		if math.IsNaN(want) != math.IsNaN(got) {
			t.Errorf("%s: beamwidth %g, want %g", r.Name, got, want)
		}
		reftable.Within(t, r.Name, got, want, 1e-6)
	}
}

func TestKeeleAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "horn_keele") {
		reftable.Near(t, r.Name, KeeleFrequency(r.Get("X_m"), r.Get("theta_deg")*degree), r.Get("f_K_Hz"), 1e-11)
	}
}

// Table curve_pattern: far-field pattern of an aperture with an exact circular
// phase on the mouth plane; theta is the front's included angle.
func TestPatternAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "curve_pattern") {
		a := Aperture{Width: r.Get("h_over_lambda"), Apex: math.Inf(1)}
		if theta := r.Get("theta_deg"); theta > 0 {
			a.Apex = a.Width / (2 * math.Tan(theta*degree/2))
		}
		axis := a.Pressure(1, 0)
		p := a.Pressure(1, math.Sin(r.Get("angle_deg")*degree))
		// Near a null the level magnifies the rounding of the pressure.
		tol := 1e-8 / math.Max(math.Sqrt(norm(p)/norm(axis)), 1e-6)
		reftable.Within(t, r.Name, 10*math.Log10(norm(p)/norm(axis)), r.Get("plane_dB"), tol)
	}
}

// Table curve_drop: on-axis level lost to the curvature.
func TestOnAxisLossAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "curve_drop") {
		h := r.Get("h_over_lambda")
		a := CoverageAperture(h, r.Get("theta_deg")*degree)
		reftable.Within(t, r.Name, 10*math.Log10(norm(a.Pressure(1, 0))), r.Get("drop_plane_dB"), 1e-9)
	}
}

func TestStripRuleHasEnoughPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.Float64Range(0.2, 40).Draw(t, "W/λ")
		apex := rapid.Float64Range(0.1, 20).Draw(t, "apex/W")
		sine := rapid.Float64Range(0, 1).Draw(t, "sine")
		var s strip
		s.set(q, apex, 1)
		re := numeric.Integrate(func(x float64) float64 {
			return 2 * math.Cos(2*math.Pi*q*bulge(apex, x)) * math.Cos(2*math.Pi*q*sine*x)
		}, 0, 0.5, 32, 16)
		im := numeric.Integrate(func(x float64) float64 {
			return -2 * math.Sin(2*math.Pi*q*bulge(apex, x)) * math.Cos(2*math.Pi*q*sine*x)
		}, 0, 0.5, 32, 16)
		if d := math.Sqrt(norm(s.at(sine) - complex(re, im))); d > 1e-11 {
			t.Fatalf("error %g with %d points", d, s.n)
		}
	})
}

func TestHornCutoffAgainstTable(t *testing.T) {
	for _, r := range reftable.Read(t, "horn_cutoff") {
		h := Horn{
			Profile:     ExponentialProfile,
			MouthWidth:  optional.Of(r.Get("Sm_m2")),
			MouthHeight: optional.Of(1),
			Throat:      optional.Of(math.Sqrt(r.Get("St_m2") * 4 / math.Pi)),
			Length:      optional.Of(r.Get("l_m")),
		}
		reftable.Near(t, r.Name, h.Cutoff(r.Get("c_m_s")), r.Get("fc_Hz"), 1e-9)
		// Salmon's family with T = 1 is the exponential horn.
		h.Profile, h.Family = HyperbolicProfile, optional.Of(1)
		reftable.Near(t, r.Name+" hyperbolic T = 1", h.Cutoff(r.Get("c_m_s")), r.Get("fc_Hz"), 1e-9)
	}
}

func BenchmarkFindControl(b *testing.B) {
	for b.Loop() {
		FindControl(0.35, 90*degree, 343)
	}
}

// Wide coverages: the width at every 0.01 % in W/λ, without any bracket, dips to
// the narrowest width right above the control frequency; from 165° on the mouth
// does not narrow to its coverage within 1.6 times the flat mouth's limit.
func TestControlOfWideCoverages(t *testing.T) {
	for _, deg := range []float64{150, 155, 160, 162, 164, 165, 170, 175} {
		got := FindControl(1, deg*degree, 1)
		a := CoverageAperture(1, deg*degree)
		flat := flatControlWidth / math.Sin(deg*degree/2)
		first, least, at := math.NaN(), math.NaN(), math.NaN()
		for q := flat; q < 1.6*flat; q *= 1.0001 {
			w := a.Beamwidth(1 / q)
			if math.IsNaN(w) {
				if at > 0 {
					break // the beam has broken up
				}
				continue
			}
			if math.IsNaN(first) && w <= deg*degree {
				first = q
			}
			if first > 0 && !(w >= least) {
				least, at = w, q
			}
		}
		if math.IsNaN(first) {
			if !(math.IsNaN(got.Frequency) && math.IsNaN(got.Narrowest) && math.IsNaN(got.NarrowestAt)) {
				t.Errorf("%g°: %+v, want nothing", deg, got)
			}
			continue
		}
		reftable.Near(t, "control width", got.Frequency, first, 1.1e-4) // a step
		reftable.Near(t, "narrowest", got.Narrowest, least, 1e-6)       // flat at its least
		reftable.Near(t, "where", got.NarrowestAt, at, 1e-3)
	}
}
