package driver

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/air"
	"gapline/internal/numeric"
)

// Enclosure is the box behind the driver or drivers. NaN means not given; start
// from BlankEnclosure.
//
// Losses are Small's Q values at the tuning fb, or at the system resonance fc
// for a closed box: QL = ω Cab Ral, QA = 1/(ω Cab Rab), QP = 1/(ω Cab Rap).
type Enclosure struct {
	Kind   EnclosureKind
	Volume float64 // net internal volume Vb, m³
	Tuning float64 // box resonance fb, Hz (vented, passive radiator)

	LeakQ       float64 // QL; NaN or +Inf = no leak
	AbsorptionQ float64 // QA of the air or filling in the box; NaN or +Inf = none
	VentQ       float64 // QP of the vent's friction; NaN or +Inf = none

	Vent      Vent
	Radiator  Radiator
	PanelArea float64 // of the panel that carries the vent, m²; NaN = not checked
}

// Radiator is a passive radiator: a suspended mass without a motor.
type Radiator struct {
	Count int     // number of equal radiators; 0 means 1
	Sd    float64 // effective area of one, m²
	Cms   float64 // suspension compliance, m/N
	Mms   float64 // moving mass with air load, kg; NaN = as the tuning needs
	Qms   float64 // mechanical Q at its own resonance; NaN or +Inf = no loss
	Xmax  float64 // largest displacement, one way, m
}

// BlankEnclosure returns a closed box with nothing else given.
func BlankEnclosure() Enclosure {
	n := numeric.Absent
	return Enclosure{
		Kind: Closed, Volume: n, Tuning: n, LeakQ: n, AbsorptionQ: n, VentQ: n, Vent: BlankVent(), PanelArea: n,
		Radiator: Radiator{Sd: n, Cms: n, Mms: n, Qms: n, Xmax: n},
	}
}

// compliance returns Cab = Vb/(ρc²) in m³/Pa.
func (e *Enclosure) compliance(a air.Air) float64 {
	return e.Volume / (a.Density * a.SoundSpeed * a.SoundSpeed)
}

// Resolve checks the enclosure and completes it: vent length from tuning or
// tuning from vent length, radiator mass from tuning or the reverse. The error
// names every value that cannot be.
func (e Enclosure) Resolve(a air.Air) (Enclosure, error) {
	if bad := e.impossible(); bad != nil {
		return e, fmt.Errorf("enclosure: %s", strings.Join(bad, "; "))
	}
	kind := e.Kind.rearLoad()
	if kind == nil {
		return e, fmt.Errorf("enclosure: unknown kind %d", e.Kind)
	}
	if err := kind.resolve(&e, a); err != nil {
		return e, fmt.Errorf("enclosure: %w", err)
	}
	return e, nil
}

// impossible lists the values that no box can have.
func (e *Enclosure) impossible() []string {
	var bad []string
	if !(e.Volume > 0) || math.IsInf(e.Volume, 0) {
		bad = append(bad, fmt.Sprintf("volume = %g: must be a positive volume", e.Volume))
	}
	for _, f := range []struct {
		key   string
		value float64
	}{
		{"tuning", e.Tuning}, {"leak_q", e.LeakQ}, {"absorption_q", e.AbsorptionQ}, {"vent_q", e.VentQ},
		{"vent_area", e.Vent.Area}, {"panel area", e.PanelArea}, {"radiator sd", e.Radiator.Sd},
		{"radiator cms", e.Radiator.Cms}, {"radiator mms", e.Radiator.Mms}, {"radiator qms", e.Radiator.Qms},
	} {
		if f.value <= 0 {
			bad = append(bad, fmt.Sprintf("%s = %g: must be a positive number", f.key, f.value))
		}
	}
	if e.Vent.Length < 0 {
		bad = append(bad, fmt.Sprintf("vent_length = %g: must not be negative", e.Vent.Length))
	}
	if e.Vent.Count < 0 || e.Radiator.Count < 0 {
		bad = append(bad, "the number of vents or radiators must not be negative")
	}
	return bad
}

// agree returns an error when a given value differs from the computed one by
// more than ContradictionLimit.
func agree(key string, given, computed float64, source string) error {
	if numeric.Given(given) && math.Abs(computed/given-1) > ContradictionLimit {
		return fmt.Errorf("%s = %.4g contradicts %s, which gives %.4g", key, given, source, computed)
	}
	return nil
}

// inverseQ returns 1/Q of a loss, with NaN meaning no loss.
func inverseQ(q float64) float64 {
	if !numeric.Given(q) {
		return 0
	}
	return 1 / q
}
