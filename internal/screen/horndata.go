package screen

import (
	"io"
	"math"
	"strconv"

	"gapline/cabinet"
	"gapline/internal/cleantext"
)

const radToDeg = 180 / math.Pi

// column is one column of a table of curves; NaN cells stay empty.
type column struct {
	name string
	at   func(i int) float64
}

// hornColumns are the curves of a horn over frequency, SI but for angles in
// degrees.
func hornColumns(st *cabinet.HornStudy) []column {
	degrees := func(xs []float64) func(int) float64 {
		return func(i int) float64 { return xs[i] * radToDeg }
	}
	out := []column{
		{"frequency_hz", func(i int) float64 { return st.Frequency[i] }},
		{"horizontal_deg", degrees(st.Horizontal)},
	}
	if st.Bare != nil {
		out = append(out, column{"horizontal_without_flares_deg", degrees(st.Bare)})
	}
	if st.Vertical != nil {
		out = append(out, column{"vertical_deg", degrees(st.Vertical)})
	}
	l := st.Loading
	if l == nil {
		return out
	}
	out = append(out,
		column{"throat_resistance", func(i int) float64 { return real(l.Load.Impedance[i]) }},
		column{"throat_reactance", func(i int) float64 { return imag(l.Load.Impedance[i]) }},
		column{"tube_transmission", func(i int) float64 { return l.Tube[i] }})
	if l.Drives == nil {
		return out
	}
	return append(out,
		column{"efficiency", func(i int) float64 { return l.Drives[i].Efficiency }},
		column{"acoustic_power_w", func(i int) float64 { return l.Drives[i].Power }},
		column{"impedance_ohm", func(i int) float64 { z := l.Drives[i].Impedance; return math.Hypot(real(z), imag(z)) }},
		column{"excursion_m", func(i int) float64 { return l.Drives[i].Excursion }})
}

// cell prints a number for CSV; NaN is empty.
func cell(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', 9, 64)
}

// HornCSV writes the curves of a horn over frequency.
func HornCSV(w io.Writer, st *cabinet.HornStudy) error {
	out := cleantext.NewCSV(w)
	columns := hornColumns(st)
	rows := make([][]string, len(st.Frequency)+1)
	for _, c := range columns {
		rows[0] = append(rows[0], c.name)
		for i := range st.Frequency {
			rows[i+1] = append(rows[i+1], cell(c.at(i)))
		}
	}
	return out.WriteAll(rows)
}

// HornMapCSV writes the horizontal level in dB re axis: a row for each frequency,
// a column for each angle.
func HornMapCSV(w io.Writer, st *cabinet.HornStudy, angles []float64, level [][]float64) error {
	rows := [][]string{{"frequency_hz"}}
	for _, a := range angles {
		rows[0] = append(rows[0], strconv.FormatFloat(a*radToDeg, 'f', 0, 64)+"_deg_db")
	}
	for i, f := range st.Frequency {
		row := []string{cell(f)}
		for j := range angles {
			row = append(row, cell(level[j][i]))
		}
		rows = append(rows, row)
	}
	return cleantext.NewCSV(w).WriteAll(rows)
}

// HornRuleCSV writes Keele's rule against the aperture integral.
func HornRuleCSV(w io.Writer, st *cabinet.HornStudy) error {
	rows := [][]string{{"coverage_deg", "rule_hz", "computed_hz", "deviation", "width_in_wavelengths", "narrowest_deg", "narrowest_hz"}}
	for _, r := range st.Rule {
		k := r.Computed
		var row []string
		for _, x := range []float64{r.Coverage * radToDeg, r.Rule, k.Frequency, r.Deviation, k.WidthInWavelength, k.Narrowest * radToDeg, k.NarrowestAt} {
			row = append(row, cell(x))
		}
		rows = append(rows, row)
	}
	return cleantext.NewCSV(w).WriteAll(rows)
}

// HornObject is the JSON of the horn command. angles and level are the map, when
// it is asked for.
func HornObject(st *cabinet.HornStudy, findings []cabinet.Finding, angles []float64, level [][]float64) *Object {
	o := &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", st.Design.Title)
	for i := range cabinet.Figures {
		f := &cabinet.Figures[i]
		if f.Group() != "horn" {
			continue
		}
		v, ok := f.JSON(&st.Sizing)
		if !ok {
			v = math.NaN()
		}
		o.Path(f.Key, Number(v))
	}
	o.Path("horn.lower_set_by", st.Binds)
	for _, c := range hornColumns(st) {
		xs := make([]Number, len(st.Frequency))
		for i := range xs {
			xs[i] = Number(c.at(i))
		}
		o.Set(c.name, xs)
	}
	if l := st.Loading; l != nil {
		o.Set("loading", (&Object{}).Set("segments", l.Load.Segments).Set("relative_error", Number(l.Load.Error)).
			Set("list_error", Number(l.ListError)).Set("drive_v", Number(l.Voltage)))
	} else {
		o.Set("loading", nil)
	}
	var rule []*Object
	for _, r := range st.Rule {
		rule = append(rule, (&Object{}).Set("coverage_deg", Number(math.Round(r.Coverage*radToDeg))).Set("rule_hz", Number(r.Rule)).
			Set("computed_hz", Number(r.Computed.Frequency)).Set("deviation", Number(r.Deviation)).
			Set("narrowest_deg", Number(r.Computed.Narrowest*radToDeg)).Set("narrowest_hz", Number(r.Computed.NarrowestAt)))
	}
	o.Set("rule", rule)
	if level != nil {
		deg := make([]Number, len(angles))
		rows := make([][]Number, len(angles))
		for j, a := range angles {
			deg[j], rows[j] = Number(math.Round(a*radToDeg)), Numbers(level[j])
		}
		o.Set("map", (&Object{}).Set("angle_deg", deg).Set("level_db", rows))
	}
	return o.Set("findings", findings)
}
