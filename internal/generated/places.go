package generated

import (
	"math"

	"gapline/cabinet/design"
	"gapline/internal/designtest"
	"gapline/internal/optional"
	"gapline/waveguide"
)

// laid takes the places of a box that states all of them, about half of which can be
// built.
func (m *maker) laid() { m.d = designtest.Laid(m.Rand) }

// misfit draws a box that cannot be built, with usual drivers.
func (m *maker) misfit() {
	m.tame = true
	m.laid()
	m.acoustics()
	k := &m.d.Cabinet
	switch m.IntN(3) {
	case 0: // boxes that reach into each other
		k.Gap, k.Pitch = optional.Float{}, optional.Of(k.Height.Value()*m.in(0.6, 0.95))
	case 1: // a cone wider than the front
		k.Width = optional.Of(m.d.Woofer.Size.Value() * m.in(0.6, 0.95))
	case 2: // a cone deeper than the box
		m.d.Bands.Woofer.Depth = optional.Of(math.Min(k.Depth.Value()*m.in(1.1, 2), 1))
	}
	m.asked()
	m.seats()
	m.words()
}

// anywhere draws places and sizes from the whole range of their keys.
func (m *maker) anywhere() {
	m.d = design.New()
	m.cabinet()
	m.give("woofer.size")
	m.cones("woofer")
	if m.chance(0.3) {
		m.give("mid.size")
		m.cones("mid")
	}
	m.horn()
	m.outlets()
	m.section()
}

// cabinet draws the box and how the stack hangs.
func (m *maker) cabinet() {
	m.perhaps(0.3, "air.temperature", "air.humidity", "air.pressure")
	m.perhaps(0.9, "cabinet.width", "cabinet.depth")
	switch m.IntN(5) {
	case 0:
		m.give("cabinet.pitch")
	case 1:
		m.give("cabinet.height")
	default:
		m.give("cabinet.height", "cabinet.gap")
	}
	if m.d.Cabinet.Height.Given() && m.chance(0.4) {
		m.within("cabinet.rear_height", 0, m.d.Cabinet.Height.Value())
	}
	m.perhaps(0.4, "cabinet.wall")
	m.give("line.boxes")
	m.hanging()
}

// hanging draws how the boxes hang.
func (m *maker) hanging() {
	n := m.d.Line.Boxes
	most := m.in(0, 3) / float64(n) // so that most stacks do not roll up
	if m.chance(0.1) {
		most = key("line.splay").Max
	}
	if m.chance(0.6) {
		m.list("line.splay", n-1, func(int) float64 { return m.in(-0.1, 1) * most })
	}
	if n <= 99 {
		if m.chance(0.2) {
			m.list("line.shading", n, func(int) float64 { return m.in(-40, 10) })
		}
		if m.chance(0.2) {
			m.list("line.delays", n, func(int) float64 { return m.between(0, 0.1) })
		}
	}
	m.perhaps(0.3, "line.tilt", "line.hinge")
	if m.chance(0.2) {
		low := m.in(-1, 1)
		m.list("line.tilt_range", 2, func(i int) float64 { return low + float64(i)*m.in(0, 0.5) })
	}
	if m.chance(0.2) {
		m.list("line.splay_steps", 1+m.IntN(12), func(int) float64 { return m.between(0, 0.5) })
		m.list("line.delay_steps", 1+m.IntN(6), func(int) float64 { return m.between(0, 0.1) })
		m.list("line.gain_steps", 1+m.IntN(6), func(int) float64 { return m.in(-20, 0) })
	}
}

// cones draws sizes and places of woofers or mids.
func (m *maker) cones(table string) {
	if m.chance(0.3) {
		m.within(table+".effective_diameter", 0.3*m.number(table+".size"), m.number(table+".size"))
	}
	m.perhaps(0.7, table+".per_box")
	if per := m.number(table + ".per_box"); per > 1 && m.chance(0.5) {
		columns := 1 + m.IntN(int(per))
		for int(per)%columns != 0 || float64(columns) > key(table+".columns").Max {
			columns--
		}
		m.set(table+".columns", float64(columns))
	}
	m.perhaps(0.5, table+".spacing", table+".lateral_spacing", table+".depth")
	m.perhaps(0.2, table+".offset", table+".rise", table+".setback", table+".turn")
}

// horn draws the horn and its fold.
func (m *maker) horn() {
	m.give("horn.coverage", "horn.mouth_width", "horn.mouth_height")
	m.perhaps(0.4, "horn.path_length", "horn.lowest", "horn.offset")
	mouth := m.number("horn.mouth_width") * m.number("horn.mouth_height")
	if m.chance(0.8) {
		m.within("horn.throat", 0, 0.99*math.Sqrt(4*mouth/math.Pi))
	}
	if m.chance(0.3) {
		m.profileByPoints(mouth)
	} else if m.chance(0.8) {
		m.choose("horn.profile", "conical", "exponential", "hyperbolic", "catenoidal", "tractrix")
		m.give("horn.length")
		m.perhaps(0.3, "horn.family")
	}
	if m.chance(0.3) {
		m.give("horn.flare_length")
		m.perhaps(0.5, "horn.flare_angle", "horn.flare_splitters")
		if m.given("horn.flare_splitters") {
			m.perhaps(0.5, "horn.flare_splitter_width")
		}
	}
	if m.chance(0.4) {
		m.fold()
	}
}

// profileByPoints draws a horn that widens from point to point.
func (m *maker) profileByPoints(mouth float64) {
	m.choose("horn.profile", "points")
	n := 2 + m.IntN(10)
	long, area := m.value(key("horn.length")), math.Max(mouth*m.between(1e-3, 0.5), 1e-6)
	m.list("horn.distances", n, func(i int) float64 { return long * float64(i) / float64(n-1) })
	m.list("horn.areas", n, func(int) float64 { area *= m.in(1, 2); return area })
}

// fold draws a fold; one that cannot be is left to gapline fold, which finds the wall.
func (m *maker) fold() {
	m.give("fold.layer")
	m.perhaps(0.3, "fold.mouth_distance", "fold.throat_height", "fold.bend_radius", "fold.rear_allowance", "fold.wall_material", "fold.available_depth", "fold.widest_fan")
	if m.chance(0.3) {
		m.choose("fold.wall", "straight")
	} else {
		m.perhaps(0.7, "fold.virtual_path")
		if m.chance(0.3) {
			m.d.Fold.VirtualPath = optional.Of(math.Inf(1))
		}
	}
	for range 10 {
		m.give("fold.throat_to_wall")
		if _, err := waveguide.NewFold(m.d.FoldSpec()); err == nil {
			return
		}
	}
	m.d.Fold.ThroatToWall = optional.Float{}
}

// outlets draws where vents and passive radiators open.
func (m *maker) outlets() {
	for _, of := range []string{"vent", "radiator"} {
		m.perhaps(0.3, "enclosure."+of+"_panel", "enclosure."+of+"_offset", "enclosure."+of+"_rise")
	}
	m.perhaps(0.2, "enclosure.radiator_depth", "compression_driver.depth", "compression_driver.diameter")
}

// section draws details that only the wave level sees.
func (m *maker) section() {
	if m.chance(0.3) {
		m.within("horn.slot_width", 0, m.number("horn.mouth_width"))
	}
	if !m.chance(0.2) {
		return
	}
	if room := math.Min((m.number("cabinet.width")-m.number("horn.mouth_width"))/2, m.number("cabinet.depth")); room > 0 {
		m.within("cabinet.edge_radius", 0, room)
	}
	m.perhaps(0.2, "horn.side_walls")
}
