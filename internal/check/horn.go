package check

import (
	"fmt"
	"strings"

	"gapline/cabinet/design"
	"gapline/internal/numeric"
	"gapline/waveguide"
)

// hornPoints checks a profile given by points.
func (c *checker) hornPoints(d *design.Design) {
	h := &d.Horn
	switch {
	case !h.HasPoints():
		if h.Profile == waveguide.ByPoints {
			c.add("horn.profile is points: horn.distances and horn.areas are needed, one area for each distance", "horn.profile")
		}
		return
	case h.Profile != 0 && h.Profile != waveguide.ByPoints:
		c.add(fmt.Sprintf("horn.profile is %s, and horn.distances or horn.areas are given too: leave the lists out, or set horn.profile to points",
			h.Profile), "horn.profile")
		return
	}
	if _, err := h.Flare(); err != nil {
		text := err.Error()
		if !strings.HasPrefix(text, "horn.") {
			text = "horn.distances, horn.areas: " + text
		}
		c.add(text, "horn.areas", "horn.distances")
	}
}

// flares checks that the side flares are said whole.
func (c *checker) flares(d *design.Design) {
	h := &d.Horn
	s := &h.Sides
	if !s.Given() {
		if s.Angle.Given() || s.Splitters > 0 || s.SplitterWidth.Given() {
			c.add("horn.flare_length is needed: the other flare keys say how flares of that length are built", "horn.flare_angle", "horn.flare_splitters", "horn.flare_splitter_width")
		}
		return
	}
	if s.SplitterWidth.Given() && s.Splitters == 0 {
		c.add("horn.flare_splitter_width is given without horn.flare_splitters, how many there are", "horn.flare_splitter_width")
	}
}

// fold checks the fold where enough is given to work one out.
func (c *checker) fold(d *design.Design) {
	f := &d.Fold
	if f.Wall == waveguide.StraightWall && f.VirtualPath.Given() {
		c.add("fold.wall is straight, which fixes the virtual path itself: leave fold.virtual_path out", "fold.virtual_path", "fold.wall")
		return
	}
	if !d.HasFold() {
		return
	}
	_, err := waveguide.NewFold(d.FoldSpec())
	for _, e := range Unjoined(err) {
		c.add("[fold] cannot be: "+e.Error(), "fold.throat_to_wall", "fold.virtual_path", "fold.layer")
	}
}

// Unjoined takes a joined error apart.
func Unjoined(err error) []error {
	if err == nil {
		return nil
	}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		return joined.Unwrap()
	}
	return []error{err}
}

// FoldProblems says what is missing or wrong before a fold can be worked out or
// solved for; empty when nothing is.
func FoldProblems(d *design.Design) []Problem {
	var c checker
	need := func(x float64, key string) {
		if !numeric.Given(x) {
			c.add(fmt.Sprintf("%s is needed: the fold works from fold.layer and horn.mouth_height with fold.throat_to_wall, or with a depth (fold.available_depth or cabinet.depth)", key), key)
		}
	}
	need(d.Horn.MouthHeight.Value(), "horn.mouth_height")
	need(d.Fold.Layer.Value(), "fold.layer")
	return c.problems
}

// HornProblems says what is missing before a horn can be worked out.
func HornProblems(d *design.Design) []Problem {
	var c checker
	for _, need := range []struct {
		key   string
		value float64
	}{{"horn.mouth_width", d.Horn.MouthWidth.Value()}, {"horn.coverage", d.Horn.ExitCoverage()}} {
		if !numeric.Given(need.value) {
			c.add(need.key+" is needed: the horn's pattern follows from the width of its mouth and the angle that it is to cover", need.key)
		}
	}
	if d.HornDrive.Given() {
		if missing := HornDriveLacks(&d.HornDrive); len(missing) > 0 {
			c.add(fmt.Sprintf("[compression_driver] needs %s too", strings.Join(missing, ", ")), "compression_driver")
		}
	}
	return c.problems
}

// DrawProblems says what is missing before a box can be drawn.
func DrawProblems(d *design.Design) []Problem {
	var c checker
	if !numeric.Given(d.Pitch()) {
		c.add("cabinet.height or cabinet.pitch is needed: a box without a height cannot be drawn", "cabinet.height")
	}
	return c.problems
}

// HornDriveLacks lists the keys without which the driver cannot be worked out and that
// the design does not give.
func HornDriveLacks(h *design.HornDrive) []string {
	d := &h.Driver
	var out []string
	for _, need := range []struct {
		key   string
		value float64
	}{
		{"compression_driver.re", d.Re.Value()}, {"compression_driver.bl", d.Bl.Value()}, {"compression_driver.mms", d.Mms.Value()},
		{"compression_driver.fs", d.Fs.Value()}, {"compression_driver.sd", d.Sd.Value()},
	} {
		if !numeric.Given(need.value) {
			out = append(out, need.key)
		}
	}
	return out
}
