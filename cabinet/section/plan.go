package section

import (
	"errors"
	"fmt"
	"math"

	"gapline/cabinet/design"
	"gapline/internal/air"
	"gapline/internal/check"
	"gapline/internal/quantity"
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

// Plan returns the horizontal section through cabinet and horn. The horn starts
// as a slot with parallel walls, as long as it is wide where there is room, and
// opens by the side walls into the mouth and, where the design has side flares,
// by them into the exit, which is flush with the cabinet's front. Splitters are
// left out. The woofers' openings are as wide as the insert's mouths, or as the cones, and
// stand in the middle of the front beside the mouth.
func Plan(d *design.Design, driven Driven) (wave.Plan, []check.Problem) {
	var c problems
	c.need(d.Cabinet.Width.Value(), "cabinet.width", planUse)
	c.need(d.Cabinet.Depth.Value(), "cabinet.depth", planUse)
	c.need(d.Horn.MouthWidth.Value(), "horn.mouth_width", planUse)
	if !d.Section.SlotWidth.Given() {
		c.need(d.Horn.Throat.Value(), "horn.throat", "the plan section starts there, or at horn.slot_width")
	}
	if len(c) > 0 {
		return wave.Plan{}, c
	}
	p := wave.Plan{Width: d.Cabinet.Width.Value(), Depth: d.Cabinet.Depth.Value(), EdgeRadius: d.EdgeRadius()}
	p.Horn = c.horn(d)
	if driven == ByHorn {
		p.Drive = 1
	} else {
		p.Woofers = c.woofers(d)
	}
	return p, c
}

const planUse = "the plan section is cut through cabinet and horn"

// sideWalls return the side wall from slot to mouth, given by their half-widths
// in m; nil with a problem where it cannot be.
var sideWalls = [design.SideWallsCount]func(c *problems, d *design.Design, slot, mouth float64) []wave.WallPoint{
	design.StraightWalls: (*problems).straight,
	design.ProfileWalls:  (*problems).profile,
}

// horn returns the wall from the slot to the mouth.
func (c *problems) horn(d *design.Design) []wave.WallPoint {
	slot, mouth := d.SlotWidth()/2, d.Horn.MouthWidth.Value()/2
	if slot >= mouth {
		key := "horn.throat"
		if d.Section.SlotWidth.Given() {
			key = "horn.slot_width"
		}
		c.add(fmt.Sprintf("%s is %s, not less than horn.mouth_width of %s: a horn widens", key, length(2*slot), length(2*mouth)), key, "horn.mouth_width")
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
func (c *problems) flares(d *design.Design, wall []wave.WallPoint) []wave.WallPoint {
	f := &d.Horn.Sides
	if !f.Given() {
		return wall
	}
	c.need(d.Horn.ExitCoverage(), "horn.flare_angle", "the side flares stand at that angle, or at horn.coverage")
	if len(*c) > 0 {
		return nil
	}
	for i := range wall {
		wall[i].Along -= f.Length.Value()
	}
	if deep := -wall[0].Along; deep >= d.Cabinet.Depth.Value() {
		c.add(fmt.Sprintf("side walls and horn.flare_length are %s deep together, more than cabinet.depth of %s holds", length(deep), length(d.Cabinet.Depth.Value())),
			"horn.flare_length", "cabinet.depth")
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
func (c *problems) straight(d *design.Design, slot, mouth float64) []wave.WallPoint {
	c.need(d.Horn.Coverage.Value(), "horn.coverage", "straight side walls stand at that angle")
	if len(*c) > 0 {
		return nil
	}
	deep := (mouth - slot) / math.Tan(d.Horn.Coverage.Value()/2)
	if deep >= d.Cabinet.Depth.Value() {
		c.add(fmt.Sprintf("horn.coverage of %s needs side walls %s deep to open from %s to horn.mouth_width of %s, and cabinet.depth is %s",
			quantity.Format(d.Horn.Coverage.Value(), quantity.Angle, quantity.Metric), length(deep), length(2*slot), length(2*mouth), length(d.Cabinet.Depth.Value())),
			"horn.coverage", "horn.mouth_width", "cabinet.depth")
		return nil
	}
	return []wave.WallPoint{{Across: slot, Along: -deep}, {Across: mouth}}
}

// profileSteps is the number of steps in which a profile is sampled. The spline
// through them is off by less than the walls' building tolerance.
const profileSteps = 32

// profile returns walls that follow the horn's profile, the height staying the
// same, in points that come closer towards the mouth, where a tractrix turns
// sideways.
func (c *problems) profile(d *design.Design, slot, mouth float64) []wave.WallPoint {
	side, err := d.Horn.SideWall(slot, mouth)
	switch {
	case errors.Is(err, waveguide.ErrNoWidths):
		c.add("horn.side_walls by profile needs a named horn.profile: "+err.Error(), "horn.side_walls", "horn.profile")
		return nil
	case err != nil:
		c.add("horn.side_walls by profile: "+err.Error(), "horn.profile", "horn.length", "horn.side_walls")
		return nil
	}
	l := side.Length()
	if l >= d.Cabinet.Depth.Value() {
		c.add(fmt.Sprintf("side walls by horn.profile are %s long, more than cabinet.depth of %s holds", length(l), length(d.Cabinet.Depth.Value())),
			"horn.length", "horn.profile", "cabinet.depth")
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

// woofers returns the opening on the right side, moving with 1 m/s.
func (c *problems) woofers(d *design.Design) []wave.Opening {
	width, key := d.Woofer.Diameter(), "woofer.size"
	if d.HasInsert() {
		width, key = d.Insert.MouthWidth.Value(), "insert.mouth_width"
	}
	c.need(width, key, "driven woofers need the width of their opening")
	from, to := exit(d)/2, d.Cabinet.Width.Value()/2-d.EdgeRadius()
	if width > to-from {
		c.add(fmt.Sprintf("%s gives an opening %s wide, but beside the mouth (horn.mouth_width) cabinet.width leaves %s of flat front on each side",
			key, length(width), length(to-from)), key, "horn.mouth_width", "cabinet.width")
		return nil
	}
	middle := (from + to) / 2
	return []wave.Opening{{From: middle - width/2, To: middle + width/2, Velocity: 1}}
}
