package generated

import (
	"math"

	"gapline/internal/air"
	"gapline/internal/optional"
)

// acoustics draws the drivers, the air behind and in front of them, and the signal.
func (m *maker) acoustics() {
	if m.chance(0.1) {
		m.driverFile("woofer")
	} else {
		m.driver("woofer")
	}
	m.perhaps(0.6, "woofer.le", "woofer.le_exponent", "woofer.xmax", "woofer.power", "woofer.wiring")
	if m.d.HasMid() && m.chance(0.7) {
		if m.chance(0.2) {
			m.driverFile("mid")
		} else {
			m.driver("mid")
		}
		m.perhaps(0.6, "mid.le", "mid.le_exponent", "mid.xmax", "mid.power", "mid.wiring", "mid.volume")
	}
	if m.d.HasMid() {
		m.perhaps(0.5, "mid.lowest")
	}
	m.enclosure()
	if m.chance(0.5) {
		m.insert()
	}
	m.compressionDriver()
	m.perhaps(0.2, oneOf(m, "drive.voltage", "drive.power"))
}

// driver draws a set of parameters that suffices and cannot contradict itself.
func (m *maker) driver(table string) {
	named := func(names ...string) {
		for _, n := range names {
			m.give(table + "." + n)
		}
	}
	if m.chance(0.3) && !m.d.Mid.EffectiveDiameter.Given() && !m.d.Woofer.EffectiveDiameter.Given() {
		named("sd")
	}
	if m.chance(0.3) {
		named("mms", "cms", "rms", "bl", "re")
		return
	}
	named("fs", "vas", "re")
	qes, qms := m.value(key(table+".qes")), m.value(key(table+".qms"))
	qts := qes * qms / (qes + qms)
	switch give := m.IntN(3); {
	case qts < key(table+".qts").Min || give == 0:
		m.set(table+".qes", qes)
		m.set(table+".qms", qms)
	case give == 1:
		m.set(table+".qes", qes)
		m.set(table+".qts", qts)
	default:
		m.set(table+".qms", qms)
		m.set(table+".qts", qts)
	}
}

// enclosure draws what stands behind the woofers.
func (m *maker) enclosure() {
	e := &m.d.Enclosure
	if !e.Volume.Given() {
		m.give("enclosure.volume")
	}
	m.perhaps(0.3, "enclosure.leak_q", "enclosure.absorption_q", "enclosure.vent_q")
	switch {
	case e.Radiator.Sd.Given():
		m.radiator()
	case m.given("enclosure.vent_length"): // the box was laid with vents
	case m.chance(0.5):
		m.vents()
	case !m.tame && m.chance(0.4):
		m.give("enclosure.radiator_sd")
		m.perhaps(0.5, "enclosure.radiators")
		m.radiator()
	case m.chance(0.5):
		m.choose("enclosure.kind", "closed")
	}
}

// radiator draws a passive radiator's suspension and mass.
func (m *maker) radiator() {
	m.give(oneOf(m, "enclosure.radiator_cms", "enclosure.radiator_vas"), oneOf(m, "enclosure.radiator_mms", "enclosure.tuning"))
	m.perhaps(0.4, "enclosure.radiator_qms", "enclosure.radiator_xmax")
}

// vents draws vents in one of the ways in which a file may give them.
func (m *maker) vents() {
	if m.chance(0.3) {
		m.give("enclosure.tuning")
		m.perhaps(0.5, "enclosure.kind")
		m.choose("enclosure.kind", "vented")
		return
	}
	e := &m.d.Enclosure
	m.perhaps(0.4, "enclosure.vents", "enclosure.vent_inner", "enclosure.vent_outer", "enclosure.vent_distance")
	count := float64(max(e.Vent.Count, 1))
	panel := m.d.Cabinet.Height.Value() * m.d.Cabinet.Width.Value()
	if math.IsNaN(panel) {
		panel = math.Inf(1)
	}
	if most := 0.9 * panel / count; !m.ventOf(most) {
		m.give("enclosure.tuning")
		return
	}
	// Even without length the air of a vent's ends has mass: 8/(3π) of the radius at a
	// flanged end, the most there is, so twice that is on the safe side.
	a := e.VentArea()
	ends := 2 * 8 / (3 * math.Pi) * math.Sqrt(a/math.Pi)
	highest := air.SoundSpeed(m.d.Air) / (2 * math.Pi) * math.Sqrt(count*a/(e.Volume.Value()*ends))
	if m.chance(0.4) && m.within("enclosure.tuning", 0, 0.95*highest) {
		return
	}
	e.Tuning = optional.Float{}
	m.give("enclosure.vent_length")
}

// ventOf gives one vent a cross section of at most so many square metres.
func (m *maker) ventOf(most float64) bool {
	switch m.IntN(3) {
	case 0:
		return m.within("enclosure.vent_area", 0, most)
	case 1:
		return m.within("enclosure.vent_diameter", 0, math.Sqrt(4*most/math.Pi))
	}
	if !m.within("enclosure.vent_width", 0, most/key("enclosure.vent_height").Min) {
		return false
	}
	return m.within("enclosure.vent_height", 0, most/m.number("enclosure.vent_width"))
}

// insert draws an insert whose mouths stand clear of each other in one box and from box to
// box.
func (m *maker) insert() {
	pitch := m.d.Pitch()
	n := 1 + m.IntN(max(1, min(16, int(pitch/0.012))))
	m.set("insert.mouths", float64(n))
	if !m.within("insert.mouth_height", 0.05*pitch/float64(n), 0.98*pitch/float64(n)) {
		return
	}
	if high := m.number("insert.mouth_height"); n > 1 && m.chance(0.6) {
		m.within("insert.spacing", high, (pitch-high)/float64(n-1))
	}
	m.give("insert.mouth_width", "insert.slot_depth", "insert.chamber_volume")
	m.perhaps(0.1, "insert.plate_width", "insert.plate_height")
}

// compressionDriver draws a driver whole, one by its sensitivity, or none.
func (m *maker) compressionDriver() {
	switch m.IntN(3) {
	case 0:
		for _, n := range []string{"re", "bl", "mms", "fs", "sd"} {
			m.give("compression_driver." + n)
		}
		for _, n := range []string{"le", "qms", "front_volume", "rear_volume", "power", "xmax", "voltage"} {
			m.perhaps(0.5, "compression_driver."+n)
		}
	case 1:
		m.give("compression_driver.sensitivity", "compression_driver.power")
		m.perhaps(0.5, "compression_driver.re")
	}
}
