package figures

import (
	"math"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/sizing"
	"gapline/internal/quantity"
)

// Trust is how far a figure can be trusted.
type Trust string

// The levels of trust. A higher level never silently replaces a lower one.
const (
	Geometry Trust = "geometry"         // follows from the file by arithmetic
	Rule     Trust = "rule"             // the trade's one-line estimate: instant, known bias
	Aperture Trust = "aperture"         // closed form or aperture integral: rigid baffle or free sources
	Wave     Trust = "wave"             // boundary-element solution on the real geometry
	ByBasis  Trust = "rule or aperture" // that of the basis of the gap
)

// Meaning says what the level of trust stands for.
func (t Trust) Meaning() string {
	return map[Trust]string{
		Geometry: "follows from the file by arithmetic",
		Rule:     "the trade's one-line estimate, instant, with a known bias",
		Aperture: "closed form or aperture integral, on a rigid baffle or from free sources",
		Wave:     "boundary-element solution on the real geometry",
		ByBasis:  "as targets.coupling says: rule on the half-wave basis, aperture on the lobe basis",
	}[t]
}

// Figure is one number the program prints. The table Figures is the only place
// where its key, symbol, unit, level of trust, formula and source stand; the
// screen, the JSON, explain and the report read it there.
type Figure struct {
	Key     string // as in JSON, with its SI unit
	Name    string
	Symbol  string
	Kind    quantity.Kind
	Level   Trust
	Formula string
	Inputs  []string // keys of the design file or of other figures
	Source  string
	Note    string
	Value   func(*sizing.Sizing) float64 // SI; NaN when the design does not give enough
}

// Group returns the figure's key without its last part.
func (f *Figure) Group() string { return f.Key[:strings.LastIndexByte(f.Key, '.')] }

// JSON returns the value in the unit that the key names, and whether JSON can
// hold it: NaN and infinities become null.
func (f *Figure) JSON(s *sizing.Sizing) (v float64, ok bool) {
	v = f.Value(s)
	if strings.HasSuffix(f.Key, "_deg") {
		v *= 180 / math.Pi
	}
	return v, !math.IsNaN(v) && !math.IsInf(v, 0)
}

// LevelOf returns the level of trust of a figure in this sizing: a figure that
// follows the gap's basis takes the basis's level.
func LevelOf(s *sizing.Sizing, f *Figure) Trust {
	switch {
	case f.Level != ByBasis:
		return f.Level
	case s.Gap.Basis == design.Lobe:
		return Aperture
	}
	return Rule
}

// Find returns the figure with the given key, or whose key without its
// unit is the given one; nil when there is none.
func Find(key string) *Figure {
	for i := range Figures {
		if Figures[i].Key == key {
			return &Figures[i]
		}
	}
	for i := range Figures {
		if stem, _, ok := cutUnit(Figures[i].Key); ok && stem == key {
			return &Figures[i]
		}
	}
	return nil
}

// cutUnit takes the unit off a figure's key: "coupling.lower_hz" is
// "coupling.lower" in "hz".
func cutUnit(key string) (stem, unit string, ok bool) {
	for _, u := range []string{"_kg_m3", "_m3", "_m_s", "_hz", "_db", "_oct", "_deg", "_m"} {
		if strings.HasSuffix(key, u) {
			return strings.TrimSuffix(key, u), u[1:], true
		}
	}
	return key, "", false
}
