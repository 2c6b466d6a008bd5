package check

import (
	"fmt"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/internal/quantity"
)

// Cut says in keys of the file why a section cannot be cut out of the design.
func Cut(d *design.Design, faults []section.Fault) []Problem {
	var c checker
	for _, f := range faults {
		if lack, ok := cutLacks[f.Of]; ok {
			c.add(lack[0]+" is needed: "+lack[1], lack[0])
			continue
		}
		c.cut(d, f)
	}
	return c.problems
}

const (
	planUse = "the plan section is cut through cabinet and horn"
	foldUse = "the folded guide is built from it"
)

// cutLacks are the keys that a section cannot do without, and what for.
var cutLacks = map[section.Reason][2]string{
	section.WidthLacks:        {"cabinet.width", planUse},
	section.DepthLacks:        {"cabinet.depth", planUse},
	section.MouthWidthLacks:   {"horn.mouth_width", planUse},
	section.SlotLacks:         {"horn.throat", "the plan section starts there, at fold.layer or at horn.slot_width"},
	section.FlareAngleLacks:   {"horn.flare_angle", "the side flares stand at that angle, or at horn.coverage"},
	section.CoverageLacks:     {"horn.coverage", "straight side walls stand at that angle"},
	section.ThroatToWallLacks: {"fold.throat_to_wall", foldUse + "; gapline fold proposes one"},
	section.LayerLacks:        {"fold.layer", foldUse},
	section.MouthHeightLacks:  {"horn.mouth_height", foldUse},
	section.TurnLacks:         {"fold.layer", "the turn joins two layers of that thickness"},
}

// foldKeys are the keys to look at when the fold is impossible.
var foldKeys = []string{"fold.throat_to_wall", "fold.virtual_path", "fold.layer", "horn.mouth_height", "horn.throat"}

// cut words a fault of what is given.
func (c *checker) cut(d *design.Design, f section.Fault) {
	slot, depth := "horn.throat", length(d.Cabinet.Depth.Value())
	switch {
	case d.Section.SlotWidth.Given():
		slot = "horn.slot_width"
	case d.HasFold():
		slot = "fold.layer"
	}
	opening := "woofer.size"
	if d.HasInsert() {
		opening = "insert.mouth_width"
	}
	v := make([]any, len(f.Values))
	for i, m := range f.Values {
		v[i] = length(m)
	}
	switch f.Of {
	case section.OpeningLacks:
		c.add(opening+" is needed: driven woofers need the width of their opening", opening)
	case section.SlotTooWide:
		c.add(slot+fmt.Sprintf(" is %s, not less than horn.mouth_width of %s: a horn widens", v[0], v[1]), slot, "horn.mouth_width")
	case section.FlaresTooDeep:
		c.add(fmt.Sprintf("side walls and horn.flare_length are %s deep together, more than cabinet.depth of %s holds", v[0], depth), "horn.flare_length", "cabinet.depth")
	case section.WallsTooDeep:
		c.add(fmt.Sprintf("horn.coverage of %s needs side walls %s deep to open from %s to horn.mouth_width of %s, and cabinet.depth is %s",
			quantity.Format(d.Horn.Coverage.Value(), quantity.Angle, quantity.Metric), v[0], v[1], v[2], depth), "horn.coverage", "horn.mouth_width", "cabinet.depth")
	case section.ShapeLess:
		c.add("horn.side_walls by profile needs a named horn.profile: "+f.Err.Error(), "horn.side_walls", "horn.profile")
	case section.ProfileFails:
		c.add("horn.side_walls by profile: "+f.Err.Error(), "horn.profile", "horn.length", "horn.side_walls")
	case section.ProfileDeep:
		c.add(fmt.Sprintf("side walls by horn.profile are %s long, more than cabinet.depth of %s holds", v[0], depth), "horn.length", "horn.profile", "cabinet.depth")
	case section.OpeningWide:
		c.add(opening+fmt.Sprintf(" gives an opening %s wide, but beside the mouth (horn.mouth_width) cabinet.width leaves %s of flat front on each side", v[0], v[1]),
			opening, "horn.mouth_width", "cabinet.width")
	case section.FoldLong:
		c.add(fmt.Sprintf("horn.length is %s, and the path through the fold, which is part of it, takes %s: nothing is left for side walls by horn.profile", v[0], v[1]),
			"horn.length", "fold.throat_to_wall", "horn.side_walls")
	case section.HornOff:
		c.add(fmt.Sprintf("the horn's exit, %s wide and %s off the middle, reaches %s to the side, and the flat front (cabinet.width) ends at %s", v...),
			"horn.mouth_width", "horn.offset", "cabinet.width")
	case section.OpeningOff:
		side, from, to, first, last := "left", v[0], v[1], v[2], v[3]
		if f.Values[0]+f.Values[1] < 0 {
			side, from, to, first, last = "right", length(-f.Values[1]), length(-f.Values[0]), length(-f.Values[3]), length(-f.Values[2])
		}
		c.add(opening+fmt.Sprintf(" gives an opening from %s to %s %s of the middle, and the flat front beside the horn runs from %s to %s there", from, to, side, first, last),
			opening, "horn.mouth_width", "cabinet.width")
	case section.FoldFails:
		c.add("[fold] cannot be: "+f.Err.Error(), foldKeys...)
	case section.GuideFails:
		c.add("[fold] cannot be solved: "+f.Err.Error(), foldKeys...)
	}
}
