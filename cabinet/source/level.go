package source

import (
	"fmt"
	"math"
	"math/cmplx"

	"gapline/cabinet"
	"gapline/driver"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
)

// levels gives each band its response: what is known of it, turned up or down so
// that neighbours meet on axis at their crossover.
func (b *builder) levels() {
	m := b.model
	m.Voltage = b.design.DriveVoltage(nominalLoad)
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
	m.Absolute = anchor >= 0
	if !m.Absolute {
		m.Voltage = numeric.Absent
		b.note("No level is known (woofer parameters with enclosure.volume, or a sensitivity): levels are relative.")
	}
	for i := max(anchor, 0) + 1; i < len(m.Bands); i++ {
		b.match(i, i-1, orElse(b.places[i].Gain, 0))
	}
	for i := max(anchor, 0) - 1; i >= 0; i-- {
		b.match(i, i+1, -orElse(b.places[i+1].Gain, 0))
	}
}

// nominalLoad turns a drive power into a voltage where no woofer's Re is known, Ω.
const nominalLoad = 8

// match turns band i so that it meets its neighbour at their crossover, and then
// by gain.
func (b *builder) match(i, neighbour int, gain float64) {
	m := b.model
	x := &m.Crossing[min(i, neighbour)]
	own, other := m.Bands[i].Response, m.Bands[neighbour].Response
	turn := cmplx.Abs(other(x.Frequency)) / cmplx.Abs(own(x.Frequency)) * numeric.FromDB(gain)
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
	if band.Name == Woofers && b.circuit(band) {
		return true
	}
	c := b.air.SoundSpeed
	level, sensitivity := 1.0, b.places[i].Sensitivity
	if numeric.Given(sensitivity) {
		level = driver.ReferencePressure * numeric.FromDB(sensitivity) * b.model.Voltage / cabinet.DefaultVoltage
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
	d := b.design
	setup, ok := b.setup()
	if !ok {
		return false
	}
	withInsert := setup.Insert != nil
	if d.HasInsert() && !b.choice.WithoutInsert && !withInsert {
		b.note("The insert's filter is left out: it needs insert.mouth_height, mouth_width, slot_depth and chamber_volume.")
	}
	c, err := driver.NewCircuit(setup)
	if err != nil {
		b.note("The woofers' box is not computed: %s.", err)
		return false
	}
	volts := d.DriveVoltage(c.NominalResistance())
	b.model.Voltage = volts
	band.Response = func(hz float64) complex128 { return c.At(hz, volts).Pressure }
	band.Origin = "Thiele-Small, half space"
	if withInsert {
		band.Origin += ", through the insert"
	}
	return true
}

// setup is the woofers' box as package driver takes it; ok is false when the
// design does not give enough.
func (b *builder) setup() (s driver.Setup, ok bool) {
	d := b.design
	w, e := &d.Woofer, &d.Enclosure
	p := driver.Blank()
	p.Fs, p.Qes, p.Qms, p.Vas, p.Re, p.Sd = w.Fs, w.Qes, w.Qms, w.Vas, w.Re, w.Sd
	p.Bl, p.Mms, p.Le, p.Xmax, p.Power = w.Bl, w.Mms, w.Le, w.Xmax, w.Power
	p.EffectiveDiameter, p.Size = w.EffectiveDiameter, w.Size
	if !numeric.Given(e.Volume) {
		return s, false
	}
	complete, err := p.Derive(b.air)
	if err != nil {
		return s, false
	}
	box := driver.BlankEnclosure()
	box.Volume, box.Tuning, box.LeakQ = e.Volume, e.Tuning, e.LeakQ
	switch {
	case e.Kind == "passive radiator":
		return s, false
	case e.Kind == "vented" || e.Kind == "" && numeric.Given(e.Tuning):
		box.Kind = driver.Vented
	}
	s = driver.Setup{Driver: complete, Count: max(w.PerBox, 1), Spacing: w.Spacing, SideBySide: !numeric.Given(w.Spacing), Enclosure: box}
	if i := &d.Insert; d.HasInsert() && !b.choice.WithoutInsert &&
		numeric.Given(i.MouthHeight+i.MouthWidth+i.SlotDepth+i.ChamberVolume) {
		s.Insert = &driver.Insert{Mouths: i.Mouths, Width: i.MouthWidth, Height: i.MouthHeight, Spacing: d.InsertSpacing(),
			Depth: i.SlotDepth, ChamberVolume: i.ChamberVolume}
	}
	return s, !math.IsNaN(box.Volume)
}
