package driver

import (
	"fmt"
	"math"

	"gapline/internal/air"
	"gapline/internal/optional"
)

// Vent is one or several equal ducts. Give Width and Height for rectangular
// ducts; otherwise they are round with the area Area.
type Vent struct {
	Count         int            // number of equal ducts; 0 means 1
	Area          optional.Float // of one duct, m²
	Width, Height optional.Float // of one rectangular duct, m
	Length        optional.Float // of the duct itself, without end corrections, m
	Inner         VentEnd        // by default free
	Outer         VentEnd        // by default flanged, in the panel
	Distance      optional.Float // centre to driver centre, m; not given: mutual radiation left out
}

// rectangular reports whether both sides are given.
func (v Vent) rectangular() bool { return v.Width.Given() && v.Height.Given() }

// resolveArea fills in Area from the sides.
func (v *Vent) resolveArea() error {
	v.Count = max(v.Count, 1)
	if !v.rectangular() {
		return nil
	}
	if !(v.Width.Value() > 0) || !(v.Height.Value() > 0) {
		return fmt.Errorf("vent %g m by %g m: both sides must be positive", v.Width.Value(), v.Height.Value())
	}
	area := v.Width.Value() * v.Height.Value()
	if err := agree("vent_area", v.Area.Value(), area, "the vent's sides"); err != nil {
		return err
	}
	v.Area = optional.Of(area)
	return nil
}

// EndCorrection returns the sum of both end corrections of one duct in m:
// 8a/(3π) for a flanged and 0.6133 a for a free round end; the exact flanged
// piston for a rectangle.
func (v Vent) EndCorrection() float64 {
	radius := math.Sqrt(v.Area.Value() / math.Pi)
	flanged := Piston{Radius: radius}.EndCorrection()
	shape := 1.0
	if v.rectangular() {
		shape = RectangleEndCorrection(v.Width.Value(), v.Height.Value()) / flanged
	}
	end := func(e VentEnd) float64 { return shape * ventEnds[e].correction(radius) }
	return end(v.Outer.or(Flanged)) + end(v.Inner.or(Free))
}

// EffectiveLength returns the length with both end corrections in m.
func (v Vent) EffectiveLength() float64 { return v.Length.Value() + v.EndCorrection() }

// tuning returns fb in Hz of ducts with the given effective length in m on
// the box compliance in m³/Pa.
func (v Vent) tuning(effective, compliance, density float64) float64 {
	mass := density * effective / (float64(v.Count) * v.Area.Value())
	return 1 / (2 * math.Pi * math.Sqrt(mass*compliance))
}

// ventArea is the area in m² of all ducts.
func (e *Enclosure) ventArea() float64 {
	v := e.Vent
	if v.rectangular() {
		v.Area = optional.Of(v.Width.Value() * v.Height.Value())
	}
	return float64(max(v.Count, 1)) * v.Area.Value()
}

// PanelHolds reports whether Resolve finds nothing wrong with PanelArea, which is
// all that it enters: the panel is there, and larger than a vented box's ducts.
func (e *Enclosure) PanelHolds() bool {
	return !(e.PanelArea.Value() <= 0) && !(e.Kind == Vented && e.ventArea() >= e.PanelArea.Value())
}

// resolveVent finds the vent's length from the tuning, or the reverse. With a
// tuning alone the box is still determined; only air speed is not.
func (e *Enclosure) resolveVent(a air.Air) error {
	v := &e.Vent
	if err := v.resolveArea(); err != nil {
		return err
	}
	total := e.ventArea()
	if total >= e.PanelArea.Value() {
		return fmt.Errorf("vent_area = %.4g m² in all does not fit the panel of %.4g m²", total, e.PanelArea.Value())
	}
	compliance := e.compliance(a)
	switch {
	case v.Area.Given() && v.Length.Given():
		tuning := v.tuning(v.EffectiveLength(), compliance, a.Density)
		if err := agree("tuning", e.Tuning.Value(), tuning, "the vent's area and length"); err != nil {
			return err
		}
		e.Tuning = optional.Of(tuning)
	case v.Area.Given() && e.Tuning.Given():
		w := 2 * math.Pi * e.Tuning.Value()
		v.Length = optional.Of(total/(w*w*compliance*a.Density) - v.EndCorrection())
		if v.Length.Value() < 0 {
			highest := v.tuning(v.EndCorrection(), compliance, a.Density)
			return fmt.Errorf("vent_area = %.4g m² is too small for %.4g Hz: even without length it tunes to %.4g Hz", total, e.Tuning.Value(), highest)
		}
	case e.Tuning.Given():
	default:
		return fmt.Errorf("a vented box needs the tuning, or the vent's area and length")
	}
	return nil
}
