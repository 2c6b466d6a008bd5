package waveguide

import (
	"math"
	"testing"

	"gapline/internal/reftable"
)

// polygonArea is the area of an outline in m² (shoelace formula).
func polygonArea(o Outline) float64 {
	sum := 0.0
	for i, p := range o.MM {
		q := o.MM[(i+1)%len(o.MM)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return math.Abs(sum) / 2 * 1e-6
}

// The section against plane geometry: the turn is half a ring, its rear stands
// TurnOverhang behind the wall line, and the layers with the plate fill the stack's
// width.
func TestFoldSection(t *testing.T) {
	for _, rho := range []float64{0, 0.003} {
		spec := NewFoldSpec(0.11, math.Inf(1), 0.014, 0.25)
		spec.BendRadius = rho
		f, err := NewFold(spec)
		if err != nil {
			t.Fatal(err)
		}
		parts := map[string]Outline{}
		rear, widest := math.Inf(1), 0.0
		for _, o := range f.Section() {
			parts[o.Part] = o
			for _, p := range o.MM {
				rear, widest = math.Min(rear, p[0]/1e3), math.Max(widest, p[1]/1e3)
			}
		}
		const tol = 2e-3 // chords of 0.05 mm on radii of 14 mm
		reftable.Near(t, "half ring", polygonArea(parts["turn"]), math.Pi/2*((rho+0.014)*(rho+0.014)-rho*rho), tol)
		reftable.Near(t, "rear", rear, -0.11-f.TurnOverhang(), 1e-9)
		reftable.Near(t, "width", widest, f.StackWidth(), 1e-9)
		if _, plate := parts["plate"]; plate != (rho > 0) {
			t.Errorf("bend radius %g m: plate drawn %t", rho, plate)
		}
	}
}
