package check

import (
	"fmt"
	"slices"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/cabinet/surface"
)

// Surface says in keys of the file why the outside of the box cannot be meshed; l is the
// design's layout.
func Surface(d *design.Design, l *layout.Layout, faults []surface.Fault) []Problem {
	var c checker
	for i := range faults {
		if key, ok := surfaceLacks[faults[i].Of]; ok {
			c.add(key+" is needed: "+surfaceUse, key)
			continue
		}
		c.surface(d, l, &faults[i])
	}
	return c.problems
}

const surfaceUse = "the wave level in space needs the outside of the box whole"

// surfaceLacks are the keys that a surface cannot do without.
var surfaceLacks = map[surface.Reason]string{
	surface.HeightLacks:  "cabinet.height",
	surface.WidthLacks:   "cabinet.width",
	surface.DepthLacks:   "cabinet.depth",
	surface.ExitLacks:    "horn.mouth_width",
	surface.ChamberLacks: "insert.chamber_volume",
}

// surface words the other faults.
func (c *checker) surface(d *design.Design, l *layout.Layout, f *surface.Fault) {
	name, keys := partOf(l, f.Part)
	by := ""
	if len(f.Values) > 0 {
		by = length(f.Values[0])
	}
	table := [...]string{layout.Woofers: "woofer", layout.Mids: "mid", layout.Horn: "horn", layout.Enclosure: "enclosure"}[f.Band]
	setback := []string{table + ".setback", table + ".turn", table + ".size"}
	switch f.Of {
	case surface.PistonLacks:
		key := table + ".size"
		if f.Band == layout.Enclosure {
			key = "enclosure.radiator_sd"
		}
		c.add(key+" is needed: "+surfaceUse, key)
	case surface.VentLacks:
		c.add("enclosure.vent_width and enclosure.vent_height, or enclosure.vent_diameter, are needed: "+surfaceUse, "enclosure.vent_width", "enclosure.vent_height", "enclosure.vent_diameter")
	case surface.MouthLacks:
		c.add("insert.mouth_width and insert.mouth_height are needed: "+surfaceUse, "insert.mouth_width", "insert.mouth_height")
	case surface.Collide:
		c.add(fmt.Sprintf("boxes run into each other by %s: they clear each other with less line.splay, or with less cabinet.rear_height", by), "line.splay", "cabinet.rear_height", "cabinet.pitch")
	case surface.Narrow:
		c.add(fmt.Sprintf("boxes hang %s apart where their joints are left open: cabinet.gap must leave 0.5 mm there, or their joints be closed", by), "cabinet.gap", "line.splay")
	case surface.InFloor:
		c.add(fmt.Sprintf("the boxes reach %s into the floor: it must lie so much lower, or line.tilt and line.splay be less", by), "line.tilt", "line.splay", "cabinet.rear_height")
	case surface.OnFloor:
		c.add(fmt.Sprintf("the lowest box is %s above the floor where joints are left open: 0.25 mm are needed, or the joints be closed", by), "cabinet.gap")
	case surface.Leaves:
		c.add(fmt.Sprintf("%s reaches %s beyond the face that it stands in", name, by), keys...)
	case surface.Covered:
		c.add(name+" is covered whole by what stands in front of it, so that nothing of it moves the air", append(keys, "horn.mouth_width")...)
	case surface.Meet:
		other, more := partOf(l, int(f.Values[0]))
		for _, k := range more {
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
		if f.Values[0] < 0 {
			other = "the opening that a cone behind it radiates through"
		}
		c.add(fmt.Sprintf("%s and %s share room in one face", name, other), keys...)
	case surface.StandsOut:
		c.add(fmt.Sprintf("%s stands %s in front of the face that it radiates through: it has to stand farther back, or turn less", name, by), setback...)
	case surface.PocketLeaves:
		c.add(fmt.Sprintf("the air in front of %s reaches out of the cabinet, or leaves its wall less than 1 mm, by %s", name, by), append(setback, "cabinet.width", "cabinet.depth")...)
	case surface.PocketsMeet:
		other, _ := partOf(l, int(f.Values[0]))
		c.add(fmt.Sprintf("the air in front of %s and that in front of %s share room", name, other), append([]string{table + ".lateral_spacing"}, setback...)...)
	case surface.ConesApart:
		c.add(fmt.Sprintf("%s stands %s out of the plane of the other cones behind the same opening: those of one side need one plane", name, by), append([]string{table + ".columns"}, setback...)...)
	case surface.OpeningMisses:
		c.add(fmt.Sprintf("%s reaches %s beyond the opening that it radiates through", name, by), keys...)
	case surface.Unsound:
		c.add(fmt.Sprintf("the outside of the cabinet cannot be closed with triangles, so that nothing is computed on it: %v", f.Err), keys...)
	case surface.Unfilled:
		c.add(fmt.Sprintf("the face about %s cannot be filled with triangles: %v", name, f.Err), keys...)
	}
}

// partOf is a part in words, with the keys that say where it stands.
func partOf(l *layout.Layout, i int) (name string, keys []string) {
	if i < 0 || i >= len(l.Parts) {
		return "a part", []string{"cabinet.width", "cabinet.height"}
	}
	p := &l.Parts[i]
	switch p.Kind {
	case layout.HornExit, layout.Flare:
		return "the horn's exit", []string{"horn.offset", "horn.mouth_width", "horn.mouth_height"}
	case layout.Vent:
		return fmt.Sprintf("vent %d", p.Index+1), []string{"enclosure.vent_offset", "enclosure.vent_rise"}
	case layout.Radiator:
		return fmt.Sprintf("passive radiator %d", p.Index+1), []string{"enclosure.radiator_offset", "enclosure.radiator_rise"}
	case layout.InsertMouth:
		return fmt.Sprintf("mouth %d of the insert", p.Index+1), []string{"insert.mouth_width", "insert.mouth_height", "insert.spacing"}
	case layout.Plate, layout.Chamber:
		return fmt.Sprintf("chamber %d of the insert", p.Index+1), []string{"insert.mouth_width", "insert.spacing", "insert.chamber_volume"}
	}
	if p.Band == layout.Mids {
		return fmt.Sprintf("mid %d", p.Index+1), []string{"mid.offset", "mid.rise", "mid.size"}
	}
	return fmt.Sprintf("woofer %d", p.Index+1), []string{"woofer.offset", "woofer.rise", "woofer.size"}
}
