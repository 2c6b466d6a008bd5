package field

import (
	"math"

	"gapline/internal/numeric"
)

// Transition is where published formulas let a straight line's 3 dB for each
// doubling turn to 6 dB, m; NaN where a formula has no solution.
type Transition struct {
	Length    float64 // of the line, m
	Frequency float64 // Hz
	// HalfRule is L²/(2λ): D. L. Smith, JAES 45 (1997) 949-964, M. S. Ureda,
	// JAES 52 (2004) 467-495 (attribution from memory). There a uniform line is
	// already within 1 dB of the spherical law.
	HalfRule float64
	// HeilUrban is (3/2)·F·L²·√(1−1/(3FL)²), F in kHz: C. Heil and M. Urban, AES
	// 92nd Convention (1992), preprint 3269; it takes λ = 1/(3F). NaN: no near field.
	HeilUrban float64
	// Quarter is where the end is exactly λ/4 farther than the middle,
	// L²/(2λ) − λ/8; NaN when negative.
	Quarter float64
	// Asymptote is where the cylinder's and the sphere's law cross, L²/λ.
	Asymptote float64
}

// TransitionOf evaluates the formulas for a line of length m at f Hz with sound
// speed c m/s.
func TransitionOf(length, f, c float64) Transition {
	lambda := c / f
	t := Transition{
		Length:    length,
		Frequency: f,
		HalfRule:  length * length / (2 * lambda),
		HeilUrban: numeric.Absent,
		Quarter:   length*length/(2*lambda) - lambda/8,
		Asymptote: length * length / lambda,
	}
	if t.Quarter < 0 {
		t.Quarter = numeric.Absent
	}
	if x := 3 * f / 1000 * length; x >= 1 {
		t.HeilUrban = 1.5 * f / 1000 * length * length * math.Sqrt(1-1/(x*x))
	}
	return t
}
