package main

import (
	"errors"
	"fmt"

	"gapline/cabinet/outside"
	"gapline/cabinet/section"
	"gapline/internal/describe"
	"gapline/internal/optional"
	"gapline/internal/quantity"
)

// parseFront settles what moves, and how many boxes stand there.
func (j *waveJob) parseFront(f *waveFlags) error {
	front := f.of == "front"
	switch f.drive {
	case "":
	case "horn":
		j.driven, j.front.Driven = section.ByHorn, outside.ByHorn
	case "woofers":
		j.driven = section.ByWoofers
	case "mids":
		j.front.Driven = outside.ByMids
		if !front {
			return errors.New("--drive mids goes with --of front")
		}
	default:
		return fmt.Errorf("--drive is %q: horn, woofers or mids is needed", f.drive)
	}
	switch {
	case f.boxes < 1:
		return fmt.Errorf("--boxes is %d: 1 or more are needed", f.boxes)
	case !front && (f.boxes > 1 || f.openJoints || f.floor != ""):
		return errors.New("--boxes, --open-joints and --floor go with --of front")
	case front && f.woofers != "rigid":
		return errors.New("--woofers is of plan: --drive woofers moves them in space, as it does unless horn or mids are given")
	case front && (f.exit != "matched" || f.plate != ""):
		return errors.New("--exit and --plate are of fold")
	case front && (f.check || f.animate != ""):
		return errors.New("--check and --animate are of plan and fold")
	}
	j.front.Boxes, j.front.OpenJoints = f.boxes, f.openJoints
	if f.floor != "" {
		v, err := quantity.Parse(f.floor, quantity.Length)
		if err == nil && !(v >= 0) {
			err = errors.New("a floor lies below the boxes: 0 mm or more is needed")
		}
		if err != nil {
			return fmt.Errorf("--floor: %w", err)
		}
		j.front.Floor = optional.Of(v)
	}
	return j.parsePlane(f)
}

// parsePlane settles what of the outside in space a picture of one frequency shows.
func (j *waveJob) parsePlane(f *waveFlags) error {
	field := f.of == "front" && j.view == describe.WaveField
	switch {
	case f.plane != "" && !field:
		return errors.New("--plane goes with --of front --view field")
	case f.plane != "" && f.plane != "upright" && f.plane != "level":
		return fmt.Errorf("--plane is %q: upright or level is needed", f.plane)
	case field && f.plane == "level":
		j.front.Look.Slice = outside.LevelSlice
	case field:
		j.front.Look.Slice = outside.UprightSlice
	case j.view == describe.WaveSurface:
		j.front.Look.Skin = true
	}
	return nil
}
