package schema

// Search is what to look for among which designs.
type Search struct {
	Vary    []Variation
	Limits  []Limit
	Goals   []Goal
	Designs int
	Seed    uint64
}

// Variation is a key and the values it may take: either anything from From to To,
// or one of Values.
type Variation struct {
	Key      *Key
	From, To float64 // SI
	Values   []Value // nil for a continuous range; numbers in rising order
}

// NewSearch returns a search of the usual size that looks for nothing yet.
func NewSearch() *Search { return &Search{Designs: defaultDesigns, Seed: defaultSeed} }

// Continuous reports whether the key may take any value of its range.
func (v *Variation) Continuous() bool { return v.Values == nil }

// Bounds and defaults of a search.
const (
	defaultDesigns = 20_000
	MinDesigns     = 100
	MaxDesigns     = 100_000_000
	MaxGoals       = 3
	MaxLimits      = 50
	MaxLevels      = 100_000
	MaxVariations  = 40
)

// CheckDesigns returns an error for a number of designs that is not possible.
func CheckDesigns(n int) error {
	return checkCount(n, "designs", MinDesigns, MaxDesigns)
}
