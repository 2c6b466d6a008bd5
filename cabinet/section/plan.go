package section

import (
	"errors"
	"math"

	"gapline/cabinet/design"
	"gapline/internal/air"
	"gapline/internal/optional"
	"gapline/waveguide"
	"gapline/waveguide/wave"
)

// Driven says what moves in the plan section.
type Driven int

const (
	// ByHorn drives the slot; the woofers' openings are rigid front.
	ByHorn Driven = iota
	// ByWoofers drives the woofers' openings on both sides of the mouth; the
	// slot is rigid.
	ByWoofers
)

// Air returns the design's air as the wave level takes it.
func Air(d *design.Design) wave.Air {
	a := air.Of(d.Air)
	return wave.Air{SoundSpeed: a.SoundSpeed, Density: a.Density}
}

// Plan returns the horizontal section through cabinet and horn, with what stands in
// the front where front says. The horn starts as a slot with parallel walls, as long
// as it is wide where there is room, and opens by the side walls into the mouth and,
// where the design has side flares, by them into the exit, which is flush with the
// cabinet's front. Splitters are left out.
func Plan(d *design.Design, front Front, driven Driven) (wave.Plan, []Fault) {
	var c faults
	c.need(d.Cabinet.Width.Value(), WidthLacks)
	c.need(d.Cabinet.Depth.Value(), DepthLacks)
	c.need(d.Horn.MouthWidth.Value(), MouthWidthLacks)
	c.need(d.SlotWidth(), SlotLacks)
	if len(c) > 0 {
		return wave.Plan{}, c
	}
	p := wave.Plan{Width: d.Cabinet.Width.Value(), Depth: d.Cabinet.Depth.Value(), EdgeRadius: d.EdgeRadius(), HornAt: front.HornAt}
	p.Horn = c.horn(d)
	if p.Horn != nil {
		c.hornFits(d, front.HornAt)
	}
	if driven == ByHorn {
		p.Drive = 1
	} else if len(front.Openings) == 0 {
		c.add(OpeningLacks)
	}
	p.Openings = c.openings(d, &front, driven)
	return p, c
}

// sideWalls return the side wall from slot to mouth, given by their half-widths
// in m; nil with a fault where it cannot be.
var sideWalls = [design.SideWallsCount]func(c *faults, d *design.Design, slot, mouth float64) []wave.WallPoint{
	design.StraightWalls: (*faults).straight,
	design.ProfileWalls:  (*faults).profile,
}

// horn returns the wall from the slot to the mouth.
func (c *faults) horn(d *design.Design) []wave.WallPoint {
	slot, mouth := d.SlotWidth()/2, d.Horn.MouthWidth.Value()/2
	if slot >= mouth {
		c.add(SlotTooWide, 2*slot, 2*mouth)
		return nil
	}
	wall := sideWalls[d.Section.SideWalls.OrDefault()](c, d, slot, mouth)
	if wall == nil {
		return nil
	}
	if wall = c.flares(d, wall); wall == nil {
		return nil
	}
	back := wall[0].Along
	room := d.Cabinet.Depth.Value() + back
	parallel := math.Min(2*slot, room/2)
	return append([]wave.WallPoint{{Across: slot, Along: back - parallel}}, wall...)
}

// flares moves the mouth back by the length of the side flares and adds them.
func (c *faults) flares(d *design.Design, wall []wave.WallPoint) []wave.WallPoint {
	f := &d.Horn.Sides
	if !f.Given() {
		return wall
	}
	c.need(d.Horn.ExitCoverage(), FlareAngleLacks)
	if len(*c) > 0 {
		return nil
	}
	for i := range wall {
		wall[i].Along -= f.Length.Value()
	}
	if deep := -wall[0].Along; deep >= d.Cabinet.Depth.Value() {
		c.add(FlaresTooDeep, deep)
		return nil
	}
	return append(wall, wave.WallPoint{Across: exit(d) / 2})
}

// exit is the width through which the section radiates: the mouth's, or that of
// the flares without splitters.
func exit(d *design.Design) float64 {
	f := d.Horn.Sides
	if !f.Given() {
		return d.Horn.MouthWidth.Value()
	}
	return d.Horn.MouthWidth.Value() + 2*f.Length.Value()*math.Tan(d.Horn.ExitCoverage()/2)
}

// straight returns walls at the coverage angle.
func (c *faults) straight(d *design.Design, slot, mouth float64) []wave.WallPoint {
	c.need(d.Horn.Coverage.Value(), CoverageLacks)
	if len(*c) > 0 {
		return nil
	}
	deep := (mouth - slot) / math.Tan(d.Horn.Coverage.Value()/2)
	if deep >= d.Cabinet.Depth.Value() {
		c.add(WallsTooDeep, deep, 2*slot, 2*mouth)
		return nil
	}
	return []wave.WallPoint{{Across: slot, Along: -deep}, {Across: mouth}}
}

// profileSteps is the number of steps in which a profile is sampled. The spline
// through them is off by less than the walls' building tolerance.
const profileSteps = 32

// profile returns walls that follow the horn's profile, the height staying the
// same, in points that come closer towards the mouth, where a tractrix turns
// sideways. They have of the horn's length what the path through a fold leaves.
func (c *faults) profile(d *design.Design, slot, mouth float64) []wave.WallPoint {
	horn := d.Horn
	if fold, ok := d.Folded(); ok && horn.Length.Given() {
		path := fold.Path()
		if path >= horn.Length.Value() {
			c.add(FoldLong, horn.Length.Value(), path)
			return nil
		}
		horn.Length = optional.Of(horn.Length.Value() - path)
	}
	side, err := horn.SideWall(slot, mouth)
	switch {
	case errors.Is(err, waveguide.ErrNoWidths):
		*c = append(*c, Fault{Of: ShapeLess, Err: err})
		return nil
	case err != nil:
		*c = append(*c, Fault{Of: ProfileFails, Err: err})
		return nil
	}
	l := side.Length()
	if l >= d.Cabinet.Depth.Value() {
		c.add(ProfileDeep, l)
		return nil
	}
	wall := make([]wave.WallPoint, profileSteps+1)
	for i := range wall {
		x := l * math.Sin(math.Pi/2*float64(i)/profileSteps)
		wall[i] = wave.WallPoint{Across: side.HalfWidth(x), Along: x - l}
	}
	wall[0].Across = slot
	wall[profileSteps] = wave.WallPoint{Across: mouth}
	return wall
}

// hornFits adds a fault where the horn's exit reaches past the flat front.
func (c *faults) hornFits(d *design.Design, at float64) {
	reach, flat := math.Abs(at)+exit(d)/2, d.Cabinet.Width.Value()/2-d.EdgeRadius()
	if reach > flat+tolerance {
		c.add(HornOff, exit(d), math.Abs(at), reach, flat)
	}
}
