package field

import (
	"fmt"
	"math"

	"gapline/internal/numeric"
)

// Kind is the shape of a mouth.
type Kind int

// The shapes of a mouth.
const (
	Point     Kind = iota // radiates alike in all directions
	Circle                // circular piston: Diameter
	Rectangle             // Width × Height, flat or with a curved front
)

// Mouth is one opening or cone in the front of a box.
//
//	quantity                        symbol  field            unit
//	middle of the mouth, box frame          Position         m
//	circle                          2a      Diameter         m
//	rectangle                       w, h    Width, Height    m
//	virtual apex behind the mouth   L       VerticalApex     m
//	                                        HorizontalApex   m
//	turned left, turned down                Pan, Tilt        rad
//	gain                                    Gain             dB
//	delay                           τ       Delay            s
//
// A curved front has radius L + δ: the sound leaves a point z off the middle
// later by (√(L²+z²) − L)/c. An apex of 0, NaN or ±Inf is a flat front; a
// negative one converges. A rectangle of width 0 is a thin strip.
type Mouth struct {
	Kind           Kind
	Position       Vec
	Diameter       float64
	Width, Height  float64
	VerticalApex   float64
	HorizontalApex float64
	Pan, Tilt      float64
	Gain, Delay    float64
	Invert         bool // opposite polarity
	Drive          int  // index into Stack.Drives
}

// maxMouth bounds mouth sizes, m. Larger ones are surely a slip of units.
const maxMouth = 20.0

// halfSize returns the half width and half height of the mouth's outline.
func (m Mouth) halfSize() (w, h float64) {
	switch m.Kind {
	case Circle:
		return m.Diameter / 2, m.Diameter / 2
	case Rectangle:
		return m.Width / 2, m.Height / 2
	}
	return 0, 0
}

// validate checks the mouth on its own; the caller adds where it is.
func (m Mouth) validate(drives int) error {
	if !m.Position.finite() {
		return fmt.Errorf("position %v is not finite", m.Position)
	}
	for _, q := range []struct {
		name  string
		value float64
	}{{"pan", m.Pan}, {"tilt", m.Tilt}, {"gain", m.Gain}, {"delay", m.Delay}} {
		if math.IsNaN(q.value) || math.IsInf(q.value, 0) {
			return fmt.Errorf("%s %v is not finite", q.name, q.value)
		}
	}
	if m.Drive < 0 || m.Drive >= drives {
		return fmt.Errorf("drive %d does not exist: there are %d drives, counted from 0", m.Drive, drives)
	}
	switch m.Kind {
	case Point:
		return nil
	case Circle:
		if !(m.Diameter > 0 && m.Diameter <= maxMouth) {
			return fmt.Errorf("circle of diameter %v m: need more than 0 and at most %v m", m.Diameter, maxMouth)
		}
		if curved(m.VerticalApex) || curved(m.HorizontalApex) {
			return fmt.Errorf("a circle has a flat front: give a rectangle for a curved one")
		}
		return nil
	case Rectangle:
		if !(m.Height > 0 && m.Height <= maxMouth) || !(m.Width >= 0 && m.Width <= maxMouth) {
			return fmt.Errorf("rectangle %v m wide and %v m high: need height above 0, width at least 0, at most %v m",
				m.Width, m.Height, maxMouth)
		}
		return nil
	}
	return fmt.Errorf("unknown kind %d", int(m.Kind))
}

// curved reports whether an apex distance means a curved front.
func curved(apex float64) bool {
	return apex != 0 && !math.IsNaN(apex) && !math.IsInf(apex, 0)
}

// AxisFactor returns what a curved front leaves of the mouth's far-field
// pressure on its own axis, mean(e^{-jkδ}), 1 for a flat one; f in Hz, c in m/s.
// The strength of a drive counts the mouth as if in phase: divide a pressure
// measured on axis by this.
func (m Mouth) AxisFactor(f, c float64) complex128 {
	k := 2 * math.Pi * f / c
	w, h := m.halfSize()
	factor := complex(1, 0)
	for _, s := range []curveShape{{w, m.HorizontalApex}, {h, m.VerticalApex}} {
		if m.Kind != Rectangle || s.half == 0 || !curved(s.apex) {
			continue
		}
		bulge, _, _ := front(s.apex, s.half)
		phase := func(t float64) float64 {
			d, _, _ := front(s.apex, s.half*t)
			return k * d
		}
		panels := 1 + int(k*math.Abs(bulge))
		re := numeric.Integrate(func(t float64) float64 { return math.Cos(phase(t)) }, 0, 1, 16, panels)
		im := numeric.Integrate(func(t float64) float64 { return math.Sin(phase(t)) }, 0, 1, 16, panels)
		factor *= complex(re, -im)
	}
	return factor
}

// Drive is a signal with its strength, shared by the mouths that name it. Give
// at most one of Pressure and VolumeVelocity (0 or NaN: not given); with
// neither, each mouth has strength 1 and levels are relative.
type Drive struct {
	Name           string
	Pressure       float64                     // rms, on axis at 1 m, taken back from the mouth's far field, see Mouth.AxisFactor, Pa
	VolumeVelocity float64                     // rms, of one mouth, m³/s
	Filter         func(hz float64) complex128 // nil: 1
	Box            BoxPattern                  // in place of its mouths; nil: they sound
	From           Vec                         // place in the box from which the phases of Box count, m
}

func present(x float64) bool { return x != 0 && !math.IsNaN(x) }

// validate checks one drive.
func (d Drive) validate() error {
	p, q := present(d.Pressure), present(d.VolumeVelocity)
	switch {
	case p && q:
		return fmt.Errorf("both a pressure at 1 m and a volume velocity are given: give one")
	case p && !(d.Pressure > 0 && !math.IsInf(d.Pressure, 0)):
		return fmt.Errorf("pressure at 1 m of %v Pa: need a finite value above 0", d.Pressure)
	case q && !(d.VolumeVelocity > 0 && !math.IsInf(d.VolumeVelocity, 0)):
		return fmt.Errorf("volume velocity of %v m³/s: need a finite value above 0", d.VolumeVelocity)
	}
	return d.validateBox()
}

// absolute reports whether the drive gives levels in dB SPL.
func (d Drive) absolute() bool { return present(d.Pressure) || present(d.VolumeVelocity) }
