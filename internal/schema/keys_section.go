package schema

import (
	"gapline/cabinet/design"
	"gapline/internal/optional"
)

// sectionKeys are details that only the wave check uses.
var sectionKeys = []Key{
	lengthKey("cabinet.edge_radius", 0, 1, func(d *design.Design) *optional.Float { return &d.Section.EdgeRadius },
		"radius of the cabinet's upright front edges, for the wave check").or("0 mm"),
	lengthKey("horn.slot_width", 0.002, 1, func(d *design.Design) *optional.Float { return &d.Section.SlotWidth },
		"width of the slot from which the horn's side walls start, for the wave check; with a fold fold.layer, else horn.throat, unless given"),
	choiceKey("horn.side_walls", func(d *design.Design) *design.SideWalls { return &d.Section.SideWalls },
		"side walls in the wave check: straight at the coverage angle, or by horn.profile over horn.length").or("straight"),
}
