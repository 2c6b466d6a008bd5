package screen

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"math/cmplx"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"

	"gapline/driver"
	"gapline/internal/advice"
	"gapline/internal/designfile"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/internal/render/machine"
	"gapline/internal/render/terminal"
	"gapline/internal/study/box"
)

// estimate is one fitted value with the key that it goes by.
type estimate struct {
	key, name string
	value     driver.Estimate
}

// estimates lists what a fit found, in the order of the screen.
func estimates(f *box.Fit) []estimate {
	x := f.First.Fit
	list := []estimate{
		{"fs", "resonance in free air", x.Fs}, {"qes", "electrical Q at fs", x.Qes}, {"qms", "mechanical Q at fs", x.Qms},
		{"qts", "total Q at fs", x.Qts}, {"re", "voice-coil resistance", x.Re},
	}
	if numeric.Given(x.Le.Value) {
		list = append(list, estimate{"le", "voice-coil inductance", x.Le})
	}
	if x.LeExponent.Value != 1 && numeric.Given(x.Le.Value) {
		list = append(list, estimate{"le_exponent", "exponent of the inductance", x.LeExponent})
	}
	if v := f.Vas; v != nil {
		list = append(list, estimate{"vas", "volume as stiff as the suspension", v.Vas}, estimate{"mms", "moving mass with air load", v.Mms},
			estimate{"cms", "compliance", v.Cms}, estimate{"bl", "force factor", v.Bl})
	}
	return list
}

// Fit writes what impedance sweeps say of a driver.
func Fit(w io.Writer, f *box.Fit, sys quantity.System) error {
	var b strings.Builder
	fmt.Fprintf(&b, "driver fitted to %s\n", sweepText(&f.First))
	if f.Second != nil {
		fmt.Fprintf(&b, "second sweep, %s: %s; piston area %s\n", f.Method, sweepText(f.Second), quantity.Format(f.Sd, quantity.Area, sys))
	}
	t := &Table{}
	t.Row("DRIVER", "value", "95 % interval", "half-width")
	for _, e := range estimates(f) {
		show := func(x float64) string { return quantity.FormatAs(x, box.ParameterKind(e.key), fiveDigits, sys) }
		interval := show(e.value.Low) + " to " + show(e.value.High)
		half := fmt.Sprintf("±%.2g %%", 50*(e.value.High-e.value.Low)/e.value.Value)
		if e.value.High == e.value.Low {
			interval, half = "held", ""
		}
		t.Row(fmt.Sprintf("  %s, %s", e.name, e.key), show(e.value.Value), interval, half)
	}
	t.Row("RESIDUAL (rms)")
	residualRows(t, &f.First)
	if f.Second != nil {
		residualRows(t, f.Second)
	}
	if _, err := t.WriteTo(&b); err != nil {
		return err
	}
	b.WriteString(terminal.Findings(advice.FitFindings(f), sys))
	_, err := io.WriteString(w, b.String())
	return err
}

func sweepText(x *box.Fitted) string {
	s := &x.Sweep
	columns := "magnitude only"
	if s.Phase != nil {
		columns = "magnitude and phase"
	}
	inductor := map[string]string{"lossy": "lossy inductance", "plain": "plain inductance", "none": "no inductance"}[x.Inductor]
	return fmt.Sprintf("%s: %d points, %s to %s, %s; %s", filepath.Base(x.File), len(s.Frequency),
		quantity.Format(s.Frequency[0], quantity.Frequency, quantity.Metric),
		quantity.Format(s.Frequency[len(s.Frequency)-1], quantity.Frequency, quantity.Metric), columns, inductor)
}

func residualRows(t *Table, x *box.Fitted) {
	t.Row("  magnitude, "+filepath.Base(x.File), fmt.Sprintf("%.2g %%", 100*x.Fit.Residual))
	if numeric.Given(x.Fit.PhaseResidual) {
		t.Row("  phase, "+filepath.Base(x.File), fmt.Sprintf("%.2g°", x.Fit.PhaseResidual*toDegrees))
	}
}

// FitObject is the JSON of a fit.
func FitObject(f *box.Fit) *Object {
	o := &Object{}
	o.Set("schema_version", SchemaVersion)
	fit := &Object{}
	for _, e := range estimates(f) {
		name, factor := designfile.FindKey("woofer." + e.key).Column()
		x := &Object{}
		fit.Set(name[len("woofer."):], x.Set("value", Number(e.value.Value*factor)).Set("low", Number(e.value.Low*factor)).Set("high", Number(e.value.High*factor)))
	}
	o.Set("fit", fit).Set("confidence", Number(0.95))
	sweeps := []*Object{fittedObject(&f.First)}
	if f.Second != nil {
		sweeps = append(sweeps, fittedObject(f.Second))
	}
	return o.Set("sweeps", sweeps).Set("remarks", machine.Texts(advice.FitFindings(f)))
}

func fittedObject(x *box.Fitted) *Object {
	s, n := &x.Sweep, len(x.Sweep.Frequency)
	o := &Object{}
	o.Set("file", filepath.ToSlash(x.File)).Set("inductor", x.Inductor)
	o.Set("residual", Number(x.Fit.Residual)).Set("phase_residual_deg", Number(x.Fit.PhaseResidual*toDegrees))
	o.Set("frequency_hz", Numbers(s.Frequency)).Set("impedance_ohm", Numbers(s.Magnitude))
	o.Set("fitted_ohm", curve(n, func(i int) float64 { return cmplx.Abs(x.Fit.Impedance(s.Frequency[i])) }))
	if s.Phase != nil {
		o.Set("phase_deg", curve(n, func(i int) float64 { return s.Phase[i] * toDegrees }))
	}
	return o.Set("fitted_phase_deg", curve(n, func(i int) float64 { return cmplx.Phase(x.Fit.Impedance(s.Frequency[i])) * toDegrees }))
}

// FitCSV writes the first sweep beside the fitted model.
func FitCSV(w io.Writer, f *box.Fit) error {
	x := &f.First
	s := &x.Sweep
	c := columns{n: len(s.Frequency)}
	c.add("frequency_hz", func(i int) float64 { return s.Frequency[i] })
	c.add("impedance_ohm", func(i int) float64 { return s.Magnitude[i] })
	c.add("fitted_ohm", func(i int) float64 { return cmplx.Abs(x.Fit.Impedance(s.Frequency[i])) })
	if s.Phase != nil {
		c.add("phase_deg", func(i int) float64 { return s.Phase[i] * toDegrees })
	}
	c.add("fitted_phase_deg", func(i int) float64 { return cmplx.Phase(x.Fit.Impedance(s.Frequency[i])) * toDegrees })
	return c.write(w)
}

// DriverFile returns a driver file with the fitted parameters.
func DriverFile(title string, f *box.Fit) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# Fitted by gapline to %s.\n", sweepText(&f.First))
	if f.Second != nil {
		fmt.Fprintf(&b, "# Second sweep, %s: %s.\n", f.Method, sweepText(f.Second))
	}
	fmt.Fprintf(&b, "# Residual %.2g %% (rms). Behind each value its 95 %% interval.\n\n", 100*f.First.Fit.Residual)
	fmt.Fprintf(&b, "title       = %q\n", printable(title))
	found := map[string]bool{"qts": true} // follows from qes and qms
	for _, e := range estimates(f) {
		if !found[e.key] {
			found[e.key] = true
			fmt.Fprintf(&b, "%-11s = %-14s # %s to %s\n", e.key, fileValue(e.key, e.value.Value), bare(e.key, e.value.Low), bare(e.key, e.value.High))
		}
	}
	p := f.Parameters()
	for _, n := range parameters {
		if x := n.of(&p); numeric.Given(x) && !found[n.key] {
			fmt.Fprintf(&b, "%-11s = %s\n", n.key, fileValue(n.key, x))
		}
	}
	if !numeric.Given(p.Vas) {
		b.WriteString("# vas and sd are still to be found: a second sweep with an added mass or in a known volume gives vas.\n")
	}
	return []byte(b.String())
}

// printable puts blanks in place of what a one-line text cannot hold.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return ' '
		}
		return r
	}, s)
}

// fiveDigits are as many as a driver file holds.
var fiveDigits = quantity.Style{Verb: "%.5g"}

// fileDigits is the number of significant digits in a driver file: finer than
// any measurement.
const fileDigits = 5

// fileValue writes a value as a driver file holds it: in quotes with its unit, or
// bare when it has none.
func fileValue(key string, si float64) string {
	text := bare(key, si)
	if box.ParameterKind(key) == quantity.Number {
		return text
	}
	return fmt.Sprintf("%q", text)
}

func bare(key string, si float64) string {
	scale := math.Pow(10, fileDigits-1-math.Floor(math.Log10(math.Abs(si))))
	return quantity.Canonical(math.Round(si*scale)/scale, box.ParameterKind(key))
}

// curve returns one value for each of n places; null when none of them exists.
func curve(n int, at func(int) float64) any {
	out := make([]float64, n)
	any := false
	for i := range out {
		out[i] = at(i)
		any = any || numeric.Given(out[i])
	}
	if !any {
		return nil
	}
	return Numbers(out)
}

const toDegrees = 180 / math.Pi

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
	out := csv.NewWriter(w)
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
