package figure

// Trust is how far a figure can be trusted. A higher level never silently replaces
// a lower one: where both exist they stand side by side.
type Trust int

// The levels of trust, lowest first. Geometry is beside them: arithmetic on the
// file is as true as the file. ByBasis takes the level of the basis of the gap,
// ByFigure that of the figure that a number is about.
const (
	NoTrust Trust = iota
	Geometry
	Rule
	Aperture
	Wave
	Measured
	ByBasis
	ByFigure
	trustCount
)

// trusts holds what each level is called and what it stands for.
var trusts = [trustCount]struct{ name, meaning string }{
	NoTrust:  {"", ""},
	Geometry: {"geometry", "follows from the file by arithmetic"},
	Rule:     {"rule", "the trade's one-line estimate, instant, with a known bias"},
	Aperture: {"aperture", "closed form or aperture integral, on a rigid baffle or from free sources"},
	Wave:     {"wave", "boundary-element solution on the real geometry"},
	Measured: {"measured", "from a trace taken on the design as it stands"},
	ByBasis:  {"rule or aperture", "as targets.coupling says: rule on the half-wave basis, aperture on the lobe basis"},
	ByFigure: {"that of the figure", "as the figure that the number is about"},
}

// String returns the level's name as it is printed.
func (t Trust) String() string { return trusts[t].name }

// Meaning says what the level stands for.
func (t Trust) Meaning() string { return trusts[t].meaning }

// MarshalText writes the level's name, as JSON holds it.
func (t Trust) MarshalText() ([]byte, error) { return []byte(t.String()), nil }
