package fit

import (
	"math"

	"gapline/cabinet/design"
	"gapline/cabinet/layout"
	"gapline/internal/schema"
)

// tables are the tables of the file that hold a band's place.
var tables = map[layout.Band]string{layout.Woofers: "woofer", layout.Mids: "mid", layout.Horn: "horn"}

// candidates are the given keys that a misfit is between, the one to change first first.
func candidates(l *layout.Layout, c *layout.Conflict, d *design.Design) []string {
	var out []string
	seen := map[string]bool{}
	for _, path := range wanted(l, c) {
		k := schema.FindKey(path)
		if k == nil || seen[path] || math.IsNaN(k.Number(d)) {
			continue
		}
		seen[path] = true
		out = append(out, path)
	}
	return out
}

// wanted lists all keys that could mend a conflict.
func wanted(l *layout.Layout, c *layout.Conflict) []string {
	switch c.Of {
	case layout.TooWide:
		out := []string{"horn.mouth_width"}
		for _, b := range c.Bands {
			out = append(out, widthKeys(b)...)
		}
		return append(out, "cabinet.width")
	case layout.LeavesWidth:
		return append(acrossKeys(&l.Parts[c.A]), "cabinet.width")
	case layout.LeavesHeight:
		return append(uprightKeys(&l.Parts[c.A]), "cabinet.rear_height", "cabinet.height", "cabinet.pitch")
	case layout.LeavesDepth:
		return append(depthKeys(&l.Parts[c.A]), "cabinet.depth")
	case layout.LeavesFront:
		return aheadKeys(&l.Parts[c.A])
	case layout.Overlaps:
		return overlapKeys(&l.Parts[c.A], &l.Parts[c.B])
	case layout.VentLong:
		return []string{"enclosure.vent_length", "enclosure.tuning", "enclosure.vent_area", "enclosure.vent_diameter", "enclosure.vent_width", "cabinet.depth"}
	case layout.PathShort, layout.WallsShort:
		return []string{"horn.length", "fold.throat_to_wall", "horn.mouth_width"}
	case layout.FoldDeep:
		return []string{"fold.throat_to_wall", "fold.available_depth"}
	case layout.VolumeShort:
		return []string{"enclosure.volume", "cabinet.depth", "cabinet.width"}
	case layout.BoxesOverlap:
		return []string{"cabinet.height", "cabinet.pitch"}
	case layout.BoxesCollide:
		return []string{"cabinet.rear_height", "cabinet.gap", "cabinet.depth"}
	}
	return nil
}

// widthKeys are those of the width that a band takes on the front.
func widthKeys(b layout.Band) []string {
	if b == layout.Horn {
		return []string{"horn.mouth_width", "horn.flare_length"}
	}
	t := tables[b]
	return []string{t + ".lateral_spacing", t + ".size", t + ".effective_diameter", "insert.mouth_width", "insert.plate_width"}
}

func acrossKeys(p *layout.Part) []string {
	switch p.Kind {
	case layout.Vent:
		return []string{"enclosure.vent_offset", "enclosure.vent_width", "enclosure.vent_diameter", "enclosure.vent_area"}
	case layout.Radiator:
		return []string{"enclosure.radiator_offset", "enclosure.radiator_sd"}
	case layout.CompressionDriver:
		return []string{"compression_driver.depth", "compression_driver.diameter", "horn.offset"}
	}
	return append([]string{tables[p.Band] + ".offset"}, widthKeys(p.Band)...)
}

func uprightKeys(p *layout.Part) []string {
	switch p.Kind {
	case layout.Vent:
		return []string{"enclosure.vent_rise", "enclosure.vent_height", "enclosure.vent_diameter", "enclosure.vent_area"}
	case layout.Radiator:
		return []string{"enclosure.radiator_rise", "enclosure.radiator_sd"}
	case layout.CompressionDriver:
		return []string{"compression_driver.diameter"}
	case layout.InsertMouth, layout.Plate, layout.Chamber:
		return []string{"insert.spacing", "insert.mouth_height", "insert.plate_height", "woofer.rise", "woofer.size"}
	case layout.Cone:
		t := tables[p.Band]
		return []string{t + ".rise", t + ".spacing", t + ".size", t + ".effective_diameter"}
	case layout.Fold:
		return []string{"fold.throat_to_wall", "fold.throat_height", "horn.mouth_height"}
	}
	return []string{"horn.mouth_height"}
}

func aheadKeys(p *layout.Part) []string {
	switch p.Kind {
	case layout.Vent:
		return []string{"enclosure.vent_offset"}
	case layout.Radiator:
		return []string{"enclosure.radiator_offset"}
	}
	if p.Kind != layout.Cone {
		return []string{"compression_driver.diameter", "fold.mouth_distance", "horn.length"}
	}
	t := tables[p.Band]
	return []string{t + ".setback", t + ".turn"}
}

func depthKeys(p *layout.Part) []string {
	switch p.Kind {
	case layout.Cone, layout.Chamber, layout.Plate, layout.InsertMouth:
		t := tables[p.Band]
		return []string{t + ".setback", t + ".depth"}
	case layout.Vent:
		return []string{"enclosure.vent_offset", "enclosure.vent_diameter", "enclosure.vent_width", "enclosure.vent_area"}
	case layout.Radiator:
		if p.Side == layout.LeftSide || p.Side == layout.RightSide {
			return []string{"enclosure.radiator_offset", "enclosure.radiator_sd"}
		}
		return []string{"enclosure.radiator_depth"}
	case layout.CompressionDriver:
		return []string{"compression_driver.depth", "horn.length", "horn.flare_length"}
	}
	return []string{"horn.length", "fold.throat_to_wall", "horn.flare_length"}
}

// overlapKeys are the places of two parts, then their sizes.
func overlapKeys(a, b *layout.Part) []string {
	var places, sizes []string
	for _, p := range []*layout.Part{b, a} {
		switch p.Kind {
		case layout.Vent:
			places = append(places, "enclosure.vent_offset", "enclosure.vent_rise")
			sizes = append(sizes, "enclosure.vent_length")
		case layout.Radiator:
			places = append(places, "enclosure.radiator_offset", "enclosure.radiator_rise")
			sizes = append(sizes, "enclosure.radiator_depth")
		case layout.CompressionDriver:
			sizes = append(sizes, "compression_driver.diameter", "compression_driver.depth")
			places = append(places, "fold.mouth_distance", "horn.offset")
		default:
			places = append(places, tables[p.Band]+".offset")
		}
		if p.Kind == layout.Cone {
			t := tables[p.Band]
			if a.Band == b.Band {
				places = append(places, t+".spacing")
			}
			places = append(places, t+".lateral_spacing", t+".setback", t+".rise", t+".turn")
		}
		sizes = append(sizes, depthKeys(p)...)
		sizes = append(sizes, acrossKeys(p)...)
	}
	return append(places, sizes...)
}

// settling names the key that settles what is taken for it.
var settling = [layout.AssumedCount]string{
	layout.FrontWidth: "cabinet.width", layout.MouthOfBox: "horn.mouth_height", layout.WallsByAngle: "horn.length",
	layout.StraightWalls: "horn.side_walls", layout.FoldSide: "horn.offset", layout.DriverWidth: "compression_driver.diameter",
	layout.ConeSetback: "woofer.setback", layout.RearHeight: "cabinet.rear_height", layout.PanelWall: "cabinet.wall",
	layout.PlateWidth: "insert.plate_width", layout.PlateHeight: "insert.plate_height", layout.OutletPlace: "enclosure.vent_offset",
}

// bandKeys are those whose key depends on the band.
var bandKeys = map[layout.Assumed]string{
	layout.BandPlace: ".offset", layout.ColumnSpacing: ".lateral_spacing", layout.RowSpacing: ".spacing", layout.ConeSize: ".size",
}

// Settles is the key that settles a default of the layout.
func Settles(of layout.Assumed, band layout.Band) string {
	if leaf, ok := bandKeys[of]; ok {
		return tables[band] + leaf
	}
	return settling[of]
}

// settles is the key that settles what a note rests on: of two parts the one whose place
// is not given.
func settles(l *layout.Layout, c *layout.Conflict) string {
	rest := c.Rests[0]
	for _, i := range []int{c.B, c.A} {
		if i < 0 {
			continue
		}
		p := &l.Parts[i]
		for _, r := range p.Rests {
			if r != rest {
				continue
			}
			if r == layout.OutletPlace && p.Kind == layout.Radiator {
				return "enclosure.radiator_offset"
			}
			return Settles(r, p.Band)
		}
	}
	return Settles(rest, layout.Horn)
}
