package waveguide

import (
	"errors"
	"math"

	"gapline/internal/optional"
	"gapline/internal/wordset"
)

// Profile is how a horn's area grows from throat to mouth; zero: not given.
type Profile int

// The profiles.
const (
	ConicalProfile Profile = 1 + iota
	ExponentialProfile
	HyperbolicProfile
	CatenoidalProfile // hyperbolic of family 0
	TractrixProfile
	ByPoints // the horn's own list of distances and areas
	profileCount
)

// profiles say what each profile does: everything else that asks for a profile,
// its cutoff and loading, its walls in the plan section, the keys of the design
// file, takes it from here.
var profiles = [profileCount]struct {
	name string
	// law is the law of the area for the ends in m².
	law func(h *Horn, throat, mouth float64) (AreaLaw, error)
	// walls say how a side wall follows from the law.
	walls sideWallLaw
}{
	ConicalProfile: {"conical", func(h *Horn, throat, mouth float64) (AreaLaw, error) {
		return NewConical(throat, mouth, h.Length.Value())
	}, widthAsRadius},
	ExponentialProfile: {"exponential", func(h *Horn, throat, mouth float64) (AreaLaw, error) {
		return NewExponential(throat, mouth, h.Length.Value())
	}, widthAsArea},
	HyperbolicProfile: {"hyperbolic", func(h *Horn, throat, mouth float64) (AreaLaw, error) {
		return NewHyperbolic(throat, mouth, h.Length.Value(), h.familyOrDefault())
	}, widthAsArea},
	CatenoidalProfile: {"catenoidal", func(h *Horn, throat, mouth float64) (AreaLaw, error) {
		return NewHyperbolic(throat, mouth, h.Length.Value(), 0)
	}, widthAsArea},
	TractrixProfile: {"tractrix", func(_ *Horn, throat, mouth float64) (AreaLaw, error) {
		return NewTractrix(throat, mouth)
	}, widthAsRadius},
	ByPoints: {"points", func(h *Horn, _, _ float64) (AreaLaw, error) { return h.byPoints() }, noWidths},
}

// Name returns the profile's word in the design file.
func (p Profile) Name() string { return wordset.Row(profiles[:], p).name }

func (p Profile) String() string { return p.Name() }

// sideWallLaw says how the half-width of a horn goes with its area.
type sideWallLaw int

const (
	widthAsArea   sideWallLaw = 1 + iota // the height stays, so that the width grows as the area
	widthAsRadius                        // the wall is the curve of the round horn
	noWidths                             // areas alone give no width
)

// area is the area in m² of a law that a half-width in m stands for.
func (l sideWallLaw) area(half float64) float64 {
	if l == widthAsArea {
		return half
	}
	return math.Pi * half * half
}

// half is the half-width in m that an area in m² of a law stands for.
func (l sideWallLaw) half(area float64) float64 {
	if l == widthAsArea {
		return area
	}
	return math.Sqrt(area / math.Pi)
}

// SideWall is one side wall of a horn that follows the horn's profile.
type SideWall struct {
	law  AreaLaw
	rule sideWallLaw
}

// Length is the distance from slot to mouth along the axis in m.
func (w SideWall) Length() float64 { return w.law.Length() }

// HalfWidth is the wall's distance from the axis in m at the distance x in m from
// the slot.
func (w SideWall) HalfWidth(x float64) float64 { return w.rule.half(w.law.Area(x)) }

// ErrNoWidths says that a profile by points has no side walls.
var ErrNoWidths = errors.New("points give areas, not widths")

// SideWall returns a side wall from a slot to a mouth of the given half-widths in
// m by the horn's profile. The error is ErrNoWidths, or what Flare lacks.
func (h Horn) SideWall(slot, mouth float64) (SideWall, error) {
	rule := wordset.Row(profiles[:], h.profile()).walls
	if rule == noWidths {
		return SideWall{}, ErrNoWidths
	}
	h.Throat = optional.Of(2 * math.Sqrt(rule.area(slot)/math.Pi))
	h.MouthWidth, h.MouthHeight = optional.Of(1), optional.Of(rule.area(mouth))
	law, err := h.Flare()
	return SideWall{law, rule}, err
}

// profile is the profile in effect: a list of areas makes one by points.
func (h *Horn) profile() Profile {
	if h.Profile == 0 && h.HasPoints() {
		return ByPoints
	}
	return h.Profile
}

// Flare returns the horn's area from its circular throat to a mouth of its
// width times its height; a profile by points has its own ends. Side flares do
// not count. The error says what is missing or wrong.
func (h Horn) Flare() (AreaLaw, error) {
	law := wordset.Row(profiles[:], h.profile()).law
	if law == nil {
		return nil, errors.New("horn.profile is not given")
	}
	if lacks := h.flareLacks(); lacks != "" {
		return nil, errors.New(lacks + " is not given")
	}
	return law(&h, math.Pi*h.Throat.Value()*h.Throat.Value()/4, h.MouthWidth.Value()*h.MouthHeight.Value())
}

// flareLacks is the first key without which the profile has no areas; empty where it has
// them.
func (h *Horn) flareLacks() string {
	p := h.profile()
	if p == ByPoints {
		return ""
	}
	for _, need := range []struct {
		key   string
		value optional.Float
	}{{"horn.throat", h.Throat}, {"horn.mouth_width", h.MouthWidth}, {"horn.mouth_height", h.MouthHeight}, {"horn.length", h.Length}} {
		if !need.value.Given() && !(need.key == "horn.length" && p == TractrixProfile) {
			return need.key
		}
	}
	return ""
}

// familyOrDefault is T, by default 0.6: between catenoidal (0) and exponential
// (1), the usual choice for loading near cutoff (common practice, no source).
func (h *Horn) familyOrDefault() float64 { return h.Family.Or(0.6) }
