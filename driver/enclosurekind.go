package driver

import (
	"fmt"
	"math"

	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
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
	e.Tuning = optional.Float{}
	return nil
}

func (closedRear) lossAngular(c *Circuit) float64 {
	return 2 * math.Pi * c.setup.Driver.Fs.Value() * math.Sqrt(1+c.Alpha())
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
	return c.setup.Driver.Fs.Value() * ratio, totalQ(c.setup.Driver) * ratio
}

func (closedRear) parts() EnclosureParts { return EnclosureParts{} }

type ventedRear struct{}

func (ventedRear) name() string { return "vented" }

func (ventedRear) resolve(e *Enclosure, a air.Air) error { return e.resolveVent(a) }

func (ventedRear) lossAngular(c *Circuit) float64 { return 2 * math.Pi * c.enclosure.Tuning.Value() }

func (ventedRear) rear(e *Enclosure, w, cab, friction float64) rearBranch {
	return rearBranch{present: true, mass: 1 / (w * w * cab), resistance: friction,
		area: float64(e.Vent.Count) * e.Vent.Area.Value(), distance: e.Vent.Distance.Value()}
}

func (ventedRear) motion(r rearBranch, peak, _ float64) (ventSpeed, radiator float64) {
	return peak / r.area, numeric.Absent
}

func (ventedRear) align(c *Circuit, a *Alignment) {
	a.H = c.enclosure.Tuning.Value() / c.setup.Driver.Fs.Value()
	_, a.Ripple = c.plain().peak()
	near, err := VentedAlignment(a.QT, c.enclosure.LeakQ.Value())
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
	if !r.Sd.Given() || !r.Cms.Given() {
		return fmt.Errorf("a passive radiator needs its area and its compliance")
	}
	area := float64(r.Count) * r.Sd.Value()
	stiffness := 1/e.compliance(a) + float64(r.Count)/(area*area*r.Cms.Value())
	mass := func(tuning float64) float64 { // of one radiator
		w := 2 * math.Pi * tuning
		return stiffness / (w * w) * area * r.Sd.Value()
	}
	switch {
	case r.Mms.Given():
		tuning := math.Sqrt(stiffness*area*r.Sd.Value()/r.Mms.Value()) / (2 * math.Pi)
		if err := agree("tuning", e.Tuning.Value(), tuning, "the radiator's mass"); err != nil {
			return err
		}
		e.Tuning = optional.Of(tuning)
	case e.Tuning.Given():
		r.Mms = optional.Of(mass(e.Tuning.Value()))
	default:
		return fmt.Errorf("a passive radiator needs its mass or the tuning")
	}
	return nil
}

func (radiatorRear) lossAngular(c *Circuit) float64 { return 2 * math.Pi * c.enclosure.Tuning.Value() }

func (radiatorRear) rear(e *Enclosure, _, _, friction float64) rearBranch {
	r := e.Radiator
	n := float64(r.Count)
	own := math.Sqrt(1/(r.Mms.Value()*r.Cms.Value())) * r.Mms.Value() * inverseQ(r.Qms.Value())
	return rearBranch{present: true, mass: r.Mms.Value() / (n * r.Sd.Value() * r.Sd.Value()), stiffness: 1 / (n * r.Cms.Value() * r.Sd.Value() * r.Sd.Value()),
		resistance: friction + own/(n*r.Sd.Value()*r.Sd.Value()), area: n * r.Sd.Value(), distance: e.Vent.Distance.Value()}
}

func (radiatorRear) motion(r rearBranch, peak, omega float64) (ventSpeed, radiator float64) {
	return numeric.Absent, peak / (omega * r.area)
}

// align names nothing: the radiator's own compliance adds a notch.
func (radiatorRear) align(*Circuit, *Alignment) {}

func (radiatorRear) resonance(*Circuit) (fc, qtc float64) { return numeric.Absent, numeric.Absent }

func (radiatorRear) parts() EnclosureParts { return EnclosureParts{Tuning: true, Radiator: true} }
