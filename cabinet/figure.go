package cabinet

import (
	"math"
	"strings"

	"gapline/internal/quantity"
)

// Level is how far a figure can be trusted.
type Level string

// The levels of trust. A higher level never silently replaces a lower one.
const (
	Exact       Level = "geometry"         // follows from the file by arithmetic
	Rule        Level = "rule"             // the trade's one-line estimate: instant, known bias
	ByAperture  Level = "aperture"         // closed form or aperture integral: rigid baffle or free sources
	ByWave      Level = "wave"             // boundary-element solution on the real geometry
	AsItsInputs Level = "rule or aperture" // that of the basis of the gap
)

// Meaning says what the level stands for.
func (l Level) Meaning() string {
	return map[Level]string{
		Exact:       "follows from the file by arithmetic",
		Rule:        "the trade's one-line estimate, instant, with a known bias",
		ByAperture:  "closed form or aperture integral, on a rigid baffle or from free sources",
		ByWave:      "boundary-element solution on the real geometry",
		AsItsInputs: "as targets.coupling says: rule on the half-wave basis, aperture on the lobe basis",
	}[l]
}

// Figure is one number the program prints. The table Figures is the only place
// where its key, symbol, unit, level of trust, formula and source stand; the
// screen, the JSON, explain and the report read it there.
type Figure struct {
	Key     string // as in JSON, with its SI unit
	Name    string
	Symbol  string
	Kind    quantity.Kind
	Level   Level
	Formula string
	Inputs  []string // keys of the design file or of other figures
	Source  string
	Note    string
	Value   func(*Sizing) float64 // SI; NaN when the design does not give enough
}

// Group returns the figure's key without its last part.
func (f *Figure) Group() string { return f.Key[:strings.LastIndexByte(f.Key, '.')] }

// JSON returns the value in the unit that the key names, and whether JSON can
// hold it: NaN and infinities become null.
func (f *Figure) JSON(s *Sizing) (v float64, ok bool) {
	v = f.Value(s)
	if strings.HasSuffix(f.Key, "_deg") {
		v *= 180 / math.Pi
	}
	return v, !math.IsNaN(v) && !math.IsInf(v, 0)
}

// LevelOf returns the level of trust of a figure in this sizing: a figure that
// follows the gap's basis takes the basis's level.
func (s *Sizing) LevelOf(f *Figure) Level {
	switch {
	case f.Level != AsItsInputs:
		return f.Level
	case s.Gap.Basis == Lobe:
		return ByAperture
	}
	return Rule
}

// FindFigure returns the figure with the given key, or whose key without its
// unit is the given one; nil when there is none.
func FindFigure(key string) *Figure {
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
