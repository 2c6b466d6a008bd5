package source

import (
	"fmt"
	"math/cmplx"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/check"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// levels gives each band its response: what is known of it, turned up or down so
// that neighbours meet on axis at their crossover.
func (b *builder) levels() {
	m := b.model
	w := &b.design.Woofer
	m.Voltage = b.design.DriveVoltage(w.Wiring.Resistance(w.Re.Or(nominalLoad), b.design.WoofersPerBox()))
	anchor := -1
	for i := range m.Bands {
		known := b.response(i)
		if known && anchor < 0 {
			anchor = i
		}
		m.Bands[i].Turned = numeric.Absent
		if known {
			m.Bands[i].Turned = 0
		}
	}
	m.Absolute, m.anchor = anchor >= 0, max(anchor, 0)
	if !m.Absolute {
		m.Voltage = numeric.Absent
		b.assume(Assumption{What: NoLevel})
	}
	for i := m.anchor + 1; i < len(m.Bands); i++ {
		b.match(i, i-1, b.places[i].Gain.Or(0))
	}
	for i := m.anchor - 1; i >= 0; i-- {
		b.match(i, i+1, -b.places[i+1].Gain.Or(0))
	}
}

// Match returns by how much the two bands of a crossing of this model are to be turned,
// in dB, so that they meet at hz in place of the crossing's frequency: what the design
// would do itself if it crossed over there.
func (m *Model) Match(x *Crossing, hz float64) (low, high float64) {
	i, j := m.Band(x.Low), m.Band(x.High)
	turn := numeric.DB(cmplx.Abs(m.Bands[i].OnAxis(hz))/cmplx.Abs(m.Bands[j].OnAxis(hz))) + x.Gain
	if j > m.anchor {
		return 0, turn
	}
	return -turn, 0
}

// nominalLoad is taken for a woofer's Re where it is not known, Ω.
const nominalLoad = 8

// match turns band i so that it meets its neighbour at their crossover, and then
// by gain.
func (b *builder) match(i, neighbour int, gain float64) {
	m := b.model
	x := &m.Crossing[min(i, neighbour)]
	own := m.Bands[i].Response
	turn := cmplx.Abs(m.Bands[neighbour].OnAxis(x.Frequency)) / cmplx.Abs(m.Bands[i].OnAxis(x.Frequency)) * numeric.FromDB(gain)
	m.Bands[i].Response = func(hz float64) complex128 { return own(hz) * complex(turn, 0) }
	m.Bands[i].Turned += numeric.DB(turn) // NaN stays NaN
	m.Bands[i].Origin += fmt.Sprintf("matched to the %s at %s", m.Bands[neighbour].Name, quantity.Format(x.Frequency, quantity.Frequency, quantity.Metric))
	if gain != 0 {
		m.Bands[i].Origin += fmt.Sprintf(" %+.1f dB", gain)
	}
}

// response gives band i what is known of it by itself and reports whether its
// level is known.
func (b *builder) response(i int) bool {
	band, mouth := &b.model.Bands[i], &b.model.Bands[i].Mouths[0]
	switch {
	case band.Name == Woofers && b.circuit(band):
		return true
	case band.Name == Mids && b.midCircuit(band):
		return true
	}
	c := b.air.SoundSpeed
	level, sensitivity := 1.0, b.places[i].Sensitivity.Value()
	if numeric.Given(sensitivity) {
		level = driver.ReferencePressure * numeric.FromDB(sensitivity) * b.model.Voltage / design.DefaultVoltage
		band.Origin = fmt.Sprintf("flat, %.1f dB at 1 m and 2.83 V, ", sensitivity)
	} else {
		band.Origin = "flat, "
	}
	band.Response = func(hz float64) complex128 {
		f := mouth.AxisFactor(hz, c) // its phase is the front's own
		return f * complex(level/cmplx.Abs(f), 0)
	}
	return numeric.Given(sensitivity)
}

// circuit gives the woofers the response of their box where the design suffices.
func (b *builder) circuit(band *Band) bool {
	d := *b.design
	withInsert := d.HasInsert() && !b.choice.WithoutInsert
	if !withInsert {
		d.Insert = design.New().Insert
	}
	setup, err := check.BoxSetup(&d)
	if err != nil {
		return false
	}
	c, err := driver.NewCircuit(setup)
	if err != nil {
		return false
	}
	if withInsert && len(check.InsertLacks(&d)) > 0 {
		b.assume(Assumption{What: InsertLeftOut})
	}
	if setup.Insert != nil {
		band.Inside = 0 // chamber and slots are in the circuit
	}
	volts := d.DriveVoltage(c.NominalResistance())
	b.model.Voltage = volts
	band.Circuit = c
	b.edges(band)
	band.Response = func(hz float64) complex128 { return c.At(hz, volts).Pressure }
	band.Origin = "Thiele-Small, half space"
	if band.Edges != nil {
		band.Origin = "Thiele-Small, in the open by the run"
	}
	if setup.Insert != nil {
		band.Origin += ", through the insert"
	}
	return true
}

// midCircuit gives the mids the response of their parameters where these suffice.
func (b *builder) midCircuit(band *Band) bool {
	setup, err := check.MidSetup(b.design)
	if err != nil {
		return false
	}
	c, err := driver.NewCircuit(setup)
	if err != nil {
		return false
	}
	volts := b.model.Voltage
	band.Circuit, band.Origin = c, "Thiele-Small, half space, "
	band.Response = func(hz float64) complex128 { return c.At(hz, volts).Pressure }
	return true
}
