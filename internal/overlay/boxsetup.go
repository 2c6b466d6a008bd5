package overlay

import (
	"errors"
	"fmt"
	"slices"

	"gapline/cabinet"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
)

// boxSetup returns the box's circuit as the design gives it: drivers, enclosure
// and, when its dimensions suffice, the insert. The error names what is missing.
func boxSetup(d *cabinet.Design) (driver.Setup, error) {
	a := air.Of(d.Air)
	w := &d.Woofer
	p := driver.Blank()
	p.Fs, p.Qes, p.Qms, p.Vas, p.Re, p.Sd = w.Fs, w.Qes, w.Qms, w.Vas, w.Re, w.Sd
	p.Bl, p.Mms, p.Le, p.Xmax, p.Power = w.Bl, w.Mms, w.Le, w.Xmax, w.Power
	p.EffectiveDiameter, p.Size = w.EffectiveDiameter, w.Size
	complete, err := p.Derive(a)
	if err != nil {
		return driver.Setup{}, err
	}
	e := driver.BlankEnclosure()
	kind := slices.Index(cabinet.EnclosureKinds, d.Enclosure.Kind)
	switch {
	case kind < 0:
		return driver.Setup{}, errors.New("enclosure.kind is not given")
	case !numeric.Given(d.Enclosure.Volume):
		return driver.Setup{}, errors.New("enclosure.volume is not given")
	}
	e.Kind, e.Volume, e.Tuning, e.LeakQ = driver.EnclosureKind(kind), d.Enclosure.Volume, d.Enclosure.Tuning, d.Enclosure.LeakQ
	e.Vent.Area, e.Vent.Length = d.Enclosure.VentArea, d.Enclosure.VentLength
	s := driver.Setup{
		Driver: complete, Count: max(w.PerBox, 1), Enclosure: e,
		Spacing: w.Spacing, SideBySide: !numeric.Given(w.Spacing),
	}
	if s.Insert, err = boxInsert(d); err != nil {
		return driver.Setup{}, err
	}
	_, err = driver.NewCircuit(s)
	return s, err
}

// boxInsert returns the insert as package driver takes it; nil without one.
func boxInsert(d *cabinet.Design) (*driver.Insert, error) {
	if !d.HasInsert() {
		return nil, nil
	}
	i := &d.Insert
	spacing := i.Spacing
	if !numeric.Given(spacing) {
		spacing = d.Pitch() / float64(i.Mouths)
	}
	for _, k := range []struct {
		key   string
		value float64
	}{
		{"mouth_height", i.MouthHeight}, {"mouth_width", i.MouthWidth},
		{"slot_depth", i.SlotDepth}, {"chamber_volume", i.ChamberVolume},
	} {
		if !numeric.Given(k.value) {
			return nil, fmt.Errorf("insert.%s is not given", k.key)
		}
	}
	return &driver.Insert{Mouths: i.Mouths, Width: i.MouthWidth, Height: i.MouthHeight,
		Spacing: spacing, Depth: i.SlotDepth, ChamberVolume: i.ChamberVolume}, nil
}
