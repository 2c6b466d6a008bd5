package screen

import (
	"fmt"
	"io"
	"math/cmplx"
	"strconv"

	"gapline/internal/cleantext"
	"gapline/internal/numeric"
	"gapline/internal/study/box"
)

// BoxCSV writes the box's curves, a row for each frequency. Columns that the box
// does not have are left out.
func BoxCSV(w io.Writer, s *box.Study) error {
	c := columns{n: len(s.Frequency)}
	c.add("frequency_hz", func(i int) float64 { return s.Frequency[i] })
	c.add("spl_db", func(i int) float64 { return s.Points[i].Level() })
	c.add("phase_deg", func(i int) float64 { return s.Points[i].Phase() * toDegrees })
	c.add("group_delay_s", func(i int) float64 { return s.Delay[i] })
	c.add("excursion_m", func(i int) float64 { return s.Points[i].Excursion })
	c.add("impedance_ohm", func(i int) float64 { return cmplx.Abs(s.Points[i].Impedance) })
	c.add("impedance_phase_deg", func(i int) float64 { return cmplx.Phase(s.Points[i].Impedance) * toDegrees })
	c.add("vent_speed_m_s", func(i int) float64 { return s.Points[i].VentSpeed })
	c.add("radiator_excursion_m", func(i int) float64 { return s.Points[i].Radiator })
	c.add("mouth_speed_m_s", func(i int) float64 { return s.Points[i].MouthSpeed })
	c.add("max_spl_db", func(i int) float64 { return s.Max[i].Level })
	c.add("max_spl_excursion_db", func(i int) float64 { return s.Max[i].Excursion })
	c.add("max_spl_power_db", func(i int) float64 { return s.Max[i].Power })
	c.add("max_vent_speed_m_s", func(i int) float64 { return s.Max[i].VentSpeed })
	c.add("max_mouth_speed_m_s", func(i int) float64 { return s.Max[i].Mouth })
	if k := s.Insert; k != nil {
		c.add("spl_with_insert_db", func(i int) float64 { return k.Change[i].With })
		c.add("spl_without_insert_db", func(i int) float64 { return k.Change[i].Without })
	}
	if k := s.Stack; k != nil {
		for i, n := range k.Boxes {
			c.add(fmt.Sprintf("stack_%d_spl_db", n), func(j int) float64 { return k.Points[i][j].Axis })
			c.add(fmt.Sprintf("stack_%d_power_level_db", n), func(j int) float64 { return k.Points[i][j].PowerLevel })
		}
	}
	return c.write(w)
}

// columns are the columns of a numeric CSV table.
type columns struct {
	n      int
	heads  []string
	values []func(int) float64
}

// add appends a column unless all its values are absent.
func (c *columns) add(head string, at func(int) float64) {
	for i := range c.n {
		if numeric.Given(at(i)) {
			c.heads, c.values = append(c.heads, head), append(c.values, at)
			return
		}
	}
}

func (c *columns) write(w io.Writer) error {
	out := cleantext.NewCSV(w)
	if err := out.Write(c.heads); err != nil {
		return err
	}
	row := make([]string, len(c.heads))
	for i := range c.n {
		for j, at := range c.values {
			row[j] = ""
			if x := at(i); numeric.Given(x) {
				row[j] = strconv.FormatFloat(x, 'g', 9, 64)
			}
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}
