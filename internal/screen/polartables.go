package screen

import (
	"fmt"
	"math/cmplx"
	"strings"

	"gapline/cabinet/field"
	"gapline/internal/study/line"
)

// PolarTable is one plain text file of level and phase against frequency.
type PolarTable struct {
	Name string
	Text string
}

// PolarTables returns one table for each angle of a polar of tones: frequency in
// Hz, level in dB and phase in degrees, separated by tabs. The phase is that at
// the polar's distance; in the far field it is referred to the stack's centre.
func PolarTables(p *line.Polar, s *line.Study) []PolarTable {
	plane, sides := "vertical", [2]string{"up", "down"}
	if p.Plane == field.Horizontal {
		plane, sides = "horizontal", [2]string{"left", "right"}
	}
	where := "far field, level at 1 m, phase at the stack's centre"
	if !isInf(p.Distance) {
		where = fmt.Sprintf("at %g m", p.Distance)
	}
	var out []PolarTable
	for j, a := range p.Angle {
		deg := tidy(a * degrees)
		side := sides[0]
		if deg < 0 {
			side, deg = sides[1], -deg
		}
		if deg == 0 {
			side = "axis"
		}
		var b strings.Builder
		fmt.Fprintf(&b, "# %s\n# gapline predicted; trust aperture; %s\n", s.Design.Title, LineConditions(s))
		fmt.Fprintf(&b, "# %s plane, %g deg %s; %s\n# %s\n", plane, deg, side, where, LineReference(s))
		b.WriteString("# frequency, Hz\tlevel, dB\tphase, deg\n")
		for i, f := range p.Hz {
			fmt.Fprintf(&b, "%.6g\t%.4f\t%.3f\n", f, p.OnAxis[i]+p.Level[i][j], cmplx.Phase(p.Pressure[i][j])*degrees)
		}
		out = append(out, PolarTable{fmt.Sprintf("%s-%s-%05.1f.txt", plane, side, deg), b.String()})
	}
	return out
}

func isInf(x float64) bool { return x > 1e300 }
