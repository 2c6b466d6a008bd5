package check

import (
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/driver"
	"gapline/internal/air"
	"gapline/internal/numeric"
	"gapline/internal/optional"
)

// completeEnclosure says in keys of the file what the box still needs and what
// contradicts itself. Parts that do not fit are Design's to report.
func (c *checker) completeEnclosure(d *design.Design, a air.Air) {
	if !d.Enclosure.Volume.Given() {
		c.add("the box needs enclosure.volume, the net volume behind the woofers", "enclosure.volume")
		return
	}
	parts := d.EnclosureKind().Parts()
	if parts.Vent {
		c.vent(d, a)
	}
	if parts.Radiator {
		c.radiator(d, a)
	}
}

func (c *checker) vent(d *design.Design, a air.Air) {
	e := d.DriverEnclosure(a)
	hasTuning, hasArea, hasLength := e.Tuning.Given(), e.Vent.Area.Given(), e.Vent.Length.Given()
	switch {
	case hasArea && hasLength:
		c.agrees(e, a, "vent_area and vent_length")
	case hasTuning && hasArea:
		e.Vent.Length = optional.Of(0)
		if highest := resolvedTuning(e, a); highest < e.Tuning.Value() {
			c.add(fmt.Sprintf("the vent is too small for enclosure.tuning %s: even without length it tunes to %s; a larger vent or volume is needed",
				hertz(e.Tuning.Value()), hertz(highest)), "enclosure.vent_area", "enclosure.vent_diameter", "enclosure.vent_width", "enclosure.tuning")
		}
	case !hasTuning:
		c.add("a vented box needs enclosure.tuning, or enclosure.vent_area (or vent_diameter, or vent_width and vent_height) with enclosure.vent_length",
			"enclosure.kind", "enclosure.volume")
	}
}

func (c *checker) radiator(d *design.Design, a air.Air) {
	e := d.DriverEnclosure(a)
	switch {
	case !e.Radiator.Sd.Given():
		c.add("a passive radiator needs enclosure.radiator_sd, its area", "enclosure.kind", "enclosure.volume")
	case !e.Radiator.Cms.Given():
		c.add("a passive radiator needs enclosure.radiator_cms or enclosure.radiator_vas, its compliance", "enclosure.kind", "enclosure.volume")
	case e.Radiator.Mms.Given():
		c.agrees(e, a, "radiator_mms and the compliances")
	case !e.Tuning.Given():
		c.add("a passive radiator needs enclosure.radiator_mms or enclosure.tuning", "enclosure.kind", "enclosure.volume")
	}
}

// agrees compares a given tuning with the one that the parts give.
func (c *checker) agrees(e driver.Enclosure, a air.Air, parts string) {
	given := e.Tuning.Value()
	if got := resolvedTuning(e, a); math.Abs(got/given-1) > driver.ContradictionLimit {
		c.add(fmt.Sprintf("enclosure.tuning is %s, but %s give %s: leave out one", hertz(given), parts, hertz(got)), "enclosure.tuning")
	}
}

// resolvedTuning returns the tuning in Hz that the vent or passive radiator
// gives by itself; NaN when the enclosure cannot be.
func resolvedTuning(e driver.Enclosure, a air.Air) float64 {
	e.Tuning = optional.Float{}
	r, err := e.Resolve(a)
	if err != nil {
		return numeric.Absent
	}
	return r.Tuning.Value()
}

// enclosure checks that the panel is larger than its vents and that nothing is given
// twice.
func (c *checker) enclosure(d *design.Design) {
	e, k := &d.Enclosure, &d.Cabinet
	if e.Vent.Width.Given() != e.Vent.Height.Given() {
		c.add("enclosure.vent_width and enclosure.vent_height go together: give both, or vent_area or vent_diameter", "enclosure.vent_width", "enclosure.vent_height")
	}
	c.ventGivenOnce(e)
	if all := float64(max(e.Vent.Count, 1)) * e.VentArea(); all >= k.Height.Value()*k.Width.Value() {
		c.add(fmt.Sprintf("the vents have %s in all, more than the panel's %s (cabinet.height times cabinet.width)", area(all), area(k.Height.Value()*k.Width.Value())),
			"enclosure.vent_area", "enclosure.vent_diameter", "enclosure.vent_width", "cabinet.height")
	}
	if e.Radiator.Cms.Given() && e.RadiatorVas.Given() {
		c.add("enclosure.radiator_cms and enclosure.radiator_vas say the same: leave out one", "enclosure.radiator_vas")
	}
	if d.Drive.Voltage.Given() && d.Drive.Power.Given() {
		c.add("drive.voltage and drive.power exclude each other: leave out one", "drive.power", "drive.voltage")
	}
}

// ventGivenOnce compares the ways in which a vent's area may be given.
func (c *checker) ventGivenOnce(e *design.Enclosure) {
	sizes := []struct {
		area float64
		key  string
	}{
		{e.Vent.Area.Value(), "enclosure.vent_area"},
		{math.Pi / 4 * e.VentDiameter.Value() * e.VentDiameter.Value(), "enclosure.vent_diameter"},
		{e.Vent.Width.Value() * e.Vent.Height.Value(), "enclosure.vent_width"},
	}
	for i, a := range sizes {
		for _, b := range sizes[i+1:] {
			if math.Abs(a.area/b.area-1) > driver.ContradictionLimit {
				c.add(fmt.Sprintf("%s gives one vent %s, %s gives %s: leave out one", a.key, area(a.area), b.key, area(b.area)), b.key, a.key)
			}
		}
	}
}
