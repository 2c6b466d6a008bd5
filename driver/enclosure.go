package driver

import (
	"fmt"
	"math"
	"strings"

	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// Enclosure is the box behind the driver or drivers.
//
// Losses are Small's Q values at the tuning fb, or at the system resonance fc
// for a closed box: QL = ω Cab Ral, QA = 1/(ω Cab Rab), QP = 1/(ω Cab Rap).
type Enclosure struct {
	Kind   EnclosureKind
	Volume optional.Float // net internal volume Vb, m³
	Tuning optional.Float // box resonance fb, Hz (vented, passive radiator)

	LeakQ       optional.Float // QL; not given or +Inf: no leak
	AbsorptionQ optional.Float // QA of the air or filling in the box; not given or +Inf: none
	VentQ       optional.Float // QP of the vent's friction; not given or +Inf: none

	Vent      Vent
	Radiator  Radiator
	PanelArea optional.Float // of the panel that carries the vent, m²; not given: not checked
}

// Radiator is a passive radiator: a suspended mass without a motor.
type Radiator struct {
	Count int            // number of equal radiators; 0 means 1
	Sd    optional.Float // effective area of one, m²
	Cms   optional.Float // suspension compliance, m/N
	Mms   optional.Float // moving mass with air load, kg; not given: as the tuning needs
	Qms   optional.Float // mechanical Q at its own resonance; not given or +Inf: no loss
	Xmax  optional.Float // largest displacement, one way, m
}

// compliance returns Cab = Vb/(ρc²) in m³/Pa.
func (e *Enclosure) compliance(a air.Air) float64 {
	return e.Volume.Value() / (a.Density * a.SoundSpeed * a.SoundSpeed)
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
	if !(e.Volume.Value() > 0) || math.IsInf(e.Volume.Value(), 0) {
		bad = append(bad, fmt.Sprintf("volume = %g: must be a positive volume", e.Volume.Value()))
	}
	for _, f := range []struct {
		key   string
		value float64
	}{
		{"tuning", e.Tuning.Value()}, {"leak_q", e.LeakQ.Value()}, {"absorption_q", e.AbsorptionQ.Value()}, {"vent_q", e.VentQ.Value()},
		{"vent_area", e.Vent.Area.Value()}, {"panel area", e.PanelArea.Value()}, {"radiator sd", e.Radiator.Sd.Value()},
		{"radiator cms", e.Radiator.Cms.Value()}, {"radiator mms", e.Radiator.Mms.Value()}, {"radiator qms", e.Radiator.Qms.Value()},
	} {
		if f.value <= 0 {
			bad = append(bad, fmt.Sprintf("%s = %g: must be a positive number", f.key, f.value))
		}
	}
	if e.Vent.Length.Value() < 0 {
		bad = append(bad, fmt.Sprintf("vent_length = %g: must not be negative", e.Vent.Length.Value()))
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
