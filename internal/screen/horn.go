package screen

import (
	"fmt"
	"io"
	"math"
	"strings"

	"gapline/cabinet"
	"gapline/internal/numeric"
	"gapline/internal/quantity"
	"gapline/waveguide"
)

// hornView prints one horn.
type hornView struct {
	st  *cabinet.HornStudy
	sys quantity.System
}

func (v *hornView) show(si float64, k quantity.Kind) string {
	return noMinusZero(quantity.Format(si, k, v.sys))
}

// figure is a figure's name, value and trust as a row.
func (v *hornView) figure(t *Table, key string, more ...string) {
	f := cabinet.FindFigure(key)
	mark, text := "  ", FigureText(f, &v.st.Sizing, v.sys)
	if key == "horn.lower_hz" {
		mark = "> "
	}
	t.Row(cells(mark+f.Name, append([]string{text}, more...), string(v.st.Sizing.LevelOf(f)))...)
}

// Horn writes the screen of the horn command.
func Horn(w io.Writer, st *cabinet.HornStudy, findings []cabinet.Finding, sys quantity.System) error {
	v := hornView{st, sys}
	var b strings.Builder
	b.WriteString(v.heading())
	for _, t := range []*Table{v.pattern(), v.loading(), v.curves()} {
		if t == nil {
			continue
		}
		if _, err := t.WriteTo(&b); err != nil {
			return err
		}
	}
	b.WriteString(findingText(findings))
	_, err := io.WriteString(w, b.String())
	return err
}

func (v *hornView) heading() string {
	d := v.st.Design
	title := d.Title
	if title == "" {
		title = "untitled design"
	}
	text := fmt.Sprintf("%s\nhorn mouth %s wide", title, v.show(d.Horn.MouthWidth, quantity.Length))
	if numeric.Given(d.Horn.MouthHeight) {
		text += fmt.Sprintf(", %s high", v.show(d.Horn.MouthHeight, quantity.Length))
	}
	return fmt.Sprintf("%s, coverage %s; air %s\n", text, v.show(d.Horn.ExitCoverage(), quantity.Angle), AirText(d, &v.st.Sizing, v.sys))
}

// pattern lists how low the horn holds its coverage. With side flares a second
// column shows the mouth without them.
func (v *hornView) pattern() *Table {
	t := &Table{}
	st := v.st
	if st.Bare == nil {
		t.Row("PATTERN, horizontal", "", "trust")
		for _, key := range []string{"horn.pattern_rule_hz", "horn.pattern_computed_hz", "horn.rule_deviation", "horn.narrowest_deg"} {
			v.figure(t, key)
		}
		v.wave(t)
	} else {
		v.flared(t)
	}
	t.Row("LOWER LIMIT, set by the " + v.bindText())
	blank := make([]string, 0, 1)
	if st.Bare != nil {
		blank = append(blank, "")
	}
	if numeric.Given(st.Sizing.Horn.Cutoff) {
		t.Row(cells("  1.2 × flare cutoff", append([]string{v.show(waveguide.FlareMargin*st.Sizing.Horn.Cutoff, quantity.Frequency)}, blank...), string(cabinet.Rule))...)
	}
	if low := st.Design.Horn.Lowest; numeric.Given(low) {
		t.Row(cells("  lowest crossover of the compression driver", append([]string{v.show(low, quantity.Frequency)}, blank...), string(cabinet.Exact))...)
	}
	v.figure(t, "horn.lower_hz", blank...)
	return t
}

// wave adds the figures of a stored run of the wave level that matches the design.
func (v *hornView) wave(t *Table, more ...string) {
	for _, key := range []string{"horn.pattern_wave_hz", "horn.narrowest_wave_deg"} {
		if numeric.Given(cabinet.FindFigure(key).Value(&v.st.Sizing)) {
			v.figure(t, key, more...)
		}
	}
}

func (v *hornView) bindText() string {
	switch v.st.Binds {
	case cabinet.DriverBinds:
		return "compression driver"
	case cabinet.FlareBinds:
		return "flare's cutoff"
	}
	return "pattern"
}

// flared sets the exit with flares beside the mouth alone.
func (v *hornView) flared(t *Table) {
	st, h := v.st, &v.st.Design.Horn
	bare := st.BareMouth
	hz := func(x float64) string { return v.show(x, quantity.Frequency) }
	computed, deviation, narrowest := "none", "none", "none"
	if numeric.Given(bare.Frequency) {
		computed, deviation = hz(bare.Frequency), v.show(st.BareRule/bare.Frequency-1, quantity.Fraction)
		narrowest = fmt.Sprintf("%s at %s", v.show(bare.Narrowest, quantity.Angle), hz(bare.NarrowestAt))
	}
	t.Row("PATTERN, horizontal", "with flares", "mouth alone", "trust")
	v.figure(t, "horn.exit_width_m", v.show(h.MouthWidth, quantity.Length))
	v.figure(t, "horn.exit_coverage_deg", v.show(h.Coverage, quantity.Angle))
	v.figure(t, "horn.pattern_rule_hz", hz(st.BareRule))
	v.figure(t, "horn.pattern_computed_hz", computed)
	v.figure(t, "horn.rule_deviation", deviation)
	v.figure(t, "horn.narrowest_deg", narrowest)
	v.wave(t, "")
	v.figure(t, "horn.flares_filled_hz", "")
	if height := h.MouthHeight; numeric.Given(height) {
		area := func(w float64) string { return v.show(w*height, quantity.Area) }
		t.Row("  area of the exit", area(h.ExitWidth()), area(h.MouthWidth), string(cabinet.Exact))
	}
}

func (v *hornView) loading() *Table {
	st := v.st
	if st.Loading == nil {
		return nil
	}
	t := &Table{}
	title := "LOADING, " + profileText(st.Design, v.sys)
	t.Row(title, "", "trust")
	if numeric.Given(st.Sizing.Horn.Cutoff) {
		v.figure(t, "horn.cutoff_hz")
	}
	for _, key := range []string{"horn.half_loaded_hz", "horn.ripple_db"} {
		v.figure(t, key)
	}
	what := "  share of a plane wave's power taken at the lower limit"
	if st.Loading.Drives != nil {
		what = "  efficiency of the compression driver at the lower limit"
	}
	t.Row(what, v.show(st.Sizing.Horn.EfficiencyLow, quantity.Fraction), string(cabinet.ByAperture))
	if e := st.Loading.ListError; numeric.Given(e) {
		t.Row("  change when every second point is left out", v.show(e, quantity.Fraction), string(cabinet.ByAperture))
	}
	return t
}

func profileText(d *cabinet.Design, sys quantity.System) string {
	profile := d.Horn.Profile
	if profile == "" || profile == waveguide.ByPoints {
		return fmt.Sprintf("profile of %d points", len(d.Horn.Areas))
	}
	text := profile + " profile"
	if throat := d.Horn.Throat; numeric.Given(throat) {
		text += " from a throat of " + quantity.Format(throat, quantity.Length, sys)
	}
	return text
}

// curves is the table of the curves at the octaves.
func (v *hornView) curves() *Table {
	st, l := v.st, v.st.Loading
	t := &Table{}
	head := []string{"OVER FREQUENCY (aperture)", "horizontal"}
	if st.Bare != nil {
		head = append(head, "mouth alone")
	}
	head = append(head, "vertical")
	if l != nil {
		head = append(head, "R", "X")
		if l.Drives != nil {
			head = append(head, "efficiency", "impedance", "excursion")
		} else {
			head = append(head, "power taken")
		}
	}
	t.Row(head...)
	for i, f := range st.Frequency {
		if i%24 != 0 {
			continue
		}
		row := []string{"  " + v.show(f, quantity.Frequency), v.width(st.Horizontal, i)}
		if st.Bare != nil {
			row = append(row, v.width(st.Bare, i))
		}
		row = append(row, v.width(st.Vertical, i))
		if l != nil {
			z := l.Load.Impedance[i]
			row = append(row, fixed(real(z), 3), fixed(imag(z), 3), v.show(l.Efficiency(i), quantity.Fraction))
			if l.Drives != nil {
				e := l.Drives[i].Impedance
				row = append(row, v.show(math.Hypot(real(e), imag(e)), quantity.Resistance), smallLength(l.Drives[i].Excursion, v.sys))
			}
		}
		t.Row(row...)
	}
	return t
}

// smallLength writes a length far under a millimetre to two digits.
func smallLength(m float64, sys quantity.System) string {
	if sys == quantity.Inch {
		return fmt.Sprintf("%.2g in", m/0.0254)
	}
	return fmt.Sprintf("%.2g mm", m*1e3)
}

// width is the -6 dB width at one frequency: it exists only where the level falls
// that far within ±90°.
func (v *hornView) width(widths []float64, i int) string {
	switch {
	case widths == nil:
		return "-"
	case math.IsNaN(widths[i]):
		return "over 180°"
	}
	return v.show(widths[i], quantity.Angle)
}

// HornRule writes Keele's rule against the aperture integral over coverages.
func HornRule(w io.Writer, st *cabinet.HornStudy, sys quantity.System) error {
	v := hornView{st, sys}
	t := &Table{}
	t.Row(fmt.Sprintf("COVERAGE, exit %s wide", v.show(st.Design.Horn.ExitWidth(), quantity.Length)), "rule", "aperture", "deviation", "W/λ", "narrowest", "at")
	hz := func(x float64) string { return v.show(x, quantity.Frequency) }
	for _, r := range st.Rule {
		t.Row("  "+v.show(r.Coverage, quantity.Angle), hz(r.Rule), hz(r.Computed.Frequency), v.show(r.Deviation, quantity.Fraction),
			fixed(r.Computed.WidthInWavelength, 3), v.show(r.Computed.Narrowest, quantity.Angle), hz(r.Computed.NarrowestAt))
	}
	s := &st.Sizing.Horn
	t.Row("> "+v.show(s.ExitCoverage, quantity.Angle)+", this design", hz(s.PatternRule), FigureText(cabinet.FindFigure("horn.pattern_computed_hz"), &st.Sizing, sys), v.show(s.RuleDeviation, quantity.Fraction),
		fixed(s.PatternComputed*s.ExitWidth/st.Sizing.Air.SoundSpeed, 3), v.show(s.Narrowest, quantity.Angle), hz(s.NarrowestAt))
	if _, err := t.WriteTo(w); err != nil {
		return err
	}
	_, err := io.WriteString(w, Wrap("The rule 10⁶/(W·θ), inches and degrees (rule), against the lowest frequency at which the −6 dB width of a mouth "+
		"with a circular front equals the coverage (aperture: rigid baffle, uniform amplitude).", lineWidth, "", ""))
	return err
}
