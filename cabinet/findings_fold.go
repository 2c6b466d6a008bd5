package cabinet

import "gapline/internal/numeric"

// fold says what the folded path cannot do, and what is missing to judge it.
func (f *finder) fold() {
	if !f.s.Fold.Given {
		if numeric.Given(f.d.Fold.Layer) && !numeric.Given(f.d.Fold.ThroatToWall) {
			f.add(Note, "fold.throat_to_wall", "fold.throat_to_wall is not given: gapline fold FILE solves for the wall, and the front here follows fold.virtual_path alone.")
		}
		return
	}
	fold, ok := f.d.fold()
	if !ok {
		return
	}
	for _, n := range fold.Notes() {
		if n.Key == "flatness" || n.OK {
			continue // flatness has a finding of its own
		}
		sev := Note
		if n.Key == "depth" || n.Key == "width" || n.Key == "height" {
			sev = Miss
		}
		f.add(sev, foldNoteKeys[n.Key], "The fold's %s: %s.", n.Key, n.Text)
	}
}

// foldNoteKeys are the keys that the checks of a fold are about.
var foldNoteKeys = map[string]string{
	"flatness":         "fold.path_spread_m",
	"cross mode":       "fold.cross_mode_hz",
	"throat clearance": "fold.throat_to_wall",
	"turn":             "fold.layer",
	"depth":            "fold.built_depth_m",
	"width":            "cabinet.width",
	"height":           "cabinet.height",
}
