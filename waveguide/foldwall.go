package waveguide

import "gapline/internal/wordset"

// FoldWall is the wall that a design asks of its fold; zero: not given, which is
// curved.
type FoldWall int

// The walls.
const (
	CurvedWall   FoldWall = 1 + iota // a conic, as the virtual path wants
	StraightWall                     // a plain mirror, whose virtual path follows
	foldWallCount
)

var foldWalls = [foldWallCount]string{CurvedWall: "curved", StraightWall: "straight"}

// Name returns the wall's word in the design file.
func (w FoldWall) Name() string { return wordset.Row(foldWalls[:], w) }

func (w FoldWall) String() string { return w.Name() }
