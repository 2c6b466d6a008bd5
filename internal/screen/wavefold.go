package screen

import (
	"fmt"
	"io"
	"strings"

	"gapline/cabinet/design"
	"gapline/cabinet/section"
	"gapline/cabinet/sizing"
	"gapline/internal/advice"
	"gapline/internal/figure"
	"gapline/internal/quantity"
	"gapline/internal/render/terminal"
	"gapline/waveguide/wave"
)

// FoldText describes the folded guide in one sentence.
func FoldText(c *section.FoldCheck, sys quantity.System) string {
	show := func(m float64) string { return quantity.Format(m, quantity.Length, sys) }
	f := &c.ByRays
	front := "a plane front"
	if v := f.Spec.VirtualPath; v < 1e9 {
		front = "the front of a path of " + show(v)
	}
	exit := "the mouth ended in ρc"
	if c.Exit == wave.Slot {
		exit = "the mouth ended as a slot in a wide wall"
	}
	return fmt.Sprintf("Folded guide as two layers joined along the wall: %s wall %s behind the throat for %s, mouth %s high, layers %s thick; %s.",
		f.Wall.Kind(), show(f.Spec.ThroatToWall), front, show(f.Spec.MouthHeight), show(f.Spec.Layer), exit)
}

// WaveFold writes the screen of wave --of fold. s holds the wave figures.
func WaveFold(w io.Writer, d *design.Design, s *sizing.Sizing, c *section.FoldCheck, sys quantity.System) error {
	v := sizeView{d: d, s: s, sys: sys}
	var b strings.Builder
	b.WriteString(v.heading())
	b.WriteString(Wrap(FoldText(c, sys), lineWidth, "", ""))
	t := &Table{}
	t.Row("FRONT AT THE MOUTH", "", "trust")
	rayLimit := "no limit"
	if limit := c.ByRays.FlatTo(); limit < 1e9 {
		rayLimit = v.show(limit, quantity.Frequency)
	}
	t.Row("  flat to a quarter wave up to, by rays", rayLimit, figure.Rule.String())
	figureRows(t, []*figure.Def{figure.FoldFlatToWave}, s, sys)
	if _, err := t.WriteTo(&b); err != nil {
		return err
	}
	if _, err := foldTable(c, sys).WriteTo(&b); err != nil {
		return err
	}
	b.WriteString(terminal.Findings(advice.WaveFoldFindings(c, stride(len(c.Result.Frequency))), sys))
	_, err := io.WriteString(w, b.String())
	return err
}

// foldTable is the front against frequency: the spread of phase and level over
// the mouth by both models, and the load on the throat.
func foldTable(c *section.FoldCheck, sys quantity.System) *Table {
	t := &Table{}
	r := c.Result
	taper := section.Spread(c.Rays.Level)
	t.Row("OVER THE MOUTH AT", "phase, wave", "by rays", "level, wave", "by rays", "throat R/ρc", "X/ρc")
	for i := 0; i < len(r.Frequency); i += stride(len(r.Frequency)) {
		f := r.Frequency[i]
		t.Row("  "+quantity.Format(f, quantity.Frequency, sys),
			degreesText(r.PhaseSpread(i)), degreesText(section.Spread(c.RayPhase(f))),
			quantity.Format(section.Spread(r.Level(i)), quantity.Level, sys), quantity.Format(taper, quantity.Level, sys),
			fmt.Sprintf("%.2f", real(r.Throat[i])), fmt.Sprintf("%.2f", imag(r.Throat[i])))
	}
	return t
}

// WaveFoldObject is the JSON of wave --of fold. Phases and levels stand at the
// heights mouth.y_m, one row for each frequency.
func WaveFoldObject(d *design.Design, c *section.FoldCheck) *Object {
	r := c.Result
	o := &Object{}
	o.Set("schema_version", SchemaVersion).Set("title", d.Title).Set("of", "fold").Set("exit", exitWord(c.Exit))
	o.Set("unknowns", mostUnknowns(r.Unknowns)).Set("frequency_hz", Numbers(r.Frequency)).Set("seconds", Numbers(r.Seconds))
	o.Set("unknowns_at", r.Unknowns)
	var phase, level, rays [][]Number
	var spread, raySpread, levelSpread []float64
	for i, f := range r.Frequency {
		phase = append(phase, Numbers(multiplied(r.Phase(i), perRadian)))
		level = append(level, Numbers(r.Level(i)))
		rays = append(rays, Numbers(multiplied(c.RayPhase(f), perRadian)))
		spread = append(spread, perRadian*r.PhaseSpread(i))
		raySpread = append(raySpread, perRadian*section.Spread(c.RayPhase(f)))
		levelSpread = append(levelSpread, section.Spread(r.Level(i)))
	}
	o.Path("mouth.y_m", Numbers(c.Y))
	o.Set("phase_deg", phase).Set("level_db", level)
	o.Path("ray.phase_deg", rays)
	o.Path("ray.level_db", Numbers(c.Rays.Level))
	o.Path("ray.flat_to_hz", Number(c.ByRays.FlatTo()))
	o.Set("phase_spread_deg", Numbers(spread)).Set("level_spread_db", Numbers(levelSpread))
	o.Path("ray.phase_spread_deg", Numbers(raySpread))
	o.Path(figure.FoldFlatToWave.Key, Number(c.Figures.FlatTo))
	o.Path(figure.FoldCrossMode.Key, Number(c.ByRays.CrossMode()))
	o.Path("throat.resistance", Numbers(realParts(r.Throat)))
	o.Path("throat.reactance", Numbers(imagParts(r.Throat)))
	o.Set("power_imbalance", Numbers(r.Imbalance))
	return o.Set("change", changeJSON(r.Change))
}

func exitWord(e wave.Exit) string {
	if e == wave.Slot {
		return "slot"
	}
	return "matched"
}

// WaveFoldCSV writes what the table shows at every frequency.
func WaveFoldCSV(w io.Writer, c *section.FoldCheck) error {
	r := c.Result
	taper := section.Spread(c.Rays.Level)
	var rows [][]float64
	for i, f := range r.Frequency {
		rows = append(rows, []float64{
			f, perRadian * r.PhaseSpread(i), perRadian * section.Spread(c.RayPhase(f)), section.Spread(r.Level(i)), taper,
			real(r.Throat[i]), imag(r.Throat[i]), r.Imbalance[i], float64(r.Unknowns[i]), at(r.Change, i),
		})
	}
	return writeCSV(w, []string{"frequency_hz", "phase_spread_deg", "ray_phase_spread_deg", "level_spread_db", "ray_level_spread_db",
		"throat_resistance", "throat_reactance", "power_imbalance", "unknowns", "change"}, rows)
}
