package driver

import "fmt"

// Suggestion is a box that gives a classical alignment with a driver.
type Suggestion struct {
	Alignment Alignment
	Kind      EnclosureKind
	Volume    float64 // for all drivers of the box, m³
	Tuning    float64 // Hz; NaN for a closed box
	F3        float64 // half power, Hz
}

// Suggest returns the boxes in which count drivers reach a classical alignment:
// the maximally flat closed box, and the vented box with the given leak QL
// (NaN = none). The error is not nil only when neither exists.
//
// Source: Small 1972 (closed) and 1973 (vented).
func Suggest(d Complete, count int, leakQ float64) ([]Suggestion, error) {
	qt := totalQ(d)
	closed, errClosed := ClosedAlignment(qt)
	vented, errVented := VentedAlignment(qt, leakQ)
	if errClosed != nil && errVented != nil {
		return nil, fmt.Errorf("%w; %w", errClosed, errVented)
	}
	var out []Suggestion
	add := func(a Alignment, kind EnclosureKind) {
		out = append(out, Suggestion{
			Alignment: a, Kind: kind, Volume: float64(max(count, 1)) * d.Vas.Value() / a.Alpha,
			Tuning: a.H * d.Fs.Value(), F3: a.F3 * d.Fs.Value(),
		})
	}
	if errVented == nil {
		add(vented, Vented)
	}
	if errClosed == nil {
		add(closed, Closed)
	}
	return out, nil
}
