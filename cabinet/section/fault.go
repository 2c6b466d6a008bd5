package section

import (
	"errors"
	"slices"

	"gapline/internal/numeric"
)

// Fault is one reason why a design has no such section. What of the values tells more
// is in SI units, in the order that the reason names.
type Fault struct {
	Of     Reason
	Values []float64
	Err    error // of ShapeLess, ProfileFails, FoldFails and GuideFails
}

// Reason is a kind of fault.
type Reason uint8

// The reasons: first what a section cannot do without.
const (
	WidthLacks Reason = iota // the cabinet's
	DepthLacks
	MouthWidthLacks
	SlotLacks // throat and slot width
	FlareAngleLacks
	CoverageLacks
	OpeningLacks // width of what the woofers radiate through
	ThroatToWallLacks
	LayerLacks
	MouthHeightLacks
	TurnLacks // layer of the turn alone

	SlotTooWide   // slot and mouth, m
	FlaresTooDeep // side walls and flares together, m
	WallsTooDeep  // straight walls, slot and mouth, m
	ShapeLess     // walls by a profile that has no widths
	ProfileFails  // walls by a profile that cannot be
	ProfileDeep   // walls by the profile, m
	FoldLong      // horn's length and path through the fold, m
	HornOff       // width of the exit, how far off the middle it stands and reaches, and the flat front, m
	OpeningWide   // opening and flat front beside the mouth, m
	OpeningOff    // right and left edge of the opening, and of the flat front on that side, m to the left of the middle
	FoldFails     // the fold cannot be
	GuideFails    // its layers cannot be
	ReasonCount
)

// faults collects what keeps a section from being cut.
type faults []Fault

func (c *faults) add(of Reason, values ...float64) { *c = append(*c, Fault{Of: of, Values: values}) }

// once adds a fault unless the same one is there: pairs have one.
func (c *faults) once(of Reason, values ...float64) {
	if !slices.ContainsFunc(*c, func(f Fault) bool { return f.Of == of && slices.Equal(f.Values, values) }) {
		c.add(of, values...)
	}
}

// need adds a fault when a value is not given.
func (c *faults) need(x float64, of Reason) {
	if !numeric.Given(x) {
		c.add(of)
	}
}

// fails adds an error, or the parts of a joined one.
func (c *faults) fails(of Reason, err error) {
	var joined interface{ Unwrap() []error }
	switch {
	case err == nil:
	case errors.As(err, &joined):
		for _, e := range joined.Unwrap() {
			*c = append(*c, Fault{Of: of, Err: e})
		}
	default:
		*c = append(*c, Fault{Of: of, Err: err})
	}
}
