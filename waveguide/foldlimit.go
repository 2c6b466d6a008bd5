package waveguide

import "gapline/internal/wordset"

// FoldLimit is something that a fold is checked for, or that bounds where its wall
// can stand; zero: nothing.
type FoldLimit int

// The limits of folds.
const (
	FoldFlatness  FoldLimit = 1 + iota // path spread within a quarter wave
	FoldCrossMode                      // the layers carry one wave only
	FoldClearance                      // from the throat's rim to the wall
	FoldTurn                           // the turn fits into the wall's curve
	FoldDepth                          // with the turn, within the cabinet's
	FoldWidth                          // both layers, within the cabinet's
	FoldHeight                         // wall, throat and mouth, within the cabinet's
	FoldAngle                          // of the fan at the throat
	FoldPath                           // the apex of the front lies behind the wall
	FoldThroat                         // the wall stands clear of the throat
	FoldMouth                          // the wall ends behind the mouth plane
	foldLimitCount
)

var foldLimits = [foldLimitCount]struct{ name string }{
	FoldFlatness: {"flatness"}, FoldCrossMode: {"cross mode"}, FoldClearance: {"throat clearance"}, FoldTurn: {"turn"},
	FoldDepth: {"depth"}, FoldWidth: {"width"}, FoldHeight: {"height"},
	FoldAngle: {"angle"}, FoldPath: {"path"}, FoldThroat: {"throat"}, FoldMouth: {"mouth"},
}

// Name returns the limit's name; empty for none.
func (l FoldLimit) Name() string { return wordset.Row(foldLimits[:], l).name }

// String returns the limit's name.
func (l FoldLimit) String() string { return l.Name() }
