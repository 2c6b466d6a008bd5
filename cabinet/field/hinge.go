package field

import "gapline/internal/wordset"

// Hinge is the edge about which a box turns against the one above it; zero: not
// given, which is the front.
type Hinge int

// The rigging edges.
const (
	FrontHinge Hinge = 1 + iota // middle of the gap, in the plane of the fronts
	RearHinge                   // middle of the gap, at the back of the boxes
	hingeCount
)

// hinges have the share of the box's depth by which each lies behind the front.
var hinges = [hingeCount]struct {
	name   string
	behind float64
}{
	FrontHinge: {"front", 0},
	RearHinge:  {"rear", 1},
}

// Name returns the edge's word in the design file.
func (h Hinge) Name() string { return wordset.Row(hinges[:], h).name }

func (h Hinge) String() string { return h.Name() }

// NeedsDepth reports whether it takes the boxes' depth to hang them.
func (h Hinge) NeedsDepth() bool { return wordset.Row(hinges[:], h).behind > 0 }

// along is where the edge of a box of a depth in m lies, forward of its front, m.
func (h Hinge) along(depth float64) float64 {
	return 0 - wordset.Row(hinges[:], h).behind*depth // never −0
}
