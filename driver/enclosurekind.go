package driver

import (
	"fmt"
	"math"

	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/wordset"
)

// EnclosureKind says how the box treats the rear of the driver; zero: not given.
type EnclosureKind int

// The kinds of enclosure.
const (
	Closed EnclosureKind = 1 + iota
	Vented
	PassiveRadiator
	enclosureKindCount
)

// rearLoad is what a kind of enclosure does.
type rearLoad interface {
	name() string
	// resolve completes the enclosure: its tuning, and the size or mass that the
	// tuning needs.
	resolve(*Enclosure, air.Air) error
	// lossAngular is ω in rad/s at which the Q values of the losses hold.
	lossAngular(*Circuit) float64
	// rear is the branch beside the box's volume. w is the tuning in rad/s, cab
	// the compliance of the air in m³/Pa and friction the loss of the branch in
	// Pa·s/m³.
	rear(e *Enclosure, w, cab, friction float64) rearBranch
	// motion is what moves in the branch at its peak volume velocity in m³/s and
	// ω in rad/s: the air in the vent, m/s, or the radiator, m; NaN without one.
	motion(r rearBranch, peak, omega float64) (ventSpeed, radiator float64)
	// align fills in what the classical alignments say of the circuit.
	align(*Circuit, *Alignment)
	// resonance is the resonance in Hz of driver and box and its Q; NaN where the
	// box has a tuning of its own.
	resonance(*Circuit) (fc, qtc float64)
	// parts say which parts the box has.
	parts() EnclosureParts
}

// EnclosureParts says which parts a kind of enclosure has.
type EnclosureParts struct {
	Tuning   bool // the box has a resonance of its own
	Vent     bool
	Radiator bool // a passive radiator
}

var rearLoads = [enclosureKindCount]rearLoad{
	Closed:          closedRear{},
	Vented:          ventedRear{},
	PassiveRadiator: radiatorRear{},
}

func (k EnclosureKind) rearLoad() rearLoad { return wordset.Row(rearLoads[:], k) }

// Name returns the kind's word in the design file.
func (k EnclosureKind) Name() string {
	if l := k.rearLoad(); l != nil {
		return l.name()
	}
	return ""
}

// String returns the trade's name of the kind.
func (k EnclosureKind) String() string {
	if name := k.Name(); name != "" {
		return name
	}
	return "unknown"
}

// Parts says which parts an enclosure of this kind has.
func (k EnclosureKind) Parts() EnclosureParts {
	if l := k.rearLoad(); l != nil {
		return l.parts()
	}
	return EnclosureParts{}
}

type closedRear struct{}

func (closedRear) name() string { return "closed" }

func (closedRear) resolve(e *Enclosure, _ air.Air) error {
	e.Tuning = numeric.Absent
	return nil
}

func (closedRear) lossAngular(c *Circuit) float64 {
	return 2 * math.Pi * c.setup.Driver.Fs * math.Sqrt(1+c.Alpha())
}

func (closedRear) rear(*Enclosure, float64, float64, float64) rearBranch { return rearBranch{} }

func (closedRear) motion(rearBranch, float64, float64) (ventSpeed, radiator float64) {
	return numeric.Absent, numeric.Absent
}

func (closedRear) align(_ *Circuit, a *Alignment) {
	a.Name, a.Ripple = closedName(a.QT * math.Sqrt(1+a.Alpha))
}

func (closedRear) resonance(c *Circuit) (fc, qtc float64) {
	ratio := math.Sqrt(1 + c.Alpha())
	return c.setup.Driver.Fs * ratio, totalQ(c.setup.Driver) * ratio
}

func (closedRear) parts() EnclosureParts { return EnclosureParts{} }

type ventedRear struct{}

func (ventedRear) name() string { return "vented" }

func (ventedRear) resolve(e *Enclosure, a air.Air) error { return e.resolveVent(a) }

func (ventedRear) lossAngular(c *Circuit) float64 { return 2 * math.Pi * c.enclosure.Tuning }

func (ventedRear) rear(e *Enclosure, w, cab, friction float64) rearBranch {
	return rearBranch{present: true, mass: 1 / (w * w * cab), resistance: friction,
		area: float64(e.Vent.Count) * e.Vent.Area, distance: e.Vent.Distance}
}

func (ventedRear) motion(r rearBranch, peak, _ float64) (ventSpeed, radiator float64) {
	return peak / r.area, numeric.Absent
}

func (ventedRear) align(c *Circuit, a *Alignment) {
	a.H = c.enclosure.Tuning / c.setup.Driver.Fs
	_, a.Ripple = c.plain().peak()
	near, err := VentedAlignment(a.QT, c.enclosure.LeakQ)
	if err == nil && math.Abs(a.H/near.H-1) < hBand && math.Abs(a.Alpha/near.Alpha-1) < alphaBand {
		a.Name, a.K = near.Name, near.K
	}
}

func (ventedRear) resonance(*Circuit) (fc, qtc float64) { return numeric.Absent, numeric.Absent }

func (ventedRear) parts() EnclosureParts { return EnclosureParts{Tuning: true, Vent: true} }

type radiatorRear struct{}

func (radiatorRear) name() string { return "passive radiator" }

// resolve finds the radiator's mass or the tuning,
// ωb² = (1/Cab + 1/Cap)/Map (Small, JAES 22, 1974).
func (radiatorRear) resolve(e *Enclosure, a air.Air) error {
	r := &e.Radiator
	r.Count = max(r.Count, 1)
	if !numeric.Given(r.Sd) || !numeric.Given(r.Cms) {
		return fmt.Errorf("a passive radiator needs its area and its compliance")
	}
	area := float64(r.Count) * r.Sd
	stiffness := 1/e.compliance(a) + float64(r.Count)/(area*area*r.Cms)
	mass := func(tuning float64) float64 { // of one radiator
		w := 2 * math.Pi * tuning
		return stiffness / (w * w) * area * r.Sd
	}
	switch {
	case numeric.Given(r.Mms):
		tuning := math.Sqrt(stiffness*area*r.Sd/r.Mms) / (2 * math.Pi)
		if err := agree("tuning", e.Tuning, tuning, "the radiator's mass"); err != nil {
			return err
		}
		e.Tuning = tuning
	case numeric.Given(e.Tuning):
		r.Mms = mass(e.Tuning)
	default:
		return fmt.Errorf("a passive radiator needs its mass or the tuning")
	}
	return nil
}

func (radiatorRear) lossAngular(c *Circuit) float64 { return 2 * math.Pi * c.enclosure.Tuning }

func (radiatorRear) rear(e *Enclosure, _, _, friction float64) rearBranch {
	r := e.Radiator
	n := float64(r.Count)
	own := math.Sqrt(1/(r.Mms*r.Cms)) * r.Mms * inverseQ(r.Qms)
	return rearBranch{present: true, mass: r.Mms / (n * r.Sd * r.Sd), stiffness: 1 / (n * r.Cms * r.Sd * r.Sd),
		resistance: friction + own/(n*r.Sd*r.Sd), area: n * r.Sd, distance: e.Vent.Distance}
}

func (radiatorRear) motion(r rearBranch, peak, omega float64) (ventSpeed, radiator float64) {
	return numeric.Absent, peak / (omega * r.area)
}

// align names nothing: the radiator's own compliance adds a notch.
func (radiatorRear) align(*Circuit, *Alignment) {}

func (radiatorRear) resonance(*Circuit) (fc, qtc float64) { return numeric.Absent, numeric.Absent }

func (radiatorRear) parts() EnclosureParts { return EnclosureParts{Tuning: true, Radiator: true} }
